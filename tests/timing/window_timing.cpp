// SPDX-License-Identifier: GPL-3.0-or-later
// The window without a display: from a process's start to the demonstration shown (aim 1 s), from a changed
// value to its rating redrawn (aim 0.2 s at the 95th percentile), one step of turning a frame with 400
// members by the pointer (aim 1/30 s), pauses while cycles are counted (aim 0.1 s), peak memory after it all (aim 500 MB, our choice).
#include <fmt/format.h>
#include <sys/resource.h>

#include <QApplication>
#include <QElapsedTimer>
#include <QMouseEvent>
#include <QProcess>
#include <QSettings>
#include <QTemporaryDir>
#include <QTimer>
#include <algorithm>
#include <thread>

#include "app/desktop/frame_view.h"
#include "app/desktop/main_window.h"
#include "app/desktop/strips.h"
#include "app/desktop/theme.h"
#include "catalog/files/written.h"
#include "catalog/published/published_data.h"
#include "engine/machine/parallel.h"
#include "tests/timing/ladder.h"
#include "tests/timing/line.h"

using namespace seamwright;
using namespace seamwright::desktop;

namespace {

// This program as a process of its own that opens the demonstration as seamwright-desktop would, and ends
// once it is shown, or rated.
double start_s(const QString& until) {
  QElapsedTimer clock;
  clock.start();
  QProcess process;
  process.start(QApplication::applicationFilePath(), {until});
  process.waitForFinished(60000);
  return process.exitCode() == 0 ? 1e-3 * static_cast<double>(clock.elapsed()) : -1;
}

int show_and_end(const QString& until) {
  const std::jthread warm([] { published::catalog(); });
  MainWindow window;
  window.resize(1440, 900);
  window.show();
  bool rated = false;
  QObject::connect(&window.rater(), &Rater::finished, &window, [&] { rated = true; });
  window.open_demo();
  window.repaint();
  while (until == QLatin1String("--rated") && !rated)
    QApplication::processEvents(QEventLoop::AllEvents | QEventLoop::WaitForMoreEvents);
  window.repaint();
  return 0;
}

// The time from a typed value to the strips redrawn with its rating.
std::vector<double> changes_s(MainWindow& window, int count) {
  std::vector<double> all;
  std::shared_ptr<const RatedJob> shown;
  const auto seen = QObject::connect(&window.rater(), &Rater::finished, &window,
                                     [&](const std::shared_ptr<const RatedJob>& rated) { shown = rated; });
  JobSession& session = *window.session();
  for (int i = 0; i < count; ++i) {
    const files::WrittenTable* tubes = files::table_named(session.tables(File::design), "tube");
    const files::WrittenRow& row = tubes->rows.front();
    const auto wall = std::find_if(row.cells.begin(), row.cells.end(), [](const files::WrittenValue& w) {
      return w.place.ends_with(".wall_mm");
    });
    QElapsedTimer clock;
    clock.start();
    const files::WrittenValue cell = *wall;
    session.edit(File::design, cell, files::Form::number, fmt::format("{}", 1.5 + 0.01 * i));
    while (!shown || shown->job != session.job())
      QApplication::processEvents(QEventLoop::AllEvents | QEventLoop::WaitForMoreEvents);
    window.desk()->repaint();
    all.push_back(1e-3 * static_cast<double>(clock.elapsed()));
  }
  QObject::disconnect(seen);
  std::sort(all.begin(), all.end());
  return all;
}

// The longest time between two turns of the event loop while cycles are counted beside it.
double pause_s(MainWindow& window) {
  QElapsedTimer clock;
  qint64 longest = 0;
  QTimer turns;
  turns.setInterval(5);
  QObject::connect(&turns, &QTimer::timeout, [&] { longest = std::max(longest, clock.restart()); });
  bool counted = false;
  const auto seen = QObject::connect(&window.rater(), &Rater::finished, &window, [&] { counted = true; });
  clock.start();
  turns.start();
  window.rater().count_cycles(window.session()->job(), {});
  while (!counted) QApplication::processEvents(QEventLoop::AllEvents | QEventLoop::WaitForMoreEvents);
  QObject::disconnect(seen);
  return 1e-3 * static_cast<double>(longest);
}

double turn_s() {
  FrameView view;
  view.resize(900, 600);
  view.set_drawing(timing::ladder(400));
  view.show();
  const auto drag = [&](QEvent::Type type, double x) {
    const QPointF at(x, 300);
    QMouseEvent event(type, at, at, type == QEvent::MouseMove ? Qt::NoButton : Qt::LeftButton, Qt::LeftButton,
                      Qt::NoModifier);
    QApplication::sendEvent(&view, &event);
  };
  drag(QEvent::MouseButtonPress, 100);
  QElapsedTimer clock;
  clock.start();
  constexpr int turns = 60;
  for (int i = 0; i < turns; ++i) {
    drag(QEvent::MouseMove, 110 + 7.0 * i);
    view.grab();
  }
  return 1e-3 * static_cast<double>(clock.elapsed()) / turns;
}

}  // namespace

int main(int argc, char** argv) {
  machine::keep_freed_memory();
  qputenv("QT_QPA_PLATFORM", "offscreen");
  QTemporaryDir home;
  for (const char* name : {"XDG_CONFIG_HOME", "XDG_DATA_HOME", "XDG_CACHE_HOME", "XDG_RUNTIME_DIR"})
    qputenv(name, home.path().toUtf8());
  QSettings::setDefaultFormat(QSettings::IniFormat);
  QApplication application(argc, argv);
  apply_style(application, Style::light);
  if (argc > 1) return show_and_end(QString::fromLatin1(argv[1]));
  fmt::print("window\n");
  start_s(QStringLiteral("--shown"));  // once, to have its files at hand
  timing::aim("start to the demonstration shown", start_s(QStringLiteral("--shown")), "s", 1);
  timing::aim("start to the demonstration rated", start_s(QStringLiteral("--rated")), "s", 1);
  MainWindow window;
  window.resize(1440, 900);
  window.show();
  window.open_demo();
  const std::vector<double> changes = changes_s(window, 40);
  timing::aim("changed value to redrawn rating, median", changes[changes.size() / 2], "s", 0.2);
  timing::aim("changed value to redrawn rating, 95th percentile", changes[changes.size() * 95 / 100], "s",
              0.2);
  timing::aim("longest pause of the event loop while counting", pause_s(window), "s", 0.1);
  timing::aim("one step of turning 400 members", turn_s(), "s", 1.0 / 30);
  rusage usage{};
  getrusage(RUSAGE_SELF, &usage);
  timing::aim("peak memory", static_cast<double>(usage.ru_maxrss) / 1024, "MB", 500);
  return 0;
}

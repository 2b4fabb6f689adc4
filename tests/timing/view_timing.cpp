// SPDX-License-Identifier: GPL-3.0-or-later
// The shaded view of 400 members at 1366 x 768 on the display at hand, or on a virtual one drawn by the
// processor: the first picture with all that it sets up (aim 1 s, our choice), one while turning and one with
// hidden lines (aim 1/30 s), each by the processor time of all threads, medians of many.
#include <fmt/format.h>
#include <time.h>

#include <QApplication>
#include <QMouseEvent>
#include <QProcess>
#include <QSettings>
#include <QTemporaryDir>
#include <algorithm>
#include <cmath>

#include "app/desktop/frame_view.h"
#include "app/desktop/graphics_proof.h"
#include "app/desktop/shaded_frame.h"
#include "app/desktop/theme.h"
#include "engine/machine/parallel.h"
#include "tests/timing/ladder.h"
#include "tests/timing/line.h"

using namespace seamwright;
using namespace seamwright::desktop;

namespace {

double processor_s() {
  timespec t{};
  clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &t);
  return static_cast<double>(t.tv_sec) + 1e-9 * static_cast<double>(t.tv_nsec);
}

void show_picture(FrameView& view) {
  view.findChild<ShadedFrame*>()->repaint();
  QApplication::processEvents();
}

double median(std::vector<double> all) {
  std::nth_element(all.begin(), all.begin() + static_cast<std::ptrdiff_t>(all.size() / 2), all.end());
  return all[all.size() / 2];
}

std::vector<double> turns_s(FrameView& view, bool held) {
  const auto drag = [&](QEvent::Type type, double x) {
    const QPointF at(x, 300);
    QMouseEvent event(type, at, at, type == QEvent::MouseMove ? Qt::NoButton : Qt::LeftButton,
                      type == QEvent::MouseButtonRelease ? Qt::NoButton : Qt::LeftButton, Qt::NoModifier);
    QApplication::sendEvent(&view, &event);
  };
  std::vector<double> all;
  if (held) drag(QEvent::MouseButtonPress, 100);
  for (int i = 0; i < 60; ++i) {
    const double before = processor_s();
    if (held)
      drag(QEvent::MouseMove, 110 + 7.0 * i);
    else
      view.look_from(30 + 3.0 * i, 20);
    show_picture(view);
    all.push_back(processor_s() - before);
  }
  if (held) drag(QEvent::MouseButtonRelease, 600);
  return all;
}

// Every weld with its band, from hardly used to far beyond its life.
std::shared_ptr<const RatedJob> rated(const reports::FrameDrawing& drawing) {
  auto all = std::make_shared<RatedJob>();
  all->rating.rules.damage_limit = 1;
  for (std::size_t i = 0; i < drawing.flags.size(); ++i) {
    rating::WeldRating weld;
    weld.id = drawing.flags[i].id;
    weld.sites.emplace_back();
    weld.sites[0].curve = "any";
    weld.sites[0].damage = std::pow(10, -4 + 6.0 * static_cast<double>(i) / 400);
    if (weld.sites[0].damage > 1) weld.verdict = rating::Verdict::falls_short;
    all->rating.welds.push_back(std::move(weld));
  }
  return all;
}

// Itself on a virtual display, where there is none.
int on_display(char** argv) {
  QProcess process;
  process.setProcessChannelMode(QProcess::ForwardedChannels);
  process.start(QStringLiteral("python3"), {QStringLiteral(SEAMWRIGHT_WITH_DISPLAY),
                                            QString::fromLocal8Bit(argv[0]), QStringLiteral("--here")});
  process.waitForFinished(-1);
  return process.exitCode();
}

}  // namespace

int main(int argc, char** argv) {
  machine::keep_freed_memory();
  if (argc == 1) {
    QCoreApplication application(argc, argv);
    return on_display(argv);
  }
  QTemporaryDir home;
  for (const char* name : {"XDG_CONFIG_HOME", "XDG_DATA_HOME", "XDG_CACHE_HOME"})
    qputenv(name, home.path().toUtf8());
  QSettings::setDefaultFormat(QSettings::IniFormat);
  QApplication application(argc, argv);
  apply_style(application, Style::light);
  fmt::print("shaded view, drawn by {}\n", !proven_graphics().works     ? "nobody: no graphics"
                                           : proven_graphics().software ? "the processor"
                                                                        : "a card");
  if (!proven_graphics().works) return 0;
  FrameView view;
  view.resize(1366, 768);
  const reports::FrameDrawing drawing = timing::ladder(400);
  view.set_drawing(drawing);
  view.set_rated(rated(drawing));
  const double before = processor_s();
  view.show();
  show_picture(view);
  timing::aim("first picture of 400 members", processor_s() - before, "s", 1);
  timing::aim("picture while turning 400 members", median(turns_s(view, true)), "s", 1.0 / 30);
  timing::aim("picture of 400 members with hidden lines", median(turns_s(view, false)), "s", 1.0 / 30);
  return 0;
}

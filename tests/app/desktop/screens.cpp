// SPDX-License-Identifier: GPL-3.0-or-later
// Pictures of every page of the window: desktop_screens FOLDER [light|dark] [en|de]. Run with
// QT_SCALE_FACTOR=2 for large type.
#include <QApplication>
#include <QDoubleSpinBox>
#include <QElapsedTimer>
#include <QSettings>
#include <QTemporaryDir>
#include <cstdio>
#include <functional>

#include "app/desktop/main_window.h"
#include "app/desktop/theme.h"
#include "app/desktop/trace_desk.h"
#include "app/desktop/words.h"

using namespace seamwright;
using namespace seamwright::desktop;

namespace {

void wait_for(const std::function<bool()>& done, int most_ms) {
  QElapsedTimer clock;
  clock.start();
  while (!done() && clock.elapsed() < most_ms) QApplication::processEvents(QEventLoop::AllEvents, 50);
  for (int i = 0; i < 20; ++i) QApplication::processEvents(QEventLoop::AllEvents, 10);
}

}  // namespace

int main(int argc, char** argv) {
  qputenv("QT_QPA_PLATFORM", "offscreen");
  QTemporaryDir settings;
  QSettings::setDefaultFormat(QSettings::IniFormat);
  QSettings::setPath(QSettings::IniFormat, QSettings::UserScope, settings.path());
  QApplication application(argc, argv);
  QApplication::setOrganizationName(QStringLiteral("seamwright"));
  QApplication::setApplicationName(QStringLiteral("screens"));
  const QStringList words = QApplication::arguments();
  if (words.size() < 2) {
    std::fputs("usage: desktop_screens FOLDER [light|dark] [en|de]\n", stderr);
    return 2;
  }
  const bool dark = words.value(2) == QLatin1String("dark");
  set_language(words.value(3) == QLatin1String("de") ? reports::Language::german
                                                     : reports::Language::english);
  apply_style(application, dark ? Style::dark : Style::light);
  MainWindow window;
  window.resize(1440, 900);
  window.show();
  const auto grab = [&](const char* page) {
    const QString path = words[1] + QLatin1Char('/') + QLatin1String(page) + QStringLiteral(".png");
    if (!window.grab().save(path)) std::fprintf(stderr, "cannot write %s\n", qPrintable(path));
  };
  wait_for([] { return false; }, 100);
  grab("start");
  bool rated = false;
  QObject::connect(&window.rater(), &Rater::finished, &window, [&] { rated = true; });
  window.open_demo();
  wait_for([&] { return rated; }, 20000);
  grab("rate");
  window.show_desk(QStringLiteral("weld"));
  const auto fields = window.findChildren<QDoubleSpinBox*>();
  for (int i = 0; i < 3 && i < fields.size(); ++i) fields[i]->setValue(i == 0 ? 58 : i == 1 ? 10.9 : 1.2);
  wait_for([] { return false; }, 200);
  grab("weld");
  window.open_demo_book();
  wait_for([&] { return window.has_book(); }, 20000);
  window.show_desk(QStringLiteral("trace"));
  if (auto* desk = qobject_cast<TraceDesk*>(window.desk())) {
    desk->look_up(QStringLiteral("OT-0002"));
    desk->verify();
  }
  wait_for([] { return false; }, 1500);
  grab("trace");
  return 0;
}

// SPDX-License-Identifier: GPL-3.0-or-later
// Pictures of every page of the window: desktop_screens FOLDER [light|dark] [en|de]. Run with
// QT_SCALE_FACTOR=2 for large type. desktop_screens FOLDER STYLE LANGUAGE shaded, on a display: the frame's solids alone.
#include <QApplication>
#include <QDialog>
#include <QTimer>
#include <QElapsedTimer>
#include <QHash>
#include <QImage>
#include <QSettings>
#include <QTemporaryDir>
#include <algorithm>
#include <cstdio>
#include <functional>

#include "app/desktop/dialogs.h"
#include "app/desktop/main_window.h"
#include "app/desktop/number_field.h"
#include "app/desktop/rate_desk.h"
#include "app/desktop/solid_maker.h"
#include "app/desktop/studies.h"
#include "app/desktop/study_page.h"
#include "app/desktop/theme.h"
#include "app/desktop/trace_desk.h"
#include "app/desktop/window_words.h"
#include "catalog/files/patch.h"
#include "catalog/files/source.h"
#include "catalog/models/user_modeller.h"

using namespace seamwright;
using namespace seamwright::desktop;

namespace {

void wait_for(const std::function<bool()>& done, int most_ms) {
  QElapsedTimer clock;
  clock.start();
  while (!done() && clock.elapsed() < most_ms) QApplication::processEvents(QEventLoop::AllEvents, 50);
  for (int i = 0; i < 20; ++i) QApplication::processEvents(QEventLoop::AllEvents, 10);
}

// The most frequent 256 colours: enough for flat pages, and a quarter of the size.
QImage few_colours(const QImage& image) {
  const QImage exact = image.convertToFormat(QImage::Format_RGB32);
  QHash<QRgb, int> counts;
  for (int y = 0; y < exact.height(); ++y)
    for (int x = 0; x < exact.width(); ++x) ++counts[exact.pixel(x, y)];
  QList<QRgb> colours = counts.keys();
  std::sort(colours.begin(), colours.end(), [&](QRgb a, QRgb b) { return counts[a] > counts[b]; });
  colours.resize(std::min<qsizetype>(colours.size(), 256));
  return exact.convertToFormat(QImage::Format_Indexed8, colours, Qt::AvoidDither | Qt::ThresholdDither);
}

// Every study that needs no file of the user's, and a second design beside the first.
void studies_of(MainWindow& window, const std::function<void(const char*)>& grab) {
  auto* desk = qobject_cast<RateDesk*>(window.desk());
  const std::string folder = window.session()->folder();
  const std::string thicker =
      files::patched("design.toml", window.session()->text(File::design), "tube[spine].wall_mm", 4.0);
  files::write_text(folder + "/thicker.toml", thicker);
  files::write_text(
      folder + "/sweep.toml",
      "format = \"seamwright.sweep/1\"\n[[parameter]]\nplace = \"tube[rail].wall_mm\"\nvalues = "
      "[1.5, 2, 2.5]\n");
  const auto in_folder = [&](const char* name) { return visible_text(folder + "/" + name); };
  for (const Study& study : studies()) {
    StudyPage* page = desk->page_of(QLatin1String(study.id));
    desk->show_study(QLatin1String(study.id));
    page->set_field(QStringLiteral("design"), in_folder("thicker.toml"));
    page->set_field(QStringLiteral("sweep"), in_folder("sweep.toml"));
    page->set_field(QStringLiteral("csv"), in_folder("sweep.csv"));
    page->set_field(QStringLiteral("deck"), in_folder("frame.inp"));
    bool ended = false;
    QObject::connect(page, &StudyPage::ended, &window, [&] { ended = true; });
    const bool started = page->run_study();
    wait_for([&] { return ended || !started; }, 240000);
    grab(study.id);
  }
  desk->show_study({});
  grab("rate-second");
}

void grab_new_job(MainWindow& window, const std::function<void(QWidget&, const char*)>& save) {
  QTimer::singleShot(500, &window, [&] {
    auto* dialog = qobject_cast<QDialog*>(QApplication::activeModalWidget());
    save(*dialog, "new");
    dialog->reject();
  });
  ask_new_job(&window);
}

// The frame's solids take longer than its rating. Gives the exit code.
int grab_solids(MainWindow& window, const bool& rated, const std::function<void(const char*)>& grab) {
  auto* maker = window.findChild<SolidMaker*>();
  if (!maker) return 1;
  bool built = false;
  QObject::connect(maker, &SolidMaker::made, &window, [&] { built = true; });
  wait_for([&] { return rated && built; }, 120000);
  wait_for([] { return false; }, 1000);
  grab("rate-shaded");
  return built ? 0 : 1;
}

// The welder's desk with readings, the inspector's with an undercut that is too deep.
void grab_welding(MainWindow& window, const std::function<void(const char*)>& grab) {
  for (const auto& [desk, values] : {std::pair("weld", std::vector{58.0, 10.9, 1.2}), std::pair("inspect", std::vector{2.0, 0.9})}) {
    window.show_desk(QLatin1String(desk));
    const auto fields = window.desk()->findChildren<NumberField*>();
    for (std::size_t i = 0; i < values.size(); ++i) fields.at(static_cast<int>(i))->setValue(values[i]);
    wait_for([] { return false; }, 200);
    grab(desk);
  }
}

}  // namespace

int main(int argc, char** argv) {
  const bool shaded = argc > 4 && QByteArray(argv[4]) == "shaded";
  if (!shaded) qputenv("QT_QPA_PLATFORM", "offscreen");
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
  set_language_code(words.value(3));
  QLocale::setDefault(QLocale(visible_text(std::string(language().file->code))));
  apply_style(application, dark ? Style::dark : Style::light);
  models::UserModeller solids;
  models::UserJoints joints;
  MainWindow window(desks(), desktop::studies(), {shaded ? &solids : nullptr, &joints});
  window.resize(shaded ? QSize(1366, 768) : QSize(1440, 900));
  window.show();
  const auto save = [&](QWidget& seen, const char* page) {
    const QString path = words[1] + QLatin1Char('/') + QLatin1String(page) + QStringLiteral(".png");
    if (!few_colours(seen.grab().toImage()).save(path)) std::fprintf(stderr, "cannot write %s\n", qPrintable(path));
  };
  const auto grab = [&](const char* page) { save(window, page); };
  wait_for([] { return false; }, 100);
  if (!shaded) grab("start");
  if (!shaded) grab_new_job(window, save);
  bool rated = false;
  QObject::connect(&window.rater(), &Rater::finished, &window, [&] { rated = true; });
  bool models = false;  // the rating after the last joint's is shown
  QObject::connect(&window.joints(), &JointMaker::came, &window, [&] {
    models = window.joints().left() == 0;
    rated = false;
  });
  window.open_demo();
  if (shaded) return grab_solids(window, rated, grab);
  wait_for([&] { return rated && models; }, 60000);
  grab("rate");
  studies_of(window, grab);
  grab_welding(window, grab);
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

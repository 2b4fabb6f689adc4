// SPDX-License-Identifier: GPL-3.0-or-later
// The shaded view on a display, by its pixels: tubes, bands, section, picking, turning and zooming about what
// is under the pointer; and that lines take its place where there are no graphics.
#include <QLabel>
#include <QMenu>
#include <QMouseEvent>
#include <QProcess>
#include <QSignalSpy>
#include <QSlider>
#include <QWheelEvent>
#include <cstring>

#include "app/desktop/frame_view.h"
#include "app/desktop/graphics_proof.h"
#include "app/desktop/rate_desk.h"
#include "tests/app/desktop/window_driver.h"

namespace seamwright::desktop {

namespace {

using Across = reports::FrameSection::Across;

double distance(QPointF a, QPointF b) { return std::hypot(a.x() - b.x(), a.y() - b.y()); }

QPoint whole(QPointF at) { return {static_cast<int>(at.x()), static_cast<int>(at.y())}; }

bool is_ground(const QImage& image, QPointF at) {
  return image.pixelColor(whole(at)).rgb() == colours().sheet.rgb();
}

struct Demonstration {
  Job job;
  MainWindow window;
  FrameView* frame = nullptr;
  bool open() {
    window.resize(1366, 768);
    window.show();
    bool rated = false;
    QObject::connect(&window.rater(), &Rater::finished, &window, [&] { rated = true; });
    window.open(job.folder());
    frame = window.findChild<FrameView*>();
    return frame && wait_for([&] { return rated; });
  }
  QImage picture() const { return frame->grab().toImage(); }
  RateDesk& desk() { return *qobject_cast<RateDesk*>(window.desk()); }

  // A place of the view where a weld, or a member, stands free under the pointer.
  QPointF find(bool weld, const std::string& id) {
    for (int y = 40; y < frame->height() - 40; y += 5)
      for (int x = 10; x < frame->width() - 10; x += 5) {
        const QPointF at(x + 0.5, y + 0.5);
        const auto picked = frame->picked(at);
        if (picked && picked->weld == weld && (id.empty() || picked->id == id)) return at;
      }
    return {};
  }
  void send(QEvent::Type type, QPointF at) {
    QMouseEvent event(type, at, frame->mapToGlobal(at),
                      type == QEvent::MouseMove ? Qt::NoButton : Qt::LeftButton,
                      type == QEvent::MouseButtonRelease ? Qt::NoButton : Qt::LeftButton, Qt::NoModifier);
    QApplication::sendEvent(frame, &event);
  }
};

}  // namespace

class ShadedViewTest : public QObject {
  Q_OBJECT

 private slots:
  void tubes_and_ground() {
    Demonstration d;
    QVERIFY(d.open());
    QVERIFY(d.frame->is_shaded());
    const QImage image = d.picture();
    const auto& drawing = d.frame->scene().drawing;
    for (const auto& s : drawing.stretches) {
      const frame::Vec3 middle = 0.5 * (drawing.points[s.from].at_mm + drawing.points[s.to].at_mm);
      QVERIFY2(d.frame->picked(d.frame->pixel(middle)), s.member.c_str());
      QVERIFY2(!is_ground(image, d.frame->pixel(middle)), s.member.c_str());
    }
    // Most of what picks nothing is bare: wheels, flags and scales cover the rest.
    int bare = 0, ground = 0;
    for (int y = 8; y < image.height() - 8; y += 8)
      for (int x = 8; x < image.width() - 8; x += 8)
        if (!d.frame->picked({x + 0.5, y + 0.5})) {
          ++bare;
          ground += is_ground(image, {double(x), double(y)});
        }
    QVERIFY(bare > 500);
    QVERIFY2(ground > 0.8 * bare, qPrintable(QString::number(ground / double(bare))));
  }

  void band_at_a_weld() {
    Demonstration d;
    QVERIFY(d.open());
    const std::string worst = d.desk().chosen().toStdString();
    d.frame->go_to(d.desk().chosen());
    QCOMPARE(d.frame->view().joint, worst);
    d.frame->setFocus();
    const QPointF centre(d.frame->width() / 2.0, d.frame->height() / 2.0);
    for (const auto& f : d.frame->scene().drawing.flags)
      if (f.id == worst) QVERIFY(distance(d.frame->pixel(f.at_mm), centre) < 2);
    const QImage image = d.picture();
    // The band has the scale's hue, more blue than red, where steel is grey.
    int blue = 0, all = 0;
    for (const auto& band : d.frame->scene().bands.bands) {
      if (d.frame->scene().drawing.flags[band.flag].id != worst) continue;
      for (std::size_t i = band.first; i < band.first + band.points; i += 3) {
        frame::Vec3 middle(0, 0, 0);
        for (std::size_t k = i; k < i + 3; ++k)
          for (int axis = 0; axis < 3; ++axis)
            middle[axis] += double{d.frame->scene().bands.points[k].place[axis]} / 3;
        const QPointF at = d.frame->pixel(middle);
        const auto picked = d.frame->picked(at);
        if (!image.rect().contains(whole(at)) || !picked || picked->id != worst) continue;
        const QColor c = image.pixelColor(whole(at));
        ++all;
        blue += c.blue() - c.red() > 20;
      }
    }
    QVERIFY(all > 10);
    QVERIFY2(blue > all / 3, qPrintable(QString::number(blue) + "/" + QString::number(all)));
  }

  void section_shows_what_lies_behind() {
    Demonstration d;
    QVERIFY(d.open());
    const QImage before = d.picture();
    d.frame->set_section(reports::section_facing(d.frame->view(), Across::y, 0.5));
    const QImage after = d.picture();
    int gone = 0, stays = 0, changed = 0;
    const auto kept = reports::kept_by(d.frame->view().section, d.frame->scene().drawing);
    QVERIFY(kept);
    for (int y = 60; y < before.height() - 60; y += 8)
      for (int x = 10; x < before.width() - 10; x += 8) {
        const QPointF at(x + 0.5, y + 0.5);
        d.frame->set_section({});
        const auto was = d.frame->picked(at);
        d.frame->set_section(reports::section_facing(d.frame->view(), Across::y, 0.5));
        const auto is = d.frame->picked(at);
        if (is) QVERIFY(kept->normal.dot(is->place_mm) <= kept->offset_mm + 1e-6);
        if (!was || kept->normal.dot(was->place_mm) <= kept->offset_mm) {
          stays += was.has_value();
          continue;
        }
        ++gone;
        changed += before.pixel(x, y) != after.pixel(x, y);
      }
    QVERIFY(gone > 10);
    QVERIFY(stays > 10);
    QVERIFY2(changed > 0.7 * gone, qPrintable(QString::number(changed / double(gone))));
    // The row's slider moves the plane, and a key takes the other side.
    auto* slider = d.desk().findChild<QSlider*>();
    QVERIFY(slider && slider->isVisible());
    slider->setValue(250);
    QCOMPARE(d.frame->view().section.place, 0.25);
    d.frame->setFocus();
    const bool high = d.frame->view().section.takes_high;
    QTest::keyClick(d.frame, Qt::Key_X);
    QCOMPARE(d.frame->view().section.takes_high, !high);
    QTest::keyClick(d.frame, Qt::Key_Period);
    QCOMPARE(d.frame->view().section.place, 0.26);
  }

  void pointer_picks_welds_and_members() {
    Demonstration d;
    QVERIFY(d.open());
    QSignalSpy welds(d.frame, &FrameView::flag_chosen), members(d.frame, &FrameView::member_chosen);
    const QPointF weld = d.find(true, {});
    QVERIFY(!weld.isNull());
    const std::string id = d.frame->picked(weld)->id;
    d.picture();  // labels of flags are where this picture has them
    if (reports::flag_at(d.frame->hits(), {-1, -1}, 0).empty()) {
      d.send(QEvent::MouseButtonPress, weld);
      d.send(QEvent::MouseButtonRelease, weld);
    }
    QCOMPARE(welds.count(), 1);
    QCOMPARE(welds[0][0].toString().toStdString(), id);
    QCOMPARE(d.desk().chosen().toStdString(), id);
    QCOMPARE(d.frame->view().joint, id);  // and the view went to its joint
    QTest::keyClick(d.frame, Qt::Key_Home);
    QVERIFY(d.frame->view().joint.empty());
    const QPointF tube = d.find(false, {});
    const std::string member = d.frame->picked(tube)->id;
    d.send(QEvent::MouseButtonPress, tube);
    d.send(QEvent::MouseButtonRelease, tube);
    QCOMPARE(members.count(), 1);
    QCOMPARE(members[0][0].toString().toStdString(), member);
  }

  void what_is_under_the_pointer_stays_there() {
    Demonstration d;
    QVERIFY(d.open());
    const QPointF tube = d.find(false, {});
    const frame::Vec3 place = d.frame->picked(tube)->place_mm;
    QVERIFY(distance(d.frame->pixel(place), tube) < 0.01);
    d.send(QEvent::MouseButtonPress, tube);
    const double turned = d.frame->view().turn_deg;
    for (int i = 1; i <= 20; ++i) {
      d.send(QEvent::MouseMove, tube + QPointF(5 * i, 2 * i));
      QVERIFY(distance(d.frame->pixel(place), tube) < 0.01);
    }
    QVERIFY(std::abs(d.frame->view().turn_deg - turned) > 20);
    QVERIFY(!is_ground(d.picture(), tube));
    d.send(QEvent::MouseButtonRelease, tube + QPointF(100, 40));
    const frame::Vec3 middle = d.frame->view().held->centre_mm;
    QWheelEvent wheel(tube, d.frame->mapToGlobal(tube), {}, {0, 480}, Qt::NoButton, Qt::NoModifier,
                      Qt::NoScrollPhase, false);
    QApplication::sendEvent(d.frame, &wheel);
    QVERIFY(distance(d.frame->pixel(place), tube) < 0.01);
    QVERIFY((d.frame->view().held->centre_mm - middle).norm() > 1);
    QVERIFY(!is_ground(d.picture(), tube));
  }

  void lines_and_back_keep_the_place() {
    Demonstration d;
    QVERIFY(d.open());
    d.frame->setFocus();
    QTest::keyClick(d.frame, Qt::Key_Right);
    QTest::keyClick(d.frame, Qt::Key_Plus);
    const reports::FrameView before = d.frame->view();
    const QImage shaded = d.picture();
    QTest::keyClick(d.frame, Qt::Key_L);
    QVERIFY(!d.frame->is_shaded());
    QCOMPARE(d.frame->view().turn_deg, before.turn_deg);
    QCOMPARE(d.frame->view().held->tall_mm, before.held->tall_mm);
    QVERIFY(d.picture() != shaded);
    QTest::keyClick(d.frame, Qt::Key_L);
    QVERIFY(d.frame->is_shaded());
    QCOMPARE(d.frame->view().held->tall_mm, before.held->tall_mm);
    QVERIFY(nameless(d.window).isEmpty());
    QVERIFY2(doubled_mnemonics(d.window).isEmpty(), qPrintable(doubled_mnemonics(d.window).join('\n')));
  }

  void motion_and_stress() {
    Demonstration d;
    QVERIFY(d.open());
    d.frame->setFocus();
    const QImage still = d.picture();
    QTest::keyClick(d.frame, Qt::Key_C);
    QCOMPARE(d.frame->scene().hue, FrameHue::stress);
    QVERIFY(d.frame->scene().rest);
    const double most = reports::largest_stress_mpa(*d.frame->scene().rest);
    QVERIFY(most > 1 && most < 1000);
    QVERIFY(d.picture() != still);
    QTest::keyClick(d.frame, Qt::Key_C);
    d.frame->show_motion(1);
    const QImage swung = d.picture();
    QVERIFY(swung != still);
    QCOMPARE(d.frame->scene().mesh.moves.size(), d.frame->scene().mesh.points.size());
    d.frame->set_motion_size(0.12);
    QVERIFY(d.picture() != swung);
    QTest::keyClick(d.frame, Qt::Key_Space);
    QVERIFY(d.frame->is_running());
    const double share = d.frame->scene().look.motion_share;
    QVERIFY(wait_for([&] { return std::abs(d.frame->scene().look.motion_share - share) > 0.3; }, 5000));
    d.frame->show_motion(-1);
    QVERIFY(!d.frame->is_running());
    QCOMPARE(d.frame->scene().look.motion_share, 1.0);
    d.picture();
    QVERIFY(d.frame->scene().mesh.moves.empty());
  }

  void without_graphics_lines_take_over() {
    QProcess other;
    QProcessEnvironment environment = QProcessEnvironment::systemEnvironment();
    environment.insert(QStringLiteral("QT_XCB_GL_INTEGRATION"), QStringLiteral("none"));
    other.setProcessEnvironment(environment);
    other.setProcessChannelMode(QProcess::ForwardedChannels);
    other.start(QApplication::applicationFilePath(), {QStringLiteral("--without-graphics")});
    QVERIFY(other.waitForFinished(120000));
    QCOMPARE(other.exitCode(), 0);
  }
};

// A process of its own runs this: 0 when the frame is there in lines.
int look_without_graphics() {
  Demonstration d;
  if (!d.open() || d.frame->is_shaded() || proven_graphics().works) return 1;
  d.frame->set_shaded(true);  // as the menu would, if it had the entry
  if (d.frame->is_shaded()) return 2;
  const QImage image = d.picture();
  int inked = 0;
  for (int y = 0; y < image.height(); y += 2)
    for (int x = 0; x < image.width(); x += 2) inked += !is_ground(image, {double(x), double(y)});
  return inked > 500 ? 0 : 3;
}

}  // namespace seamwright::desktop

int main(int argc, char** argv) {
  seamwright::desktop::Home home;
  QApplication application(argc, argv);
  seamwright::desktop::set_up(application);
  if (argc == 2 && std::strcmp(argv[1], "--without-graphics") == 0)
    return seamwright::desktop::look_without_graphics();
  seamwright::desktop::ShadedViewTest test;
  return QTest::qExec(&test, argc, argv);
}

#include "shaded_view_test.moc"

// SPDX-License-Identifier: GPL-3.0-or-later
// Models of joints come to the window while it rates: equations first, then each joint's own numbers; changes are scaled until theirs come.
#include <QSignalSpy>
#include <mutex>

#include "app/desktop/rate_desk.h"
#include "catalog/files/job_reader.h"
#include "catalog/files/patch.h"
#include "catalog/models/joint_library.h"
#include "catalog/models/shipped.h"
#include "catalog/models/wire.h"
#include "catalog/published/published_data.h"
#include "engine/sites/joint_readings.h"
#include "tests/app/desktop/window_driver.h"

namespace seamwright::desktop {

namespace {

// Knows what comes with the program, and nothing else until it may.
struct Slow : models::Modeller {
  std::atomic<bool> may = true, broken = false;
  std::mutex mutex;
  std::vector<std::size_t> asked;  // of each call
  using Modeller::work;
  std::vector<models::Answer> work(const std::vector<models::Task>& tasks, const rating::Progress& progress, const Told& told) override {
    if (broken) throw Fault{Message{"shape.no-worker", {text("path", "nowhere")}}, Category::machine};
    const auto note = std::scoped_lock(mutex);
    asked.push_back(tasks.size());
    std::vector<models::Answer> answers;
    for (const models::Task& t : tasks) {
      auto known = models::shipped_answer(models::bytes_of(t));
      while (!known && !may && !progress.stop.stop_requested()) QThread::msleep(5);
      if (progress.stop.stop_requested()) throw rating::RatingStopped();
      answers.push_back(known ? *known : models::Answer(models::Failed{"not here"}));
      told(answers.size() - 1, answers.back());
    }
    return answers;
  }
};

struct Opened {
  Job job;
  Slow modeller;
  MainWindow window{desks(), studies(), {nullptr, &modeller}};
  std::shared_ptr<const RatedJob> rated;
  Opened() {
    QObject::connect(&window.rater(), &Rater::finished, &window, [this](const std::shared_ptr<const RatedJob>& r) { rated = r; });
    window.show();
  }
  ~Opened() {
    while (window.session() && !window.session()->is_saved() && window.session()->undo_stack().canUndo()) window.session()->undo_stack().undo();
    window.close();
  }
  const Message* note(MessageId id) const {
    for (const Message& m : rated->rating.notes)
      if (m.id == id) return &m;
    return nullptr;
  }
  bool has(MessageId id) const { return rated && note(id); }
};

}  // namespace

class JointsTest : public QObject {
  Q_OBJECT
 private slots:
  void models_take_the_place_of_equations() {
    Opened o;
    QSignalSpy finished(&o.window.rater(), &Rater::finished);
    o.window.open(o.job.folder());
    QVERIFY(wait_for([&] { return finished.count() >= 2 && o.window.joints().left() == 0 && !o.window.rater().is_busy() && o.has("rating.joint-models"); }));
    // The command line rates by the models that come with the program.
    rating::Job job = files::read_job(o.job.folder().toStdString(), "", published::catalog());
    job.joint_models = std::make_shared<const solid::JointLibrary>(models::shipped_joints(sites::frame_joints(job.design)));
    const rating::Rating expected = rating::rate(job, published::catalog().data, rating::Method::spectral, {});
    QVERIFY(wait_for([&] { return o.rated->rating.governing_weld == expected.governing_weld; }));
    QCOMPARE(o.rated->rating.welds[0].sites[0].damage, expected.welds[0].sites[0].damage);
    QVERIFY(!o.has("rating.joints-scaled"));
    QCOMPARE(qobject_cast<RateDesk*>(o.window.desk())->chosen().toStdString(), expected.governing_weld);  // nobody chose
    const std::scoped_lock lock(o.modeller.mutex);
    QCOMPARE(o.modeller.asked.size(), std::size_t{1});
  }

  void a_change_is_scaled_until_its_own_models_come() {
    Opened o;
    o.window.open(o.job.folder());
    QVERIFY(wait_for([&] { return o.window.joints().left() == 0 && !o.window.rater().is_busy() && o.has("rating.joint-models"); }));
    o.modeller.may = false;
    o.window.session()->set_text(File::design, files::patched("design.toml", o.window.session()->text(File::design), "tube[rail].wall_mm", 2.5));
    QVERIFY(wait_for([&] { return o.has("rating.joints-scaled") && o.window.joints().left() > 0; }));
    // None comes: its equations stand in, and the rating says why.
    o.modeller.may = true;
    QVERIFY(wait_for([&] { return o.window.joints().left() == 0 && !o.window.rater().is_busy() && o.has("joint.failed") && !o.has("rating.joints-scaled"); }));
    // A failure belongs to its design alone.
    o.window.session()->undo_stack().undo();
    QVERIFY(wait_for([&] { return !o.window.rater().is_busy() && !o.has("joint.failed"); }));
  }

  void without_a_worker_the_equations_go_on() {
    Opened o;
    o.modeller.broken = true;
    QSignalSpy failed(&o.window.joints(), &JointMaker::failed);
    o.window.open(o.job.folder());
    QVERIFY(wait_for([&] { return failed.count() == 1 && !o.window.rater().is_busy() && o.has("shape.no-worker"); }));
    QVERIFY(o.rated->rating.welds.size() > 60);
  }
};

}  // namespace seamwright::desktop

int main(int argc, char** argv) {
  const seamwright::desktop::Home home;
  QApplication application(argc, argv);
  seamwright::desktop::set_up(application);
  seamwright::desktop::JointsTest test;
  return QTest::qExec(&test, argc, argv);
}

#include "joints_test.moc"

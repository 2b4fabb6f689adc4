// SPDX-License-Identifier: GPL-3.0-or-later
// The engineer's way through the window, from an opened job to a written report, and what may go wrong on it.
#include <QAction>
#include <QComboBox>
#include <QLineEdit>
#include <QMenuBar>
#include <QProcess>
#include <QRandomGenerator>
#include <QSignalSpy>
#include <csignal>
#include <mutex>

#include "app/desktop/edit_table.h"
#include "app/desktop/form_panel.h"
#include "app/desktop/frame_view.h"
#include "app/desktop/message_bar.h"
#include "app/desktop/rate_desk.h"
#include "app/desktop/solid_maker.h"
#include "app/desktop/strips.h"
#include "catalog/files/job_reader.h"
#include "catalog/models/modeller.h"
#include "catalog/published/published_data.h"
#include "reports/text/text.h"
#include "tests/app/desktop/window_driver.h"

namespace seamwright::desktop {

namespace {

// Gives up the changes without asking, so that no question stands open at the end of a test.
void give_up(MainWindow& window) {
  if (JobSession* session = window.session()) {
    while (!session->is_saved() && session->undo_stack().canUndo()) session->undo_stack().undo();
    while (!session->is_saved() && session->undo_stack().canRedo()) session->undo_stack().redo();
  }
  window.close();
}

struct Opened {
  Job job;
  MainWindow window;
  std::shared_ptr<const RatedJob> rated;
  int ratings = 0;
  Opened() {
    QObject::connect(&window.rater(), &Rater::finished, &window,
                     [this](const std::shared_ptr<const RatedJob>& r) {
                       rated = r;
                       ++ratings;
                     });
    window.show();
    window.open(job.folder());
  }
  ~Opened() { give_up(window); }
  bool rest() {
    return wait_for([this] { return ratings > 0 && !window.rater().is_busy(); });
  }
  RateDesk& desk() { return *qobject_cast<RateDesk*>(window.desk()); }
  FormPanel& forms() { return *window.findChild<FormPanel*>(); }
  Strips& strips() { return *window.findChild<Strips*>(); }
};

QModelIndex cell_of(TableModel& model, const char* row, const char* key) {
  const int r = model.row_of(row);
  for (int k = 0; r >= 0 && k < model.columnCount(); ++k)
    if (model.headerData(k, Qt::Horizontal, Qt::UserRole).toString() == QLatin1String(key))
      return model.index(r, k);
  return {};
}

double life_of(const RatedJob& rated, const std::string& weld) {
  for (const reports::Strip& s : rated.strips)
    if (s.id == weld) return s.life_km;
  return 0;
}

// Has a body for everything, and for every view one line.
struct OneLine : models::Modeller {
  std::mutex mutex;
  std::vector<frame::Vec3> towards;  // of all views
  models::Answer answer(const models::Task& task) {
    if (const auto* part = std::get_if<shape::Part>(&task)) return body(part->id);
    if (const auto* weld = std::get_if<shape::WeldBody>(&task)) return body(weld->id);
    if (const auto* view = std::get_if<models::ViewTask>(&task)) {
      const std::scoped_lock lock(mutex);
      towards.push_back(view->towards);
      return models::Lines{{"line", true, false, {{-400, 0}, {400, 300}}}};
    }
    return models::Failed{"no such task here"};
  }
  static shape::Built body(const std::string& id) {
    shape::Built b;
    b.solid.id = id;
    b.body = "a body";
    return b;
  }
  using Modeller::work;
  std::vector<models::Answer> work(const std::vector<models::Task>& tasks, const rating::Progress&, const Told&) override {
    std::vector<models::Answer> answers;
    for (const models::Task& t : tasks) answers.push_back(answer(t));
    return answers;
  }
  std::size_t views() {
    const std::scoped_lock lock(mutex);
    return towards.size();
  }
};

}  // namespace

class RateDeskTest : public QObject {
  Q_OBJECT
 private slots:
  // Where nothing is shaded the kernel's hidden lines take the place of double lines, once the view rests.
  void hidden_lines() {
    Job folder;
    const auto job = std::make_shared<rating::Job>(files::read_job(folder.folder().toStdString(), "", published::catalog()));
    OneLine modeller;
    FrameView view;
    SolidMaker maker(&modeller);
    maker.serve(view);
    view.setFocusPolicy(Qt::NoFocus);  // a frame in another colour
    view.resize(600, 400);
    view.show();
    view.set_drawing(reports::frame_drawing(job->design));
    QVERIFY(!view.is_shaded());
    const QImage plain = view.grab().toImage();
    QSignalSpy drawn(&maker, &SolidMaker::drawn);
    maker.request(job);
    QVERIFY(wait_for([&] { return drawn.count() == 1; }));
    const QImage lines = view.grab().toImage();
    QVERIFY(lines != plain);
    // The same view once more asks for nothing; another direction is drawn plainly until its lines are there.
    const reports::FrameView first = view.view();
    view.look_from(first.turn_deg + 40, first.tip_deg);
    QVERIFY(wait_for([&] { return drawn.count() == 2; }));
    QCOMPARE(modeller.views(), std::size_t{2});
    QVERIFY((modeller.towards[1] - reports::eye_of(view.view()).towards).norm() < 1e-9);
    QVERIFY(view.grab().toImage() != lines);
    view.look_from(first.turn_deg, first.tip_deg);
    QCOMPARE(view.grab().toImage(), plain);
    QVERIFY(wait_for([&] { return drawn.count() == 3; }));
    QCOMPARE(view.grab().toImage(), lines);
    view.set_drawing(reports::frame_drawing(design::Design()));  // another frame's lines go
    QVERIFY(view.scene().look.turned == nullptr);
  }

  // The main path goes from an opened job by a changed value to the counted rating and its report.
  void main_path() {
    Opened o;
    QVERIFY(o.rest());
    QVERIFY2(o.rated->strips.size() > 50, "the demonstration has some sixty welds");
    QCOMPARE(o.strips().model_of_strips().rowCount(), static_cast<int>(o.rated->strips.size()));
    const QString governing = QString::fromStdString(o.rated->rating.governing_weld);
    QCOMPARE(o.desk().chosen(), governing);

    // A thicker tube of the governing weld lives longer.
    std::string tube;
    for (const frame::Member& m : o.rated->job->design.frame.members)
      for (const reports::Strip& s : o.rated->strips)
        if (s.id == governing.toStdString() && m.id == s.member) tube = m.tube;
    EditTable* tubes = o.forms().section(0)->table(File::design, "tube");
    const QModelIndex wall = cell_of(tubes->table(), tube.c_str(), "wall_mm");
    QVERIFY(wall.isValid());
    const double before = life_of(*o.rated, governing.toStdString());
    const int ratings = o.ratings;
    QVERIFY(tubes->table().setData(wall, QStringLiteral("4"), Qt::EditRole));
    QVERIFY(!o.window.session()->is_saved());
    QVERIFY(wait_for([&] { return o.ratings > ratings && !o.window.rater().is_busy(); }));
    QVERIFY(std::abs(life_of(*o.rated, governing.toStdString()) / before - 1) > 0.01);

    QVERIFY(o.window.save());
    QVERIFY(o.job.bytes("design.toml").contains("# "));  // comments of the file stay

    QSignalSpy told(&o.window.rater(), &Rater::progress);
    o.desk().count_cycles();
    QVERIFY(wait_for([&] { return o.rated->method == rating::Method::time; }, 180000));
    QVERIFY(told.count() > 3);
    for (const char* name : {"report.pdf", "report.html"}) {
      const QString path = o.job.folder() + QLatin1Char('/') + QLatin1String(name);
      o.window.write_report_to(path);
      QVERIFY(wait_for([&] { return QFile::exists(path); }));
      QVERIFY(o.job.bytes(name).size() > 10000);
    }
    QVERIFY(o.job.bytes("report.pdf").startsWith("%PDF"));
  }

  void keyboard_alone() {
    Opened o;
    QVERIFY(o.rest());
    QApplication::setActiveWindow(&o.window);
    // Find a weld, take it from the list, walk on in the frame.
    QTest::keyClick(&o.window, Qt::Key_F, Qt::ControlModifier);
    auto* field = qobject_cast<QLineEdit*>(QApplication::focusWidget());
    QVERIFY(field);
    QTest::keyClicks(field, "W12");
    o.strips().setFocus();
    QTest::keyClick(&o.strips(), Qt::Key_Down);
    const QString first = o.desk().chosen();
    auto* frame = o.window.findChild<FrameView*>();
    frame->setFocus();
    QTest::keyClick(frame, Qt::Key_PageDown);
    QVERIFY(o.desk().chosen() != first);
    const double turned = frame->view().turn_deg;
    QTest::keyClick(frame, Qt::Key_Right);
    QVERIFY(frame->view().turn_deg > turned);
    // A cell is typed into and the change undone.
    EditTable* parameters = o.forms().section(0)->table(File::design, "parameters");
    parameters->setFocus();
    parameters->setCurrentIndex(parameters->table().index(0, 1));
    const std::string before = o.window.session()->text(File::design);
    QTest::keyClick(parameters, Qt::Key_F2);
    auto* editor = parameters->findChild<QLineEdit*>();
    QVERIFY(editor);
    editor->selectAll();
    QTest::keyClicks(editor, "777,5");
    QTest::keyClick(editor, Qt::Key_Return);
    QVERIFY(wait_for(
        [&] { return o.window.session()->text(File::design).find("777.5") != std::string::npos; }, 2000));
    QTest::keyClick(&o.window, Qt::Key_Z, Qt::ControlModifier);
    QCOMPARE(o.window.session()->text(File::design), before);
    // Tab goes round and is caught nowhere.
    QSet<QWidget*> met;
    o.window.setFocus();
    for (int i = 0; i < 400; ++i) {
      QTest::keyClick(QApplication::focusWidget() ? QApplication::focusWidget() : &o.window, Qt::Key_Tab);
      met << QApplication::focusWidget();
    }
    QVERIFY(met.contains(frame));
    QVERIFY(met.contains(&o.strips()));
    QVERIFY2(met.size() > 12, qPrintable(QString::number(met.size())));
  }

  void random_edits_undone() {
    Opened o;
    QVERIFY(o.rest());
    JobSession& session = *o.window.session();
    const std::array<std::string, 2> before{session.text(File::design), session.text(File::duty)};
    QRandomGenerator dice(20261127);
    const QStringList typed{QStringLiteral("3"),       QStringLiteral("-1e99"),
                            QStringLiteral("2,5"),     QStringLiteral("wall * 2"),
                            QStringLiteral("\"\\"),    QStringLiteral("ä ☃"),
                            QStringLiteral("1; 2; 3"), QString(),
                            QStringLiteral("yes"),     QStringLiteral("]]\n[[tube"),
                            QStringLiteral("W1"),      QStringLiteral("0")};
    int changed = 0;
    for (int n = 0; n < 250; ++n) {
      const File file = dice.bounded(3) ? File::design : File::duty;
      const auto& tables = session.tables(file);
      if (tables.empty()) {  // what was typed must not break the text itself
        QFAIL("a form's edit left a text that is no TOML");
      }
      const files::WrittenTable& t = tables[dice.bounded(static_cast<quint32>(tables.size()))];
      TableModel model(session, file, t.name);
      if (model.rowCount() == 0) continue;
      const QModelIndex cell = model.index(dice.bounded(model.rowCount()), dice.bounded(model.columnCount()));
      const int count = session.undo_stack().count();
      const files::WrittenRow* row = model.row_at(cell.row());
      try {
        switch (dice.bounded(6)) {
          case 0:
            if (row) session.copy_row(file, std::string(row->place));
            break;
          case 1:
            if (row && model.rowCount() > 3) session.remove_row(file, std::string(row->place));
            break;
          case 2:
            model.clear({cell});
            break;
          case 3:
            model.paste(cell, QStringLiteral("7\t8\n=9\t'x\n"));
            break;
          default:
            model.setData(cell, typed[dice.bounded(typed.size())], Qt::EditRole);
        }
      } catch (const Fault&) {  // refused: the text is as it was
      }
      changed += session.undo_stack().count() != count;
    }
    QVERIFY2(changed > 60, qPrintable(QString::number(changed)));
    const std::array<std::string, 2> after{session.text(File::design), session.text(File::duty)};
    while (session.undo_stack().canUndo()) session.undo_stack().undo();
    QVERIFY(session.text(File::design) == before[0] && session.text(File::duty) == before[1]);
    QVERIFY(session.is_saved());
    while (session.undo_stack().canRedo()) session.undo_stack().redo();
    QVERIFY(session.text(File::design) == after[0] && session.text(File::duty) == after[1]);
  }

  void broken_files_data() {
    QTest::addColumn<QByteArray>("design");
    QTest::newRow("cut off") << Job().bytes("design.toml").left(5000);
    QTest::newRow("no TOML") << QByteArray("[[tube]\nwall = = 3\n");
    QTest::newRow("unknown key") << QByteArray("colour = \"red\"\n") + Job().bytes("design.toml");
    QTest::newRow("NUL bytes") << QByteArray("name = \"a\0b\"\n", 13);
    QTest::newRow("bad UTF-8") << QByteArray("name = \"\xff\xfe\"\n");
    QTest::newRow("empty") << QByteArray();
  }
  void broken_files() {
    QFETCH(QByteArray, design);
    const Job job;
    job.put("design.toml", design);
    MainWindow window;
    window.show();
    window.open(job.folder());
    QVERIFY2(window.message().startsWith(QStringLiteral("▼")), qPrintable(window.message()));
    if (window.session()) {
      QVERIFY(window.session()->fault().has_value());
      QTest::keyClick(&window, Qt::Key_F8);  // to the place, where it has one
      window.desk()->count_cycles();         // nothing to rate, and nothing falls over
      QVERIFY(!window.rater().is_counting());
    }
    QCOMPARE(job.bytes("design.toml"), design);
    give_up(window);
  }

  void a_folder_that_is_none() {
    MainWindow window;
    window.show();
    window.open(QStringLiteral("/nowhere/at/all"));
    QVERIFY(!window.session());
    QVERIFY(window.message().startsWith(QStringLiteral("▼")));
  }

  void closed_while_counting() {
    auto o = std::make_unique<Opened>();
    QVERIFY(o->rest());
    o->desk().count_cycles();
    QVERIFY(wait_for([&] { return o->window.rater().is_counting(); }));
    QTest::qWait(200);
    QElapsedTimer clock;
    clock.start();
    QVERIFY(o->window.close());
    o.reset();
    QVERIFY2(clock.elapsed() < 5000, qPrintable(QString::number(clock.elapsed())));
  }

  void stopped_and_started_again() {
    Opened o;
    QVERIFY(o.rest());
    QSignalSpy stopped(&o.window.rater(), &Rater::stopped);
    o.desk().count_cycles();
    QTest::qWait(300);
    o.window.rater().cancel();
    QVERIFY(wait_for([&] { return stopped.count() == 1; }, 10000));
    QCOMPARE(o.rated->method, rating::Method::spectral);
    const int ratings = o.ratings;
    o.window.rater().request(o.window.session()->job(), {});
    QVERIFY(wait_for([&] { return o.ratings > ratings; }));
  }

  // Counting takes seconds; a loop that waited for it would turn once.
  void the_loop_turns_while_cycles_are_counted() {
    Opened o;
    QVERIFY(o.rest());
    const LoopWatch watch;
    o.desk().count_cycles();
    QVERIFY(wait_for([&] { return o.window.rater().is_counting(); }));
    const int before = watch.turns();
    QVERIFY(wait_for([&] { return watch.turns() >= before + 20 || !o.window.rater().is_counting(); }));
    QVERIFY(o.window.rater().is_counting());
    QVERIFY(wait_for([&] { return o.rated->method == rating::Method::time; }, 180000));
  }

  void every_control_has_a_name() {
    MainWindow empty;
    empty.show();
    QCOMPARE(nameless(empty).join('\n'), QString());
    Opened o;
    QVERIFY(o.rest());
    for (int section = 0; section < 4; ++section) {
      o.forms().section(section)->title()->click();
      QCOMPARE(nameless(o.window).join('\n'), QString());
      QCOMPARE(doubled_mnemonics(o.window).join('\n'), QString());
    }
  }

  void every_text_is_german() {
    set_language(reports::language_named("de"));
    QSet<QString> english;
    for (const std::string& id : reports::known_ids(reports::language_named("en"))) {
      const auto one = reports::sentence_template(id, reports::language_named("en")),
                 other = reports::sentence_template(id, reports::language_named("de"));
      if (one != other) english << QString::fromUtf8(one.data(), static_cast<qsizetype>(one.size()));
    }
    for (const std::string& id : reports::known_ids(reports::language_named("de")))
      english.remove(
          QString::fromStdString(std::string(reports::sentence_template(id, reports::language_named("de")))));
    {
      Opened o;
      QVERIFY(o.rest());
      QStringList wrong;
      int met = 0;
      const auto look = [&](const QString& text) {
        ++met;
        if (english.contains(text)) wrong << text;
      };
      for (const auto* l : o.window.findChildren<QLabel*>()) look(l->text());
      for (const auto* b : o.window.findChildren<QAbstractButton*>()) look(b->text());
      for (const auto* a : o.window.findChildren<QAction*>()) look(a->text());
      for (const auto* w : o.window.findChildren<QWidget*>()) look(w->accessibleName());
      set_language(reports::language_named("en"));
      QCOMPARE(wrong.join('\n'), QString());
      QVERIFY(met > 100);
    }
  }

  // A second process changes a job and is killed; the next start offers what it had.
  void killed_and_recovered() {
    const Job job;
    QProcess victim;
    QProcessEnvironment env = QProcessEnvironment::systemEnvironment();
    env.insert(QStringLiteral("SEAMWRIGHT_TEST_HOME"), QStringLiteral("shared"));
    victim.setProcessEnvironment(env);
    victim.start(QApplication::applicationFilePath(), {QStringLiteral("--victim"), job.folder()});
    QVERIFY(wait_for([&] { return victim.canReadLine() || victim.state() == QProcess::NotRunning; }, 30000));
    QCOMPARE(victim.readLine(), QByteArray("written\n"));
    ::kill(static_cast<pid_t>(victim.processId()), SIGKILL);
    QVERIFY(victim.waitForFinished());
    QCOMPARE(victim.exitStatus(), QProcess::CrashExit);

    MainWindow window;
    window.show();
    auto* bar = window.findChild<MessageBar*>();
    QVERIFY(bar);
    QPushButton* restore = nullptr;
    for (QPushButton* b : bar->findChildren<QPushButton*>())
      if (b->text() == sentence_of("window.draft-restore")) restore = b;
    QVERIFY(restore);
    restore->click();
    QVERIFY(window.session());
    QVERIFY(window.session()->text(File::design).ends_with("# changed before the end\n"));
    QVERIFY(!window.session()->is_saved());
    QVERIFY(!job.bytes("design.toml").contains("# changed before the end"));
    QVERIFY(window.save());
    QVERIFY(job.bytes("design.toml").endsWith("# changed before the end\n"));
    window.drafts().finish();
    QTest::qWait(50);
    QVERIFY(!window.findChild<MessageBar*>());
    window.close();
    QVERIFY(Drafts::kept_drafts().empty());
  }
};

// Changes a job, waits until the draft is on the disk, says so, and stays.
int be_the_victim(const QString& folder) {
  MainWindow window;
  window.show();
  window.open(folder);
  if (!window.session()) return 1;
  window.session()->set_text(File::design,
                             window.session()->text(File::design) + "# changed before the end\n");
  window.drafts().write_now();
  window.drafts().finish();
  std::puts("written");
  std::fflush(stdout);
  return QApplication::exec();
}

}  // namespace seamwright::desktop

int main(int argc, char** argv) {
  const seamwright::desktop::Home home;
  QApplication application(argc, argv);
  seamwright::desktop::set_up(application);
  if (argc == 3 && std::strcmp(argv[1], "--victim") == 0)
    return seamwright::desktop::be_the_victim(QString::fromLocal8Bit(argv[2]));
  seamwright::desktop::RateDeskTest test;
  return QTest::qExec(&test, argc, argv);
}

#include "rate_desk_test.moc"

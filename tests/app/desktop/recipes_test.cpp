// SPDX-License-Identifier: GPL-3.0-or-later
// The recipes "add a desk" and "add a study", tried: a desk and a study of this file stand in rail, menus and
// pages by one row each, and answer, without another line changed.
#include <QMenuBar>
#include <QSignalSpy>
#include <QToolButton>

#include "app/desktop/desks.h"
#include "app/desktop/rate_desk.h"
#include "app/desktop/studies.h"
#include "app/desktop/study_page.h"
#include "reports/render/render.h"
#include "tests/app/desktop/window_driver.h"

namespace seamwright::desktop {

namespace {

// Counts the members of the job, and takes F8 for its own.
class CountDesk : public Desk {
 public:
  explicit CountDesk(const Context& context) : context_(context) {}
  void show_fault() override {
    context_.show_message(QString::number(context_.session->job()->design.frame.members.size()));
  }

 private:
  Context context_;
};

QIcon no_icon() { return QIcon(); }

std::vector<DeskKind> with_count_desk() {
  std::vector<DeskKind> all = desks();
  all.push_back(
      {"count", "word.unlimited", no_icon, true, [](const Context& c) -> Desk* { return new CountDesk(c); }});
  return all;
}

StudyAnswer multiplied(const StudyInput& in, const rating::Progress& progress) {
  if (progress.report) progress.report(1);
  reports::Document d;
  d.title = {"sweep.done",
             {number("count", static_cast<double>(in.job->design.welds.size()) * in.number("times"), ""),
              text("file", in.text_of("name"))}};
  return {d, {}};
}

std::vector<Study> with_count_study() {
  std::vector<Study> all = studies();
  StudyField times, name;
  times.kind = StudyField::Kind::number;
  times.id = "times";
  times.label = times.help = "word.unlimited";
  times.least = 1;
  times.most = 9;
  times.value = 2;
  name.kind = StudyField::Kind::text;
  name.id = "name";
  name.label = name.help = "word.unlimited";
  name.needed = true;
  all.push_back({"count", "word.unlimited", "word.unlimited", {times, name}, multiplied});
  return all;
}

bool in_menus(const QWidget& window, const QString& text) {
  for (const auto* menu : window.findChildren<QMenu*>())
    for (const QAction* action : menu->actions())
      if (action->text() == text) return true;
  return false;
}

}  // namespace

class RecipesTest : public QObject {
  Q_OBJECT
 private slots:
  void a_desk_of_one_more_row_is_in_the_rail_and_answers() {
    const std::vector<DeskKind> kinds = with_count_desk();
    Job job;
    MainWindow window(kinds);
    window.show();
    window.show_desk(QStringLiteral("count"));
    QVERIFY(!window.desk() || window.desk()->objectName() != QStringLiteral("count-desk"));  // needs a job
    window.open(job.folder());
    QVERIFY2(window.session() && !window.session()->fault(), qPrintable(window.message()));
    QToolButton* button = nullptr;
    QVERIFY(wait_for([&] {
      button = window.findChild<QToolButton*>(QStringLiteral("count"));
      return button && button->isVisible() && !window.rater().is_busy();
    }));
    QTest::mouseClick(button, Qt::LeftButton);
    QVERIFY(window.desk() && window.desk()->objectName() == QStringLiteral("count-desk"));
    window.desk()->show_fault();
    QCOMPARE(window.message(), QString::number(window.session()->job()->design.frame.members.size()));
    window.show_desk(QStringLiteral("rate"));
    QVERIFY(qobject_cast<RateDesk*>(window.desk()));
    QVERIFY(wait_for([&] { return !window.rater().is_busy(); }));
    window.close();
  }

  void a_study_of_one_more_row_has_menu_page_fields_and_answer() {
    const std::vector<Study> all = with_count_study();
    Job job;
    MainWindow window(desks(), all);
    window.show();
    window.open(job.folder());
    QVERIFY(wait_for([&] { return !window.rater().is_busy(); }));
    QVERIFY(in_menus(window, sentence_of("word.unlimited")));
    window.show_study("count");
    auto* desk = qobject_cast<RateDesk*>(window.desk());
    QVERIFY(desk);
    StudyPage* page = desk->page_of(QStringLiteral("count"));
    QVERIFY(page && wait_for([&] { return page->isVisible(); }));
    QVERIFY(!page->run_study());  // the name is needed
    QVERIFY(page->set_field(QStringLiteral("name"), QStringLiteral("frames")));
    QVERIFY(page->set_field(QStringLiteral("times"), QStringLiteral("3")));
    QSignalSpy ended(page, &StudyPage::ended);
    QVERIFY(page->run_study());
    QVERIFY(wait_for([&] { return ended.count() > 0; }));
    QVERIFY(page->has_answer());
    const QString answer = QString::fromStdString(reports::to_terminal(page->answer(), language(), {}));
    const auto count = 3 * window.session()->job()->design.welds.size();
    QVERIFY2(answer.startsWith(QStringLiteral("%1 variants are in frames.").arg(count)), qPrintable(answer));
    QVERIFY(wait_for([&] { return !window.rater().is_busy(); }));
    window.close();
  }
};

}  // namespace seamwright::desktop

int main(int argc, char** argv) {
  seamwright::desktop::Home home;
  QApplication application(argc, argv);
  seamwright::desktop::set_up(application);
  seamwright::desktop::RecipesTest test;
  return QTest::qExec(&test, argc, argv);
}

#include "recipes_test.moc"

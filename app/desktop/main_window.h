// SPDX-License-Identifier: GPL-3.0-or-later
// The one window: the rail of desks, the line that tells what is open, the desk, and the message line.
#pragma once

#include <QMainWindow>
#include <memory>
#include <vector>

#include "app/desktop/desks.h"
#include "app/desktop/drafts.h"
#include "app/desktop/joint_maker.h"
#include "app/desktop/studies.h"
#include "app/desktop/task.h"

class QFrame;
class QLabel;
class QMenu;
class QProgressBar;
class QPushButton;
class QStackedWidget;
class QToolButton;
class QVBoxLayout;

namespace seamwright::desktop {

/// These work out solids and joints. Without the first, views draw the frame by themselves; without the second, joints are rated by equations.
struct Modellers {
  models::Modeller *solids = nullptr, *joints = nullptr;
};

class MainWindow : public QMainWindow {
  Q_OBJECT
 public:
  /// The rail has these desks, menu and pages these studies.
  explicit MainWindow(const std::vector<DeskKind>& desks = desktop::desks(),
                      const std::vector<Study>& studies = desktop::studies(),
                      Modellers modellers = {});
  ~MainWindow() override;

  /// A job's folder, its design file, or a book; what is wrong is told in the window.
  void open(const QString& path);
  void open_demo();
  void open_demo_book();
  bool save();
  /// Rows of nodes or members from a table into the design, as one step of undo.
  void import_from(const QString& path);
  JobSession* session() { return session_.get(); }
  Rater& rater() { return rater_; }
  JointMaker& joints() { return joints_; }
  Drafts& drafts() { return drafts_; }
  Desk* desk() { return desk_; }
  /// "weld", "rate", "trace"; nothing where it needs a job and there is none.
  void show_desk(const QString& id);
  void show_study(const char* id);
  bool has_book() const { return !book_.isEmpty(); }
  QString message() const;
  /// Reports the rating that stands: HTML by its ending, else PDF; in the background.
  void write_report_to(const QString& path);
  /// Makes everything anew in the language and style that are set.
  void rebuild();

 protected:
  void closeEvent(QCloseEvent* event) override;
  void changeEvent(QEvent* event) override;
  void dragEnterEvent(QDragEnterEvent* event) override;
  void dropEvent(QDropEvent* event) override;

 private:
  void make_menus();
  void make_file_menu();
  QFrame* make_rail();
  QFrame* make_top();
  QFrame* make_bottom();

  void show_state();
  void show_message(const QString& text);
  void open_book(const QString& path);
  bool may_close_job();
  void set_session(std::unique_ptr<JobSession> session);
  static QStringList recent_files();
  void remember(const QString& path);
  void offer_drafts();
  bool restore(const Draft& draft);
  void ask_open();
  void ask_open_book();
  bool save_as();
  void write_report();
  QString make_book();
  void read_head();
  void begin_job();
  void import_table();
  void settings();

  const std::vector<DeskKind>& desk_kinds_;
  const std::vector<Study>& studies_;
  Modellers modellers_;
  std::unique_ptr<JobSession> session_;
  JointMaker joints_;
  Rater rater_;
  Drafts drafts_;
  Shift shift_;
  Task report_, book_task_;
  QString book_, book_head_, desk_id_ = QStringLiteral("rate");
  QList<QToolButton*> rail_;
  std::shared_ptr<const RatedJob> rated_;
  Desk* desk_ = nullptr;
  QVBoxLayout* bars_ = nullptr;
  QStackedWidget* pages_ = nullptr;
  QLabel *job_ = nullptr, *saved_ = nullptr, *rules_ = nullptr, *book_label_ = nullptr,
         *shift_label_ = nullptr, *message_ = nullptr;
  QProgressBar* progress_ = nullptr;
  QPushButton *cancel_ = nullptr, *to_fault_ = nullptr;
  QAction* lock_ = nullptr;
  QList<QAction*> needs_job_;
};

}  // namespace seamwright::desktop

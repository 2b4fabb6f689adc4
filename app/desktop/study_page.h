// SPDX-License-Identifier: GPL-3.0-or-later
// One study as a page: what to fill in, the work beside the window, the answer to read and to write.
#pragma once

#include <QMap>
#include <QWidget>

#include "app/desktop/job_session.h"
#include "app/desktop/studies.h"
#include "app/desktop/task.h"

class QFormLayout;
class QLabel;
class QProgressBar;
class QPushButton;

namespace seamwright::desktop {

class DocumentView;
class JointMaker;

class StudyPage : public QWidget {
  Q_OBJECT
 public:
  StudyPage(const Study& study, JobSession& session, const JointMaker& joints, QWidget* parent = nullptr);
  const Study& study() const { return study_; }
  /// Fills in a field by its id; false when the page has none of that name.
  bool set_field(const QString& id, const QString& value);
  /// False when something is missing, which the page then says.
  bool run_study();
  void stop() { task_.cancel(); }
  bool has_answer() const { return answered_; }
  const reports::Document& answer() const { return document_; }
  /// HTML by its ending, else PDF; in the background.
  void write_to(const QString& path);

 signals:
  void message_wanted(const QString& text);
  void ended();  ///< with an answer, a fault or stopped
  void second_found(std::shared_ptr<const seamwright::desktop::SecondDesign> second);

 private:
  void listen();
  void add_field(QFormLayout* form, const StudyField& field);
  QWidget* path_field(const StudyField& field, QWidget* edit);
  void list_choices();
  StudyInput input() const;
  QString missing() const;
  void write();
  void show_stale();

  const Study& study_;
  JobSession& session_;
  const JointMaker& joints_;
  QMap<QString, QWidget*> fields_;
  QPushButton *work_, *stop_, *write_;
  QProgressBar* progress_;
  QLabel* note_;
  DocumentView* view_;
  Task task_;
  reports::Document document_;
  std::shared_ptr<const rating::Job> worked_;
  bool answered_ = false;
};

}  // namespace seamwright::desktop

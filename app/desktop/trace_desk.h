// SPDX-License-Identifier: GPL-3.0-or-later
// The auditor's desk: one field that takes any number, a story as a line of events, each entry with its
// author and its place in the chain. Here a job enters the book, and a frame is released.
#pragma once

#include <vector>

#include "app/desktop/desks.h"
#include "app/desktop/task.h"
#include "catalog/book/records.h"

class QLabel;
class QLineEdit;
class QListWidget;
class QPlainTextEdit;
class QProgressBar;
class QPushButton;
class QTreeWidget;
class QTreeWidgetItem;

namespace seamwright::desktop {

class TraceDesk : public Desk {
  Q_OBJECT
 public:
  explicit TraceDesk(const Context& context);
  void find() override;
  /// Looks up as if it were typed and the first that is found chosen.
  void look_up(const QString& typed);
  void verify();

 private:
  QWidget* make_chain();
  QWidget* make_left();
  QWidget* make_right();
  QPushButton* button(MessageId id, void (TraceDesk::*what)());
  void search();
  void choose(int row);
  void show_entry(QTreeWidgetItem* item);
  void save_file();
  void print_record();
  void recall();
  void ask_entry();
  void record_job();
  void release();
  void sign(const QString& title, const QString& serial, const std::function<std::vector<book::NewEntry>(const std::string&)>& entries);
  void gaps();
  void fail(const Message& message);

  Context context_;
  Task task_;
  std::vector<book::Mark> found_marks_;
  std::vector<book::Record> records_;
  QLineEdit *search_ = nullptr, *head_ = nullptr;
  QListWidget* found_ = nullptr;
  QTreeWidget* story_ = nullptr;
  QPlainTextEdit* entry_ = nullptr;
  QLabel *chain_ = nullptr, *title_ = nullptr;
  QProgressBar* progress_ = nullptr;
  QPushButton *verify_ = nullptr, *cancel_ = nullptr, *file_ = nullptr, *print_ = nullptr, *recall_ = nullptr, *entry_button_ = nullptr,
              *gaps_ = nullptr, *job_ = nullptr, *release_ = nullptr;
};

}  // namespace seamwright::desktop

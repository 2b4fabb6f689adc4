// SPDX-License-Identifier: GPL-3.0-or-later
// A job is changed here: short forms one below the other, one of them open; the tables of the texts in tabs.
#pragma once

#include <QPlainTextEdit>
#include <QTimer>
#include <QWidget>
#include <functional>
#include <vector>

#include "app/desktop/edit_table.h"

class QLabel;
class QLineEdit;
class QPushButton;
class QStackedWidget;
class QTabBar;
class QVBoxLayout;

namespace seamwright::desktop {

/// One of the job's files as it is written, for what no form reaches; takes over after a pause of typing.
class TextPage : public QPlainTextEdit {
  Q_OBJECT
 public:
  TextPage(JobSession& session, File file, QWidget* parent = nullptr);
  /// Typed values become the session's text now.
  void commit();

 protected:
  bool event(QEvent* event) override;
  void focusOutEvent(QFocusEvent* event) override;

 private:
  void show_session_text();
  JobSession& session_;
  File file_;
  QTimer pause_;
};

/// A title that opens and closes, and the tables below it.
class FormSection : public QWidget {
  Q_OBJECT
 public:
  struct Part {
    File file;
    std::string table;
  };
  FormSection(JobSession& session, const QString& title, std::vector<Part> parts, QWidget* parent = nullptr);

  QPushButton* title() { return title_; }
  void set_open(bool open);
  /// Opens the tab of a table and goes to the cell; false when it is not one of this section's.
  bool show_cell(File file, const std::string& table, const std::string& place);
  EditTable* table(File file, const std::string& name);
  /// A widget above the tables, such as the line of legs.
  void put_above(QWidget* widget);

 signals:
  void opened();
  void row_chosen(const QString& table, const QString& id);

 private:
  void make_row_tools(QVBoxLayout* layout);
  void list_tabs();
  void show_tab(int index);
  void show_fault();
  void filter();
  EditTable* current();

  JobSession& session_;
  std::vector<Part> parts_;
  std::vector<Part> shown_;  ///< one for each tab
  QPushButton* title_;
  QWidget* body_;
  QVBoxLayout* body_layout_;
  QTabBar* tabs_;
  QStackedWidget* pages_;
  QWidget* tools_;
  QLineEdit* filter_;
  QPushButton *copy_, *remove_;
  QLabel *fault_, *about_;
  std::vector<std::pair<Part, EditTable*>> tables_;
};

class FormPanel : public QWidget {
  Q_OBJECT
 public:
  explicit FormPanel(JobSession& session, QWidget* parent = nullptr);
  /// Goes to the cell of the session's fault, if it has one.
  void show_fault();
  FormSection* section(int index) { return sections_[static_cast<std::size_t>(index)]; }
  /// The row of a weld, where the table of welds is open.
  void choose_weld(const QString& id);

 signals:
  void row_chosen(const QString& table, const QString& id);

 private:
  void open(int index);
  JobSession& session_;
  std::vector<FormSection*> sections_;
  QPushButton* text_title_;
  QWidget* text_body_;
};

}  // namespace seamwright::desktop

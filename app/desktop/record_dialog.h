// SPDX-License-Identifier: GPL-3.0-or-later
// Signing is the one act that cannot be undone: what is sealed is shown first, and the second step signs it,
// beside the window.
#pragma once

#include <QDialog>
#include <functional>
#include <string>
#include <vector>

#include "app/desktop/shift.h"
#include "app/desktop/task.h"

class QCheckBox;
class QLabel;
class QLineEdit;
class QPlainTextEdit;
class QPushButton;

namespace seamwright::desktop {

class RecordDialog : public QDialog {
  Q_OBJECT
 public:
  using Entries = std::function<std::vector<book::NewEntry>(
      const std::string& serial, const std::string& person, const std::string& reason)>;
  /// Concerns speak against recording for a frame; with any of them, nothing is signed without a typed
  /// reason.
  using Concerns = std::function<std::vector<Message>(const std::string& serial)>;
  RecordDialog(Shift& shift, const QString& book, Entries entries, Concerns concerns, QWidget* parent);
  std::size_t signed_count() const { return count_; }
  std::string serial() const;
  /// The frame that is worked on, to begin with.
  void set_serial(const QString& serial);
  /// The entry names its frame itself, or is about none.
  void ask_no_frame();

 private:
  void show_what();
  std::string reason() const;
  void sign();

  Shift& shift_;
  std::string book_;
  Entries entries_;
  Concerns concerns_;
  QLineEdit *serial_, *person_, *passphrase_, *reason_;
  QLabel* concerned_;
  QCheckBox* stay_;
  QPlainTextEdit* shown_;
  QLabel* wrong_;
  QPushButton* sign_;
  Task task_;
  std::size_t count_ = 0;
};

/// Asks for an owner and a passphrase, and makes a book in a file; its path, "" when nothing was made.
QString ask_new_book(QWidget* parent);

}  // namespace seamwright::desktop

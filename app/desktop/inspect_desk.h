// SPDX-License-Identifier: GPL-3.0-or-later
// The inspector's desk: which frame and which weld, what its rating presumes in mm, what was measured, and then accept, reject, or leave it
// to the engineer.
#pragma once

#include <optional>
#include <vector>

#include "app/desktop/desks.h"
#include "app/desktop/task.h"
#include "catalog/book/book.h"
#include "catalog/files/inspection_checks.h"

class QComboBox;
class QGridLayout;
class QLabel;
class QLineEdit;
class QPushButton;

namespace seamwright::desktop {

class NumberField;
class WeldPicker;

class InspectDesk : public Desk {
  Q_OBJECT
 public:
  enum class Decision { accept, reject, engineer };
  explicit InspectDesk(const Context& context);
  void find() override;
  void choose(const QString& weld);
  /// These would be recorded of the chosen weld: an inspection for each measured value, the accepted ones first, or one without a value where
  /// nothing was measured; a nonconformity where the engineer is to decide.
  std::vector<book::NewEntry> records(Decision decision, const std::string& serial, const std::string& reason) const;
  /// These speak against it: a frame or a tool that the book does not have, an acceptance of what its limits reject.
  std::vector<Message> concerns(Decision decision, const book::Book& book, const std::string& serial) const;

 private:
  struct Measure {
    std::string imperfection;  ///< "" = the number is typed
    QLineEdit* number = nullptr;
    NumberField* field = nullptr;
    QLabel *limit = nullptr, *verdict = nullptr;
  };
  QWidget* make_left();
  QWidget* make_middle();
  QWidget* make_right();
  void add_measure(QGridLayout* grid, const std::string& imperfection, const QString& title);
  void show_weld();
  void show_verdicts();
  void show_states();
  void ask_record(Decision decision);
  const files::InspectedWeld* inspected() const;
  const joints::Weld* weld() const;
  std::vector<files::InspectedRow> judged() const;
  std::string imperfection_of(const Measure& m) const;

  Context context_;
  Task task_;
  std::vector<files::InspectedWeld> welds_to_inspect_;
  std::vector<Measure> measures_;
  std::string weld_;
  std::string moment_;  ///< when the decision was taken that is being signed
  WeldPicker* picker_ = nullptr;
  QLineEdit *serial_ = nullptr, *tool_ = nullptr, *note_ = nullptr, *photo_ = nullptr;
  QComboBox* method_ = nullptr;
  QLabel *title_ = nullptr, *presumed_ = nullptr, *limits_ = nullptr, *answer_ = nullptr;
  QPushButton *accept_ = nullptr, *reject_ = nullptr, *engineer_ = nullptr;
};

}  // namespace seamwright::desktop

// SPDX-License-Identifier: GPL-3.0-or-later
// The welder's desk, at arm's length: which weld, what to set, what the machine shows, may I, and then print
// or record.
#pragma once

#include <optional>
#include <vector>

#include "app/desktop/desks.h"
#include "app/desktop/task.h"
#include "catalog/book/book.h"
#include "reports/content/machine_blocks.h"
#include "reports/content/procedure_blocks.h"

class QComboBox;
class QLabel;
class QPushButton;
class QVBoxLayout;

namespace seamwright::desktop {

class BandStrip;
class NumberField;
class PassClock;
class RecordForm;
class WeldPicker;

class WeldDesk : public Desk {
  Q_OBJECT
 public:
  explicit WeldDesk(const Context& context);
  void find() override;
  void choose(const QString& weld);
  /// These would be recorded of the chosen welds, with the reason that was typed for concerns, if any.
  /// A weld whose nonconformity waits for a repair in that book is recorded as the repair that answers it.
  std::vector<book::NewEntry> records(const std::string& serial, const std::string& person,
                                      const std::string& reason = {}, const book::Book* book = nullptr) const;
  /// These speak against recording them on a frame of the book: readings outside, a frame that the book does
  /// not have, a procedure or a welder that does not cover the weld. With any, a reason must be typed.
  std::vector<Message> concerns(const book::Book& book, const std::string& serial) const;

 private:
  QWidget* make_middle();
  QWidget* make_right();
  void show_weld();
  void forget_readings();
  std::vector<NumberField*> fields() const;
  void show_run();
  void show_reading();
  void show_answers();
  void print_sheet();
  void ask_record();
  void read_folder();
  void suggest_known();
  void ask_procedure();
  void ask_certificate();
  void ask_edit();
  void ask_test_piece();
  QWidget* make_forms();
  std::vector<Message> unknown_in(const book::Book& book) const;
  std::vector<std::string> chosen_welds() const;

  Context context_;
  Task task_;
  std::vector<files::ProcedureFile> procedures_;
  files::Certificates certificates_;
  std::optional<files::ProcedureFile> file_;
  reports::Reading reading_;
  qualification::Answer procedure_fits_ = qualification::Answer::yes,
                        welder_covers_ = qualification::Answer::yes;
  std::string weld_;   ///< "" where a procedure is looked at on its own
  std::string alone_;  ///< that procedure
  WeldPicker* picker_ = nullptr;
  QLabel *title_ = nullptr, *settings_ = nullptr, *procedure_answer_ = nullptr, *welder_answer_ = nullptr,
         *facts_ = nullptr, *cautions_ = nullptr, *cooling_ = nullptr;
  QComboBox *run_ = nullptr, *certificate_ = nullptr;
  BandStrip *amperes_ = nullptr, *volts_ = nullptr, *speed_ = nullptr, *heat_ = nullptr;
  PassClock* clock_ = nullptr;
  RecordForm *form_ = nullptr, *table_ = nullptr;  ///< of the weld; of what is set once at the table
  QPushButton *new_procedure_ = nullptr, *edit_procedure_ = nullptr, *new_record_ = nullptr, *new_certificate_ = nullptr, *print_ = nullptr, *record_ = nullptr;
};

}  // namespace seamwright::desktop

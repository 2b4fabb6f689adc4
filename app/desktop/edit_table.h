// SPDX-License-Identifier: GPL-3.0-or-later
// A table to type in: copy and paste as spreadsheets do, Delete clears a cell, choices where the reader knows
// them.
#pragma once

#include <QTableView>

#include "app/desktop/table_model.h"

namespace seamwright::desktop {

class EditTable : public QTableView {
  Q_OBJECT
 public:
  EditTable(TableModel* model, const QString& name, QWidget* parent = nullptr);
  TableModel& table() { return *model_; }
  /// Columns as wide as what they hold, within reason.
  void fit();
  void show_cell(const std::string& place);

 signals:
  void row_chosen(const QString& id);
  /// The field at the cursor, in a line or two.
  void field_entered(const QString& about);

 protected:
  void keyPressEvent(QKeyEvent* event) override;

 private:
  TableModel* model_;
};

}  // namespace seamwright::desktop

// SPDX-License-Identifier: GPL-3.0-or-later
// A table of the job's texts as rows and columns; a table that stands once as one line for each key.
#pragma once

#include <QAbstractTableModel>

#include "app/desktop/job_session.h"

namespace seamwright::desktop {

class TableModel : public QAbstractTableModel {
  Q_OBJECT
 public:
  TableModel(JobSession& session, File file, std::string table, QObject* parent = nullptr);

  int rowCount(const QModelIndex& parent = {}) const override;
  int columnCount(const QModelIndex& parent = {}) const override;
  QVariant data(const QModelIndex& index, int role) const override;
  QVariant headerData(int section, Qt::Orientation orientation, int role) const override;
  Qt::ItemFlags flags(const QModelIndex& index) const override;
  bool setData(const QModelIndex& index, const QVariant& value, int role) override;

  /// Tab-separated, as spreadsheets take it.
  QString copied_text(const QModelIndexList& indexes) const;
  /// Pastes from the top left cell on; what reaches beyond the table is left out. One undo command.
  void paste(const QModelIndex& from, const QString& text);
  void clear(const QModelIndexList& indexes);

  bool is_many() const { return many_; }
  File file() const { return file_; }
  const std::string& table() const { return name_; }
  const files::WrittenRow* row_at(int row) const;
  int row_of(const std::string& id) const;
  /// Finds where a cell stands; invalid when it is not of this table.
  QModelIndex index_of(const std::string& place) const;
  /// Tells what the field of a cell is, its unit, what it takes, and where it stands in the file.
  QString about(const QModelIndex& index) const;
  /// True when the cell or its column holds a number.
  bool takes_number(const QModelIndex& index) const;
  QString unit_of(const QModelIndex& index) const;
  /// Words to choose from; empty where anything may be typed.
  QStringList choices(const QModelIndex& index) const;

 signals:
  void refused(const QString& why);

 private:
  const files::WrittenTable* written_table() const;
  const files::WrittenValue* cell(const QModelIndex& index) const;
  files::Form form_of_column(const QModelIndex& index) const;
  std::string key_of(const QModelIndex& index) const;
  QString display_text(const files::WrittenValue& cell) const;
  void refresh();

  JobSession& session_;
  File file_;
  std::string name_;
  bool many_ = false;
  std::size_t rows_ = 0;
  std::vector<std::string> keys_;  ///< what views were told of
};

}  // namespace seamwright::desktop

// SPDX-License-Identifier: GPL-3.0-or-later
// All welds as horizontal strips of life used, longest first, on a logarithmic axis with the target marked: a
// table whose last column is drawn.
#pragma once

#include <QAbstractTableModel>
#include <QTreeView>
#include <map>
#include <memory>

#include "app/desktop/rater.h"
#include "app/desktop/studies.h"

namespace seamwright::desktop {

class StripsModel : public QAbstractTableModel {
  Q_OBJECT
 public:
  enum Column { verdict_column, weld_column, member_column, site_column, life_column, strip_column, columns };
  using QAbstractTableModel::QAbstractTableModel;
  void set_rated(std::shared_ptr<const RatedJob> rated);
  /// A second design's: a thin line below each strip; null for none.
  void set_second(std::shared_ptr<const SecondDesign> second);
  const reports::Strip* second_of(int row) const;
  int rowCount(const QModelIndex& parent = {}) const override;
  int columnCount(const QModelIndex& parent = {}) const override;
  QVariant data(const QModelIndex& index, int role) const override;
  QVariant headerData(int section, Qt::Orientation orientation, int role) const override;
  const reports::Strip* strip(int row) const;
  int row_of(const QString& weld) const;

 private:
  std::shared_ptr<const RatedJob> rated_;
  std::string second_name_;
  std::map<std::string, reports::Strip> second_;
};

class Strips : public QTreeView {
  Q_OBJECT
 public:
  explicit Strips(QWidget* parent = nullptr);
  void set_rated(std::shared_ptr<const RatedJob> rated);
  void choose(const QString& weld);
  void set_second(std::shared_ptr<const SecondDesign> second) { model_->set_second(std::move(second)); }
  void set_filter(const QString& text);
  StripsModel& model_of_strips() { return *model_; }

 signals:
  void chosen(const QString& weld);

 private:
  StripsModel* model_;
  QString filter_;
  bool quiet_ = false;
};

}  // namespace seamwright::desktop

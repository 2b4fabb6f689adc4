// SPDX-License-Identifier: GPL-3.0-or-later
// The card of the chosen weld: verdict and life, the joint with its sites, where the damage comes from, the
// S-N line, and why.
#pragma once

#include <QScrollArea>
#include <QStandardItemModel>
#include <memory>

#include "app/desktop/rater.h"
#include "reports/content/weld_card.h"

class QLabel;
class QPushButton;
class QSvgWidget;
class QTableView;
class QTreeView;

namespace seamwright::desktop {

class PictureView;

class WeldCardView : public QScrollArea {
  Q_OBJECT
 public:
  explicit WeldCardView(QWidget* parent = nullptr);
  /// Empty without a rating.
  void show_weld(const std::shared_ptr<const RatedJob>& rated, const std::string& weld);
  /// Marks the card stale while the job has changed since it was rated.
  void set_stale(bool stale);

 signals:
  void suggestions_wanted();

 private:
  QWidget* make_head();
  void show_head(const reports::WeldCard& card, const RatedJob& rated);
  void show_sketch(const std::string& kind);
  void show_seam(const RatedJob& rated, const std::string& weld);
  void show_tables(const reports::WeldCard& card);

  QLabel *title_, *verdict_, *life_, *life_unit_, *facts_, *stale_, *empty_, *seam_words_;
  QWidget* content_;
  QSvgWidget* sketch_;
  PictureView *seam_, *legs_, *causes_;
  PictureView* sn_;
  QTreeView* why_;
  QTableView* sites_;
  QPushButton* suggest_;
  QStandardItemModel *reasons_, *site_rows_;
};

}  // namespace seamwright::desktop

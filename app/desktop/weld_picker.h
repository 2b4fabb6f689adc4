// SPDX-License-Identifier: GPL-3.0-or-later
// The frame with the list of its welds below: a weld is chosen in either of them, or found by typing a part of its line.
#pragma once

#include <QWidget>
#include <memory>

#include "engine/rating/job.h"

class QLineEdit;
class QListWidget;
class QListWidgetItem;
class QVBoxLayout;

namespace seamwright::models {
class Modeller;
}

namespace seamwright::desktop {

class FrameView;
class SolidMaker;

class WeldPicker : public QWidget {
  Q_OBJECT
 public:
  explicit WeldPicker(models::Modeller* modeller, QWidget* parent = nullptr);
  /// Draws the frame and lists its welds; each row holds its weld's id as Qt::UserRole.
  void set_job(std::shared_ptr<const rating::Job> job);
  QListWidget* list() const { return welds_; }
  /// Puts a widget between the frame and the search field.
  void put_above_search(QWidget* widget);
  void choose(const QString& weld);
  /// Marks a weld in the frame.
  void show_in_frame(const std::string& weld);
  void find();

 signals:
  void chosen(QListWidgetItem* row);

 private:
  QVBoxLayout* column_;
  FrameView* frame_;
  SolidMaker* solids_;
  QLineEdit* filter_;
  QListWidget* welds_;
};

}  // namespace seamwright::desktop

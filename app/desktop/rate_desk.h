// SPDX-License-Identifier: GPL-3.0-or-later
// The engineer's desk: forms at the left, the frame in the middle, the card of the chosen weld at the right,
// all welds as strips below. One selection for all of them.
#pragma once

#include <QString>
#include <memory>

#include "app/desktop/desks.h"
#include "app/desktop/studies.h"

class QComboBox;
class QHBoxLayout;
class QLabel;
class QLineEdit;
class QPushButton;
class QSplitter;
class QTabWidget;

namespace seamwright::desktop {

class FormPanel;
class FrameView;
class SolidMaker;
class Strips;
class StudyPage;
class TripLine;
class WeldCardView;

class RateDesk : public Desk {
  Q_OBJECT
 public:
  explicit RateDesk(const Context& context);
  ~RateDesk() override;
  void find() override;
  void show_fault() override;
  void count_cycles() override;
  void show_study(const QString& id) override;
  StudyPage* page_of(const QString& study) const;
  void choose(const QString& weld);
  QString chosen() const { return QString::fromStdString(chosen_); }

 private:
  QWidget* make_middle();
  QWidget* make_bottom();
  QHBoxLayout* make_view_row();
  void job_changed();
  void rated(const std::shared_ptr<const RatedJob>& rated);
  void show_headline();
  void show_motions();
  void choose_row(const QString& table, const QString& id);
  void suggest();
  void show_second(const std::shared_ptr<const SecondDesign>& second);

  Context context_;
  FormPanel* forms_ = nullptr;
  FrameView* frame_ = nullptr;
  SolidMaker* solids_ = nullptr;
  Strips* strips_ = nullptr;
  WeldCardView* card_ = nullptr;
  TripLine* trip_ = nullptr;
  QLabel *verdict_ = nullptr, *headline_ = nullptr, *caution_ = nullptr;
  QComboBox* motion_ = nullptr;
  QLineEdit* filter_ = nullptr;
  QPushButton* count_ = nullptr;
  QTabWidget* pages_ = nullptr;
  std::vector<StudyPage*> studies_;  ///< behind the frame, in their order
  QSplitter *across_ = nullptr, *upright_ = nullptr;
  std::shared_ptr<const RatedJob> rated_;
  std::string chosen_;
  bool follows_worst_ = true;  ///< nobody chose a weld yet
};

}  // namespace seamwright::desktop

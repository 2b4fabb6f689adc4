// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/desktop/weld_picker.h"

#include <QLabel>
#include <QLineEdit>
#include <QListWidget>
#include <QVBoxLayout>

#include "app/desktop/forms.h"
#include "app/desktop/frame_view.h"
#include "app/desktop/solid_maker.h"
#include "app/desktop/theme.h"
#include "app/desktop/window_words.h"
#include "reports/content/frame_drawing.h"

namespace seamwright::desktop {

WeldPicker::WeldPicker(models::Modeller* modeller, QWidget* parent)
    : QWidget(parent), column_(new QVBoxLayout(this)), frame_(new FrameView), solids_(new SolidMaker(modeller, this)), filter_(new QLineEdit),
      welds_(new QListWidget) {
  column_->setContentsMargins(0, 0, 0, 0);
  solids_->serve(*frame_);
  auto* label = new QLabel(sentence_of("window.which-weld"));
  filter_->setPlaceholderText(sentence_of("window.find-weld"));
  filter_->setAccessibleName(without_mnemonic("window.which-weld"));
  filter_->setClearButtonEnabled(true);
  make_large(filter_);
  label->setBuddy(filter_);
  welds_->setAccessibleName(sentence_of("window.welds"));
  welds_->setFont(number_font());
  make_large(welds_);
  column_->addWidget(frame_, 1);
  column_->addWidget(label);
  column_->addWidget(filter_);
  column_->addWidget(welds_, 1);
  connect(frame_, &FrameView::flag_chosen, this, &WeldPicker::choose);
  connect(filter_, &QLineEdit::textChanged, this, [this](const QString& text) {
    for (int i = 0; i < welds_->count(); ++i)
      welds_->item(i)->setHidden(!welds_->item(i)->text().contains(text, Qt::CaseInsensitive));
  });
  connect(filter_, &QLineEdit::returnPressed, this, [this] {
    for (int i = 0; i < welds_->count(); ++i)
      if (!welds_->item(i)->isHidden()) return welds_->setCurrentRow(i);
  });
  connect(welds_, &QListWidget::currentItemChanged, this, [this](QListWidgetItem* now) {
    if (now) emit chosen(now);
  });
}

void WeldPicker::set_job(std::shared_ptr<const rating::Job> job) {
  frame_->set_drawing(reports::frame_drawing(job->design));
  solids_->request(job);
  for (const joints::Weld& w : job->design.welds) {
    auto* item = new QListWidgetItem(visible_text(w.id) + QStringLiteral("   ") + visible_text(w.member) +
                                     (w.chord.empty() ? QString() : QStringLiteral(" › ") + visible_text(w.chord)));
    item->setData(Qt::UserRole, QString::fromStdString(w.id));
    welds_->addItem(item);
  }
}

void WeldPicker::put_above_search(QWidget* widget) { column_->insertWidget(1, widget); }

void WeldPicker::choose(const QString& weld) {
  for (int i = 0; i < welds_->count(); ++i)
    if (welds_->item(i)->data(Qt::UserRole).toString() == weld) return welds_->setCurrentRow(i);
}

void WeldPicker::show_in_frame(const std::string& weld) { frame_->choose(QString::fromStdString(weld)); }

void WeldPicker::find() {
  filter_->setFocus();
  filter_->selectAll();
}

}  // namespace seamwright::desktop

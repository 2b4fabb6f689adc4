// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/desktop/pass_clock.h"

#include <QHBoxLayout>
#include <QLabel>
#include <QPushButton>

#include "app/desktop/forms.h"
#include "app/desktop/number_field.h"
#include "app/desktop/theme.h"
#include "app/desktop/window_words.h"

namespace seamwright::desktop {

namespace {

constexpr int tenths_shown = 100;         // ms between two numbers
constexpr double longest_seam_mm = 1e5;
constexpr double shortest_pass_s = 0.5;   // a button struck twice is no pass

}  // namespace

PassClock::PassClock(QWidget* parent) : QWidget(parent) {
  auto* row = new QHBoxLayout(this);
  row->setContentsMargins(0, 0, 0, 0);
  button_ = new QPushButton(sentence_of("desk.clock-on"));
  make_large(button_);
  button_->setFont(number_font());
  time_ = new QLabel;
  time_->setFont(number_font());
  time_->setAccessibleName(sentence_of("desk.clock-time"));
  length_ = new NumberField(0, longest_seam_mm, QStringLiteral("mm"));
  make_large(length_);
  length_->setFont(number_font());
  length_->setMaximumWidth(120);
  name_control(length_, sentence_of("desk.clock-length"));
  auto* label = new QLabel(sentence_of("desk.clock-length"));
  label->setBuddy(length_);
  row->addWidget(button_);
  row->addWidget(time_);
  row->addStretch(1);
  row->addWidget(label);
  row->addWidget(length_->with_reading());
  tick_.setInterval(tenths_shown);
  connect(&tick_, &QTimer::timeout, this, &PassClock::show_time);
  connect(button_, &QPushButton::clicked, this, &PassClock::toggle);
  show_time();
}

void PassClock::set_length(double mm) {
  if (length_->text().trimmed().isEmpty() && mm > 0) length_->setText(QString::number(mm, 'f', 0));
}

void PassClock::toggle() {
  if (tick_.isActive()) {
    tick_.stop();
    seconds_ = static_cast<double>(running_.elapsed()) / 1000;
    button_->setText(sentence_of("desk.clock-on"));
    const double length = length_->value().value_or(0);
    if (seconds_ >= shortest_pass_s && length > 0) emit measured(length / seconds_);
  } else {
    running_.start();
    tick_.start();
    button_->setText(sentence_of("desk.clock-off"));
  }
  show_time();
}

void PassClock::clear() {
  tick_.stop();
  seconds_ = 0;
  button_->setText(sentence_of("desk.clock-on"));
  length_->clear();
  show_time();
}

void PassClock::show_time() {
  const double shown = tick_.isActive() ? static_cast<double>(running_.elapsed()) / 1000 : seconds_;
  time_->setText(shown > 0 ? quantity(shown, "s", 3) : QStringLiteral("– s"));
}

}  // namespace seamwright::desktop

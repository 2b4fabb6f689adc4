// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/desktop/number_field.h"

#include <QHBoxLayout>
#include <QLabel>

#include "app/desktop/theme.h"
#include "app/desktop/window_words.h"
#include "engine/evidence/typed.h"

namespace seamwright::desktop {

namespace {

constexpr int all_digits = 10;

}  // namespace

QString reading_of_text(const QString& text, const QString& unit) {
  const auto value = typed_number(text.toStdString());
  return value ? QStringLiteral("= ") + quantity(*value, unit.toStdString(), all_digits)
               : QStringLiteral("▼ ") + sentence_of("field.no-number");
}

NumberField::NumberField(double least, double most, const QString& unit, QWidget* parent)
    : QLineEdit(parent), least_(least), most_(most), unit_(unit), reading_(new QLabel) {
  reading_->setTextFormat(Qt::PlainText);
  reading_->setFont(hint_font());
  reading_->setWordWrap(true);
  connect(this, &QLineEdit::textChanged, this, [this] {
    show_reading();
    emit changed();
  });
}

std::optional<double> NumberField::value() const {
  const auto typed = typed_number(text().toStdString());
  return typed && *typed >= least_ && *typed <= most_ ? typed : std::nullopt;
}

void NumberField::setValue(double value) {
  QString shown = QString::number(value, 'g', all_digits);
  shown.replace(QLatin1Char('.'), QLatin1Char(language().file->decimal_mark));
  setText(shown);
}

void NumberField::show_reading() {
  const QString typed = text();
  QString words;
  if (typed.trimmed().isEmpty())
    words.clear();
  else if (value() || !typed_number(typed.toStdString()))
    words = reading_of_text(typed, unit_);
  else
    words = QStringLiteral("▼ ") + sentence_of("field.takes", {number("least", least_, unit_.toStdString()),
                                                               number("most", most_, unit_.toStdString())});
  reading_->setText(words);
  setAccessibleDescription(words);
}

QWidget* NumberField::with_reading() {
  auto* both = new QWidget;
  auto* row = new QHBoxLayout(both);
  row->setContentsMargins(0, 0, 0, 0);
  row->addWidget(this);
  row->addWidget(reading_, 1);
  return both;
}

}  // namespace seamwright::desktop

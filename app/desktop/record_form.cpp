// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/desktop/record_form.h"

#include <QCheckBox>
#include <QComboBox>
#include <QCompleter>
#include <QGridLayout>
#include <QLabel>
#include <QLineEdit>
#include <algorithm>

#include "app/desktop/forms.h"
#include "app/desktop/number_field.h"
#include "app/desktop/theme.h"
#include "app/desktop/window_words.h"

namespace seamwright::desktop {

namespace {

constexpr int number_width = 120;  // pixels

std::vector<std::string> words_in(const QString& text) {
  std::vector<std::string> words;
  for (const QString& word : text.split(QLatin1Char(' '), Qt::SkipEmptyParts))
    words.push_back(word.toStdString());
  return words;
}

}  // namespace

RecordForm::RecordForm(const book::Kind& kind, const std::vector<std::string>& elsewhere, int columns, Fields fields, QWidget* parent)
    : QWidget(parent) {
  auto* grid = new QGridLayout(this);
  grid->setContentsMargins(0, 0, 0, 0);
  for (const book::Field& field : kind.fields) {
    const bool shown = fields == Fields::all ? field.type != book::Type::file : !field.control.empty();
    if (!shown || std::find(elsewhere.begin(), elsewhere.end(), field.name) != elsewhere.end()) continue;
    const MessageId label = field.control.empty() || fields == Fields::all ? field.label : field.control;
    QWidget* control = control_of(field, without_mnemonic(label));
    make_large(control);
    control->setFont(number_font());
    name_control(control, without_mnemonic(label));
    auto* title = new QLabel(field.needed && fields == Fields::all ? sentence_of(label) + QStringLiteral(" *") : sentence_of(label));
    title->setBuddy(control);
    auto* number = qobject_cast<NumberField*>(control);
    const int place = static_cast<int>(controls_.size()), row = 2 * (place / columns), column = place % columns;
    grid->addWidget(title, row, column);
    grid->addWidget(number ? number->with_reading() : control, row + 1, column);
    controls_.push_back({&field, control});
  }
}

void RecordForm::suggest(const std::string& name, const std::vector<std::string>& values) {
  QStringList words;
  for (const std::string& v : values) words << QString::fromStdString(v);
  for (const auto& [field, widget] : controls_)
    if (auto* line = qobject_cast<QLineEdit*>(widget); line && name == field->name && field->type != book::Type::number) {
      auto* completer = new QCompleter(words, line);
      completer->setCaseSensitivity(Qt::CaseInsensitive);
      line->setCompleter(completer);
    }
}

QWidget* RecordForm::control_of(const book::Field& field, const QString& name) {
  if (field.type == book::Type::flag) return new QCheckBox(name, this);
  if (!field.words.empty()) {
    auto* choice = new QComboBox(this);
    choice->addItem(QString());  // not told
    for (const char* word : field.words) choice->addItem(QLatin1String(word));
    return choice;
  }
  if (field.type != book::Type::number) {
    auto* line = new QLineEdit(this);
    if (field.type == book::Type::day) line->setPlaceholderText(QStringLiteral("2026-05-04"));
    return line;
  }
  auto* number = new NumberField(field.least, field.most, QString::fromUtf8(field.unit), this);
  number->setPlaceholderText(QStringLiteral("–"));  // not measured; 0 is a measure
  number->setMaximumWidth(number_width);
  return number;
}

book::Values RecordForm::entered() const {
  book::Values values;
  for (const auto& [field, widget] : controls_) {
    if (const auto* number = qobject_cast<const NumberField*>(widget)) {
      if (const auto value = number->value()) values[field->name] = *value;
    } else if (const auto* line = qobject_cast<const QLineEdit*>(widget)) {
      const QString text = line->text().trimmed();
      if (text.isEmpty()) continue;
      if (field->type == book::Type::texts)
        values[field->name] = words_in(text);
      else
        values[field->name] = text.toStdString();
    } else if (const auto* choice = qobject_cast<const QComboBox*>(widget)) {
      if (choice->currentIndex() > 0) values[field->name] = choice->currentText().toStdString();
    } else if (const auto* box = qobject_cast<const QCheckBox*>(widget)) {
      if (box->isChecked()) values[field->name] = true;
    }
  }
  return values;
}

void RecordForm::clear() {
  for (const auto& [field, widget] : controls_) {
    if (auto* line = qobject_cast<QLineEdit*>(widget)) line->clear();
    if (auto* choice = qobject_cast<QComboBox*>(widget)) choice->setCurrentIndex(0);
    if (auto* box = qobject_cast<QCheckBox*>(widget)) box->setChecked(false);
  }
}

void RecordForm::set_text(const std::string& name, const std::string& value) {
  for (const auto& [field, widget] : controls_)
    if (auto* line = qobject_cast<QLineEdit*>(widget); line && name == field->name) line->setText(QString::fromStdString(value));
}

std::vector<NumberField*> RecordForm::numbers() const {
  std::vector<NumberField*> all;
  for (const auto& control : controls_)
    if (auto* number = qobject_cast<NumberField*>(control.widget)) all.push_back(number);
  return all;
}

}  // namespace seamwright::desktop

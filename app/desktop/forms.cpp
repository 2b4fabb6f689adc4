// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/desktop/forms.h"

#include <QHBoxLayout>
#include <QLabel>
#include <QLineEdit>
#include <QPushButton>
#include <QScrollArea>
#include <QScrollBar>

#include "app/desktop/window_words.h"

namespace seamwright::desktop {

void make_large(QWidget* control) { control->setProperty("large", true); }

namespace {

/// As wide as what it holds, and as low as one likes.
class ColumnArea : public QScrollArea {
 public:
  QSize minimumSizeHint() const override {
    return {(widget() ? widget()->minimumSizeHint().width() : 0) + verticalScrollBar()->sizeHint().width(), lowest_column};
  }

 private:
  static constexpr int lowest_column = 120;  // pixels
};

}  // namespace

QWidget* scrolling(QWidget* column) {
  auto* area = new ColumnArea;
  area->setWidget(column);
  area->setWidgetResizable(true);
  area->setFrameShape(QFrame::NoFrame);
  area->setHorizontalScrollBarPolicy(Qt::ScrollBarAlwaysOff);
  area->setFocusPolicy(Qt::NoFocus);
  return area;
}

QLabel* wrapped_label(const QFont& font) {
  auto* label = new QLabel;
  label->setWordWrap(true);
  label->setTextFormat(Qt::PlainText);
  label->setFont(font);
  return label;
}

QString without_mnemonic(MessageId id) { return sentence_of(id).remove(QLatin1Char('&')); }

void name_control(QWidget* control, const QString& name) {
  control->setAccessibleName(name);
  for (auto* inner : control->findChildren<QLineEdit*>()) inner->setAccessibleName(name);
}

QLineEdit* add_line(QFormLayout* form, MessageId label, const QString& value, bool hidden) {
  auto* line = new QLineEdit(value);
  name_control(line, without_mnemonic(label));
  if (hidden) line->setEchoMode(QLineEdit::Password);
  form->addRow(sentence_of(label), line);
  return line;
}

QLineEdit* add_path(QFormLayout* form, MessageId label, const std::function<QString()>& ask) {
  auto* line = new QLineEdit;
  name_control(line, without_mnemonic(label));
  auto* look = new QPushButton(sentence_of("desk.look"));
  look->setAccessibleName(without_mnemonic("desk.look") + QLatin1Char(' ') + without_mnemonic(label));
  auto* row = new QHBoxLayout;
  row->addWidget(line, 1);
  row->addWidget(look);
  auto* title = new QLabel(sentence_of(label));
  title->setBuddy(line);
  form->addRow(title, row);
  QObject::connect(look, &QPushButton::clicked, line, [line, ask] {
    if (const QString path = ask(); !path.isEmpty()) line->setText(path);
  });
  return line;
}

QLabel* add_fault(QFormLayout* form) {
  auto* label = new QLabel;
  label->setWordWrap(true);
  label->setTextFormat(Qt::PlainText);
  form->addRow(label);
  return label;
}

void show_fault(QLabel* label, const Message& message) {
  label->setText(QStringLiteral("▼ ") + sentence_with_place(Fault{message}));
}

}  // namespace seamwright::desktop

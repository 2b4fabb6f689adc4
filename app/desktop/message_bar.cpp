// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/desktop/message_bar.h"

#include <QHBoxLayout>
#include <QLabel>
#include <QPushButton>

namespace seamwright::desktop {

MessageBar::MessageBar(const QString& text, const std::vector<Answer>& answers, QWidget* parent)
    : QFrame(parent) {
  setObjectName(QStringLiteral("bar"));
  auto* layout = new QHBoxLayout(this);
  layout->setContentsMargins(16, 6, 16, 6);
  auto* label = new QLabel(text);
  label->setTextFormat(Qt::PlainText);
  label->setWordWrap(true);
  label->setTextInteractionFlags(Qt::TextSelectableByMouse);
  layout->addWidget(label, 1);
  for (const auto& [word, act] : answers) {
    auto* button = new QPushButton(word);
    layout->addWidget(button);
    connect(button, &QPushButton::clicked, this, [this, act = act] {
      if (act()) deleteLater();
    });
  }
}

}  // namespace seamwright::desktop

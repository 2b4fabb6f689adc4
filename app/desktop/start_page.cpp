// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/desktop/start_page.h"

#include <QLabel>
#include <QPushButton>
#include <QVBoxLayout>

#include "app/desktop/theme.h"
#include "app/desktop/window_words.h"
#include "reports/content/evidence_blocks.h"

namespace seamwright::desktop {

StartPage::StartPage(const QStringList& recent, QWidget* parent) : QWidget(parent) {
  auto* outer = new QVBoxLayout(this);
  outer->addStretch(1);
  auto* middle = new QWidget;
  middle->setFixedWidth(40 * fontMetrics().averageCharWidth() * 2);
  auto* layout = new QVBoxLayout(middle);
  layout->setSpacing(12);
  auto* title = new QLabel(sentence_of("window.start-title"));
  title->setFont(answer_font());
  title->setWordWrap(true);
  layout->addWidget(title);
  auto* text = new QLabel(sentence_of("window.start-text"));
  text->setWordWrap(true);
  layout->addWidget(text);
  auto* demo = new QPushButton(sentence_of("window.open-demo"));
  demo->setObjectName(QStringLiteral("first"));
  auto* open = new QPushButton(sentence_of("window.start-open"));
  layout->addWidget(demo, 0, Qt::AlignLeft);
  layout->addWidget(open, 0, Qt::AlignLeft);
  connect(demo, &QPushButton::clicked, this, &StartPage::demo_wanted);
  connect(open, &QPushButton::clicked, this, &StartPage::open_wanted);
  if (!recent.isEmpty()) {
    auto* last = new QLabel(sentence_of("window.start-recent"));
    layout->addWidget(last);
    for (const QString& path : recent) {
      auto* button = new QPushButton(QString(path).replace(QLatin1Char('&'), QLatin1String("&&")));
      layout->addWidget(button, 0, Qt::AlignLeft);
      connect(button, &QPushButton::clicked, this, [this, path] { emit job_wanted(path); });
    }
  }
  auto* cautions = new QLabel;
  QStringList lines;
  for (const Message& m : reports::cautions().texts) lines << sentence_of(m);
  cautions->setText(lines.join(QLatin1Char('\n')));
  cautions->setWordWrap(true);
  cautions->setFont(hint_font());
  layout->addSpacing(16);
  layout->addWidget(cautions);
  // A layout that centres asks for one line's height alone.
  const int inside = middle->width() - layout->contentsMargins().left() - layout->contentsMargins().right();
  for (QLabel* label : {title, text, cautions}) label->setMinimumHeight(label->heightForWidth(inside));
  outer->addWidget(middle, 0, Qt::AlignHCenter);
  outer->addStretch(2);
  setFocusProxy(demo);
}

}  // namespace seamwright::desktop

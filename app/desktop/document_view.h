// SPDX-License-Identifier: GPL-3.0-or-later
// A document to read in the window: its blocks laid out as text, its pictures in the style's colours.
#pragma once

#include <QTextBrowser>

#include "reports/content/blocks.h"

namespace seamwright::desktop {

class DocumentView : public QTextBrowser {
  Q_OBJECT
 public:
  explicit DocumentView(QWidget* parent = nullptr);
  void set_document(const reports::Document& document);

 private:
  QString html_of(const reports::Document& document);
  QString html_of(const reports::Table& table);
  QString html_of(const reports::Reason& reason);
  QString html_of(const reports::PictureBlock& pictured);
  int pictures_ = 0;
};

}  // namespace seamwright::desktop

// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/desktop/document_view.h"

#include <QPainter>
#include <QTextDocument>
#include <algorithm>
#include <cmath>

#include "app/desktop/theme.h"
#include "app/desktop/window_words.h"
#include "reports/pages/paint.h"

namespace seamwright::desktop {

namespace {

constexpr double least_per_mm = 2, most_per_mm = 4;  // pixels: as wide as the view within these

QString escaped(const Message& m) { return sentence_of(m).toHtmlEscaped(); }

}  // namespace

DocumentView::DocumentView(QWidget* parent) : QTextBrowser(parent) {
  setOpenLinks(false);
  setTabChangesFocus(true);
  setWordWrapMode(QTextOption::WordWrap);
}

void DocumentView::set_document(const reports::Document& d) {
  document()->clear();
  pictures_ = 0;
  const QString html = html_of(d);
  setHtml(html);
}

QString DocumentView::html_of(const reports::Document& d) {
  QString out = QStringLiteral("<h2>") + escaped(d.title) + QStringLiteral("</h2>");
  for (const reports::Block& block : d.blocks) {
    if (const auto* h = std::get_if<reports::Heading>(&block)) out += "<h3>" + escaped(h->text) + "</h3>";
    if (const auto* p = std::get_if<reports::Paragraph>(&block)) out += "<p>" + escaped(p->text) + "</p>";
    if (const auto* a = std::get_if<reports::Answer>(&block))
      out += "<p><big><b>" + cell_text(a->verdict).toHtmlEscaped() + "</b></big><br>" + escaped(a->text) +
             "</p>";
    if (const auto* c = std::get_if<reports::Caution>(&block)) {
      out += "<table border='1' cellpadding='8' cellspacing='0'><tr><td>";
      for (const Message& m : c->texts) out += escaped(m) + "<br>";
      out += "</td></tr></table>";
    }
    if (const auto* f = std::get_if<reports::Facts>(&block))
      for (const auto& fact : f->facts)
        out += "<p>" + escaped(fact.label) + ": " + cell_text(fact.value).toHtmlEscaped() + "</p>";
    if (const auto* t = std::get_if<reports::Table>(&block)) out += html_of(*t);
    if (const auto* r = std::get_if<reports::Reasons>(&block)) {
      out += "<ul>";
      for (const reports::Reason& reason : r->reasons) out += html_of(reason);
      out += "</ul>";
    }
    if (const auto* p = std::get_if<reports::PictureBlock>(&block)) out += html_of(*p);
  }
  return out;
}

QString DocumentView::html_of(const reports::Table& t) {
  QString out = QStringLiteral("<table cellpadding='5' cellspacing='0'><tr>");
  for (const Message& c : t.columns) out += "<th align='left'>" + escaped(c) + "</th>";
  out += "</tr>";
  for (const auto& row : t.rows) {
    out += "<tr>";
    for (const reports::Cell& cell : row)
      out += (std::holds_alternative<reports::Quantity>(cell) ? "<td align='right'>" : "<td>") +
             cell_text(cell).toHtmlEscaped() + "</td>";
    out += "</tr>";
  }
  return out + "</table>";
}

QString DocumentView::html_of(const reports::Reason& reason) {
  QString out = "<li>" + escaped(reason.text);
  if (!reason.because.empty()) {
    out += "<ul>";
    for (const reports::Reason& deeper : reason.because) out += html_of(deeper);
    out += "</ul>";
  }
  return out + "</li>";
}

QString DocumentView::html_of(const reports::PictureBlock& p) {
  const double ratio = devicePixelRatioF();
  const double pixels_per_mm =
      std::clamp((viewport()->width() - 40) / std::max(1.0, p.picture.width_mm), least_per_mm, most_per_mm);
  QImage image(QSize(static_cast<int>(std::ceil(p.picture.width_mm * pixels_per_mm * ratio)),
                     static_cast<int>(std::ceil(p.picture.height_mm * pixels_per_mm * ratio))),
               QImage::Format_ARGB32_Premultiplied);
  image.setDevicePixelRatio(ratio);
  image.fill(colours().sheet);
  QPainter painter(&image);
  painter.setRenderHint(QPainter::Antialiasing);
  reports::paint(painter, QPointF(0, 0), pixels_per_mm, p.picture, language(), picture_colour);
  painter.end();
  const QString name = QStringLiteral("picture-%1").arg(++pictures_);
  document()->addResource(QTextDocument::ImageResource, QUrl(name), image);
  return "<p><img src='" + name + "' alt='" + escaped(p.caption) + "'><br>" + escaped(p.caption) + "</p>";
}

}  // namespace seamwright::desktop

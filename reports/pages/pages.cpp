// SPDX-License-Identifier: GPL-3.0-or-later
#include "reports/pages/pages.h"

#include <QBuffer>
#include <QFontMetricsF>
#include <QPdfWriter>
#include <algorithm>

#include "reports/pages/broken_lines.h"
#include "reports/pages/code.h"
#include "reports/pages/paint.h"
#include "reports/pages/slices.h"
#include "reports/render/cells.h"

namespace seamwright::reports {

namespace {

constexpr double margin_mm = 14, foot_mm = 11, code_mm = 17;

struct RunningHead {
  QString title, mark, foot;
  Picture code;  ///< empty where the document has none
  Language language;
  double foot_height = 0;
};

// Slices of one page; the first may be the repeated head of a table.
using Page = std::vector<const Slice*>;

double height_of(const std::vector<Slice>& slices, std::size_t from, std::size_t to) {
  double sum = 0;
  for (std::size_t i = from; i <= to; ++i) sum += slices[i].height;
  return sum;
}

std::vector<Page> pages_of(const std::vector<Slice>& slices, double first_height, double height) {
  std::vector<Page> pages(1);
  double used = 0, room = first_height;
  const auto turn = [&](const Slice& next) {
    pages.emplace_back();
    used = 0;
    room = height;
    if (!next.head) return;
    pages.back().push_back(next.head.get());
    used += next.head->height;
  };
  for (std::size_t i = 0; i < slices.size(); ++i) {
    std::size_t last = i;  // of those that stay together
    while (slices[last].keep && last + 1 < slices.size() && !slices[last + 1].new_page) ++last;
    const bool begins = i == 0 || !slices[i - 1].keep;
    const double together = height_of(slices, i, last);
    const bool fits = used + (begins && together <= height ? together : slices[i].height) <= room;
    if (!pages.back().empty() && (slices[i].new_page || !fits)) turn(slices[i]);
    if (!slices[i].paint && pages.back().empty()) continue;  // white space at the top of a page
    pages.back().push_back(&slices[i]);
    used += slices[i].height;
  }
  return pages;
}

// Returns the height that it takes.
double paint_head(QPainter* painter, QPaintDevice* device, const QRectF& area, const RunningHead& r,
                  bool first) {
  const Lines mark = lines_of(r.mark, font_of(first ? 16 : 10, true), 0.38 * area.width(), device);
  const double title_width = area.width() * (r.mark.isEmpty() ? 1 : 0.6);
  const QFont font = font_of(first ? 16 : 10, true);
  const QString title =
      first ? r.title : QFontMetricsF(font, device).elidedText(r.title, Qt::ElideRight, title_width);
  const Lines lines = lines_of(title, font, title_width, device);
  constexpr int most = 5;
  const double height = std::max(std::min(lines.count, most) * lines.line_height,
                                 std::min(mark.count, most) * mark.line_height) +
                        dots(1);
  if (!painter) return height + dots(3);
  for (int i = 0; i < std::min(lines.count, most); ++i)
    lines.paint(*painter, area.topLeft() + QPointF(0, i * lines.line_height), i);
  Lines right = mark;
  right.right = true;
  for (int i = 0; i < std::min(right.count, most) && !r.mark.isEmpty(); ++i)
    right.paint(*painter, area.topLeft() + QPointF(area.width() - right.width, i * right.line_height), i);
  painter->setPen(QPen(Qt::black, dots(0.7)));
  painter->drawLine(area.topLeft() + QPointF(0, height), area.topRight() + QPointF(0, height));
  return height + dots(3);
}

void paint_foot(QPainter& painter, const QRectF& area, const RunningHead& r, int page, int pages) {
  double right = area.right();
  if (!r.code.items.empty()) {
    right -= dots(r.code.width_mm);
    paint(painter, QPointF(right, area.bottom() - dots(r.code.height_mm)), dots(1), r.code, r.language);
    right -= dots(3);
  }
  painter.setFont(font_of(8));
  painter.setPen(Qt::black);
  const std::string count =
      sentence({"pages.count", {number("page", page, ""), number("pages", pages, "")}}, r.language);
  const QString said = QString::fromStdString(count);
  const double count_width = QFontMetricsF(painter.font(), painter.device()).horizontalAdvance(said);
  painter.drawText(QRectF(area.left(), area.top(), right - area.left(), area.height()),
                   Qt::AlignRight | Qt::AlignBottom, said);
  const Lines foot =
      lines_of(r.foot, font_of(7), right - area.left() - count_width - dots(4), painter.device());
  const int most = static_cast<int>(area.height() / foot.line_height), rows = std::min(foot.count, most);
  for (int i = 0; i < rows; ++i)
    foot.paint(painter, QPointF(area.left(), area.bottom() - (rows - i) * foot.line_height), i);
}

RunningHead running_of(const Document& document, const QString& title, Language language) {
  RunningHead r{title,
                QString::fromStdString(visible(document.mark)),
                QStringLiteral("seamwright " SEAMWRIGHT_VERSION),
                code_of(document.code),
                language,
                dots(foot_mm)};
  for (const Message& m : document.foot)
    r.foot += QStringLiteral(" · ") + QString::fromStdString(visible(sentence(m, language)));
  if (!r.code.items.empty()) r.foot_height = dots(code_mm);
  return r;
}

}  // namespace

std::string to_pdf(const Document& document, Language language, Paper paper) {
  need_painting();
  const QString title = QString::fromStdString(visible(sentence(document.title, language)));
  QByteArray bytes;
  QBuffer buffer(&bytes);
  buffer.open(QIODevice::WriteOnly);
  QPdfWriter pdf(&buffer);
  pdf.setResolution(dots_per_inch);
  pdf.setPageSize(QPageSize(paper == Paper::a4 ? QPageSize::A4 : QPageSize::Letter));
  if (document.landscape) pdf.setPageOrientation(QPageLayout::Landscape);
  pdf.setPageMargins(QMarginsF(0, 0, 0, 0));
  pdf.setTitle(title + (document.mark.empty()
                            ? QString()
                            : QStringLiteral(" ") + QString::fromStdString(visible(document.mark))));
  pdf.setCreator(QStringLiteral("seamwright " SEAMWRIGHT_VERSION));
  const QRectF area(dots(margin_mm), dots(margin_mm), pdf.width() - 2 * dots(margin_mm),
                    pdf.height() - 2 * dots(margin_mm));
  const RunningHead running = running_of(document, title, language);
  const double first =
      area.height() - running.foot_height - paint_head(nullptr, &pdf, area, running, true) - dots(2);
  const double later =
      area.height() - running.foot_height - paint_head(nullptr, &pdf, area, running, false) - dots(2);
  double scale = 1;
  std::vector<Slice> slices;
  std::vector<Page> pages;
  for (;; scale -= 0.02) {
    slices = slices_of(document, language, {&pdf, area.width() / scale, later / scale, scale});
    pages = pages_of(slices, first / scale, later / scale);
    if (!document.one_page || pages.size() == 1 || scale < 0.73) break;
  }
  QPainter painter(&pdf);
  for (std::size_t n = 0; n < pages.size(); ++n) {
    if (n > 0) pdf.newPage();
    const double below = paint_head(&painter, &pdf, area, running, n == 0);
    painter.save();
    painter.translate(area.left(), area.top() + below);
    painter.scale(scale, scale);
    QPointF at;
    for (const Slice* slice : pages[n]) {
      if (slice->paint) slice->paint(painter, at);
      at.ry() += slice->height;
    }
    painter.restore();
    paint_foot(painter,
               QRectF(area.left(), area.bottom() - running.foot_height, area.width(), running.foot_height),
               running, static_cast<int>(n + 1), static_cast<int>(pages.size()));
  }
  painter.end();
  return bytes.toStdString();
}

}  // namespace seamwright::reports

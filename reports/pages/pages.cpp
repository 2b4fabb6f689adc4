// SPDX-License-Identifier: GPL-3.0-or-later
#include "reports/pages/pages.h"

#include <QAbstractTextDocumentLayout>
#include <QBuffer>
#include <QFontDatabase>
#include <QGuiApplication>
#include <QImage>
#include <QPainter>
#include <QPdfWriter>
#include <QSvgRenderer>
#include <QTextDocument>
#include <QUrl>
#include <cstdlib>

#include "reports/render/cells.h"

namespace seamwright::reports {

namespace {

constexpr int dots_per_inch = 300;
constexpr double margin_mm = 15, head_mm = 12, foot_mm = 14;

double dots(double mm) { return mm * dots_per_inch / 25.4; }

// Qt paints through an application object; one without a display serves.
void need_application() {
  if (QCoreApplication::instance()) return;
  ::setenv("QT_QPA_PLATFORM", "offscreen", 1);
  static int count = 1;
  static char name[] = "seamwright";
  static char* names[] = {name, nullptr};
  qInstallMessageHandler(
      [](QtMsgType, const QMessageLogContext&, const QString&) {});  // talk of missing desktops
  static QGuiApplication application(count, names);
}

void need_fonts() {
  const QStringList known = QFontDatabase::families();
  if (!known.contains(QStringLiteral("Liberation Sans")) && !known.contains(QStringLiteral("DejaVu Sans")))
    throw Fault{Message{"pages.no-fonts", {}}};
}

QFont body_font(double points) {
  QFont font;
  font.setFamilies({QStringLiteral("Liberation Sans"), QStringLiteral("DejaVu Sans")});
  font.setPointSizeF(points);
  return font;
}

QString escaped(const std::string& text) { return QString::fromStdString(visible(text)).toHtmlEscaped(); }

// Writes blocks in the subset of HTML that Qt lays out.
class Writer {
 public:
  Writer(QTextDocument& page, Language language, double width)
      : page_(page), language_(language), width_(width) {}
  QString html;

  void operator()(const Heading& h) {
    const QString level = QString::number(h.level < 2 ? 2 : 3);
    html += "<h" + level + ">" + said(h.text) + "</h" + level + ">";
  }
  void operator()(const Paragraph& p) { html += "<p>" + said(p.text) + "</p>"; }
  void operator()(const Answer& a) {
    html += "<p style='font-size:18pt'><b>" + cell(a.verdict) + "</b></p><p>" + said(a.text) + "</p>";
  }
  void operator()(const Facts& f) {
    html += "<table cellpadding='2'>";
    for (const Facts::Fact& fact : f.facts)
      html +=
          "<tr><td>" + said(fact.label) + "&nbsp;&nbsp;</td><td><b>" + cell(fact.value) + "</b></td></tr>";
    html += "</table>";
  }
  void operator()(const Table& t) {
    html += "<table width='100%' cellpadding='2' cellspacing='0' style='font-size:7.5pt'><thead><tr>";
    for (std::size_t i = 0; i < t.columns.size(); ++i) {
      const bool numbers =
          !t.rows.empty() && i < t.rows[0].size() && std::holds_alternative<Quantity>(t.rows[0][i]);
      html += (numbers ? "<th align='right'>" : "<th align='left'>") + said(t.columns[i]) +
              (numbers ? "&nbsp;&nbsp;</th>" : "</th>");
    }
    html += "</tr></thead>";
    for (const auto& row : t.rows) {
      html += "<tr>";
      for (const Cell& c : row)
        html += std::holds_alternative<Quantity>(c) ? "<td align='right'>" + cell(c) + "&nbsp;&nbsp;</td>"
                                                    : "<td>" + cell(c) + "</td>";
      html += "</tr>";
    }
    html += "</table>";
  }
  void operator()(const Caution& c) {
    html += "<table width='100%' border='1' cellspacing='0' cellpadding='6'><tr><td>";
    for (const Message& text : c.texts) html += "<p>! " + said(text) + "</p>";
    html += "</td></tr></table>";
  }
  void operator()(const Reasons& r) {
    for (const Reason& reason : r.reasons) because(reason, 0);
  }
  void operator()(const Drawing& d) {
    QSvgRenderer svg(QByteArray::fromStdString(d.svg));
    if (!svg.isValid()) return;
    const QSizeF size = svg.defaultSize();
    const double wide = std::min(width_ * 0.8, size.width() * dots_per_inch / 96);
    QImage image(QSizeF(wide, wide * size.height() / size.width()).toSize(), QImage::Format_ARGB32);
    image.fill(Qt::white);
    QPainter painter(&image);
    svg.render(&painter);
    painter.end();
    const QString name = "drawing" + QString::number(++drawings_);
    page_.addResource(QTextDocument::ImageResource, QUrl(name), image);
    html += "<p><img src='" + name + "'/></p><p>" + said(d.caption) + "</p>";
  }

 private:
  QString said(const Message& m) const { return escaped(sentence(m, language_)); }
  QString cell(const Cell& c) const {
    return QString::fromStdString(plain_text(c, language_)).toHtmlEscaped();
  }
  void because(const Reason& r, int depth) {
    html += QStringLiteral("<p style='margin-left:%1px'>").arg(depth * 40) + said(r.text) + "</p>";
    for (const Reason& next : r.because) because(next, depth + 1);
  }

  QTextDocument& page_;
  Language language_;
  double width_;
  int drawings_ = 0;
};

struct Running {
  QString title, foot;
  Language language;
};

void paint_running(QPainter& painter, const QRectF& sheet, const Running& r, int page, int pages) {
  const double left = sheet.left() + dots(margin_mm), right = sheet.right() - dots(margin_mm);
  painter.setFont(body_font(9));
  const QRectF head(left, sheet.top() + dots(margin_mm - 5), right - left, dots(8));
  painter.drawText(
      head, Qt::AlignLeft | Qt::AlignVCenter,
      QFontMetricsF(painter.font(), painter.device()).elidedText(r.title, Qt::ElideRight, head.width()));
  painter.setPen(QPen(Qt::black, dots(0.5)));
  painter.drawLine(QPointF(left, head.bottom()), QPointF(right, head.bottom()));
  painter.setFont(body_font(7));
  const QRectF foot(left, sheet.bottom() - dots(margin_mm + foot_mm - 6), right - left, dots(foot_mm - 4));
  const QRectF text(foot.left(), foot.top(), foot.width() * 0.85, foot.height());
  painter.drawText(text, Qt::AlignLeft | Qt::TextWrapAnywhere, r.foot);
  const std::string count =
      sentence({"pages.count", {number("page", page, ""), number("pages", pages, "")}}, r.language);
  painter.drawText(foot, Qt::AlignRight | Qt::AlignBottom, QString::fromStdString(count));
}

}  // namespace

std::string to_pdf(const Document& document, Language language, Paper paper) {
  need_application();
  need_fonts();
  const std::string title = sentence(document.title, language);
  QByteArray bytes;
  QBuffer buffer(&bytes);
  buffer.open(QIODevice::WriteOnly);
  QPdfWriter pdf(&buffer);
  pdf.setResolution(dots_per_inch);
  pdf.setPageSize(QPageSize(paper == Paper::a4 ? QPageSize::A4 : QPageSize::Letter));
  pdf.setPageMargins(QMarginsF(0, 0, 0, 0));
  pdf.setTitle(QString::fromStdString(visible(title)));
  pdf.setCreator(QStringLiteral("seamwright " SEAMWRIGHT_VERSION));
  const QRectF sheet(0, 0, pdf.width(), pdf.height());
  const QSizeF body(sheet.width() - 2 * dots(margin_mm),
                    sheet.height() - 2 * dots(margin_mm) - dots(head_mm) - dots(foot_mm));

  QTextDocument text;
  text.documentLayout()->setPaintDevice(&pdf);
  text.setDefaultFont(body_font(9));
  text.setDocumentMargin(0);
  Writer writer(text, language, body.width());
  writer.html = "<h1>" + escaped(title) + "</h1>";
  for (const Block& block : document.blocks) std::visit(writer, block);
  text.setHtml(writer.html);
  text.setPageSize(body);

  Running running{QString::fromStdString(visible(title)), QStringLiteral("seamwright " SEAMWRIGHT_VERSION),
                  language};
  for (const Message& m : document.foot)
    running.foot += " · " + QString::fromStdString(visible(sentence(m, language)));
  QPainter painter(&pdf);
  const int pages = text.pageCount();
  for (int page = 0; page < pages; ++page) {
    if (page > 0) pdf.newPage();
    painter.save();
    painter.translate(dots(margin_mm), dots(margin_mm + head_mm) - page * body.height());
    text.drawContents(&painter, QRectF(0, page * body.height(), body.width(), body.height()));
    painter.restore();
    painter.save();
    paint_running(painter, sheet, running, page + 1, pages);
    painter.restore();
  }
  painter.end();
  return bytes.toStdString();
}

}  // namespace seamwright::reports

// SPDX-License-Identifier: GPL-3.0-or-later
#include "reports/pages/slices.h"

#include <QFontMetricsF>
#include <QSvgRenderer>
#include <algorithm>
#include <array>
#include <cmath>
#include <numeric>

#include "reports/pages/broken_lines.h"
#include "reports/pages/columns.h"
#include "reports/pages/paint.h"
#include "reports/render/cells.h"

namespace seamwright::reports {

namespace {

constexpr double body_points = 9, large_points = 28;
constexpr double hairline_mm = 0.1, line_mm = 0.3;

QString sentence_text(const Message& m, Language language) {
  return QString::fromStdString(visible(sentence(m, language)));
}

class Writer {
 public:
  Writer(Language language, const Sheet& sheet) : language_(language), sheet_(sheet) {}
  std::vector<Slice> slices;

  void operator()(const Heading& h) {
    gap(h.level < 3 ? 5 : 3);
    text(sentence_text(h.text, language_), font_of(h.level < 3 ? 12 : 10, true), 0, true);
    gap(1, true);
  }
  void operator()(const Paragraph& p) {
    text(sentence_text(p.text, language_), font_of(body_points), 0, false);
    gap(1.5);
  }
  void operator()(const Answer& a) {
    gap(2);
    const Lines verdict =
        lines_of(Cell(a.verdict), font_of(large_points, true), sheet_.width, sheet_.device, language_);
    add(
        verdict.height(), [verdict](QPainter& p, const QPointF& at) { verdict.paint(p, at); }, true);
    text(sentence_text(a.text, language_), font_of(11), 0, false);
    gap(2);
  }
  void operator()(const Facts& f) {
    facts(f);
    gap(2);
  }
  void operator()(const TwoColumns& b) {
    const double half = 0.5 * sheet_.width;
    Writer left(language_, {sheet_.device, half - dots(4), sheet_.height, sheet_.scale}),
        right(language_, {sheet_.device, half, sheet_.height, sheet_.scale});
    for (const TwoColumns::Half& block : b.left) std::visit(left, block);
    for (const TwoColumns::Half& block : b.right) std::visit(right, block);
    const double high = std::max(height_of(left.slices), height_of(right.slices));
    if (high > 0.9 * sheet_.height) {  // as long as a page: one after the other
      for (const TwoColumns::Half& block : b.left) std::visit(*this, block);
      for (const TwoColumns::Half& block : b.right) std::visit(*this, block);
      return;
    }
    add(high, [half, columns = std::array{left.slices, right.slices}](QPainter& p, const QPointF& at) {
      for (std::size_t i = 0; i < columns.size(); ++i) {
        QPointF place = at + QPointF(i == 0 ? 0 : half, 0);
        for (const Slice& slice : columns[i]) {
          if (slice.paint) slice.paint(p, place);
          place.ry() += slice.height;
        }
      }
    });
  }
  void operator()(const Table& t) { table(t); }
  void operator()(const Caution& c) { framed(c); }
  void operator()(const Reasons& r) {
    for (const Reason& reason : r.reasons) add_reason(reason, 0);
    gap(2);
  }
  void operator()(const Drawing& d) {
    const auto svg = std::make_shared<QSvgRenderer>(qt_svg(d.svg));
    if (!svg->isValid()) return;
    const QSizeF size = svg->defaultSize();
    const double wide = std::min(0.7 * sheet_.width, size.width() * dots_per_inch / 96);
    const double high = std::min(wide * size.height() / std::max(size.width(), 1.0), 0.6 * sheet_.height);
    add(
        high + dots(1),
        [svg, wide, high](QPainter& p, const QPointF& at) {
          svg->render(&p, QRectF(at, QSizeF(wide, high)));
        },
        true);
    caption(d.caption);
  }
  void operator()(const PictureBlock& pictured) {
    const auto picture = std::make_shared<const Picture>(pictured.picture);
    const double per_mm = pictured.true_scale
                              ? true_per_mm(*picture)
                              : std::min({dots(1), sheet_.width / std::max(picture->width_mm, 1.0),
                                          0.85 * sheet_.height / std::max(picture->height_mm, 1.0)});
    const Language language = language_;
    add(
        picture->height_mm * per_mm + dots(1),
        [picture, per_mm, language](QPainter& p, const QPointF& at) {
          reports::paint(p, at, per_mm, *picture, language);
        },
        true);
    caption(pictured.caption);
  }
  // Puts as many side by side as fit in large type.
  void operator()(const LargeNumbers& l) {
    std::size_t across = 4;
    const auto fits = [&] {
      const double room = sheet_.width / static_cast<double>(across) - dots(3);
      return std::all_of(l.numbers.begin(), l.numbers.end(), [&](const LargeNumbers::Number& n) {
        return widths_of(QString::fromStdString(plain_text(n.value, language_)), font_of(large_points, true),
                         sheet_.device)
                   .whole <= room;
      });
    };
    while (across > 1 && !fits()) --across;
    for (std::size_t first = 0; first < l.numbers.size(); first += across)
      large_row({l.numbers.begin() + static_cast<std::ptrdiff_t>(first),
                 l.numbers.begin() + static_cast<std::ptrdiff_t>(std::min(first + across, l.numbers.size()))},
                across);
    gap(2);
  }
  void operator()(const Boxes& b) {
    const auto columns = static_cast<std::size_t>(std::clamp(b.columns, 1, 6));
    for (std::size_t first = 0; first < b.boxes.size(); first += columns)
      box_row({b.boxes.begin() + static_cast<std::ptrdiff_t>(first),
               b.boxes.begin() + static_cast<std::ptrdiff_t>(std::min(first + columns, b.boxes.size()))},
              columns);
    gap(2);
  }
  void operator()(const PageBreak&) { new_page_ = true; }

 private:
  double pen_mm(double mm) const { return dots(mm) / sheet_.scale; }
  // A picture in true scale is never made smaller: it fits, caption and all, or it is refused.
  double true_per_mm(const Picture& picture) const {
    const double per_mm = dots(1) / sheet_.scale;
    if (picture.width_mm * per_mm > sheet_.width || (picture.height_mm + 12) * per_mm > sheet_.height)
      throw Fault{Message{"pages.true-scale",
                          {number("wide", picture.width_mm, "mm"), number("high", picture.height_mm, "mm")}}};
    return per_mm;
  }
  using Paint = std::function<void(QPainter&, const QPointF&)>;
  void add(double height, Paint paint, bool keep = false, std::shared_ptr<const Slice> head = nullptr) {
    slices.push_back({height, keep, new_page_, std::move(paint), std::move(head)});
    new_page_ = false;
  }
  void gap(double mm, bool keep = false) {
    if (new_page_) return;
    add(dots(mm), nullptr, keep);
  }
  // Line by line; neither the first nor the last stands alone.
  void text(const QString& words, const QFont& font, double indent, bool keep_all, bool faint = false) {
    Lines lines = lines_of(words, font, sheet_.width - indent, sheet_.device);
    if (faint) lines.colour = QColor(0x44, 0x44, 0x44);
    for (int i = 0; i < lines.count; ++i)
      add(
          lines.line_height,
          [lines, i, indent](QPainter& p, const QPointF& at) { lines.paint(p, at + QPointF(indent, 0), i); },
          keep_all || i == 0 ? keep_all || lines.count > 1 : i == lines.count - 2);
  }
  static double height_of(const std::vector<Slice>& all) {
    return std::accumulate(all.begin(), all.end(), 0.0,
                           [](double sum, const Slice& s) { return sum + s.height; });
  }
  void facts(const Facts& f) {
    const double points = f.small ? 7.5 : body_points;
    const QFont font = font_of(points), bold = font_of(points, true);
    const double room = sheet_.width;
    double label_width = 0;
    for (const Facts::Fact& fact : f.facts)
      label_width =
          std::max(label_width, widths_of(sentence_text(fact.label, language_), font, sheet_.device).whole);
    label_width = std::min(label_width + dots(4), 0.55 * room);
    for (const Facts::Fact& fact : f.facts) {
      const Lines label =
          lines_of(sentence_text(fact.label, language_), font, label_width - dots(2), sheet_.device);
      Lines value = lines_of(fact.value, bold, room - label_width, sheet_.device, language_);
      value.right = false;
      rows({{0, label}, {label_width, value}}, nullptr, false);
    }
  }
  void caption(const Message& m) {
    text(sentence_text(m, language_), font_of(8), 0, false, true);
    gap(2);
  }
  void add_reason(const Reason& r, int depth) {
    text((depth > 0 ? QStringLiteral("– ") : QString()) + sentence_text(r.text, language_), font_of(8.5),
         dots(4.0 * std::min(depth, 8)), false);
    for (const Reason& next : r.because) add_reason(next, depth + 1);
  }
  struct PlacedLines {
    double x;
    Lines lines;
  };
  // Cells beside each other. What is longer than a third of the page is cut between lines.
  void rows(const std::vector<PlacedLines>& cells, const std::shared_ptr<const Slice>& head, bool ruled,
            double least = 0) {
    int most = 1;
    double line = 0;
    for (const PlacedLines& c : cells) {
      most = std::max(most, c.lines.count);
      line = std::max(line, c.lines.line_height);
    }
    const int chunk = std::max(1, std::min(most, static_cast<int>(sheet_.height / 3 / line)));
    const auto shared = std::make_shared<const std::vector<PlacedLines>>(cells);
    const double pad = std::max(ruled ? dots(0.8) : dots(0.2), 0.5 * (least - chunk * line)),
                 width = sheet_.width;
    for (int from = 0; from < most; from += chunk) {
      const int to = std::min(from + chunk, most);
      const double height = std::max((to - from) * line + 2 * pad, least);
      const bool rule = ruled && from == 0;
      add(
          height,
          [shared, from, to, line, pad, rule, width](QPainter& p, const QPointF& at) {
            if (rule) {
              p.setPen(QPen(QColor(0x88, 0x88, 0x88), dots(hairline_mm)));
              p.drawLine(at, at + QPointF(width, 0));
            }
            for (const PlacedLines& c : *shared)
              for (int i = from; i < std::min(to, c.lines.count); ++i)
                c.lines.paint(p, at + QPointF(c.x, pad + (i - from) * line), i);
          },
          false, head);
    }
  }
  void table(const Table& t);
  void framed(const Caution& c);
  void large_row(const std::vector<LargeNumbers::Number>& numbers, std::size_t across);
  void box_row(const std::vector<Boxes::Box>& boxes, std::size_t across);

  Language language_;
  Sheet sheet_;
  bool new_page_ = false;
};

void Writer::table(const Table& t) {
  const Columns columns = columns_of(t, language_, sheet_.width, sheet_.device);
  const QFont font = font_of(columns.points), head_font = font_of(columns.points, true);
  std::vector<PlacedLines> heads;
  double head_height = 0;
  for (std::size_t i = 0; i < t.columns.size(); ++i) {
    Lines lines =
        lines_of(sentence_text(t.columns[i], language_), head_font, columns.width[i], sheet_.device);
    lines.right = columns.right[i];
    head_height = std::max(head_height, lines.height());
    heads.push_back({columns.left[i], std::move(lines)});
  }
  const double width = sheet_.width;
  auto head = std::make_shared<Slice>();
  head->height = head_height + dots(0.8);
  head->paint = [heads, head_height, width](QPainter& p, const QPointF& at) {
    for (const PlacedLines& c : heads) c.lines.paint(p, at + QPointF(c.x, head_height - c.lines.height()));
    p.setPen(QPen(Qt::black, dots(0.2)));
    p.drawLine(at + QPointF(0, head_height + dots(0.5)), at + QPointF(width, head_height + dots(0.5)));
  };
  add(head->height, head->paint, true);
  for (std::size_t r = 0; r < t.rows.size(); ++r) {
    std::vector<PlacedLines> cells;
    std::vector<QRectF> blanks;
    for (std::size_t i = 0; i < std::min(t.rows[r].size(), t.columns.size()); ++i) {
      if (std::holds_alternative<EntryBox>(t.rows[r][i]))
        blanks.emplace_back(columns.left[i], dots(0.6), columns.width[i], pen_mm(8));
      cells.push_back(
          {columns.left[i], lines_of(t.rows[r][i], font, columns.width[i], sheet_.device, language_)});
    }
    rows(cells, head, r > 0, blanks.empty() ? 0 : pen_mm(8) + dots(1.2));
    if (blanks.empty()) continue;
    slices.back().paint = [inner = slices.back().paint, blanks](QPainter& p, const QPointF& at) {
      inner(p, at);
      p.setPen(QPen(Qt::black, dots(0.2)));
      p.setBrush(Qt::NoBrush);
      for (const QRectF& box : blanks) p.drawRect(box.translated(at));
    };
  }
  gap(2.5);
}

// A frame that goes on where a page ends.
void Writer::framed(const Caution& c) {
  gap(1);
  const double pad = dots(3), width = sheet_.width;
  std::vector<std::pair<Lines, int>> all;
  for (const Message& m : c.texts) {
    const Lines lines = lines_of(QStringLiteral("!  ") + sentence_text(m, language_), font_of(body_points),
                                 width - 2 * pad, sheet_.device);
    for (int i = 0; i < lines.count; ++i) all.emplace_back(lines, i);
  }
  const bool together =
      !all.empty() && static_cast<double>(all.size()) * all[0].first.line_height < sheet_.height / 2;
  for (std::size_t k = 0; k < all.size(); ++k) {
    const bool first = k == 0, last = k + 1 == all.size();
    const double above = first ? dots(1.5) : 0, below = last ? dots(1.5) : 0;
    const double height = all[k].first.line_height + above + below;
    add(
        height,
        [line = all[k], first, last, above, height, pad, width](QPainter& p, const QPointF& at) {
          line.first.paint(p, at + QPointF(pad, above), line.second);
          p.setPen(QPen(Qt::black, dots(line_mm)));
          p.drawLine(at, at + QPointF(0, height));
          p.drawLine(at + QPointF(width, 0), at + QPointF(width, height));
          if (first) p.drawLine(at, at + QPointF(width, 0));
          if (last) p.drawLine(at + QPointF(0, height), at + QPointF(width, height));
        },
        together && !last);
  }
  gap(2);
}

void Writer::large_row(const std::vector<LargeNumbers::Number>& numbers, std::size_t across) {
  const double width = sheet_.width / static_cast<double>(across), inner = width - dots(3);
  std::vector<PlacedLines> labels, values;
  double label_height = 0, value_height = 0;
  for (std::size_t i = 0; i < numbers.size(); ++i) {
    const double x = static_cast<double>(i) * width;
    labels.push_back({x, lines_of(sentence_text(numbers[i].label, language_), font_of(body_points), inner,
                                  sheet_.device)});
    Lines value = lines_of(numbers[i].value, font_of(large_points, true), inner, sheet_.device, language_);
    value.right = false;
    label_height = std::max(label_height, labels.back().lines.height());
    value_height = std::max(value_height, value.height());
    values.push_back({x, std::move(value)});
  }
  const double height = label_height + value_height;
  add(height + dots(3), [=](QPainter& p, const QPointF& at) {
    for (const PlacedLines& c : labels) c.lines.paint(p, at + QPointF(c.x, dots(1)));
    for (const PlacedLines& c : values) c.lines.paint(p, at + QPointF(c.x, dots(1) + label_height));
    p.setPen(QPen(QColor(0x88, 0x88, 0x88), dots(hairline_mm)));
    for (std::size_t i = 1; i < values.size(); ++i) {
      const double x = values[i].x - dots(1.5);
      p.drawLine(at + QPointF(x, dots(1)), at + QPointF(x, height));
    }
  });
}

void Writer::box_row(const std::vector<Boxes::Box>& boxes, std::size_t across) {
  const double width = sheet_.width / static_cast<double>(across), inner = width - dots(3);
  std::vector<PlacedLines> labels;
  double label_height = 0, box_height = pen_mm(8);
  for (std::size_t i = 0; i < boxes.size(); ++i) {
    labels.push_back({static_cast<double>(i) * width, lines_of(sentence_text(boxes[i].label, language_),
                                                               font_of(body_points), inner, sheet_.device)});
    label_height = std::max(label_height, labels.back().lines.height());
    box_height = std::max(box_height, pen_mm(boxes[i].height_mm));
  }
  add(label_height + box_height + dots(2.5), [=](QPainter& p, const QPointF& at) {
    p.setBrush(Qt::NoBrush);
    for (const PlacedLines& c : labels) {
      c.lines.paint(p, at + QPointF(c.x, label_height - c.lines.height()));
      p.setPen(QPen(Qt::black, dots(0.2)));
      p.drawRect(QRectF(at + QPointF(c.x, label_height + dots(0.5)), QSizeF(inner, box_height)));
    }
  });
}

}  // namespace

std::vector<Slice> slices_of(const Document& document, Language language, const Sheet& sheet) {
  Writer writer(language, sheet);
  for (const Block& block : document.blocks) std::visit(writer, block);
  return std::move(writer.slices);
}

}  // namespace seamwright::reports

// SPDX-License-Identifier: GPL-3.0-or-later
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "reports/render/cells.h"
#include "reports/render/colours.h"
#include "reports/render/render.h"

namespace seamwright::reports {

namespace {

std::string hex(const Colour& colour) {
  if (colour.ink == Ink::none) return std::string("none");
  const Rgb c = on_paper(colour);
  return fmt::format("#{:02X}{:02X}{:02X}", c.red, c.green, c.blue);
}

std::string pen_of(const Pen& pen) {
  std::string out = fmt::format(" stroke=\"{}\" stroke-width=\"{:.3f}\"", hex(pen.colour), pen.width_mm);
  if (pen.dash == Dash::dashed) out.append(" stroke-dasharray=\"2.4 1.2\"");
  if (pen.dash == Dash::dotted) out.append(" stroke-dasharray=\"0.5 0.8\"");
  return out;
}

struct SvgWriter {
  Language language;
  std::string out;

  void operator()(const Path& p) {
    if (p.points.empty()) return;
    out.append(p.closed ? "<polygon points=\"" : "<polyline points=\"");
    for (const Point& at : p.points) out.append(fmt::format("{:.2f},{:.2f} ", at.x, at.y));
    out.back() = '"';
    out.append(fmt::format(" fill=\"{}\"", hex(p.fill))).append(pen_of(p.pen)).append("/>\n");
  }
  void operator()(const Circle& c) {
    out.append(fmt::format("<circle cx=\"{:.2f}\" cy=\"{:.2f}\" r=\"{:.2f}\" fill=\"{}\"", c.centre.x,
                           c.centre.y, c.radius_mm, hex(c.fill)))
        .append(pen_of(c.pen))
        .append("/>\n");
  }
  void operator()(const PictureText& w) {
    const char* anchor = w.anchor == PictureText::Anchor::start    ? "start"
                         : w.anchor == PictureText::Anchor::middle ? "middle"
                                                                   : "end";
    out.append(fmt::format(
        "<text x=\"{0:.2f}\" y=\"{1:.2f}\" font-size=\"{2:.2f}\" text-anchor=\"{3}\" fill=\"{4}\"", w.at.x,
        w.at.y, w.size_mm, anchor, hex(w.colour)));
    if (w.bold) out.append(" font-weight=\"bold\"");
    if (w.upright) out.append(fmt::format(" transform=\"rotate(-90 {:.2f} {:.2f})\"", w.at.x, w.at.y));
    out.append(">").append(escaped(plain_text(w.text, language)));
    if (!w.raised.empty())
      out.append(fmt::format("<tspan dy=\"{:.2f}\" font-size=\"{:.2f}\">{}</tspan>", -0.4 * w.size_mm,
                             raised_share * w.size_mm, escaped(visible(w.raised))));
    out.append("</text>\n");
  }
};

}  // namespace

std::string to_svg(const Picture& picture, Language language) {
  SvgWriter w{language,
              fmt::format("<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 {0:.2f} {1:.2f}\" "
                          "width=\"{0:.2f}mm\" height=\"{1:.2f}mm\" role=\"img\" "
                          "font-family=\"Liberation Sans, DejaVu Sans, sans-serif\" "
                          "stroke-linecap=\"round\" stroke-linejoin=\"round\">\n",
                          picture.width_mm, picture.height_mm)};
  w.out.append(
      fmt::format("<rect width=\"{:.2f}\" height=\"{:.2f}\" fill=\"#FFFFFF\"/>\n<g stroke=\"none\">\n",
                  picture.width_mm, picture.height_mm));
  for (const auto& item : picture.items) std::visit(w, item);
  return w.out.append("</g>\n</svg>\n");
}

}  // namespace seamwright::reports

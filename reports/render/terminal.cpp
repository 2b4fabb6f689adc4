// SPDX-License-Identifier: GPL-3.0-or-later
#include <algorithm>
#include <sstream>

#include "reports/render/cells.h"
#include "reports/render/render.h"

namespace seamwright::reports {

namespace {

struct TerminalWriter {
  Language language;
  TerminalStyle style;
  std::string out;

  std::string say(const Message& m) const { return visible(sentence(m, language)); }
  void line(const std::string& text) { out.append(text).append("\n"); }
  std::string styled(const char* code, const std::string& text) const {
    return style.colour ? std::string("\x1b[").append(code).append("m").append(text).append("\x1b[0m") : text;
  }
  // Broken at blanks to the width; later lines hang by the length of the prefix.
  void wrapped(const std::string& prefix, const std::string& text) {
    const std::size_t indent = columns_of(prefix),
                      width = static_cast<std::size_t>(std::max(style.width, 20));
    std::string row = prefix;
    std::istringstream words(text);
    bool first = true;
    for (std::string word; words >> word; first = false) {
      if (!first && columns_of(row) + 1 + columns_of(word) > width) {
        line(row);
        row = std::string(indent, ' ');
        first = true;
      }
      row.append(first ? "" : " ").append(word);
    }
    line(row);
  }

  void operator()(const Heading& h) {
    line("");
    line(styled("1", say(h.text)));
  }
  void operator()(const Paragraph& p) { wrapped("- ", say(p.text)); }
  void operator()(const Caution& c) {
    line("");
    for (const Message& m : c.texts) wrapped("! ", say(m));
  }
  void operator()(const Answer& a) {
    line("");
    line(styled(shape_of(a.verdict) == "●" ? "1" : "1;33", plain_text(a.verdict, language))
             .append(": ")
             .append(say(a.text)));
  }
  void operator()(const Facts& f) {
    line("");
    std::size_t width = 0;
    for (const auto& fact : f.facts) width = std::max(width, columns_of(say(fact.label)));
    for (const auto& fact : f.facts) {
      const std::string label = say(fact.label);
      line(label + std::string(width + 2 - columns_of(label), ' ') + plain_text(fact.value, language));
    }
  }
  void operator()(const Table& t) {
    std::vector<std::vector<std::string>> rows(1);
    for (const Message& m : t.columns) rows[0].push_back(say(m));
    for (const auto& row : t.rows) {
      rows.emplace_back();
      for (const Cell& cell : row) rows.back().push_back(plain_text(cell, language));
    }
    std::vector<std::size_t> width(t.columns.size(), 0);
    for (const auto& row : rows)
      for (std::size_t i = 0; i < width.size(); ++i) width[i] = std::max(width[i], columns_of(row[i]));
    for (std::size_t r = 0; r < rows.size(); ++r) {
      std::string text;
      for (std::size_t i = 0; i < width.size(); ++i) {
        const std::string pad(width[i] - columns_of(rows[r][i]), ' ');
        const bool right = !t.rows.empty() && std::holds_alternative<Quantity>(t.rows[r > 0 ? r - 1 : 0][i]);
        text.append(right ? pad + rows[r][i] : rows[r][i] + pad).append("  ");
      }
      text.erase(text.find_last_not_of(' ') + 1);
      line(text);
    }
  }
  void reason(const Reason& r, std::size_t depth) {
    wrapped(std::string(2 * depth, ' '), say(r.text));
    for (const Reason& b : r.because) reason(b, depth + 1);
  }
  void operator()(const Beside& b) {
    for (const auto* half : {&b.left, &b.right})
      for (const Beside::Half& block : *half) std::visit(*this, block);
  }
  void operator()(const Large& l) {
    line("");
    for (const Large::Number& n : l.numbers)
      wrapped("", say(n.label).append(": ").append(plain_text(n.value, language)));
  }
  void operator()(const Boxes& b) {
    line("");
    for (const Boxes::Box& box : b.boxes) wrapped("[ ] ", say(box.label));
  }
  void operator()(const PageBreak&) {}
  void operator()(const Pictured& p) {
    wrapped("", say({"drawing.in-page", {}}).append(" ") + say(p.caption));
  }
  void operator()(const Drawing&) { wrapped("", say({"drawing.in-page", {}})); }
  void operator()(const Reasons& r) {
    for (const Reason& x : r.reasons) reason(x, 0);
  }
};

}  // namespace

std::string to_terminal(const Document& document, Language language, const TerminalStyle& style) {
  TerminalWriter writer{language, style, ""};
  writer.line(writer.styled("1", writer.say(document.title)));
  if (!document.mark.empty()) writer.line(visible(document.mark));
  for (const Block& block : document.blocks) std::visit(writer, block);
  writer.line("");
  for (const Message& m : document.foot) writer.line(writer.say(m));
  return writer.out;
}

}  // namespace seamwright::reports

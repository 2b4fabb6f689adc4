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

  std::string sentence_text(const Message& m) const { return visible(sentence(m, language)); }
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
    line(styled("1", sentence_text(h.text)));
  }
  void operator()(const Paragraph& p) { wrapped("- ", sentence_text(p.text)); }
  void operator()(const Caution& c) {
    line("");
    for (const Message& m : c.texts) wrapped("! ", sentence_text(m));
  }
  void operator()(const Answer& a) {
    line("");
    line(styled(shape_of(a.verdict) == "●" ? "1" : "1;33", plain_text(a.verdict, language))
             .append(": ")
             .append(sentence_text(a.text)));
  }
  void operator()(const Facts& f) {
    line("");
    std::size_t width = 0;
    for (const auto& fact : f.facts) width = std::max(width, columns_of(sentence_text(fact.label)));
    for (const auto& fact : f.facts) {
      const std::string label = sentence_text(fact.label);
      line(label + std::string(width + 2 - columns_of(label), ' ') + plain_text(fact.value, language));
    }
  }
  void operator()(const Table& t) {
    std::vector<std::vector<std::string>> rows(1);
    for (const Message& m : t.columns) rows[0].push_back(sentence_text(m));
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
  void write_reason(const Reason& r, std::size_t depth) {
    wrapped(std::string(2 * depth, ' '), sentence_text(r.text));
    for (const Reason& b : r.because) write_reason(b, depth + 1);
  }
  void operator()(const TwoColumns& b) {
    for (const auto* half : {&b.left, &b.right})
      for (const TwoColumns::Half& block : *half) std::visit(*this, block);
  }
  void operator()(const LargeNumbers& l) {
    line("");
    for (const LargeNumbers::Number& n : l.numbers)
      wrapped("", sentence_text(n.label).append(": ").append(plain_text(n.value, language)));
  }
  void operator()(const Boxes& b) {
    line("");
    for (const Boxes::Box& box : b.boxes) wrapped("[ ] ", sentence_text(box.label));
  }
  void operator()(const PageBreak&) {}
  void operator()(const PictureBlock& p) {
    wrapped("", sentence_text({"drawing.in-page", {}}).append(" ") + sentence_text(p.caption));
  }
  void operator()(const Drawing&) { wrapped("", sentence_text({"drawing.in-page", {}})); }
  void operator()(const Reasons& r) {
    for (const Reason& x : r.reasons) write_reason(x, 0);
  }
};

}  // namespace

std::string to_terminal(const Document& document, Language language, const TerminalStyle& style) {
  TerminalWriter writer{language, style, ""};
  writer.line(writer.styled("1", writer.sentence_text(document.title)));
  if (!document.mark.empty()) writer.line(visible(document.mark));
  for (const Block& block : document.blocks) std::visit(writer, block);
  writer.line("");
  for (const Message& m : document.foot) writer.line(writer.sentence_text(m));
  return writer.out;
}

}  // namespace seamwright::reports

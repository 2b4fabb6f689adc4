// SPDX-License-Identifier: GPL-3.0-or-later
#include <algorithm>
#include <sstream>

#include "reports/render/cells.h"
#include "reports/render/render.h"
#include "reports/render/terminal_table.h"

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
    TextTable text;
    text.rows.emplace_back();
    for (std::size_t i = 0; i < t.columns.size(); ++i)
      text.rows[0].push_back({sentence_text(t.columns[i]), !t.rows.empty() && std::holds_alternative<Quantity>(t.rows[0][i])});
    for (const auto& row : t.rows) {
      text.rows.emplace_back();
      for (std::size_t i = 0; i < t.columns.size(); ++i) {
        const bool quantity = std::holds_alternative<Quantity>(row[i]);
        text.rows.back().push_back({plain_text(row[i], language), quantity, quantity || std::holds_alternative<State>(row[i])});
      }
    }
    text.first_to_go = t.first_to_go;
    const FittedTable fitted = fitted_table(text, style.fit ? static_cast<std::size_t>(std::max(style.width, 20)) : 0);
    for (const std::string& row : fitted.lines) line(row);
    if (fitted.left_out.empty()) return;
    std::string names;
    for (const std::string& name : fitted.left_out) names.append(names.empty() ? "" : ", ").append(name);
    wrapped("  ", sentence_text({"terminal.left-out", {seamwright::text("columns", names)}}));
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

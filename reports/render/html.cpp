// SPDX-License-Identifier: GPL-3.0-or-later
#include <fmt/format.h>

#include <algorithm>

#include "reports/render/cells.h"
#include "reports/render/render.h"

namespace seamwright::reports {

namespace {

constexpr const char* look = R"(
:root{--ground:#F6F5F2;--sheet:#FFF;--ink:#22262A;--faint:#6B7278;--arc:#B85C00}
@media(prefers-color-scheme:dark){:root{--ground:#1E2124;--sheet:#262A2E;--ink:#E8E6E1;--faint:#9AA1A7;--arc:#FFB259}}
body{background:var(--ground);color:var(--ink);font:15px/1.5 "Liberation Sans",sans-serif;margin:0 auto;max-width:76rem;padding:1.5rem}
h1{border-top:4px solid var(--ink);padding-top:.6rem;font-size:1.6rem}h2{font-size:1.15rem;margin-top:2rem}
.answer{font-size:1.6rem}.caution{border:2px solid var(--ink);background:var(--sheet);padding:.4rem 1rem;margin:1rem 0}.caution p{margin:.3rem 0}
.falls_short,.broken,.open-gaps,.cracked,.beyond,.not-qualified,.rejected{color:var(--arc)}.scroll{overflow-x:auto}table{border-collapse:collapse;background:var(--sheet);width:100%}
th,td{padding:.25rem .6rem;text-align:left;border-top:1px solid var(--faint);white-space:nowrap}
.n{text-align:right;font-variant-numeric:tabular-nums}th{color:var(--faint);font-weight:normal;border-top:0}
dt{color:var(--faint)}dl{display:grid;grid-template-columns:max-content 1fr;gap:.1rem 1rem}dd{margin:0}footer{color:var(--faint);margin-top:2rem}
figure{background:#FFF;color:#22262A;margin:1rem 0;padding:.6rem;max-width:24rem}figcaption{font-size:.85rem}
figure.true{max-width:none;padding:0}figure.wide{max-width:60rem}figure.wide svg{width:100%;height:auto}
.beside{display:grid;grid-template-columns:1fr 1fr;gap:1rem}.large{display:flex;flex-wrap:wrap;gap:1rem 3rem}.large p{margin:0;color:var(--faint)}.large strong{display:block;color:var(--ink);font-size:3em;line-height:1.2}
.boxes{display:grid;gap:.6rem 1rem}.boxes p{margin:0}.box{border:1px solid var(--ink)}.break{break-after:page}
.reasons{padding-left:1.2rem}.reasons summary{cursor:pointer}
@media print{:root{--ground:#FFF;--sheet:#FFF;--ink:#000;--faint:#444;--arc:#000}body{max-width:none;padding:0;font-size:10px}}
)";

struct HtmlWriter {
  Language language;
  std::string out;

  std::string sentence_html(const Message& m) const { return escaped(visible(sentence(m, language))); }
  std::string cell(const Cell& c) const {
    if (std::holds_alternative<EntryBox>(c))
      return std::string("<div class=\"box\" style=\"height:8mm\"></div>");
    std::string text = escaped(plain_text(c, language));
    if (const auto* s = std::get_if<State>(&c))
      return "<span class=\"" + escaped(s->name) + "\">" + text + "</span>";
    return text;
  }
  void operator()(const Heading& h) { out.append("<h2>" + sentence_html(h.text) + "</h2>\n"); }
  void operator()(const Paragraph& p) { out.append("<p>" + sentence_html(p.text) + "</p>\n"); }
  void operator()(const Caution& c) {
    out.append("<div class=\"caution\" role=\"note\">\n");
    for (const Message& m : c.texts) out.append("<p>" + sentence_html(m) + "</p>\n");
    out.append("</div>\n");
  }
  void operator()(const Answer& a) {
    out.append("<p class=\"answer\">" + cell(a.verdict) + ": " + sentence_html(a.text) + "</p>\n");
  }
  void operator()(const Facts& f) {
    out.append("<dl>\n");
    for (const auto& fact : f.facts)
      out.append("<dt>" + sentence_html(fact.label) + "</dt><dd>" + cell(fact.value) + "</dd>\n");
    out.append("</dl>\n");
  }
  void operator()(const Table& t) {
    out.append("<div class=\"scroll\"><table><thead><tr>");
    for (std::size_t i = 0; i < t.columns.size(); ++i) {
      const bool numbers = holds_numbers(t, i);
      out.append(numbers ? "<th scope=\"col\" class=\"n\">" : "<th scope=\"col\">")
          .append(sentence_html(t.columns[i]))
          .append("</th>");
    }
    out.append("</tr></thead><tbody>\n");
    for (const auto& row : t.rows) {
      out.append("<tr>");
      for (const Cell& c : row)
        out.append((std::holds_alternative<Quantity>(c) ? "<td class=\"n\">" : "<td>") + cell(c) + "</td>");
      out.append("</tr>\n");
    }
    out.append("</tbody></table></div>\n");
  }
  void write_reason(const Reason& r, int depth) {
    if (r.because.empty()) {
      out.append("<li>" + sentence_html(r.text) + "</li>\n");
      return;
    }
    // Evidence behind a number is folded away below the second level.
    out.append(depth < 2 ? "<li><details open><summary>" : "<li><details><summary>");
    out.append(sentence_html(r.text) + "</summary>\n");
    list(r.because, depth + 1);
    out.append("</details></li>\n");
  }
  void list(const std::vector<Reason>& reasons, int depth) {
    out.append("<ul class=\"reasons\">\n");
    for (const Reason& r : reasons) write_reason(r, depth);
    out.append("</ul>\n");
  }
  void operator()(const Reasons& r) { list(r.reasons, 0); }
  void operator()(const PictureBlock& p) {
    out.append(p.true_scale ? "<figure class=\"true\">\n" : "<figure class=\"wide\">\n")
        .append(to_svg(p.picture, language))
        .append("<figcaption>" + sentence_html(p.caption) + "</figcaption></figure>\n");
  }
  void operator()(const TwoColumns& b) {
    out.append("<div class=\"beside\">\n");
    for (const auto* half : {&b.left, &b.right}) {
      out.append("<div>\n");
      for (const TwoColumns::Half& block : *half) std::visit(*this, block);
      out.append("</div>\n");
    }
    out.append("</div>\n");
  }
  void operator()(const LargeNumbers& l) {
    out.append("<div class=\"large\">\n");
    for (const LargeNumbers::Number& n : l.numbers)
      out.append("<p>" + sentence_html(n.label) + "<strong>" + cell(n.value) + "</strong></p>\n");
    out.append("</div>\n");
  }
  void operator()(const Boxes& b) {
    out.append(fmt::format("<div class=\"boxes\" style=\"grid-template-columns:repeat({},1fr)\">\n",
                           std::clamp(b.columns, 1, 6)));
    for (const Boxes::Box& box : b.boxes)
      out.append("<div><p>" + sentence_html(box.label) +
                 fmt::format("</p><div class=\"box\" style=\"height:{:.1f}mm\"></div></div>\n",
                             std::clamp(box.height_mm, 8.0, 200.0)));
    out.append("</div>\n");
  }
  void operator()(const PageBreak&) { out.append("<div class=\"break\"></div>\n"); }
  void operator()(const Drawing& d) {
    out.append("<figure>\n")
        .append(d.svg)
        .append("<figcaption>" + sentence_html(d.caption) + "</figcaption></figure>\n");
  }
};

}  // namespace

std::string to_html(const Document& document, Language language) {
  HtmlWriter w{language, ""};
  const std::string title = w.sentence_html(document.title);
  w.out.append("<!DOCTYPE html>\n<html lang=\"").append(language.file->code);
  w.out.append("\">\n<head><meta charset=\"utf-8\"><title>" + title + "</title><style>" + look +
               "</style></head>\n<body>\n");
  w.out.append("<h1>" + title + "</h1>\n");
  if (!document.mark.empty()) w.out.append("<p class=\"mark\">" + escaped(visible(document.mark)) + "</p>\n");
  for (const Block& block : document.blocks) std::visit(w, block);
  w.out.append("<footer>\n");
  for (const Message& m : document.foot) w.out.append("<p>" + w.sentence_html(m) + "</p>\n");
  w.out.append("</footer>\n</body>\n</html>\n");
  return w.out;
}

}  // namespace seamwright::reports

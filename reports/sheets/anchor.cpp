// SPDX-License-Identifier: GPL-3.0-or-later
#include "reports/sheets/sheets.h"

namespace seamwright::reports {

std::string short_head(const std::string& head) {
  constexpr std::size_t figures = 8;
  const std::size_t colon = head.find(':');
  return colon == std::string::npos ? head : head.substr(0, colon + 1 + figures);
}

void anchor(Document& d, const Anchor& a, const std::string& number) {
  const std::string head = short_head(a.head);
  d.mark = a.serial.empty() ? number : number.empty() ? a.serial : a.serial + " · " + number;
  d.code = a.serial.empty() ? number : a.serial;
  if (!head.empty()) d.code.append(d.code.empty() ? "" : " ").append(head);
  if (!head.empty())
    d.foot.push_back({"record.head", {text("head", head), text("book", a.book.substr(0, 12))}});
}

void add_design_foot(Document& d, const design::Design& design) {
  d.foot.push_back({"sheet.design-foot",
                    {text("design", design.identity.name + " " + design.identity.revision),
                     text("hash", design.identity.sha256.substr(0, 12))}});
}

}  // namespace seamwright::reports

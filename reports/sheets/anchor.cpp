// SPDX-License-Identifier: GPL-3.0-or-later
#include "reports/sheets/sheets.h"

#include "catalog/book/records/names.h"
#include "catalog/book/transitions.h"
#include "reports/content/evidence_blocks.h"

namespace seamwright::reports {

std::string short_head(const std::string& head) {
  constexpr std::size_t figures = 32;  // 128 bits: nobody finds another chain that ends so
  const std::size_t colon = head.find(':');
  return colon == std::string::npos ? head : head.substr(0, colon + 1 + figures);
}

Anchor anchor_of(const book::Book& book, const std::string& serial) {
  const auto frames = serial.empty() ? std::vector<book::Record>() : book.current({book::mark::frame, serial}, book::kind::frame);
  return {serial, book.id(), book.head(), !frames.empty() && frames.back().content.value(book::field::rig_only, false),
          book::is_shop_of_one(book)};
}

void anchor(Document& d, const Anchor& a, const std::string& number) {
  if (a.rig_only) d.blocks.insert(d.blocks.begin(), Caution{{message_of("sheet.rig-only")}});
  if (a.shop_of_one) d.foot.push_back(message_of("sheet.shop-of-one"));
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

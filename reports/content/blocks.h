// SPDX-License-Identifier: GPL-3.0-or-later
// A result or sheet says what it says once, as blocks; the renderers turn them into terminal text, HTML and
// pages. Sentences are message ids; the languages stand in reports/text.
#pragma once

#include <string>
#include <variant>
#include <vector>

#include "reports/content/cell.h"
#include "reports/content/picture.h"

namespace seamwright::reports {

struct Heading {
  int level = 1;
  Message text;
};
struct Paragraph {
  Message text;
};
struct Facts {
  struct Fact {
    Message label;
    Cell value;
  };
  std::vector<Fact> facts;
  bool small = false;  ///< on paper, worked numbers that stand behind the large ones
};
struct Table {
  std::vector<Message> columns;
  std::vector<std::vector<Cell>> rows;
  /// These columns are left out first where a terminal is too narrow, in this order; without any, from the right.
  std::vector<std::size_t> first_to_go{};
};
/// Framed; for what can hurt someone.
struct Caution {
  std::vector<Message> texts;
};
/// The one answer of the page.
struct Answer {
  State verdict;
  Message text;
};
/// A tree of reasons.
struct Reason {
  Message text;
  std::vector<Reason> because;
};
struct Reasons {
  std::vector<Reason> reasons;
};
/// A drawing of our own; trusted SVG.
struct Drawing {
  std::string svg;
  Message caption;
};
/// A picture of plain shapes: frame views and plots.
struct PictureBlock {
  Picture picture;
  Message caption;
  bool true_scale = false;  ///< on paper a millimetre is a millimetre, or there is no paper (pages.true-scale)
};
/// Two columns: one above the other where there is no room for both.
struct TwoColumns {
  using Half = std::variant<Facts, Table, Drawing, PictureBlock>;
  std::vector<Half> left, right;
};
/// The numbers a person sets or needs at this place, side by side: on paper at least three times the body's
/// size.
struct LargeNumbers {
  struct Number {
    Message label;
    Cell value;
  };
  std::vector<Number> numbers;
};
/// Filled in by hand, `columns` boxes side by side, each at least 8 mm high.
struct Boxes {
  struct Box {
    Message label;
    double height_mm = 8;
  };
  std::vector<Box> boxes;
  int columns = 2;
};
/// Starts a page on paper; elsewhere nothing.
struct PageBreak {};
using Block = std::variant<Heading, Paragraph, Facts, Table, Caution, Answer, Reasons, Drawing, PictureBlock,
                           TwoColumns, LargeNumbers, Boxes, PageBreak>;

struct Document {
  Message title;
  std::string mark{};  ///< serial or procedure number, beside the title on every page
  std::string code{};  ///< what the QR code of every page says; "" = none
  bool landscape = false;
  bool finding = false;   ///< something on it must be mended before it can be used
  bool one_page = false;  ///< set in smaller type, down to 72 %, where that brings it onto one page
  std::vector<Block> blocks;
  std::vector<Message> foot;  ///< program version, hashes
};

}  // namespace seamwright::reports

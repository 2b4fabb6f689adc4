// SPDX-License-Identifier: GPL-3.0-or-later
// Records of a book by mark: each mark is asked for once, and as many together as are known to be wanted.
#pragma once

#include <map>
#include <string>
#include <utility>
#include <vector>

#include "catalog/book/book.h"

namespace seamwright::book {

class Lookup {
 public:
  explicit Lookup(const Book& book) : book_(book) {}
  const Book& book() const { return book_; }
  /// One question for all of them that were not asked for yet; none where all were.
  void ask(const std::vector<Mark>& marks);
  /// Finds an entry by seq; asks for the mark alone where that was not done before.
  const std::vector<Record>& find(const Mark& mark);
  /// Those of one kind that no later entry replaced.
  const std::vector<Record>& current(const Mark& mark, const std::string& kind);
  /// The record of that number among all that were found; null where it is not there.
  const Record* record(std::int64_t seq) const;

 private:
  const Book& book_;
  std::map<Mark, std::vector<Record>> found_;
  std::map<std::pair<Mark, std::string>, std::vector<Record>> current_;
};

/// A frame carries these, by all records that name it: lots, batches, welders, machines, procedures, designs.
std::vector<Mark> carried_by_records(const std::vector<Record>& of_frame);

/// Tells what to ask for to know what stands behind such marks: themselves, of a machine or tool also its
/// calibrations, of a welder also the person.
std::vector<Mark> marks_behind(const std::vector<Mark>& carried);

/// Tells what to ask for to know all about the certificates of those welders, which were asked for before.
std::vector<Mark> certificate_marks(Lookup& lookup, const std::vector<Mark>& carried);

}  // namespace seamwright::book

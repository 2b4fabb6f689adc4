// SPDX-License-Identifier: GPL-3.0-or-later
// Groups of parent metals: which there are, and which pairs a test covers.
#include <algorithm>
#include <cstdlib>

#include "engine/qualification/procedure_check.h"

namespace seamwright::qualification {

namespace {

int major_of(const std::string& group) { return std::atoi(group.c_str()); }
int minor_of(const std::string& group) {
  const std::size_t dot = group.find('.');
  return dot == std::string::npos ? 0 : std::atoi(group.c_str() + dot + 1);
}

// One side of the pair within the tested group: equal or lower yield (1 to 3), same or lower sub-group (4 to
// 6).
Answer lower_or_equal(const Variables& tested, const std::string& group, double yield) {
  if (major_of(tested.first_group) <= 3) {
    if (!(yield > 0 && tested.first_yield_mpa > 0)) return Answer::cannot_decide;
    return yield <= tested.first_yield_mpa * (1 + 1e-9) ? Answer::yes : Answer::no;
  }
  if (minor_of(group) == 0 || minor_of(tested.first_group) == 0) return Answer::cannot_decide;
  return minor_of(group) <= minor_of(tested.first_group) ? Answer::yes : Answer::no;
}

}  // namespace

const std::vector<std::string>& steel_groups() {
  static const std::vector<std::string> groups{
      "1",   "1.1", "1.2",  "1.3",  "1.4",  "2",   "2.1",  "2.2",  "3",   "3.1", "3.2", "3.3",
      "4",   "4.1", "4.2",  "5",    "5.1",  "5.2", "5.3",  "5.4",  "6",   "6.1", "6.2", "6.3",
      "6.4", "7",   "7.1",  "7.2",  "7.3",  "8",   "8.1",  "8.2",  "8.3", "9",   "9.1", "9.2",
      "9.3", "10",  "10.1", "10.2", "10.3", "11",  "11.1", "11.2", "11.3"};
  return groups;
}

bool is_group(const std::string& group) {
  const auto& all = steel_groups();
  return std::find(all.begin(), all.end(), group) != all.end();
}

Answer group_covered(const Variables& t, const Variables& a) {
  if (t.first_group.empty() || a.first_group.empty() || a.second_group.empty()) return Answer::cannot_decide;
  for (const std::string* group : {&t.first_group, &t.second_group, &a.first_group, &a.second_group})
    if (!is_group(*group)) return Answer::no;
  const int test = major_of(t.first_group);
  if (test != major_of(t.second_group) || test < 1 || test > 6) return Answer::cannot_decide;
  // The higher group of the joint first.
  std::string high = a.first_group, low = a.second_group;
  double high_yield = a.first_yield_mpa, low_yield = a.second_yield_mpa;
  if (major_of(high) < major_of(low)) {
    std::swap(high, low);
    std::swap(high_yield, low_yield);
  }
  const int first = major_of(high), second = major_of(low);
  if (first > test || first < 1) return Answer::no;
  if (first == test) {
    const Answer one = lower_or_equal(t, high, high_yield);
    if (second == test) return worse_of(one, lower_or_equal(t, low, low_yield));
    const bool listed = test <= 3 ? second < test : second <= 2 || (test == 6 && second == 4);
    return listed ? one : Answer::no;
  }
  // A test in group 2 covers 1-1, one in 3 covers 1-1, 2-1 and 2-2; the others only pairs with their own
  // group.
  return test == 2 || test == 3 ? Answer::yes : Answer::no;
}

}  // namespace seamwright::qualification

// SPDX-License-Identifier: GPL-3.0-or-later
// Checks against something outside the project. A test names its source; comparisons stand as in any other
// test. With SEAMWRIGHT_CHECKS=FILE in the environment each check is also written there, a line of JSON, for
// the validation report.
#pragma once

#include <catch2/catch.hpp>
#include <string>

namespace seamwright::outside {

/// The expected values come from one of these.
enum class Basis {
  printed,      ///< a worked example or table that the source prints
  closed_form,  ///< an exact solution, derived or from a handbook
  evaluated,    ///< the source's formula evaluated apart from the program
  measured,     ///< measurements or a certified data set
  recalled,     ///< value or formula remembered, not read again
  ours          ///< nothing outside: the program's own habits, left out of the report
};

/// Says what the checks of the enclosing block are held to; the innermost one counts.
class Source {
 public:
  Source(Basis basis, std::string source, std::string tolerance);
  Source(const Source&) = delete;
  Source& operator=(const Source&) = delete;
  ~Source();

  Basis basis;
  std::string source;
  std::string tolerance;  ///< why the tolerance is what it is
  const Source* around;
};

/// Remembers a comparison of numbers for the assertion that is about to end.
void compare(double obtained, double expected, double tolerance);

/// A number to be met within the larger of margin and epsilon times its size; 1.2e-5 of it when nothing is
/// said.
class Expected {
 public:
  explicit Expected(double value) : value_(value) {}
  Expected epsilon(double relative) const;
  Expected margin(double absolute) const;
  bool met_by(double obtained) const;
  friend bool operator==(double obtained, const Expected& e) { return e.met_by(obtained); }
  friend std::ostream& operator<<(std::ostream& out, const Expected& e);

 private:
  double value_;
  double epsilon_ = 1.2e-5;
  double margin_ = 0;
};

/// A value that was evaluated or printed to four decimals.
Expected four_decimals(double value);

class Within : public Catch::MatcherBase<double> {
 public:
  explicit Within(const Expected& expected) : expected_(expected) {}
  bool match(const double& obtained) const override { return expected_.met_by(obtained); }
  std::string describe() const override;

 private:
  Expected expected_;
};
Within WithinAbs(double value, double margin);
Within WithinRel(double value, double relative);

/// One bound of a rule, seen from both sides.
void edge(const std::string& what, const std::string& bound, const std::string& on_it,
          const std::string& beyond);

}  // namespace seamwright::outside

/// SOURCE(basis, "source, clause", "why this tolerance")
#define SOURCE(...)                                                      \
  const seamwright::outside::Source INTERNAL_CATCH_UNIQUE_NAME(source) { \
    seamwright::outside::Basis::__VA_ARGS__                              \
  }

/// Marks a test that is held to nothing outside.
#define OURS SOURCE(ours, "", "")

/// EDGE("quantity", "bound", holds on the bound, holds beyond it)
#define EDGE(what, bound, on_it, beyond)                     \
  do {                                                       \
    CHECK(on_it);                                            \
    CHECK(beyond);                                           \
    seamwright::outside::edge(what, bound, #on_it, #beyond); \
  } while (false)

// SPDX-License-Identifier: GPL-3.0-or-later
#define CATCH_CONFIG_EXTERNAL_INTERFACES
#include "tests/published/outside/outside.h"

#include <cmath>
#include <cstdlib>
#include <fstream>
#include <nlohmann/json.hpp>
#include <optional>

namespace seamwright::outside {
namespace {

struct Comparison {
  double obtained, expected, tolerance;
};
const Source* innermost = nullptr;
std::optional<Comparison> pending;
std::string current_test;
Catch::SourceLineInfo current_line{"", 0};

const char* name_of(Basis basis) {
  switch (basis) {
    case Basis::printed:
      return "printed";
    case Basis::closed_form:
      return "closed form";
    case Basis::evaluated:
      return "evaluated";
    case Basis::measured:
      return "measured";
    case Basis::recalled:
      return "recalled";
    case Basis::ours:
      break;
  }
  return "ours";
}

void write(nlohmann::json entry) {
  const char* path = std::getenv("SEAMWRIGHT_CHECKS");
  if (!path) return;
  entry["test"] = current_test;
  if (innermost) {
    entry["basis"] = name_of(innermost->basis);
    entry["source"] = innermost->source;
    entry["why"] = innermost->tolerance;
  }
  std::ofstream(path, std::ios::app) << entry.dump() << '\n';
}

/// "1.5 == 1.5" compares numbers as well, exactly; words of an enumeration are none.
std::optional<Comparison> exact(const std::string& expression, const std::string& expanded) {
  const std::size_t compared = expression.find(" == ");
  if (compared == std::string::npos || expression.find("::", compared) != std::string::npos) return {};
  const std::size_t equals = expanded.find(" == ");
  if (equals == std::string::npos) return {};
  const std::string left = expanded.substr(0, equals), right = expanded.substr(equals + 4);
  char *left_end = nullptr, *right_end = nullptr;
  const double obtained = std::strtod(left.c_str(), &left_end),
               expected = std::strtod(right.c_str(), &right_end);
  const auto rest = [](const char* end) {
    return std::string(end).find_first_not_of('f') != std::string::npos;
  };
  if (left.empty() || right.empty() || left_end == left.c_str() || right_end == right.c_str() ||
      rest(left_end) || rest(right_end))
    return {};
  return Comparison{obtained, expected, 0};
}

struct Listener : Catch::TestEventListenerBase {
  using TestEventListenerBase::TestEventListenerBase;

  void testCaseStarting(const Catch::TestCaseInfo& info) override {
    current_test = info.name;
    current_line = info.lineInfo;
    pending.reset();
  }

  bool assertionEnded(const Catch::AssertionStats& stats) override {
    const Catch::AssertionResult& result = stats.assertionResult;
    const std::optional<Comparison> compared =
        pending ? std::exchange(pending, {}) : exact(result.getExpression(), result.getExpandedExpression());
    nlohmann::json entry{{"file", result.getSourceInfo().file},
                         {"line", result.getSourceInfo().line},
                         {"what", result.getExpression()},
                         {"met", result.succeeded()}};
    for (const Catch::MessageInfo& message : stats.infoMessages) entry["which"].push_back(message.message);
    if (compared) {
      entry["obtained"] = compared->obtained;
      entry["expected"] = compared->expected;
      entry["tolerance"] = compared->tolerance;
    }
    write(std::move(entry));
    return true;
  }
};
CATCH_REGISTER_LISTENER(Listener)

}  // namespace

Source::Source(Basis b, std::string s, std::string t)
    : basis(b), source(std::move(s)), tolerance(std::move(t)), around(innermost) {
  innermost = this;
}
Source::~Source() { innermost = around; }

void compare(double obtained, double expected, double tolerance) {
  pending = {obtained, expected, tolerance};
}

Expected Expected::epsilon(double relative) const {
  Expected e = *this;
  e.epsilon_ = relative;
  return e;
}

Expected Expected::margin(double absolute) const {
  Expected e = *this;
  e.margin_ = absolute;
  return e;
}

bool Expected::met_by(double obtained) const {
  const double tolerance = std::max(margin_, epsilon_ * (std::isinf(value_) ? 0 : std::abs(value_)));
  compare(obtained, value_, tolerance);
  return std::abs(obtained - value_) <= tolerance || obtained == value_;
}

std::ostream& operator<<(std::ostream& out, const Expected& e) {
  return out << e.value_ << " within " << std::max(e.margin_, e.epsilon_ * std::abs(e.value_));
}

Expected four_decimals(double value) { return Expected(value).epsilon(0).margin(0.6e-4); }

std::string Within::describe() const {
  std::ostringstream out;
  out << "is " << expected_;
  return out.str();
}

Within WithinAbs(double value, double margin) { return Within(Expected(value).epsilon(0).margin(margin)); }
Within WithinRel(double value, double relative) { return Within(Expected(value).epsilon(relative)); }

void edge(const std::string& what, const std::string& bound, const std::string& on_it,
          const std::string& beyond) {
  write({{"file", current_line.file},
         {"line", current_line.line},
         {"edge", what},
         {"bound", bound},
         {"on", on_it},
         {"beyond", beyond}});
}

}  // namespace seamwright::outside

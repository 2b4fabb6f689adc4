// SPDX-License-Identifier: GPL-3.0-or-later
// Every published formula by name, with its parameters: one number alone, with everything behind it.
#pragma once

#include <limits>
#include <map>
#include <optional>
#include <string>
#include <vector>

#include "engine/evidence/evidence.h"

namespace seamwright::published {
struct Catalog;
}

namespace seamwright::figures {

enum class ParameterKind {
  number,
  text,     ///< one of the choices, or free when there are none
  spectrum  ///< "cycles@range_mpa,cycles@range_mpa,..."
};

struct Parameter {
  std::string name;  ///< with its unit: "wall_mm"
  std::string unit;
  ParameterKind kind = ParameterKind::number;
  std::vector<std::string> choices;
  std::optional<std::string> standard;  ///< taken when not given
  bool optional = false;                ///< only some choices need it
};

struct NamedValue {
  std::string name;
  double value = 0;
  std::string unit;
};

struct FigureResult {
  std::string figure;
  std::vector<NamedValue> values;  ///< one, or several
  Evidence evidence;
};

/// The arguments of one call, checked against the figure's parameters.
class Arguments {
 public:
  /// Throws Fault "figure.unknown-parameter" (nearest known), "figure.bad-value".
  Arguments(const std::vector<Parameter>& parameters, const std::map<std::string, std::string>& given);

  bool has(const std::string& name) const { return texts_.contains(name); }
  /// Throw Fault "figure.missing-parameter"; number() also "figure.bad-value" outside min..max.
  double number(const std::string& name, double min = -1e12, double max = 1e12) const;
  const std::string& text_of(const std::string& name) const;
  /// Pairs of cycles and range.
  std::vector<std::pair<double, double>> spectrum(const std::string& name) const;

 private:
  std::map<std::string, std::string> texts_;
};

struct Figure {
  std::string name;
  std::vector<Parameter> parameters;
  Source source;
  FigureResult (*compute)(const Arguments&, const published::Catalog&);
};

/// All figures, by name.
const std::vector<Figure>& figures();

/// Checks names and values and computes. Throws Fault "figure.unknown" (nearest known), what Arguments
/// throws, and the Faults of the formula itself.
FigureResult compute(const std::string& name, const std::map<std::string, std::string>& arguments,
                     const published::Catalog& catalog);

}  // namespace seamwright::figures

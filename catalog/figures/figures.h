// SPDX-License-Identifier: GPL-3.0-or-later
// Every published formula by name, with its parameters: one number alone, with everything behind it.
#pragma once

#include <functional>
#include <map>
#include <optional>
#include <string>
#include <vector>

#include "catalog/published/published.h"
#include "engine/evidence/evidence.h"

namespace seamwright::figures {

struct Parameter {
  std::string name;        ///< with unit: "wall_mm"
  std::string unit;
  bool is_text = false;
  std::vector<std::string> choices;  ///< of a text parameter
  std::optional<std::string> standard;  ///< value when not given
};

struct NamedValue {
  std::string name;
  double value = 0;
  std::string unit;
};

struct FigureResult {
  std::string figure, unit;
  std::vector<NamedValue> values;  ///< one, or several
  Evidence evidence;
};

struct Figure {
  std::string name;
  std::vector<Parameter> parameters;
  Source source;
  std::function<FigureResult(const std::map<std::string, std::string>&, const published::Catalog&)> compute;
};

const std::vector<Figure>& figures();

/// Checks names and values and computes. Throws Fault: "figure.unknown", "figure.unknown-parameter" (nearest known),
/// "figure.missing-parameter", "figure.bad-value".
FigureResult compute(const std::string& name, const std::map<std::string, std::string>& arguments,
                     const published::Catalog& catalog);

}  // namespace seamwright::figures

// SPDX-License-Identifier: GPL-3.0-or-later
// The figures of each subject, and short ways to write their parameters.
#pragma once

#include <utility>

#include "catalog/figures/figures.h"

namespace seamwright::figures {

std::vector<Figure> frame_figures();
std::vector<Figure> joint_figures();
std::vector<Figure> fatigue_figures();
std::vector<Figure> load_figures();
std::vector<Figure> strength_figures();
std::vector<Figure> procedure_figures();

inline Parameter needed_parameter(std::string name, std::string unit) {
  return {std::move(name), std::move(unit), ParameterKind::number, {}, {}, false};
}
inline Parameter optional_parameter(std::string name, std::string unit) {
  return {std::move(name), std::move(unit), ParameterKind::number, {}, {}, true};
}
inline Parameter defaulted_parameter(std::string name, std::string unit, std::string value) {
  return {std::move(name), std::move(unit), ParameterKind::number, {}, std::move(value), false};
}
inline Parameter choice_parameter(std::string name, std::vector<std::string> choices,
                                  std::optional<std::string> value) {
  return {std::move(name), "", ParameterKind::text, std::move(choices), std::move(value), false};
}

}  // namespace seamwright::figures

// SPDX-License-Identifier: GPL-3.0-or-later
// Shapes and arrays of numbers as JSON values, for the tasks and answers of the worker. Readers throw a std::exception for what
// cannot be.
#pragma once

#include <cmath>
#include <cstdint>
#include <cstring>
#include <nlohmann/json.hpp>
#include <stdexcept>
#include <string>
#include <vector>

#include "engine/shape/part.h"

namespace seamwright::models::wire {

using nlohmann::json;
using shape::Vec3;

[[noreturn]] inline void refuse(const char* what) { throw std::runtime_error(what); }

/// Rounds to a millionth: equal shapes give equal bytes.
inline double rounded(double v) { return std::round(v * 1e6) / 1e6 + 0.0; }

json to_json(const Vec3& v);
Vec3 vector_of(const json& j);
json to_json(const shape::Stretch& s);
shape::Stretch stretch_of(const json& j);
json to_json(const std::vector<shape::Cut>& cuts);
std::vector<shape::Cut> cuts_of(const json& j);
json to_json(const shape::FilletAround& f);
shape::FilletAround fillet_of(const json& j);
/// A part without steel and member.
json to_json(const shape::Part& p);
shape::Part part_of(const json& j);
json to_json(const shape::WeldBody& w);
shape::WeldBody weld_of(const json& j);

inline json binary(const void* data, std::size_t bytes) {
  const auto* from = static_cast<const std::uint8_t*>(data);
  return json::binary(std::vector<std::uint8_t>(from, from + bytes));
}
inline json binary(const std::string& text) { return binary(text.data(), text.size()); }
inline std::string text_of(const json& j) {
  const auto& b = j.get_binary();
  return {b.begin(), b.end()};
}

template <class Number>
json numbers(const std::vector<Number>& v) {
  return binary(v.data(), v.size() * sizeof(Number));
}
template <class Number>
std::vector<Number> numbers_of(const json& j) {
  const auto& b = j.get_binary();
  if (b.size() % sizeof(Number) != 0) refuse("not whole numbers");
  std::vector<Number> v(b.size() / sizeof(Number));
  if (!v.empty()) std::memcpy(v.data(), b.data(), b.size());
  return v;
}

}  // namespace seamwright::models::wire

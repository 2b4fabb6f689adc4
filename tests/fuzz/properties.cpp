// SPDX-License-Identifier: GPL-3.0-or-later
#include <algorithm>
#include <cmath>
#include <cstring>

#include "catalog/book/canonical.h"
#include "catalog/book/keys.h"
#include "engine/cycles/rainflow.h"
#include "engine/fatigue/curve.h"
#include "tests/fuzz/targets.h"

namespace seamwright::fuzz {

// Canonical text reads back and is written the same.
void json(std::string_view input) {
  const book::Json value = book::Json::parse(input, nullptr, false);
  if (value.is_discarded()) return;
  const std::string once = book::canonical(value);
  promise(book::canonical(book::Json::parse(once)) == once, "canonical JSON is written the same again");
}

// A signal that swings wider never does less damage.
void damage(std::string_view input) {
  std::vector<double> signal, wider;
  for (const char c : input.substr(0, 4096))
    signal.push_back(static_cast<double>(static_cast<signed char>(c)));
  for (const double v : signal) wider.push_back(1.25 * v);
  fatigue::Curve curve;
  curve.segments = {{3, 11.855, 1e7}, {5, 15.091, INFINITY}};
  const fatigue::DamageLaw law(curve);
  const auto damage_of = [&](const std::vector<double>& values) {
    double sum = 0;
    const auto add = [&](const cycles::Cycle& c) { sum += c.count * law.damage(c.range()); };
    cycles::Rainflow flow;
    flow.push(values, add);
    flow.finish(cycles::Residue::half, add);
    return sum;
  };
  const double one = damage_of(signal), more = damage_of(wider);
  promise(std::isfinite(one) && one >= 0, "damage is a number");
  promise(more >= one * (1 - 1e-12), "a wider signal does no less damage");
}

// A signed text that is touched anywhere no longer verifies.
void touched_record(std::string_view input) {
  static const std::string record = R"({"frame":"F1","heat_kj_mm":0.21,"weld":"W16","welder":"W-A"})";
  static const book::KeyPair pair = book::new_keys("a long secret");
  static const std::string signature = book::OpenKey(pair.sealed_hex, "a long secret").sign(record);
  promise(book::signature_holds(pair.public_hex, record, signature), "an untouched record verifies");
  std::string touched = record;
  for (std::size_t i = 0; i + 1 < input.size(); i += 2)
    touched[static_cast<unsigned char>(input[i]) % touched.size()] ^= input[i + 1];
  if (touched != record)
    promise(!book::signature_holds(pair.public_hex, touched, signature), "a touched record does not verify");
  promise(!book::signature_holds(pair.public_hex, record, std::string(input)), "any bytes are no signature");
}

}  // namespace seamwright::fuzz

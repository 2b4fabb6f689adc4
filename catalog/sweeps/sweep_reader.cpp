// SPDX-License-Identifier: GPL-3.0-or-later
#include "catalog/sweeps/sweep_reader.h"

#include <algorithm>

#include "catalog/files/parse.h"
#include "catalog/published/sha256.h"
#include "engine/rating/job.h"

namespace seamwright::sweeps {

namespace {

constexpr std::size_t most_variants = 1000000000;

using files::Reader;

std::vector<double> values_of(Reader& r) {
  std::vector<double> values;
  if (r.has("values")) {
    values = r.reals("values", {-1e12, 1e12});
  } else {
    const double from = r.real("from", {-1e9, 1e9}), to = r.real("to", {-1e9, 1e9}),
                 steps = r.real("steps", {2, 1e6});
    const auto count = static_cast<std::size_t>(steps);
    for (std::size_t i = 0; i < count; ++i)
      values.push_back(from + (to - from) * static_cast<double>(i) / static_cast<double>(count - 1));
  }
  if (values.empty()) r.refuse_missing("values", "one number or more");
  return values;
}

}  // namespace

Sweep read_sweep(const files::SourceFile& file) {
  const std::string content = files::read_text(file);
  const toml::table table = files::parse(file.name, content);
  Reader root(file, "sweep", table, nullptr, nullptr);
  root.choice("format", {"seamwright.sweep/1"});
  root.text_or("note", "");
  Sweep sweep;
  sweep.sha256 = sha256_hex(content);
  if (root.has("method")) sweep.time_domain = root.choice("method", {"time", "spectral"}) == "time";
  if (root.has("duties"))
    for (const std::string& duty : root.texts("duties")) sweep.duties.push_back(file.beside(duty).name);
  for (const toml::table* t : root.tables("parameter")) {
    Reader r = root.sub_reader("parameter", *t);
    SweepParameter p;
    p.place = r.text("place");
    p.in_duty = r.has("file") && r.choice("file", {"design", "duty"}) == "duty";
    p.values = values_of(r);
    r.finish();
    sweep.parameters.push_back(std::move(p));
  }
  root.finish();
  if (sweep.parameters.empty() && sweep.duties.empty())
    root.refuse_missing("parameter", "[[parameter]] or duties");
  double count = static_cast<double>(std::max<std::size_t>(1, sweep.duties.size()));
  for (const SweepParameter& p : sweep.parameters) count *= static_cast<double>(p.values.size());
  if (count > static_cast<double>(most_variants))
    throw Fault{Message{"sweep.too-many", {number("count", count, "")}}};
  return sweep;
}

std::size_t variants_of(const Sweep& sweep) {
  std::size_t count = std::max<std::size_t>(1, sweep.duties.size());
  for (const SweepParameter& p : sweep.parameters) count *= p.values.size();
  return count;
}

Variant variant_of(const Sweep& sweep, std::size_t number) {
  Variant v;
  v.values.resize(sweep.parameters.size());
  for (std::size_t k = sweep.parameters.size(); k-- > 0;) {
    const SweepParameter& p = sweep.parameters[k];
    v.values[k] = p.values[number % p.values.size()];
    number /= p.values.size();
  }
  for (std::size_t k = 0; k < sweep.parameters.size(); ++k) {
    const SweepParameter& p = sweep.parameters[k];
    (p.in_duty ? v.changes.duty : v.changes.design).emplace_back(p.place, v.values[k]);
  }
  if (!sweep.duties.empty()) v.duty = sweep.duties.at(number);
  return v;
}

}  // namespace seamwright::sweeps

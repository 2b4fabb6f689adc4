// SPDX-License-Identifier: GPL-3.0-or-later
#include "catalog/figures/figures.h"

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>
#include <string_view>

#include "catalog/figures/subjects.h"
#include "catalog/published/nearest.h"
#include "engine/evidence/typed.h"

namespace seamwright::figures {

namespace {

std::string joined(const std::vector<std::string>& words) {
  std::string all;
  for (const std::string& w : words) all.append(all.empty() ? "" : ", ").append(w);
  return all;
}

[[noreturn]] void bad_value(const std::string& name, const std::string& found, const std::string& expected) {
  throw Fault{Message{"figure.bad-value",
                      {text("parameter", name), text("found", found), term_argument("expected", "expected.", expected)}}};
}

double to_number(const std::string& name, std::string_view found) {
  const auto value = typed_number(found);
  if (!value) bad_value(name, std::string(found), "a number with one decimal sign");
  return *value;
}

std::string value_text(double value) {
  std::array<char, 32> buffer{};
  const auto end = std::to_chars(buffer.data(), buffer.data() + buffer.size(), value).ptr;
  return {buffer.data(), end};
}

}  // namespace

Arguments::Arguments(const std::vector<Parameter>& parameters,
                     const std::map<std::string, std::string>& given) {
  std::vector<std::string> known;
  for (const Parameter& p : parameters) known.push_back(p.name);
  for (const auto& [name, value] : given) {
    const auto at = std::find(known.begin(), known.end(), name);
    if (at == known.end())
      throw Fault{Message{"figure.unknown-parameter",
                          {text("parameter", name), text("nearest", published::nearest_or_some(name, known)),
                           text("known", joined(known))}}};
    const Parameter& p = parameters[static_cast<std::size_t>(at - known.begin())];
    if (!p.choices.empty() && std::find(p.choices.begin(), p.choices.end(), value) == p.choices.end())
      bad_value(name, value, joined(p.choices));
    if (p.kind == ParameterKind::number) to_number(name, value);
    texts_[name] = value;
  }
  for (const Parameter& p : parameters) {
    if (texts_.contains(p.name)) continue;
    if (p.standard)
      texts_[p.name] = *p.standard;
    else if (!p.optional)
      throw Fault{Message{"figure.missing-parameter", {text("parameter", p.name)}}};
  }
}

const std::string& Arguments::text_of(const std::string& name) const {
  const auto at = texts_.find(name);
  if (at == texts_.end()) throw Fault{Message{"figure.missing-parameter", {text("parameter", name)}}};
  return at->second;
}

double Arguments::number(const std::string& name, double min, double max) const {
  const double value = to_number(name, text_of(name));
  if (value < min || value > max) bad_value(name, text_of(name), value_text(min) + " ... " + value_text(max));
  return value;
}

std::vector<std::pair<double, double>> Arguments::spectrum(const std::string& name) const {
  std::string_view rest = text_of(name);
  std::vector<std::pair<double, double>> lines;
  while (!rest.empty()) {
    const std::string_view line = rest.substr(0, rest.find(','));
    rest.remove_prefix(std::min(rest.size(), line.size() + 1));
    const std::size_t at = line.find('@');
    if (at == std::string_view::npos) bad_value(name, std::string(line), "cycles@range_mpa");
    lines.emplace_back(to_number(name, line.substr(0, at)), to_number(name, line.substr(at + 1)));
  }
  if (lines.empty()) bad_value(name, "", "cycles@range_mpa");
  return lines;
}

const std::vector<Figure>& figures() {
  static const std::vector<Figure> all = [] {
    std::vector<Figure> found;
    for (const auto& subject : {frame_figures(), joint_figures(), fatigue_figures(), load_figures(),
                                strength_figures(), procedure_figures()})
      found.insert(found.end(), subject.begin(), subject.end());
    std::sort(found.begin(), found.end(), [](const Figure& a, const Figure& b) { return a.name < b.name; });
    return found;
  }();
  return all;
}

FigureResult compute(const std::string& name, const std::map<std::string, std::string>& arguments,
                     const published::Catalog& catalog) {
  std::vector<std::string> known;
  for (const Figure& figure : figures()) {
    if (figure.name == name) return figure.compute(Arguments(figure.parameters, arguments), catalog);
    known.push_back(figure.name);
  }
  throw Fault{Message{"figure.unknown",
                      {text("figure", name), text("nearest", published::nearest(name, known)),
                       text("known", joined(known))}}};
}

}  // namespace seamwright::figures

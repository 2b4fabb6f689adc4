// SPDX-License-Identifier: GPL-3.0-or-later
#include "catalog/book/records/kinds.h"

#include <algorithm>
#include <array>
#include <unordered_map>
#include <vector>

#include "catalog/book/records/kind_rows.h"
#include "catalog/book/records/names.h"
#include "catalog/published/nearest.h"
#include "engine/evidence/evidence.h"

namespace seamwright::book {

namespace {

constexpr std::array roles{"welder", "engineer", "inspector", "auditor", "owner"};

// Kinds that decide who may sign, or that say what was seen on a day: a new entry follows, none is corrected.
constexpr std::array uncorrected{kind::format, kind::person, kind::revoke,     kind::role,      kind::key,
                                 kind::erase,  kind::correction, kind::annulment, kind::verification};

}  // namespace

std::span<const Kind> kinds() {
  static const std::vector<Kind> all = [] {
    std::vector<Kind> of_all;
    for (const auto part :
         {people_kinds(), design_kinds(), stock_kinds(), frame_kinds(), finding_kinds(), quality_kinds(), chain_kinds()})
      of_all.insert(of_all.end(), part.begin(), part.end());
    return of_all;
  }();
  return all;
}

const Kind* kind_of(std::string_view name) {
  static const auto by_name = [] {
    std::unordered_map<std::string_view, const Kind*> all;
    for (const Kind& k : kinds()) all.emplace(k.name, &k);
    return all;
  }();
  const auto found = by_name.find(name);
  return found == by_name.end() ? nullptr : found->second;
}

const Kind& kind_named(const std::string& name) {
  if (const Kind* known = kind_of(name)) return *known;
  std::vector<std::string> names;
  for (const Kind& k : kinds()) names.emplace_back(k.name);
  const std::string found = name.substr(0, 80);
  throw Fault{
      Message{"book.unknown-kind", {text("kind", found), text("nearest", published::nearest_or_some(found, names))}}};
}

const Field* field_of(const Kind& kind, std::string_view name) {
  const auto found =
      std::find_if(kind.fields.begin(), kind.fields.end(), [&](const Field& f) { return f.name == name; });
  return found == kind.fields.end() ? nullptr : &*found;
}

bool is_role(const std::string& role) { return std::find(roles.begin(), roles.end(), role) != roles.end(); }

bool may_sign(const std::string& role, const std::string& kind) {
  const Kind* known = kind_of(kind);
  if (!known || !is_role(role)) return false;
  const std::string_view signers = known->signers;
  if (role == "owner") return signers.find('O') == std::string_view::npos;
  return signers.find(role[0]) != std::string_view::npos;
}

bool may_be_corrected(const std::string& kind) {
  return std::find(uncorrected.begin(), uncorrected.end(), kind) == uncorrected.end();
}

}  // namespace seamwright::book

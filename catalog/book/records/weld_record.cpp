// SPDX-License-Identifier: GPL-3.0-or-later
#include "catalog/book/records/weld_record.h"

#include <algorithm>
#include <array>

namespace seamwright::book {

namespace {

using Member = std::variant<Weld::Text Weld::*, Weld::Number Weld::*, Weld::Texts Weld::*>;
struct Bound {
  const char* name;
  Member member;
};

constexpr std::array members{
    Bound{field::frame, &Weld::frame},
    Bound{field::weld, &Weld::weld},
    Bound{field::procedure, &Weld::procedure},
    Bound{field::revision, &Weld::revision},
    Bound{field::welder, &Weld::welder},
    Bound{field::machine, &Weld::machine},
    Bound{field::filler, &Weld::filler},
    Bound{field::gas, &Weld::gas},
    Bound{field::lots, &Weld::lots},
    Bound{field::on, &Weld::day},
    Bound{field::run, &Weld::run},
    Bound{field::position, &Weld::position},
    Bound{field::amperes, &Weld::amperes},
    Bound{field::volts, &Weld::volts},
    Bound{field::speed_mm_s, &Weld::speed_mm_s},
    Bound{field::power_w, &Weld::power_w},
    Bound{field::heat_kj_mm, &Weld::heat_kj_mm},
    Bound{field::preheat_c, &Weld::preheat_c},
    Bound{field::interpass_c, &Weld::interpass_c},
    Bound{field::gas_l_min, &Weld::gas_l_min},
    Bound{field::purge_l_min, &Weld::purge_l_min},
    Bound{field::gap_mm, &Weld::gap_mm},
    Bound{field::nonconformity, &Weld::nonconformity},
    Bound{field::reason, &Weld::reason},
    Bound{field::note, &Weld::note},
};

Value value_of(const Json& value) {
  if (value.is_number()) return value.get<double>();
  if (value.is_boolean()) return value.get<bool>();
  if (value.is_array()) return value.get<std::vector<std::string>>();
  return value.get<std::string>();
}

}  // namespace

Json payload_of(const Weld& weld) {
  Json payload = Json::object();
  for (const Bound& b : members)
    std::visit(
        [&](auto member) {
          if (weld.*member) payload[b.name] = *(weld.*member);
        },
        b.member);
  for (const auto& [name, value] : weld.others)
    std::visit([&, &key = name](const auto& v) { payload[key] = v; }, value);
  return payload;
}

void enter(Weld& weld, const Values& entered) {
  for (const auto& [name, value] : entered) {
    const auto bound = std::find_if(members.begin(), members.end(),
                                    [&wanted = name](const Bound& b) { return b.name == wanted; });
    if (bound == members.end())
      weld.others[name] = value;
    else
      std::visit(
          [&weld, &entered_value = value](auto member) {
            using MemberType = std::decay_t<decltype(*(weld.*member))>;
            weld.*member = std::get<MemberType>(entered_value);
          },
          bound->member);
  }
}

Weld weld_of(const Json& payload) {
  Values entered_value;
  for (const auto& [name, value] : payload.items()) entered_value.emplace(name, value_of(value));
  Weld weld;
  enter(weld, entered_value);
  return weld;
}

NewEntry weld_record(const Weld& weld, const std::string& kind) {
  return {kind, payload_of(weld), std::nullopt};
}

NewEntry record_from(const Kind& kind, const Json& payload, std::optional<Attachment> file) {
  Json whole = payload;
  if (file && whole.is_object())
    whole[field::file] = {{field::sha256, std::string(64, '0')}, {field::name, file->name}};
  check_payload(kind, whole);
  const std::string name = kind.name;
  if (name == kind::weld || name == kind::repair) return weld_record(weld_of(whole), name);
  return {name, payload, std::move(file)};
}

}  // namespace seamwright::book

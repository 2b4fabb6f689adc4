// SPDX-License-Identifier: GPL-3.0-or-later
#include "catalog/files/macros_reader.h"

#include <algorithm>
#include <chrono>
#include <limits>
#include <memory>
#include <vector>

#include "catalog/files/job_reader.h"
#include "catalog/files/parse.h"
#include "catalog/files/procedure_reader.h"
#include "catalog/files/reader.h"
#include "catalog/published/published_data.h"
#include "engine/design/weld_geometry.h"

namespace seamwright::files {

MacroShown shown_by_macro(const SourceFile& design, const std::string& id) {
  MacroShown shown;
  for (const SourceFile& file : design.beside("procedures").files_in(".toml")) {
    const toml::table table = parse(file.name, read_text(file));
    Reader root(file, "procedure", table, nullptr, nullptr);
    root.choice("format", {"seamwright.procedure/1"});
    for (const toml::table* t : root.tables("macro")) {
      Reader macro = root.sub_reader("macro", *t);
      if (macro.id("id") != id) continue;
      shown.fused = macro.choice("root", {"fused", "not-fused"}) == "fused" || shown.fused;
      shown.measured = macro.has("penetration_mm") || shown.measured;
    }
  }
  return shown;
}

namespace {

struct JobProcedures {
  std::vector<ProcedureFile> procedures;
  std::string unreadable;  ///< the first file that is none, "" = all are
};

// A file with a fault proves nothing; the fault itself is told where procedures are checked.
JobProcedures procedures_of(const SourceFile& design) {
  using namespace std::chrono;
  JobProcedures known;
  for (const SourceFile& file : design.beside("procedures").files_in(".toml")) try {
      known.procedures.push_back(read_procedure(file, 2199y / December / 31));
    } catch (const Fault&) {
      if (known.unreadable.empty()) known.unreadable = file.name;
    }
  return known;
}

struct Proof {
  std::optional<Message> doubt;
  int macros = 0;  // sections of its record that show as much
};

// A weld's proof is asked for all of the wall, or for so much of it.
constexpr double all_of_it = std::numeric_limits<double>::infinity();

// An examination that its test piece failed; one that is not stated takes nothing from a macro.
std::optional<qualification::Item> rejected_examination(const ProcedureFile& file) {
  const qualification::Check check = qualification::examined(*file.record, file.test, published::catalog().imperfections);
  const qualification::Item* reason = first_reason(check);
  return reason && reason->answer == qualification::Answer::no ? std::optional(*reason) : std::nullopt;
}

Proof proof_of(const design::Design& design, const joints::Weld& weld, const JobProcedures& known, double fusion_mm) {
  const std::string& id = weld.root_proof;
  const auto reaches = [&](const qualification::Macro& m) { return qualification::reaches(m, fusion_mm); };
  const auto proves = [&](const ProcedureFile& p) {
    return std::any_of(p.test.macros.begin(), p.test.macros.end(),
                       [&](const qualification::Macro& m) { return m.id == id && reaches(m); });
  };
  const auto& all = known.procedures;
  const auto of_proof = std::find_if(all.begin(), all.end(), proves);
  const auto own = std::find_if(all.begin(), all.end(),
                                [&](const ProcedureFile& p) { return p.sheet.id == weld.procedure; });
  if ((of_proof == all.end() || own == all.end()) && !known.unreadable.empty())
    return {Message{"macro.unreadable", {text("proof", id), text("where", known.unreadable)}}};
  if (of_proof == all.end() && fusion_mm < all_of_it)
    return {Message{"macro.not-as-deep", {text("proof", id), number("fusion", fusion_mm, "mm")}}};
  if (of_proof == all.end()) return {Message{"macro.not-fused", {text("proof", id)}}};
  if (own == all.end()) return {Message{"macro.no-procedure", {text("proof", id)}}};
  if (of_proof->record && own->sheet.record != of_proof->record->id)
    return {Message{
        "macro.other-record",
        {text("proof", id), text("procedure", own->sheet.id), text("record", of_proof->record->id)}}};
  const auto& macros = of_proof->test.macros;
  const qualification::Record* record = of_proof->record ? &*of_proof->record : nullptr;
  const qualification::Variables asked = qualification::joint_by(own->sheet, sizes_of(design, weld), numbers_of(*own).lowest_heat);
  if (auto doubt = fusion_mm < all_of_it ? qualification::fusion_doubt(record, macros, id, asked, fusion_mm)
                                         : qualification::root_doubt(record, macros, id, asked))
    return {std::move(doubt)};
  if (const auto why = rejected_examination(*of_proof))
    return {Message{"macro.piece-rejected",
                    {text("proof", id), term_argument("item", "item.", why->item), term_argument("found", "found.", why->found)}}};
  return {std::nullopt, static_cast<int>(std::count_if(macros.begin(), macros.end(), reaches))};
}

// A depth that is stated and does not count in full stands among the assumptions.
void note_fusion(design::Design& design, const joints::Weld& weld, double wall_mm) {
  const double counted = joints::counted_fusion_mm(weld, wall_mm);
  if (weld.root_proven || counted == weld.fusion_mm) return;
  const Argument id = text("weld", weld.id), depth = number("fusion", weld.fusion_mm, "mm");
  if (!weld.fusion_proven)
    design.assumptions.push_back({"assumption.fusion-not-proven", {id, depth}});
  else
    design.assumptions.push_back({"assumption.fusion-counted", {id, depth, number("counted", counted, "mm"), number("wall", wall_mm, "mm")}});
}

void prove_root(design::Design& design, joints::Weld& weld, const JobProcedures& known) {
  const Proof proof = proof_of(design, weld, known, all_of_it);
  weld.root_proven = !proof.doubt;
  if (weld.root_proven) weld.root_macros = proof.macros;
  if (weld.root_proven) return;
  weld.root_doubt = *proof.doubt;
  if (weld.fusion_mm > 0) {
    const Proof in_part = proof_of(design, weld, known, weld.fusion_mm);
    weld.fusion_proven = !in_part.doubt;
    weld.root_doubt = in_part.doubt.value_or(Message{});
    if (weld.fusion_proven) weld.root_macros = in_part.macros;
    return;
  }
  design.assumptions.push_back(
      {"assumption.root-not-proven", {text("weld", weld.id), text("proof", weld.root_proof)}});
}

}  // namespace

void prove_roots(design::Design& design, const SourceFile& file) {
  const auto named = [](const joints::Weld& w) { return !w.root_proof.empty(); };
  const bool any = std::any_of(design.welds.begin(), design.welds.end(), named);
  const JobProcedures known = any ? procedures_of(file) : JobProcedures{};
  for (joints::Weld& weld : design.welds) {
    if (named(weld)) prove_root(design, weld, known);
    if (!(weld.fusion_mm > 0)) continue;
    if (const frame::RoundTube* tube = design::round_tube(design.frame, weld.member)) note_fusion(design, weld, tube->wall_mm);
  }
}

namespace {

// The first procedure of the job whose macros prove all of the root, taken over; false where there is none.
bool proven_by_another(design::Design& design, joints::Weld& weld, const JobProcedures& known) {
  joints::Weld trial = weld;
  for (const ProcedureFile& p : known.procedures) {
    const auto fused = std::find_if(p.test.macros.begin(), p.test.macros.end(), [](const auto& m) { return m.fused; });
    if (fused == p.test.macros.end()) continue;
    trial.procedure = p.sheet.id;
    trial.root_proof = fused->id;
    const Proof proof = proof_of(design, trial, known, all_of_it);
    if (proof.doubt) continue;
    weld.procedure = trial.procedure;
    weld.root_proof = trial.root_proof;
    weld.root_proven = true;
    weld.root_macros = proof.macros;
    weld.root_doubt = {};
    return true;
  }
  return false;
}

void prove_changed(design::Design& design, joints::Weld& weld, const JobProcedures& known, bool all) {
  const bool named = !weld.root_proof.empty();
  if (!named && !(all && joints::at_tube_node(weld) && !weld.root_proven)) return;
  if (named) {
    prove_root(design, weld, known);
    if (weld.root_proven) return;
  }
  proven_by_another(design, weld, known);
}

}  // namespace

std::function<void(design::Design&)> root_prover(const SourceFile& file, bool all) {
  return [known = std::make_shared<const JobProcedures>(procedures_of(file)), all](design::Design& design) {
    for (joints::Weld& weld : design.welds) prove_changed(design, weld, *known, all);
  };
}

}  // namespace seamwright::files

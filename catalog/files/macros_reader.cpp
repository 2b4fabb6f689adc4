// SPDX-License-Identifier: GPL-3.0-or-later
#include "catalog/files/macros_reader.h"

#include <algorithm>
#include <chrono>
#include <vector>

#include "catalog/files/job_reader.h"
#include "catalog/files/parse.h"
#include "catalog/files/procedure_reader.h"
#include "catalog/files/reader.h"

namespace seamwright::files {

bool fused_macro(const SourceFile& design, const std::string& id) {
  bool fused = false;
  for (const SourceFile& file : design.beside("procedures").files_in(".toml")) {
    const toml::table table = parse(file.name, read_text(file));
    Reader root(file, "procedure", table, nullptr, nullptr);
    root.choice("format", {"seamwright.procedure/1"});
    for (const toml::table* t : root.tables("macro")) {
      Reader macro = root.sub_reader("macro", *t);
      const std::string root_is = macro.id("id") == id ? macro.choice("root", {"fused", "not-fused"}) : "";
      fused = fused || root_is == "fused";
    }
  }
  return fused;
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
  int macros = 0;  // fused sections of its record
};

Proof proof_of(const design::Design& design, const joints::Weld& weld, const JobProcedures& known) {
  const std::string& id = weld.root_proof;
  const auto proves = [&](const ProcedureFile& p) {
    return std::any_of(p.macros.begin(), p.macros.end(),
                       [&](const qualification::Macro& m) { return m.id == id && m.fused; });
  };
  const auto& all = known.procedures;
  const auto of_proof = std::find_if(all.begin(), all.end(), proves);
  const auto own = std::find_if(all.begin(), all.end(),
                                [&](const ProcedureFile& p) { return p.sheet.id == weld.procedure; });
  if ((of_proof == all.end() || own == all.end()) && !known.unreadable.empty())
    return {Message{"macro.unreadable", {text("proof", id), text("where", known.unreadable)}}};
  if (of_proof == all.end()) return {Message{"macro.not-fused", {text("proof", id)}}};
  if (own == all.end()) return {Message{"macro.no-procedure", {text("proof", id)}}};
  if (of_proof->record && own->sheet.record != of_proof->record->id)
    return {Message{
        "macro.other-record",
        {text("proof", id), text("procedure", own->sheet.id), text("record", of_proof->record->id)}}};
  const auto& macros = of_proof->macros;
  return {qualification::root_doubt(
              of_proof->record ? &*of_proof->record : nullptr, macros, id,
              qualification::joint_by(own->sheet, sizes_of(design, weld), numbers_of(*own).lowest_heat)),
          static_cast<int>(std::count_if(macros.begin(), macros.end(), [](const qualification::Macro& m) { return m.fused; }))};
}

}  // namespace

void prove_roots(design::Design& design, const SourceFile& file) {
  const auto named = [](const joints::Weld& w) { return !w.root_proof.empty(); };
  if (std::none_of(design.welds.begin(), design.welds.end(), named)) return;
  const JobProcedures known = procedures_of(file);
  for (joints::Weld& weld : design.welds) {
    if (!named(weld)) continue;
    const Proof proof = proof_of(design, weld, known);
    weld.root_proven = !proof.doubt;
    if (weld.root_proven) weld.root_macros = proof.macros;
    if (!proof.doubt) continue;
    weld.root_doubt = *proof.doubt;
    design.assumptions.push_back(
        {"assumption.root-not-proven", {text("weld", weld.id), text("proof", weld.root_proof)}});
  }
}

}  // namespace seamwright::files

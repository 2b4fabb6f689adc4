// SPDX-License-Identifier: GPL-3.0-or-later
#include "catalog/files/duty_reader.h"
#include "catalog/files/job_reader.h"
#include "catalog/files/procedure_reader.h"
#include "catalog/files/returns_reader.h"
#include "catalog/sweeps/sweep_reader.h"
#include "catalog/files/written.h"
#include "catalog/models/wire.h"
#include "engine/qualification/welder.h"
#include "tests/fuzz/targets.h"

namespace seamwright::fuzz {

namespace {

const qualification::Date today = *qualification::read_date("2026-01-01");

// Every number of the text written over itself leaves what it reads as.
std::string rewritten(const std::string& text) {
  std::string out = text;
  int most = 20;
  for (const files::WrittenTable& table : files::written_tables("input", text))
    for (const files::WrittenRow& row : table.rows)
      for (const files::WrittenValue& cell : row.cells)
        if (cell.form == files::Form::number && most-- > 0)
          out = files::patched("input", out, cell.place,
                               files::typed_value(cell, files::Form::number, cell.shown));
  return out;
}

}  // namespace

void design(std::string_view input) {
  const std::string text(input);
  const design::Design first = files::read_design_text("design.toml", text, published::catalog());
  const design::Design again = files::read_design_text("design.toml", rewritten(text), published::catalog());
  promise(first.frame.nodes.size() == again.frame.nodes.size(),
          "a design keeps its nodes when it is written over");
  for (std::size_t i = 0; i < first.frame.nodes.size(); ++i)
    promise(first.frame.nodes[i].position_mm == again.frame.nodes[i].position_mm,
            "a node keeps its place when it is written over");
}

void duty(std::string_view input) {
  const std::string text(input);
  const files::DutyFile first = files::read_duty_text("duty.toml", text, published::catalog());
  const files::DutyFile again = files::read_duty_text("duty.toml", rewritten(text), published::catalog());
  promise(first.duty.years == again.duty.years && first.duty.trips.size() == again.duty.trips.size(),
          "a duty keeps its trips when it is written over");
}

void procedure(std::string_view input) { files::read_procedure(as_file(input, ".toml"), today); }

void certificates(std::string_view input) { files::read_certificates(as_file(input, ".toml"), today); }

void certificate_line(std::string_view input) { qualification::read_designation(std::string(input)); }

void sweep(std::string_view input) {
  const sweeps::Sweep s = sweeps::read_sweep(as_file(input, ".toml"));
  const std::size_t count = sweeps::variants_of(s);
  promise(count > 0, "a sweep has a variant");
  promise(sweeps::variant_of(s, count - 1).values.size() == s.parameters.size(), "a variant has all values");
}

void returns(std::string_view input) {
  design::Design design;
  design.welds.resize(1);
  design.welds[0].id = "W41";
  files::read_returns(as_file(input, ".toml"), design);
}

void solids(std::string_view input) {
  try {
    const models::Answer answer = models::answer_of(input);
    promise(models::bytes_of(models::answer_of(models::bytes_of(answer))) == models::bytes_of(answer),
            "an answer that was read is written and read as itself");
    if (const auto* built = std::get_if<shape::Built>(&answer))
      for (const std::uint32_t i : built->solid.mesh.triangles)
        promise(i < built->solid.mesh.points.size() / 3, "a triangle has its points");
  } catch (const std::logic_error&) {
    throw;
  } catch (const std::exception&) {  // refused
  }
  std::string buffer(input);
  try {
    while (models::next_frame(buffer)) promise(buffer.size() < input.size(), "frames are taken out");
  } catch (const std::runtime_error&) {
  }
}

}  // namespace seamwright::fuzz

// SPDX-License-Identifier: GPL-3.0-or-later
// Reading of designs and duties: TOML to the engine's plain data, with strict keys. docs/files.md lists every
// key.
#pragma once

#include <map>
#include <string>
#include <utility>
#include <vector>

#include "catalog/files/source.h"
#include "engine/evidence/evidence.h"

namespace seamwright::design {
struct Design;
}
namespace seamwright::published {
struct Catalog;
}
namespace seamwright::rating {
struct Job;
}

namespace seamwright::files {

/// Reads a design. Every error is a Fault whose message names file, line, key, value found and what was
/// expected; unknown keys come with the nearest known one. Tubes that cannot be where they are drawn are a
/// Fault of shape::check_clashes().
design::Design read_design(const SourceFile& file, const published::Catalog& catalog);
/// A design as a record book keeps it: that frame was built, so whether its tubes clash is not asked.
design::Design read_recorded_design(const SourceFile& file, const published::Catalog& catalog);
/// The same from a text; the file is for messages and for what the design refers to.
design::Design read_design_text(const SourceFile& file, const std::string& content,
                                const published::Catalog& catalog);

/// The reader takes this for a number of a design or duty, by the key's path ("design.tube.wall_mm"), as far
/// as the demonstration has a table of its kind; lists of forces and places are not among them.
struct NumberBounds {
  double least, most;
};
const std::map<std::string, NumberBounds>& number_bounds();

/// Numbers put in place of what the files say, before they are read: places as in patched().
struct Changes {
  std::vector<std::pair<std::string, double>> design, duty;
};

/// The design file of a job: the folder's design.toml, or the file itself.
SourceFile design_file(const SourceFile& job);
std::string design_path(const std::string& job);

/// The duty file of a job, unless another is taken instead of it ("" = none): duty.toml beside the design.
std::string duty_path(const std::string& job, const std::string& instead);

/// A Fault of the model, which knows no files, with "file" and "line" of the first row of the file that it
/// names added, nested rows too; as it is when the file cannot be read or the Fault names nothing of it.
Fault with_place(const Fault& fault, const SourceFile& file);

/// The same, the file as a text; path is what the message names.
Fault with_place_in(const Fault& fault, const std::string& path, const std::string& content);

/// A job from its texts as they stand, perhaps unsaved; the files are for messages and for what the texts
/// refer to.
/// Throws Fault "file.open-ends" with every end of a member that nothing holds, see design::open_ends().
rating::Job read_job_texts(const SourceFile& design_file, const std::string& design,
                           const SourceFile& duty_file, const std::string& duty,
                           const published::Catalog& catalog);

/// A job folder (design.toml, duty.toml, details/) or a design file with these beside it; duty_override
/// replaces the duty's path, on this machine.
rating::Job read_job(const SourceFile& job, const std::string& duty_override,
                     const published::Catalog& catalog, const Changes& changes = {});

}  // namespace seamwright::files

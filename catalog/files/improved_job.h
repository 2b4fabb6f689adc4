// SPDX-License-Identifier: GPL-3.0-or-later
// `improve` reads and writes these: a design text with a tube of its own for each member, a journal of trials, a job with other tubes.
#pragma once

#include <fstream>
#include <string>

#include "catalog/files/source.h"
#include "engine/study/improve.h"

namespace seamwright::files {

/// The design's text with a [[tube]] of its own for each member and its mirrored twin, as "strut-fore". Throws what patched() throws.
std::string with_tubes_apart(const std::string& file, const std::string& content);

/// The design's text with the answer's sizes, throats, procedures and proofs, and its revision followed by "+" and the number. Every other byte stays.
std::string improved_text(const std::string& file, const std::string& content, const design::Design& drawn, const study::ImprovedFrame& answer,
                          std::size_t number);

/// A folder with this design and what else the job's folder has: its tables and TOML files, procedures and details. Throws Fault "new.exists"
/// where the folder is there already, std::runtime_error where nothing can be written.
void write_improved_job(const std::string& job, const std::string& folder, const std::string& design_text);

/// An answer that was written as a job of its own and read again, and what its full rating says, joints by their own models.
struct WrittenAnswer {
  std::string folder;
  bool confirmed = false;  ///< rated in full
  rating::Verdict verdict = rating::Verdict::not_covered;
  double cracked_of_1000 = 0;
  std::string weld{};
};

/// Trials as they were made, line by line, so that a search that was stopped goes on. The first line is a hash of all that they follow from.
class TrialJournal {
 public:
  /// Reads what is there when its hash is this; a line that is cut off or is none ends the reading. Otherwise begins anew. Throws std::runtime_error.
  TrialJournal(std::string path, const std::string& hash, study::Trials& known);
  void add(const study::Point& point, const study::Trial& trial);
  std::size_t read() const { return read_; }

 private:
  std::size_t read_ = 0;
  std::ofstream out_;
};

}  // namespace seamwright::files

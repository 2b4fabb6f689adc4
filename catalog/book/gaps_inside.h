// SPDX-License-Identifier: GPL-3.0-or-later
// gaps.cpp and gaps_welds.cpp share this: the looking at one frame.
#pragma once

#include <algorithm>
#include <map>

#include "catalog/book/gaps.h"
#include "catalog/book/job_folder.h"
#include "catalog/book/records.h"
#include "catalog/files/procedure_reader.h"
#include "engine/design/design.h"

namespace seamwright::book {

/// Keeps what was read of frozen files, for many frames.
struct Frozen {
  std::map<std::string, std::optional<files::ProcedureFile>> procedures;  // by SHA-256 and day
  struct Read {
    std::optional<design::Design> design;
    Message fault;  ///< where it cannot be read
  };
  std::map<std::string, Read> designs;  // by SHA-256 of it and of what stands beside it
};

struct Looking {
  const Book& book;
  std::string serial;
  qualification::Date today;
  Frozen& frozen;
  std::vector<Gap> found{};
  std::map<std::string, std::optional<files::ProcedureFile>> procedures{};        // by "id revision"
  std::map<std::string, std::vector<qualification::Certificate>> certificates{};  // by welder
  std::vector<std::string> beside{};  // SHA-256 of the procedures that a design is read with
  std::map<std::string, std::vector<Record>> looked_up{};  // by name, value and kind
  JobFolder folder{};

  /// since: an entry that it rests on besides those of its weld; a later one asks again.
  void add(const std::string& weld, const char* id, std::vector<Argument> with = {},
           const std::string& detail = {}, std::int64_t since = 0);
  /// The records as the book has them, asked once.
  const std::vector<Record>& current(const Mark& mark, const std::string& kind);
  const std::vector<Record>& of_frame(const char* kind) { return current({"frame", serial}, kind); }
};

bool day_of(const Record& r, const char* key, qualification::Date& day);
/// The frozen procedure; nothing where it is not in the book or cannot be read.
const files::ProcedureFile* procedure_at(Looking& l, const std::string& id, const std::string& revision);
/// The frozen design with the frame's procedures beside it. Throws the Faults of its reader.
const design::Design& design_at(Looking& l, const Record& design);
/// Each weld of the design: made, by whom, with what, looked at, and put right.
void check_welds(Looking& l, const design::Design& design);
/// Cracks that came back from the field and were not put right since.
void check_cracks(Looking& l);

}  // namespace seamwright::book

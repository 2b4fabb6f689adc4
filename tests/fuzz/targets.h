// SPDX-License-Identifier: GPL-3.0-or-later
// Hostile input: each target takes any bytes and must give an answer or a Fault, and keep what it promises. A
// broken promise is thrown as std::logic_error; a fuzzer or a replay stops there.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "catalog/files/source.h"

namespace seamwright::fuzz {

struct Target {
  const char* name;
  void (*run)(std::string_view input);
};
const std::vector<Target>& targets();
/// Null for an unknown name.
const Target* target_named(std::string_view name);
/// Runs a target; a Fault is an answer.
void run(const Target& target, std::string_view input);

/// The input as a file in memory; its name ends as told (".csv"). It goes with this.
struct InputFile {
  files::FilesInMemory files;
  std::string name;
  operator files::SourceFile() const { return {files, name}; }
};
InputFile as_file(std::string_view input, const std::string& ending);
/// The input as a file of this machine, written over each time.
std::string on_disk(std::string_view input, const std::string& ending);
void promise(bool kept, const char* what);

// readers.cpp
void design(std::string_view input);
void duty(std::string_view input);
void procedure(std::string_view input);
void certificates(std::string_view input);
void certificate_line(std::string_view input);
void sweep(std::string_view input);
void returns(std::string_view input);
void solids(std::string_view input);
// tables.cpp
void ride(std::string_view input);
void measured(std::string_view input);
void tests(std::string_view input);
void readings(std::string_view input);
void nodes(std::string_view input);
void records(std::string_view input);
// properties.cpp
void json(std::string_view input);
void damage(std::string_view input);
void touched_record(std::string_view input);

}  // namespace seamwright::fuzz

// SPDX-License-Identifier: GPL-3.0-or-later
#include "tests/fuzz/targets.h"

#include <unistd.h>

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <stdexcept>

#include "engine/evidence/evidence.h"

namespace seamwright::fuzz {

const std::vector<Target>& targets() {
  static const std::vector<Target> all{{"design", design},
                                       {"duty", duty},
                                       {"procedure", procedure},
                                       {"certificates", certificates},
                                       {"certificate-line", certificate_line},
                                       {"sweep", sweep},
                                       {"returns", returns},
                                       {"solids", solids},
                                       {"ride", ride},
                                       {"measured", measured},
                                       {"tests", tests},
                                       {"readings", readings},
                                       {"nodes", nodes},
                                       {"records", records},
                                       {"json", json},
                                       {"damage", damage},
                                       {"touched-record", touched_record}};
  return all;
}

const Target* target_named(std::string_view name) {
  const auto& all = targets();
  const auto it = std::find_if(all.begin(), all.end(), [&](const Target& t) { return name == t.name; });
  return it == all.end() ? nullptr : &*it;
}

void run(const Target& target, std::string_view input) {
  try {
    target.run(input);
  } catch (const Fault&) {  // refused in words: an answer
  }
}

InputFile as_file(std::string_view input, const std::string& ending) {
  const std::string name = "input" + ending;
  return {files::FilesInMemory(std::map<std::string, std::string>{{name, std::string(input)}}), name};
}

std::string on_disk(std::string_view input, const std::string& ending) {
  static const std::filesystem::path folder = [] {
    auto path = std::filesystem::temp_directory_path() / ("seamwright-fuzz-" + std::to_string(::getpid()));
    std::filesystem::create_directories(path);
    return path;
  }();
  const std::string path = (folder / ("input" + ending)).string();
  std::ofstream out(path, std::ios::binary | std::ios::trunc);
  out.write(input.data(), static_cast<std::streamsize>(input.size()));
  return path;
}

void promise(bool kept, const char* what) {
  if (!kept) throw std::logic_error(what);
}

}  // namespace seamwright::fuzz

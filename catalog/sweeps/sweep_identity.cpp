// SPDX-License-Identifier: GPL-3.0-or-later
#include "catalog/sweeps/sweep_identity.h"

#include <filesystem>

#include "catalog/published/published_data.h"
#include "catalog/published/sha256.h"
#include "engine/rating/job.h"

namespace seamwright {
extern const char* const rows_form;  // written by the build
}

namespace seamwright::sweeps {

namespace {

// The files of this machine, and the hash of each that was read, in their order.
class FilesRead : public files::Files {
 public:
  std::string bytes(const std::string& name) const override {
    std::string all = files::files_on_disk().bytes(name);
    read_ += sha256_hex(all);
    return all;
  }
  // It is read as often as it is asked for: once more for its hash, in pieces.
  std::unique_ptr<std::istream> stream(const std::string& name) const override {
    const auto piecewise = files::files_on_disk().stream(name);
    std::string piece(1 << 20, '\0');
    while (piecewise->read(piece.data(), static_cast<std::streamsize>(piece.size())) || piecewise->gcount() > 0)
      read_ += sha256_hex(std::string_view(piece).substr(0, static_cast<std::size_t>(piecewise->gcount())));
    return files::files_on_disk().stream(name);
  }
  std::vector<std::string> names_in(const std::string& folder) const override {
    std::vector<std::string> names = files::files_on_disk().names_in(folder);
    for (const std::string& name : names) read_ += std::filesystem::path(name).filename().string() + "\n";
    return names;
  }
  bool is_folder(const std::string& name) const override { return files::files_on_disk().is_folder(name); }

  const std::string& hashes() const { return read_; }

 private:
  mutable std::string read_;
};

// A job that is impossible as it stands is made possible by its changes, perhaps: then all that lies beside it counts.
void read_all(const FilesRead& among, const files::SourceFile& design, const files::SourceFile& duty) {
  try {
    files::read_job_texts(design, files::read_text(design), duty, files::read_text(duty), published::catalog());
  } catch (const Fault&) {
    for (const files::SourceFile& file : {design, duty}) files::read_text(file);
    for (const char* folder : {"details", "procedures"})
      for (const files::SourceFile& file : design.beside(folder).files_in(".toml")) among.bytes(file.name);
  }
}

}  // namespace

std::string identity_of(const Sweep& sweep, const std::string& job) {
  const FilesRead among;
  const files::SourceFile design(among, files::design_path(job));
  if (sweep.duties.empty()) read_all(among, design, design.beside("duty.toml"));
  for (const std::string& duty : sweep.duties) read_all(among, design, {among, duty});
  return sha256_hex(rows_form + sweep.sha256 + published::catalog().sha256 + among.hashes()).substr(0, 16);
}

}  // namespace seamwright::sweeps

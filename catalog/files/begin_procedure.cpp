// SPDX-License-Identifier: GPL-3.0-or-later
#include "catalog/files/begin_procedure.h"

#include <algorithm>
#include <chrono>
#include <filesystem>

#include "catalog/files/job_checks.h"
#include "catalog/files/job_reader.h"
#include "catalog/files/patch.h"
#include "catalog/published/nearest.h"
#include "catalog/published/published_data.h"
#include "engine/design/design.h"

namespace seamwright::files {

namespace {

namespace fs = std::filesystem;
using qualification::JointForm;
using qualification::JointSizes;

const ProcedureStart& start_named(const std::string& id) {
  std::vector<std::string> ids;
  for (const ProcedureStart& s : procedure_starts) {
    if (id == s.id) return s;
    ids.emplace_back(s.id);
  }
  throw Fault{Message{"start.unknown", {text("id", id), text("nearest", published::nearest_or_some(id, ids))}}};
}

std::string built_in(const char* name) {
  for (const published::DataFile& file : published::demonstration_files())
    if (file.name == name) return file.text;
  throw std::logic_error(name);
}

// The last day that this program reads: nothing here lies ahead of it.
qualification::Date any_day() {
  using namespace std::chrono;
  return 2199y / December / 31;
}

class Patching {
 public:
  Patching(std::string file, std::string text) : file_(std::move(file)), text_(std::move(text)) {}
  void set(const char* key, const PatchValue& value) { text_ = patched(file_, text_, key, value); }
  void drop(const char* key) {
    if (text_.find(std::string("\n") + key + " = ") != std::string::npos) text_ = without_value(file_, text_, key);
  }
  // The span of a measure over the welds; dropped where none of them has it.
  void set_span(const char* key, const std::vector<JointSizes>& welds, double JointSizes::* measure) {
    double least = 0, most = 0;
    for (const JointSizes& w : welds)
      if (w.*measure > 0) {
        least = least > 0 ? std::min(least, w.*measure) : w.*measure;
        most = std::max(most, w.*measure);
      }
    if (most > 0)
      set(key, std::vector<double>{least, most});
    else
      drop(key);
  }
  std::string text() && { return std::move(text_); }

 private:
  std::string file_, text_;
};

}  // namespace

std::string procedure_text(const NewProcedure& wanted, const design::Design& design) {
  const ProcedureStart& start = start_named(wanted.like);
  if (wanted.welds.empty()) throw Fault{Message{"start.no-weld", {}}};
  std::vector<JointSizes> sizes;
  for (const std::string& id : wanted.welds) sizes.push_back(sizes_of(design, weld_of(design, id)));
  const auto other = std::find_if(sizes.begin(), sizes.end(), [&](const JointSizes& s) { return s.form != sizes.front().form; });
  if (other != sizes.end())
    throw Fault{Message{"start.mixed-joints",
                        {text("one", wanted.welds.front()), text("other", wanted.welds[static_cast<std::size_t>(other - sizes.begin())])}}};
  Patching p(start.file, wanted.wording.file(built_in(start.file)));
  p.set("id", wanted.id);
  if (!wanted.name.empty()) p.set("name", wanted.name);
  if (!wanted.maker.empty()) p.set("maker", wanted.maker);
  if (!wanted.filler.empty()) p.set("filler", wanted.filler);
  const JointForm form = sizes.front().form;
  p.set("form", std::string(name_of(form)));
  p.set_span("wall_mm", sizes, &JointSizes::wall_mm);
  p.set_span("other_wall_mm", sizes, &JointSizes::other_wall_mm);
  p.set_span("diameter_mm", sizes, &JointSizes::diameter_mm);
  p.set_span("other_diameter_mm", sizes, &JointSizes::other_diameter_mm);
  p.set_span("angle_deg", sizes, &JointSizes::angle_deg);
  p.set_span("throat_mm", sizes, &JointSizes::throat_mm);
  return std::move(p).text();
}

std::string begin_procedure(const std::string& job, const NewProcedure& wanted) {
  const design::Design design = read_design(design_path(job), published::catalog());
  const std::string folder = path_beside_job(job, "procedures");
  std::error_code ignored;
  if (fs::is_directory(folder, ignored))
    for (const ProcedureFile& known : read_procedures(folder, any_day()))
      if (known.sheet.id == wanted.id)
        throw Fault{Message{"procedure.doubled", {text("file", wanted.id + ".toml"), text("id", wanted.id), text("other", known.path)}}};
  const std::string content = procedure_text(wanted, design);
  std::string name = wanted.id;
  for (char& c : name) c = c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
  const fs::path path = fs::path(folder) / (name + ".toml");
  if (fs::exists(path)) throw Fault{Message{"new.exists", {text("file", path.string())}}};
  const FilesInMemory memory(std::map<std::string, std::string>{{path.string(), content}});
  read_procedure({memory, path.string()}, any_day());  // an id that none can have, a filler that is no text: before anything is written
  fs::create_directories(folder);
  write_text(path.string(), content);
  return path.string();
}

void add_certificate(const std::string& job, const NewCertificate& wanted) {
  const std::string path = path_beside_job(job, "certificates.toml");
  std::string content = fs::exists(path) ? read_text(path) : "format = \"seamwright.certificates/1\"\nemployer = " + toml_text(wanted.employer) + "\n";
  if (!content.empty() && content.back() != '\n') content += '\n';
  content += "\n[[certificate]]\nid = " + toml_text(wanted.id) + "\nwelder = " + toml_text(wanted.welder) +
             "\ndesignation = " + toml_text(wanted.designation) + "\ntested = " + toml_text(wanted.tested) +
             "\nroute = " + toml_text(wanted.route) + "\n";
  const FilesInMemory memory(std::map<std::string, std::string>{{path, content}});
  read_certificates({memory, path}, qualification::Date(std::chrono::floor<std::chrono::days>(std::chrono::system_clock::now())));
  write_text(path, content);
}

}  // namespace seamwright::files

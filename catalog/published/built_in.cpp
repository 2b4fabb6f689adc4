// SPDX-License-Identifier: GPL-3.0-or-later
#include "catalog/published/built_in.h"

namespace seamwright::published {

std::string_view drawing_of(std::string_view joint_kind) {
  for (const DataFile& file : drawing_files())
    if (file.name == std::string(joint_kind).append(".svg")) return file.text;
  return {};
}

const std::vector<DataFile>& example_files() {
  static const std::vector<DataFile> files = [] {
    const std::string folder = "orchard-trike/", procedures = folder + "procedures/";
    std::vector<DataFile> out;
    for (const char* name : {"design.toml", "duty.toml", "certificates.toml"})
      for (const DataFile& file : demonstration_files())
        if (file.name == folder + name) out.push_back({name, file.text});
    for (const DataFile& file : demonstration_files())
      if (file.name.starts_with(procedures)) out.push_back({file.name.substr(procedures.size()), file.text});
    return out;
  }();
  return files;
}

}  // namespace seamwright::published

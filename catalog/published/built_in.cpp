// SPDX-License-Identifier: GPL-3.0-or-later
#include "catalog/published/built_in.h"

namespace seamwright::published {

std::string_view drawing_of(std::string_view joint_kind) {
  for (const DataFile& file : drawing_files())
    if (file.name == std::string(joint_kind).append(".svg")) return file.text;
  return {};
}

}  // namespace seamwright::published

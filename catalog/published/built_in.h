// SPDX-License-Identifier: GPL-3.0-or-later
// The program carries these files in itself and needs none beside it.
#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace seamwright::published {

struct DataFile {
  std::string name, text;
};
/// Drawing of a joint kind with its sites, SVG; empty where there is none.
std::string_view drawing_of(std::string_view joint_kind);
/// The drawings as built in: "tube-tee.svg" ...
const std::vector<DataFile>& drawing_files();
/// All files of the demonstration by their paths: "orchard-trike/design.toml", "samples/ride.csv" ...
const std::vector<DataFile>& demonstration_files();
/// Design, duty, certificates and procedures of its first revision by their names alone, from which a new job begins.
const std::vector<DataFile>& example_files();
/// These files go with the proof of a frame: "check.py".
const std::vector<DataFile>& book_files();
/// The data files as built in.
const std::vector<DataFile>& data_files();

}  // namespace seamwright::published

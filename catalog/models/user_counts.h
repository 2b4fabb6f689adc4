// SPDX-License-Identifier: GPL-3.0-or-later
// Counted histories in the user's cache folder.
#pragma once

#include "catalog/models/kept_files.h"
#include "engine/rating/kept_counts.h"

namespace seamwright::models {

/// Keys are the hash of the inputs and of the sources that count. Safe to use from several threads at once.
class UserCounts : public rating::CountStore {
 public:
  explicit UserCounts(std::string folder = cache_folder("counts")) : files_(std::move(folder)) {}
  std::optional<std::string> find(std::string_view inputs) override;
  void keep(std::string_view inputs, std::string_view bytes) override;

 private:
  KeptFiles files_;
};

}  // namespace seamwright::models

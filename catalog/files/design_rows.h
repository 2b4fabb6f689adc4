// SPDX-License-Identifier: GPL-3.0-or-later
// Rows of a design's tables, each with its mirrored twin, and what they name of each other.
#pragma once

#include <algorithm>
#include <functional>
#include <string>
#include <vector>

#include "catalog/files/reader.h"
#include "catalog/published/published_data.h"
#include "engine/design/design.h"

namespace seamwright::files {

// Reads a table row, and its mirrored twin when it asks for one; refuses doubled ids.
class Rows {
 public:
  Rows(Reader& root, const SourceFile& file, const Parameters& parameters, std::vector<Message>& assumptions)
      : root_(root), file_(file), parameters_(parameters), assumptions_(assumptions) {}
  void read_each(const std::string& key, const std::function<void(Reader&)>& read);

 private:
  Reader& root_;
  const SourceFile& file_;
  const Parameters& parameters_;
  std::vector<Message>& assumptions_;
};

template <class T>
const T* find(const std::vector<T>& rows, const std::string& id) {
  const auto it = std::find_if(rows.begin(), rows.end(), [&](const T& row) { return row.id == id; });
  return it == rows.end() ? nullptr : &*it;
}

template <class T>
std::string known_id(Reader& r, const std::string& key, const std::vector<T>& rows) {
  std::string id = r.id(key);
  if (!find(rows, id)) {
    std::vector<std::string> ids;
    for (const T& row : rows) ids.push_back(row.id);
    r.refuse_unknown(key, id, ids);
  }
  return id;
}

/// Joints and welds into the design; throws the Faults of the reader and "file.weld-not-at-node".
void read_welds(Rows& rows, design::Design& d, const published::Catalog& catalog);
/// Plates and sleeves: what the frame's shape has beside its members.
void read_plates(Rows& rows, design::Design& d, const published::Catalog& catalog);
/// Notches, bolts, and the ends that no weld holds.
void read_beside_welds(Rows& rows, design::Design& d);

}  // namespace seamwright::files

// SPDX-License-Identifier: GPL-3.0-or-later
#include "catalog/files/design_rows.h"

#include <set>

namespace seamwright::files {

void Rows::read_each(const std::string& key, const std::function<void(Reader&)>& read) {
  std::set<std::string> ids;
  const auto tables = root_.tables(key);
  if (tables.size() > 5000)
    root_.fail("file.out-of-range", key, std::to_string(tables.size()), "at most 5000 rows");
  for (const toml::table* table : tables)
    for (bool twin : {false, true}) {
      std::string name("design.");
      name.append(key);
      Reader reader(file_, name, *table, &parameters_, &assumptions_, twin);
      if (!reader.flag_or("mirror", false) && twin) continue;
      if (reader.has("id") && !ids.insert(reader.id("id")).second)
        reader.fail(twin ? MessageId("file.mirror-same-id") : "file.doubled-id", "id", reader.id("id"),
                    "an id of its own");
      try {
        read(reader);
      } catch (const Fault& fault) {
        throw reader.with_place(fault);
      }
      reader.finish();
    }
}

}  // namespace seamwright::files

// SPDX-License-Identifier: GPL-3.0-or-later
#include "catalog/files/patch.h"

#include <catch2/catch.hpp>
#include <fstream>
#include <sstream>

#include "catalog/files/parse.h"
#include "catalog/files/source.h"

using namespace seamwright;
using namespace seamwright::files;

namespace {

const std::string text_with_comments =
    "# Ünïcode above\n"
    "name = \"Häcksler\" # keep me\n"
    "[rider]\n"
    "  saddle_node = 'SAD' # and me\n"
    "[[weld]]\n"
    "id = \"W1\"\n"
    "throat_mm = 1.50   # measured\n"
    "[[weld]]\n"
    "id = \"W2\"\n"
    "throat_mm = \"2 * wall\" # expression\n"
    "sides = [\n  1, # one\n  2,\n]\n"
    "place = { x = 1, y = 2 }\n";

std::string patch_refusal(const std::string& content, const std::string& place, const PatchValue& value) {
  try {
    patched("f.toml", content, place, value);
  } catch (const Fault& fault) {
    return fault.what();
  }
  return "";
}

std::string replaced_once(std::string whole, const std::string& from, const std::string& to) {
  const std::size_t at = whole.find(from);
  REQUIRE(at != std::string::npos);
  return whole.replace(at, from.size(), to);
}

}  // namespace

TEST_CASE("a patch changes its value and no other byte") {
  const std::string& t = text_with_comments;
  CHECK(patched("f", t, "weld[W1].throat_mm", 1.75) == replaced_once(t, "1.50", "1.75"));
  CHECK(patched("f", t, "weld[1].throat_mm", 2.0) == replaced_once(t, "\"2 * wall\"", "2"));
  CHECK(patched("f", t, "name", std::string("Ob\"st")) == replaced_once(t, "\"Häcksler\"", "\"Ob\\\"st\""));
  CHECK(patched("f", t, "rider.saddle_node", std::string("S2")) == replaced_once(t, "'SAD'", "\"S2\""));
  CHECK(patched("f", t, "weld[W2].sides", std::vector<double>{3, 4}) ==
        replaced_once(t, "[\n  1, # one\n  2,\n]", "[3, 4]"));
  CHECK(patched("f", t, "weld[W2].place.y", true) == replaced_once(t, "y = 2 }", "y = true }"));
}

TEST_CASE("a key that a table lacks is written below its header") {
  const std::string& t = text_with_comments;
  CHECK(patched("f", t, "rider.mass_kg", 80.0) == replaced_once(t, "[rider]\n", "[rider]\nmass_kg = 80\n"));
  CHECK(patched("f", t, "weld[W2].root_proven", true) ==
        replaced_once(t, "id = \"W2\"", "root_proven = true\nid = \"W2\""));
  CHECK(patched("f", t, "revision", std::string("B")) == "revision = \"B\"\n" + t);
  CHECK(patched("f", "[a]", "a.b", 1.0) == "[a]\nb = 1\n");
  CHECK(patched("f", t, "weld[W2].place.z", 3.0) == replaced_once(t, "y = 2 }", "y = 2, z = 3 }"));
}

TEST_CASE("places that are not there and values that cannot be written are refused") {
  const std::string& t = text_with_comments;
  for (const char* place : {"", ".", "name.", "weld[W9].throat_mm", "weld[7].throat_mm", "weld", "rider",
                            "weld[W1", "weld[W1]x", "name.x", "weld[-1].id", "none.key"}) {
    INFO(place);
    CHECK(patch_refusal(t, place, 1.0) == "file.no-place");
  }
  CHECK(patch_refusal(t, "weld[W1].throat_mm", std::nan("")) == "file.bad-patch");
  CHECK(patch_refusal(t, "name", std::string("a\nb")) == "file.bad-patch");
  CHECK(patch_refusal("= broken", "name", 1.0) == "file.syntax");
}

TEST_CASE("every number of the demonstration design can be patched and reads back") {
  const std::string content =
      read_text(std::string(SEAMWRIGHT_SOURCE_DIR) + "/catalog/examples/orchard-trike/design.toml");
  const toml::table root = parse("design.toml", content);
  std::size_t count = 0;
  for (const char* kind : {"node", "tube", "weld", "wheel", "mass"})
    for (std::size_t i = 0; i < root[kind].as_array()->size(); ++i)
      for (const auto& [key, node] : *root[kind][i].as_table()) {
        if (!node.is_number()) continue;
        const std::string place = std::string(kind) + "[" + std::to_string(i) + "]." + std::string(key.str());
        const std::string changed = patched("design.toml", content, place, 123.456);
        const toml::table again = parse("design.toml", changed);
        INFO(place);
        CHECK(again[kind][i][key.str()].value<double>() == 123.456);
        // Putting the old text back gives the old bytes: nothing else moved.
        CHECK(patched("design.toml", changed, place, *node.value<double>()).size() + 8 >= content.size());
        CHECK(std::count(changed.begin(), changed.end(), '#') ==
              std::count(content.begin(), content.end(), '#'));
        ++count;
      }
  CHECK(count > 80);
}

// SPDX-License-Identifier: GPL-3.0-or-later
#include "catalog/files/column.h"

#include <catch2/catch.hpp>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <vector>

#include "engine/evidence/evidence.h"

using namespace seamwright;
using namespace seamwright::files;

namespace {

struct File {
  std::string path =
      (std::filesystem::temp_directory_path() / ("column-" + std::to_string(std::rand()) + ".csv")).string();
  explicit File(const std::string& content) { std::ofstream(path, std::ios::binary) << content; }
  ~File() { std::filesystem::remove(path); }
  File(const File&) = delete;
  File& operator=(const File&) = delete;
};

std::vector<double> numbers(const std::string& content, const std::string& column) {
  const File file(content);
  std::vector<double> all;
  const std::size_t count = read_column(
      file.path, column, [&](std::span<const double> b) { all.insert(all.end(), b.begin(), b.end()); });
  CHECK(count == all.size());
  return all;
}

std::pair<std::string, double> place_of_fault(const std::string& content, const std::string& column) {
  try {
    numbers(content, column);
  } catch (const Fault& fault) {
    for (const Argument& a : fault.message.arguments)
      if (a.name == "line") return {fault.what(), std::get<double>(a.value)};
    return {fault.what(), 0};
  }
  return {"", 0};
}

using Refused = std::pair<std::string, double>;

}  // namespace

TEST_CASE("columns in the usual ways of writing tables") {
  CHECK(numbers("t,a\n0,1.5\n1,-2e3\n", "a") == std::vector<double>{1.5, -2000});
  CHECK(numbers("\xEF\xBB\xBFt;a b\r\n0;1,5\r\n1;+2\r\n", "a b") == std::vector<double>{1.5, 2});
  CHECK(numbers("# logger 7\n\n t \t\"a\"\n0\t 1.5 \n\n1\t2", "a") == std::vector<double>{1.5, 2});
  CHECK(numbers("a\n1\n2\n3\n", "a") == std::vector<double>{1, 2, 3});
}

TEST_CASE("more numbers than a block come in their order") {
  std::string content("a,b\n");
  for (int i = 0; i < 10000; ++i) content += std::to_string(i) + ",0\n";
  const std::vector<double> all = numbers(content, "a");
  REQUIRE(all.size() == 10000);
  for (std::size_t i = 0; i < all.size(); ++i) REQUIRE(all[i] == static_cast<double>(i));
}

TEST_CASE("faulty tables name the line") {
  CHECK(place_of_fault("t,a\n0,1\n0,x\n", "a") == Refused{"file.bad-cell", 3});
  CHECK(place_of_fault("t,a\n0,1\n0\n", "a") == Refused{"file.cell-count", 3});
  CHECK(place_of_fault("t,a\n0,nan\n", "a") == Refused{"file.bad-cell", 2});
  CHECK(place_of_fault("t,a\n0,1\n", "b") == Refused{"file.no-column", 1});
  CHECK(place_of_fault("t,a\n", "a").first == "file.empty");
  CHECK(place_of_fault("", "a").first == "file.empty");
  CHECK(place_of_fault(std::string("t,\0a\n0,1\n", 9), "a") == Refused{"file.not-text", 1});
  CHECK(place_of_fault("a\n" + std::string(longest_line + 2, '1'), "a") == Refused{"file.long-line", 2});
  CHECK_THROWS_AS(read_column("/no/such/file", "a", [](std::span<const double>) {}), Fault);
  CHECK_THROWS_AS(read_column("/", "a", [](std::span<const double>) {}), Fault);
}

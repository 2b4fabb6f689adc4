// SPDX-License-Identifier: GPL-3.0-or-later
// A PDF read back by poppler's tools.
#pragma once

#include <unistd.h>

#include <catch2/catch.hpp>
#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <string>
#include <vector>

inline std::string run(const std::string& command) {
  std::string out;
  FILE* pipe = ::popen(command.c_str(), "r");
  REQUIRE(pipe);
  char buffer[4096];
  for (std::size_t n = 0; (n = std::fread(buffer, 1, sizeof buffer, pipe)) > 0;) out.append(buffer, n);
  CHECK(::pclose(pipe) == 0);
  return out;
}

struct Pdf {
  std::string folder, path;
  explicit Pdf(const std::string& bytes) {
    char name[] = "/tmp/seamwright-pages-XXXXXX";
    folder = ::mkdtemp(name);
    path = folder + "/a.pdf";
    std::ofstream(path, std::ios::binary) << bytes;
  }
  ~Pdf() { std::filesystem::remove_all(folder); }
  Pdf(const Pdf&) = delete;
  Pdf& operator=(const Pdf&) = delete;
  std::string text() const { return run("pdftotext -layout '" + path + "' -"); }
  std::string text_of(int page) const {
    const std::string n = std::to_string(page);
    return run("pdftotext -layout -f " + n + " -l " + n + " '" + path + "' -");
  }
  std::string tool(const std::string& command) const { return run(command + " '" + path + "'"); }
  int pages() const {
    const std::string info = tool("pdfinfo");
    return std::atoi(info.substr(info.find("Pages:") + 6).c_str());
  }
  struct Word {
    double x0 = 0, y0 = 0, x1 = 0, y1 = 0;
    std::string text;
  };
  /// Points from the upper left corner; of all pages in their order.
  std::vector<Word> words() const {
    const std::string boxes = run("pdftotext -bbox '" + path + "' -");
    std::vector<Word> all;
    for (std::size_t at = boxes.find("<word"); at != std::string::npos; at = boxes.find("<word", at + 1)) {
      Word w;
      REQUIRE(std::sscanf(boxes.c_str() + at, "<word xMin=\"%lf\" yMin=\"%lf\" xMax=\"%lf\" yMax=\"%lf\"",
                          &w.x0, &w.y0, &w.x1, &w.y1) == 4);
      const std::size_t from = boxes.find('>', at) + 1;
      w.text = boxes.substr(from, boxes.find('<', from) - from);
      all.push_back(std::move(w));
    }
    return all;
  }
};

inline std::size_t count(const std::string& text, const std::string& what) {
  std::size_t n = 0;
  for (std::size_t at = text.find(what); at != std::string::npos; at = text.find(what, at + 1)) ++n;
  return n;
}

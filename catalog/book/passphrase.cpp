// SPDX-License-Identifier: GPL-3.0-or-later
#include "catalog/book/passphrase.h"

#include <algorithm>
#include <array>
#include <cctype>
#include <set>
#include <string_view>

namespace seamwright::book {

namespace {

constexpr std::size_t fewest_different = 6;

// Common ones in English and German, rows of the keyboard, and words that a workshop would think of first.
constexpr std::array<std::string_view, 30> common{
    "password", "passwort", "passphrase", "letmein",  "iloveyou", "welcome",  "willkommen", "hallo",     "hello",   "admin",
    "login",    "changeme", "geheim",     "secret",   "qwerty",   "qwertz",   "qwertyuiop", "qwertzuiop", "asdfgh", "asdfghjkl",
    "yxcvbnm",  "zxcvbnm",  "abcdef",     "abcdefgh", "welding",  "welder",   "schweissen", "schweisser", "workshop", "werkstatt"};

// True where the letters are words of the list one after another.
bool is_common(std::string_view letters) {
  if (letters.empty()) return true;
  return std::any_of(common.begin(), common.end(), [&](std::string_view word) { return letters.starts_with(word) && is_common(letters.substr(word.size())); });
}

}  // namespace

bool is_weak_passphrase(const std::string& passphrase) {
  if (passphrase.size() < shortest_passphrase || std::set<char>(passphrase.begin(), passphrase.end()).size() < fewest_different) return true;
  constexpr std::size_t longest_looked_at = 200;
  std::string letters;
  for (const char c : passphrase.substr(0, longest_looked_at)) {
    const auto letter = static_cast<unsigned char>(c);
    if (letter >= 128) return false;
    if (std::isalpha(letter)) letters.push_back(static_cast<char>(std::tolower(letter)));
  }
  return is_common(letters);
}

}  // namespace seamwright::book

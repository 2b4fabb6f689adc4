// SPDX-License-Identifier: GPL-3.0-or-later
// The demonstration's book: an invented shop that makes the orchard trike.
#pragma once

#include <string>
#include <vector>

#include "catalog/book/book.h"
#include "catalog/files/wording.h"

namespace seamwright::book {

struct DemoFrame {
  std::string serial;
  MessageId state;  ///< what became of it
};
/// All passphrases of the demonstration are this one: nothing in it is secret.
inline constexpr const char* demo_passphrase = "orchard demonstration";
inline constexpr const char* demo_heat = "H-DEMO-7";  ///< to be recalled

/// Writes the book: people, lots, tools, frozen procedures and design with its rating, and four frames in
/// different states. Everything in it is invented; its texts are worded in the language given. Throws Fault "book.exists".
std::vector<DemoFrame> write_demo(const std::string& where, const std::string& program, const files::Wording& wording = {});
/// The same into a store that is made for it: see Book::create().
std::vector<DemoFrame> write_demo(const std::function<std::unique_ptr<Store>()>& make,
                                  const std::string& program, const files::Wording& wording = {});

}  // namespace seamwright::book

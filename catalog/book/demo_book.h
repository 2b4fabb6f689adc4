// SPDX-License-Identifier: GPL-3.0-or-later
// The demonstration's book: an invented shop that makes the orchard trike.
#pragma once

#include <string>
#include <vector>

#include "catalog/book/book.h"

namespace seamwright::book {

struct DemoFrame {
  std::string serial;
  MessageId state;  ///< what became of it
};
/// All passphrases of the demonstration are this one: nothing in it is secret.
inline constexpr const char* demo_passphrase = "orchard demonstration";
inline constexpr const char* demo_heat = "H-DEMO-7";  ///< to be recalled

/// Writes the book: people, lots, tools, frozen procedures and design with its rating, and four frames in
/// different states. Everything in it is invented. Throws Fault "book.exists".
std::vector<DemoFrame> write_demo(const std::string& where, const std::string& program);
/// The same into a store that is made for it: see Book::create().
std::vector<DemoFrame> write_demo(const std::function<std::unique_ptr<Store>()>& make,
                                  const std::string& program);

}  // namespace seamwright::book

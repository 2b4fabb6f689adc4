// SPDX-License-Identifier: GPL-3.0-or-later
// The kinds of sheets: each is a row with its name, what it is for, how its document is made and what it asks
// for.
#pragma once

#include <memory>
#include <vector>

#include "app/cli/commands.h"
#include "catalog/book/store/rows.h"

namespace seamwright::cli {

struct SheetOptions {
  std::string job, duty, procedure, weld, certificate, on, from, to, measured, serial, book, out;
  std::string method = "time", tolerance = "B";
  double friction = 0.7;
  double stock_mm = 6000, kerf_mm = 2;
  double axis_mm = 0.5, axis_deg = 0.5;
  bool advice = false, equations = false;
  reports::Language language = reports::language_named("en");  ///< of the session
  book::Mark what;
};

struct SheetKind {
  const char *name, *what;
  reports::Document (*make)(const SheetOptions& options);
  enum class About { job, frame, lot } about;  ///< a lot: what frames of the book carry
  /// Adds what this kind alone asks for; null for nothing.
  void (*ask)(CLI::App& command, const std::shared_ptr<SheetOptions>& options);
};
const std::vector<SheetKind>& sheet_kinds();

/// The command "sheet" with a subcommand for each kind.
void add_sheets(CLI::App& app, Session& session, const std::vector<SheetKind>& kinds);

}  // namespace seamwright::cli

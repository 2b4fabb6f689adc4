// SPDX-License-Identifier: GPL-3.0-or-later
// The commands. Each adds itself to the command line and, when chosen, leaves in session.run what to do,
// giving the exit code.
#pragma once

#include <CLI/CLI.hpp>
#include <filesystem>
#include <functional>
#include <string>

#include "engine/qualification/welder.h"
#include "reports/content/blocks.h"
#include "reports/text/text.h"
#include "reports/text/told.h"

namespace seamwright::cli {

struct Session {
  reports::Language language = reports::language_named("en");
  std::function<int()> run;
};

/// Throws a usage Fault with the nearest known command where a word that must name one does not.
/// Names that a person may have meant where a file is missing, or a folder stands in its place.
std::vector<Message> hints_about(const Fault& fault);
void require_known_command(const CLI::App& app, int argc, const char* const* argv);
/// Names the files of output options that were written since the work began, unless the answer is JSON.
void tell_written(const CLI::App& app, const Session& session, std::filesystem::file_time_type begun);

/// All of them: the whole command line.
void add_commands(CLI::App& app, Session& session);

void add_rate(CLI::App& app, Session& session);
void add_solve(CLI::App& app, Session& session);
void add_modes(CLI::App& app, Session& session);
void add_deck(CLI::App& app, Session& session);
void add_count(CLI::App& app, Session& session);
void add_figure(CLI::App& app, Session& session);
void add_stability(CLI::App& app, Session& session);
void add_peaks(CLI::App& app, Session& session);
void add_ride(CLI::App& app, Session& session);
void add_rig(CLI::App& app, Session& session);
void add_gauges(CLI::App& app, Session& session);
void add_calibrate(CLI::App& app, Session& session);
void add_catalog(CLI::App& app, Session& session);
void add_compare(CLI::App& app, Session& session);
void add_influence(CLI::App& app, Session& session);
void add_suggest(CLI::App& app, Session& session);
void add_improve(CLI::App& app, Session& session);
void add_fit(CLI::App& app, Session& session);
void add_testplan(CLI::App& app, Session& session);
void add_sweep(CLI::App& app, Session& session);
void add_new(CLI::App& app, Session& session);
void add_demo(CLI::App& app, Session& session);
void add_book(CLI::App& app, Session& session);
void add_trace(CLI::App& app, Session& session);
void add_procedure(CLI::App& app, Session& session);
void add_welders(CLI::App& app, Session& session);
void add_inspect(CLI::App& app, Session& session);
void add_plot(CLI::App& app, Session& session);
void add_shape(CLI::App& app, Session& session);
void add_joint(CLI::App& app, Session& session);
void add_export(CLI::App& app, Session& session);
void add_sheet(CLI::App& app, Session& session);

/// Today's day, UTC.
qualification::Date today();
/// A day as 2025-03-10; today for "". Throws a Fault of usage.
qualification::Date day_of(const char* option, const std::string& text);

/// Runs work on a job; a fault of the model gets the place in the design file or the duty file. The duty is ""
/// or what is taken in place of the job's.
int on_job(const std::string& job, const std::string& duty, const std::function<int()>& work);

/// A4, or Letter where the paper is named so by SEAMWRIGHT_PAPER.
void write_pdf(const std::string& path, const reports::Document& document, const Session& session);

/// The program gives back this number for a fault of the category: 2, 3 or 4.
int exit_code(Category category);
/// A wrong call, found only when the command runs.
Fault usage_fault(MessageId id, std::vector<Argument> arguments = {});
/// Writes files, then shows the result, which is shown even where a file cannot be written; throws what both throw.
void write_and_show(const std::function<void()>& write, const std::function<void()>& show);
/// Writes to standard output; throws std::runtime_error when it cannot take all of it.
void print(const std::string& text);
void print(const reports::Document& document, const Session& session);

}  // namespace seamwright::cli

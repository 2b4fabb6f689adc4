// SPDX-License-Identifier: GPL-3.0-or-later
// All sentences, both languages side by side, one table for each subject.
#pragma once

#include <span>
#include <string_view>

namespace seamwright::reports {

struct Entry {
  std::string_view id, english, german;
};

std::span<const Entry> files_sentences();
std::span<const Entry> frame_sentences();
std::span<const Entry> shape_sentences();
std::span<const Entry> strength_sentences();
std::span<const Entry> loads_sentences();
std::span<const Entry> rating_sentences();
std::span<const Entry> figures_sentences();
std::span<const Entry> measured_sentences();
std::span<const Entry> procedure_sentences();
std::span<const Entry> study_sentences();
std::span<const Entry> assumed_sentences();
std::span<const Entry> book_sentences();
std::span<const Entry> record_sentences();
std::span<const Entry> sheets_sentences();
std::span<const Entry> fields_sentences();
std::span<const Entry> about_sentences();
std::span<const Entry> keys_sentences();
std::span<const Entry> window_sentences();
std::span<const Entry> desks_sentences();
std::span<const Entry> pages_sentences();
std::span<const Entry> words_sentences();
std::span<const Entry> evidence_sentences();
std::span<const Entry> pictures_sentences();

}  // namespace seamwright::reports

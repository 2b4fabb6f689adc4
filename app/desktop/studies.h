// SPDX-License-Identifier: GPL-3.0-or-later
// An engineer asks these of a job beyond its rating: each study is a line of a table, with what it wants to
// know and the work that answers with a document. Pages and menus are made from the table.
#pragma once

#include <QMap>
#include <QStringList>
#include <functional>
#include <memory>
#include <vector>

#include "engine/rating/rate.h"
#include "reports/content/blocks.h"

namespace seamwright::desktop {

struct StudyField {
  enum class Kind { number, text, choice, file, new_file };
  Kind kind = Kind::number;
  const char* id;     ///< of the value
  MessageId label;    ///< message id, with its mnemonic
  MessageId help;     ///< message id: what it is, where it comes from
  const char* unit = "";
  double least = 0, most = 0, value = 0;
  QStringList (*choices)(const rating::Job& job) = nullptr;
  bool needed = false;
};

/// The job as it stands in the window, and what was filled in, by field.
struct StudyInput {
  std::shared_ptr<const rating::Job> job;
  std::string folder, design_path, design_text;
  QMap<QString, QString> words;
  QMap<QString, double> numbers;
  std::string text_of(const char* id) const { return words.value(QLatin1String(id)).toStdString(); }
  double number(const char* id) const { return numbers.value(QLatin1String(id)); }
};

/// The second design where there is one, to be shown in strips and frame.
struct SecondDesign {
  std::string name;
  rating::Rating rating;
  design::Design design;
};
struct StudyAnswer {
  reports::Document document;
  std::shared_ptr<const SecondDesign> second;
};

struct Study {
  const char* id;
  MessageId name;  ///< message id
  MessageId why;   ///< message id: what it answers, and what to fill in
  std::vector<StudyField> fields;
  StudyAnswer (*work)(const StudyInput& input, const rating::Progress& progress);
};
const std::vector<Study>& studies();

}  // namespace seamwright::desktop

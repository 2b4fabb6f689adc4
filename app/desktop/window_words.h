// SPDX-License-Identifier: GPL-3.0-or-later
// Sentences of reports/text in the window's language.
#pragma once

#include <QString>
#include <QStringList>
#include <string>
#include <vector>

#include "reports/content/blocks.h"
#include "reports/text/text.h"

namespace seamwright::desktop {

reports::Language language();
void set_language(reports::Language language);
/// The same by its code; English where the program has no such language.
void set_language_code(const QString& code);
/// The codes of all languages there are, as reports::languages() has them.
QStringList language_codes();

/// The sentence of an id; what comes from outside is made visible, never interpreted.
QString sentence_of(MessageId id, std::vector<Argument> arguments = {});
QString sentence_of(const Message& message);
/// A fault's sentence with "file:line: " before it, where the fault knows both and the sentence does not name
/// them.
QString sentence_with_place(const Fault& fault);
QString quantity(double value, const std::string& unit, int digits);
QString cell_text(const reports::Cell& cell);
QString visible_text(const std::string& text);

}  // namespace seamwright::desktop

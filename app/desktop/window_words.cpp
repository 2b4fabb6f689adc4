// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/desktop/window_words.h"

#include "reports/render/cells.h"

namespace seamwright::desktop {

namespace {

reports::Language& chosen_language() {
  static reports::Language chosen = reports::language_named("en");
  return chosen;
}

}  // namespace

reports::Language language() { return chosen_language(); }
void set_language(reports::Language language) { chosen_language() = language; }

void set_language_code(const QString& code) {
  set_language(reports::find_language(code.toStdString()).value_or(reports::language_named("en")));
}

QStringList language_codes() {
  QStringList codes;
  for (const reports::Language& offered : reports::languages())
    codes << visible_text(std::string(offered.file->code));
  return codes;
}

QString visible_text(const std::string& text) { return QString::fromStdString(reports::visible(text)); }

QString sentence_of(const Message& message) { return visible_text(reports::sentence(message, language())); }

QString sentence_of(MessageId id, std::vector<Argument> arguments) {
  return sentence_of({id, std::move(arguments)});
}

QString sentence_with_place(const Fault& fault) {
  const FaultPlace& at = fault.place;
  const std::string_view pattern = reports::sentence_template(fault.message.id.text(), language());
  if (at.file.empty() || at.line == 0 || pattern.find("{file}") != std::string_view::npos)
    return sentence_of(fault.message);
  return visible_text(at.file.substr(at.file.rfind('/') + 1)) + QStringLiteral(":%1: ").arg(at.line) +
         sentence_of(fault.message);
}

QString quantity(double value, const std::string& unit, int digits) {
  return visible_text(reports::quantity(value, unit, digits, language()));
}

QString cell_text(const reports::Cell& cell) { return visible_text(reports::plain_text(cell, language())); }

}  // namespace seamwright::desktop

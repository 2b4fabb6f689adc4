// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/desktop/window_words.h"

#include "reports/render/cells.h"

namespace seamwright::desktop {

namespace {

reports::Language chosen = reports::Language::english;

}  // namespace

reports::Language language() { return chosen; }
void set_language(reports::Language language) { chosen = language; }

QString of(const std::string& text) { return QString::fromStdString(reports::visible(text)); }

QString said(const Message& message) { return of(reports::sentence(message, chosen)); }

QString say(const std::string& id, std::vector<Argument> arguments) {
  return said({id, std::move(arguments)});
}

QString placed(const Message& message) {
  std::string file;
  if (reports::sentence_template(message.id, chosen).find("{file}") == std::string_view::npos)
    for (const Argument& a : message.arguments) {
      if (a.name == "file") file = std::get<std::string>(a.value);
      const auto* line = std::get_if<double>(&a.value);
      if (a.name == "line" && line && !file.empty())
        return of(file.substr(file.rfind('/') + 1)) + QStringLiteral(":%1: ").arg(*line, 0, 'f', 0) +
               said(message);
    }
  return said(message);
}

QString quantity(double value, const std::string& unit, int digits) {
  return of(reports::quantity(value, unit, digits, chosen));
}

QString cell_text(const reports::Cell& cell) { return of(reports::plain_text(cell, chosen)); }

}  // namespace seamwright::desktop

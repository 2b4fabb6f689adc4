// SPDX-License-Identifier: GPL-3.0-or-later
// Sentences about single formulas: id, English, German.
#include "reports/text/sentences/sentences.h"

namespace seamwright::reports {

namespace {

constexpr Entry table[] = {
    {"figure.bad-value",
     "{parameter}: found {found}, expected {expected}.",
     "{parameter}: gefunden {found}, erwartet {expected}."},
    {"figure.behind",
     "What stands behind it",
     "Was dahinter steht"},
    {"figure.list-entry",
     "{figure} [{source}, {clause}]",
     "{figure} [{source}, {clause}]"},
    {"figure.list-title",
     "Figures",
     "Größen"},
    {"figure.list-use",
     "seamwright figure NAME key=value ...; parameters in brackets may be left out, with their value in parentheses.",
     "seamwright figure NAME key=value ...; Parameter in eckigen Klammern dürfen fehlen, mit ihrem Wert in runden."},
    {"figure.missing-parameter",
     "{parameter} is missing.",
     "{parameter} fehlt."},
    {"figure.one-of",
     "{parameter}: expected {expected}, one of them and no more.",
     "{parameter}: erwartet {expected}, eines davon und nicht mehr."},
    {"figure.own-curve",
     "Where a curve is asked for: one of the catalog by curve, rules and environment; or your own by slope and log_a (log N = log_a - slope log S), or by slope and reference_mpa at reference_cycles. With knee_cycles goes slope_beyond; at and below the range that lasts cutoff_cycles nothing counts. A thickness counts only where the curve has a rule for it (reference_thickness_mm and thickness_exponent of your own).",
     "Wo eine Kurve gefragt ist: eine des Katalogs mit curve, rules und environment; oder eine eigene mit slope und log_a (log N = log_a - slope log S) oder mit slope und reference_mpa bei reference_cycles. Zu knee_cycles gehört slope_beyond; an und unter der Schwingbreite, die cutoff_cycles hält, zählt nichts. Eine Wanddicke zählt nur, wo die Kurve eine Regel dafür hat (eigene: reference_thickness_mm und thickness_exponent)."},
    {"figure.parameter",
     "{parameter}",
     "{parameter}"},
    {"figure.title",
     "{figure}",
     "{figure}"},
    {"figure.unknown",
     "There is no figure {figure}; nearest: {nearest}. Known: {known}.",
     "Es gibt keine Größe {figure}; ähnlichste: {nearest}. Bekannt: {known}."},
    {"figure.unknown-curve",
     "The rule set {rules} has no curve {curve} in {environment}; nearest: {nearest}.",
     "Das Regelwerk {rules} hat keine Kurve {curve} in {environment}; ähnlichste: {nearest}."},
    {"figure.unknown-parameter",
     "There is no parameter {parameter}; nearest: {nearest}. Known: {known}.",
     "Es gibt keinen Parameter {parameter}; ähnlichster: {nearest}. Bekannt: {known}."},
};

}  // namespace

std::span<const Entry> figures_sentences() { return table; }

}  // namespace seamwright::reports

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

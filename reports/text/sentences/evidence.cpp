// SPDX-License-Identifier: GPL-3.0-or-later
// States, units and what stands behind a number: id, English, German.
#include "reports/text/sentences/sentences.h"

namespace seamwright::reports {

namespace {

constexpr Entry table[] = {
    {"evidence.input",
     "{name} = {value}",
     "{name} = {value}"},
    {"evidence.limit",
     "outside the source's range: {name} = {value}, range {min} to {max}",
     "außerhalb des Bereichs der Quelle: {name} = {value}, Bereich {min} bis {max}"},
    {"evidence.line",
     "{figure} = {value} [{source}, {clause}]",
     "{figure} = {value} [{source}, {clause}]"},
    {"evidence.line-from-memory",
     "{figure} = {value} [{source}, {clause}; from memory]",
     "{figure} = {value} [{source}, {clause}; aus dem Gedächtnis]"},
    {"foot.catalog",
     "Seamwright, catalog {hash}",
     "Seamwright, Katalog {hash}"},
    {"state.extended",
     "confirm by test",
     "durch Versuch bestätigen"},
    {"state.falls_short",
     "falls short",
     "genügt nicht"},
    {"state.inside",
     "inside",
     "im Bereich"},
    {"state.lowest",
     "lowest threshold",
     "niedrigste Schwelle"},
    {"state.meets",
     "meets",
     "genügt"},
    {"state.none",
     "none",
     "keine"},
    {"state.not_covered",
     "not covered",
     "nicht gedeckt"},
    {"unit.cycles",
     "cycles",
     "Schwingspiele"},
    {"unit.years",
     "years",
     "Jahre"},
    {"word.as-read",
     "re-read",
     "nachgelesen"},
    {"word.end",
     "end",
     "Ende"},
    {"word.from-memory",
     "from memory",
     "aus dem Gedächtnis"},
    {"word.no",
     "no",
     "nein"},
    {"word.not-stated",
     "not stated",
     "nicht angegeben"},
    {"word.start",
     "start",
     "Anfang"},
    {"word.unlimited",
     "unlimited",
     "unbegrenzt"},
    {"word.yes",
     "yes",
     "ja"},
};

}  // namespace

std::span<const Entry> evidence_sentences() { return table; }

}  // namespace seamwright::reports

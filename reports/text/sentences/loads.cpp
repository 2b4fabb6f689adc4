// SPDX-License-Identifier: GPL-3.0-or-later
// Sentences about roads, riders and wheels: id, English, German.
#include "reports/text/sentences/sentences.h"

namespace seamwright::reports {

namespace {

constexpr Entry table[] = {
    {"loads.empty-band",
     "Road {road}: its band from {min} to {max} is empty.",
     "Straße {road}: ihr Band von {min} bis {max} ist leer."},
    {"loads.free-motion",
     "{motions} motions of the trike on its tyres have no stiffness besides rolling along.",
     "{motions} Bewegungen des Dreirads auf seinen Reifen haben außer dem Rollen keine Steifigkeit."},
    {"loads.leg-too-long",
     "Leg {leg} makes {samples} samples; at most {most_distance} of it can be simulated. Shorten it and raise the number of trips.",
     "Abschnitt {leg} ergibt {samples} Werte; höchstens {most_distance} davon lassen sich simulieren. Kürzen und die Zahl der Fahrten erhöhen."},
    {"loads.no-carrier",
     "{load}: there is no node to carry it.",
     "{load}: kein Knoten trägt sie."},
    {"loads.rider-shares",
     "The rider's shares on saddle, pedals and bars sum to {sum}; they must sum to 1.",
     "Die Anteile des Fahrers auf Sattel, Pedalen und Lenker ergeben {sum}; sie müssen 1 ergeben."},
    {"loads.rough-road",
     "Road {road} ({gd_n0}) is rougher than class D: rougher than cycles ride on every day.",
     "Straße {road} ({gd_n0}) ist rauer als Klasse D: rauer, als Räder täglich fahren."},
    {"loads.unknown-channel",
     "There is no channel {channel}; known: {known}.",
     "Es gibt keinen Kanal {channel}; bekannt: {known}."},
    {"loads.wheel-lifts",
     "A wheel would pull on the ground ({load}): it lifts.",
     "Ein Rad würde am Boden ziehen ({load}): es hebt ab."},
};

}  // namespace

std::span<const Entry> loads_sentences() { return table; }

}  // namespace seamwright::reports

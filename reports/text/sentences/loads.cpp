// SPDX-License-Identifier: GPL-3.0-or-later
// Sentences about roads, riders and wheels: id, English, German.
#include "reports/text/sentences/sentences.h"

namespace seamwright::reports {

namespace {

constexpr Entry table[] = {
    {"loads.beyond-stop",
     "A steering angle of {angle} lies beyond the stops ({left} to the left, {right} to the right).",
     "Ein Lenkwinkel von {angle} liegt jenseits der Anschläge ({left} nach links, {right} nach rechts)."},
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
    {"loads.no-rear-wheel",
     "There is no wheel R to drive.",
     "Es gibt kein angetriebenes Rad R."},
    {"loads.no-steering",
     "There is no steering hinge {hinge}.",
     "Es gibt kein Lenkgelenk {hinge}."},
    {"loads.not-steered",
     "Hinge {hinge} does not part the front wheels from the rear wheel: it cannot steer.",
     "Gelenk {hinge} trennt die Vorderräder nicht vom Hinterrad: es kann nicht lenken."},
    {"loads.rider-shares",
     "The rider's shares on saddle, pedals and bars sum to {sum}; they must sum to 1.",
     "Die Anteile des Fahrers auf Sattel, Pedalen und Lenker ergeben {sum}; sie müssen 1 ergeben."},
    {"loads.rough-road",
     "Road {road} ({gd_n0}) is rougher than class D: rougher than cycles ride on every day.",
     "Straße {road} ({gd_n0}) ist rauer als Klasse D: rauer, als Räder täglich fahren."},
    {"loads.tips-at-rest",
     "The centre of gravity lies {outside} outside the line of the contacts: it tips at rest.",
     "Der Schwerpunkt liegt {outside} außerhalb der Linie der Aufstandspunkte: es kippt im Stand."},
    {"loads.unknown-channel",
     "There is no channel {channel}; known: {known}.",
     "Es gibt keinen Kanal {channel}; bekannt: {known}."},
    {"loads.wheel-lifts",
     "A wheel would pull on the ground ({load}): it lifts.",
     "Ein Rad würde am Boden ziehen ({load}): es hebt ab."},
    {"stability.answer",
     "It tips sideways from {threshold} ({share}) of lateral acceleration on: steered {angle}, payload {payload}; at that angle from {speed} on.",
     "Es kippt zur Seite ab {threshold} ({share}) Querbeschleunigung: Lenkwinkel {angle}, Zuladung {payload}; dort ab {speed}."},
    {"stability.cases",
     "Every payload, from stop to stop",
     "Jede Zuladung, von Anschlag zu Anschlag"},
    {"stability.caution-margin",
     "Ride well below it: how far below is for the maker to state.",
     "Mit deutlichem Abstand fahren: wie viel, muss der Hersteller angeben."},
    {"stability.caution-people",
     "People may be carried: try it out empty, slowly and with room around before anybody sits in the box.",
     "Es können Menschen befördert werden: leer, langsam und mit Platz erproben, bevor jemand im Kasten sitzt."},
    {"stability.caution-rigid",
     "Statics of a rigid trike on rigid, level ground: soft tyres, play, quick steering, a shifting load and bumps make it tip earlier.",
     "Statik eines starren Dreirads auf starrem, ebenem Grund: weiche Reifen, Spiel, schnelles Lenken, rutschende Ladung und Stöße lassen es früher kippen."},
    {"stability.caution-slide",
     "Where the tyres grip less than the threshold (in g) it slides first; on dry asphalt bicycle tyres commonly grip more than that (common practice, no source).",
     "Wo die Reifen weniger halten als die Schwelle (in g), rutscht es zuerst; auf trockenem Asphalt halten Fahrradreifen meist mehr (Erfahrung, ohne Quelle)."},
    {"stability.tips",
     "It tips at rest: threshold {threshold} ({share}), steered {angle}, payload {payload} (speed {speed}).",
     "Es kippt im Stand: Schwelle {threshold} ({share}), Lenkwinkel {angle}, Zuladung {payload} (Tempo {speed})."},
    {"stability.title",
     "When does {design} tip?",
     "Wann kippt {design}?"},
};

}  // namespace

std::span<const Entry> loads_sentences() { return table; }

}  // namespace seamwright::reports

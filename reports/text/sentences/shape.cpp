// SPDX-License-Identifier: GPL-3.0-or-later
// Sentences about tubes that cannot be where the drawing has them, and feet that no factor takes.
#include "reports/text/sentences/sentences.h"

namespace seamwright::reports {

namespace {

constexpr Entry table[] = {
    {"possible.gyration",
     "{id}: the radius of gyration is {found} times half the frame's longest extent, at most {most} is possible: every part of a body no longer than the frame lies nearer to its centre.",
     "{id}: Der Trägheitsradius ist das {found}-Fache der halben größten Ausdehnung des Rahmens, höchstens das {most}-Fache ist möglich: Jeder Teil eines Körpers, der nicht länger als der Rahmen ist, liegt näher an seinem Schwerpunkt."},
    {"possible.hole",
     "{id}: the hole is {found} times as wide as its tube, at most {most}: more would cut the tube in two.",
     "{id}: Die Bohrung ist {found}-mal so weit wie ihr Rohr, höchstens {most}: Mehr würde das Rohr durchtrennen."},
    {"possible.inertia",
     "{id}: one moment of inertia is {found} times the sum of the other two, at most {most}: no body has such moments, since each is a sum over two of three squared distances.",
     "{id}: Ein Trägheitsmoment ist das {found}-Fache der Summe der beiden anderen, höchstens {most}: Kein Körper hat solche Momente, denn jedes ist eine Summe über zwei von drei quadrierten Abständen."},
    {"possible.kerb",
     "{id}: its edge is {found} times as high as the radius of the smallest wheel, at most {most}: a wheel cannot roll over an edge above its axle.",
     "{id}: Die Kante ist das {found}-Fache des Radius des kleinsten Rades hoch, höchstens {most}: Ein Rad kann nicht über eine Kante oberhalb seiner Achse rollen."},
    {"possible.throat-wall",
     "{id}: the throat is {found} times the thinnest wall that it joins, at most {most} (common practice): so large a fillet burns through such a wall, and more throat there carries nothing.",
     "{id}: Die Nahtdicke ist das {found}-Fache der dünnsten Wand, die sie verbindet, höchstens {most} (Werkstattpraxis): Eine so große Kehlnaht brennt durch eine solche Wand, und mehr Nahtdicke trägt dort nichts."},
    {"possible.tyre-section",
     "{id}: the tyre's section radius is {found} times half the wheel's radius, at most {most}: more leaves no room for an axle.",
     "{id}: Der Querschnittsradius des Reifens ist das {found}-Fache des halben Radradius, höchstens {most}: Mehr lässt keinen Platz für eine Achse."},
    {"possible.wall-least",
     "{id}: a wall of {found}, at least {least}: ISO 5817, whose quality levels every detail presumes, begins there [from memory].",
     "{id}: Eine Wand von {found}, mindestens {least}: Dort beginnt ISO 5817, deren Bewertungsgruppen jeder Kerbfall voraussetzt [aus dem Gedächtnis]."},
    {"possible.wall-radius",
     "{id}: the wall is {found} times the tube's radius, at most {most}: a thicker one does not fit into the tube.",
     "{id}: Die Wand ist das {found}-Fache des Rohrradius, höchstens {most}: Eine dickere passt nicht ins Rohr."},
    {"possible.weld-line",
     "{id}: the weld line is {found} times as long as its tube, at most {most}.",
     "{id}: Die Nahtlinie ist {found}-mal so lang wie ihr Rohr, höchstens {most}."},
    {"shape.crossing",
     "Members {first} and {second} run through each other, {overlap} deep, and share no node there: move one, or end one at a node of the other with a weld. All such pairs: {all}.",
     "Stäbe {first} und {second} durchdringen sich {overlap} tief und haben dort keinen gemeinsamen Knoten: Einen verlegen oder einen an einem Knoten des anderen mit einer Naht enden lassen. Alle solchen Paare: {all}."},
    {"shape.doubled-back",
     "Member {first} turns back into itself at node {node}: {overlap} of it lies in its own tube. All such members: {all}.",
     "Stab {first} kehrt am Knoten {node} in sich selbst um: {overlap} davon liegen im eigenen Rohr. Alle solchen Stäbe: {all}."},
    {"shape.feet-touch",
     "Weld {weld}: beyond the wall of {chord}, {member} and {other} lie in each other for {along} of its length; the published factors are for feet that stand apart.",
     "Naht {weld}: Jenseits der Wand von {chord} liegen {member} und {other} auf {along} Länge ineinander; die veröffentlichten Faktoren gelten für Füße, die getrennt stehen."},
    {"shape.foot-aside",
     "Weld {weld}: the axis of {member} passes that of {chord} by {aside}; published factors are for axes that meet.",
     "Naht {weld}: Die Achse von {member} geht im Abstand {aside} an der von {chord} vorbei; veröffentlichte Faktoren gelten für Achsen, die sich schneiden."},
    {"shape.foot-in-brace",
     "Weld {weld}: where {member} leaves the wall of {chord}, its axis lies within {other}, and on for {along}: no weld can go all around it.",
     "Naht {weld}: Wo {member} die Wand von {chord} verlässt, liegt die Achse in {other}, weiter auf {along} Länge: Keine Naht kann ganz umlaufen."},
    {"shape.foot-wider",
     "Weld {weld}: {member} is wider than {chord} by {beyond} on each side, where there is no wall to weld to; no published factor is for that.",
     "Naht {weld}: {member} steht auf jeder Seite {beyond} über {chord} hinaus, wo keine Wand zum Anschweißen ist; dafür gibt es keinen veröffentlichten Faktor."},
    {"shape.inside",
     "Members {first} and {second} meet at node {node} at so small an angle that one lies in the other over its whole length of {overlap}. All such pairs: {all}.",
     "Stäbe {first} und {second} treffen sich am Knoten {node} unter so kleinem Winkel, dass einer auf seiner ganzen Länge von {overlap} im anderen liegt. Alle solchen Paare: {all}."},
    {"shape.same-nodes",
     "Members {first} and {second} are one tube drawn twice, from node {node} over {overlap}: delete one. All such pairs: {all}.",
     "Stäbe {first} und {second} sind ein Rohr, zweimal gezeichnet, ab Knoten {node} über {overlap}: Einen löschen. Alle solchen Paare: {all}."},
    {"shape.through",
     "Members {first} and {second} both run on through node {node}, {overlap} wide in each other: one has to end there, as two members with a weld on each side of the other. All such pairs: {all}.",
     "Stäbe {first} und {second} laufen beide durch Knoten {node} hindurch, {overlap} breit ineinander: Einer muss dort enden, als zwei Stäbe mit einer Naht auf jeder Seite des anderen. Alle solchen Paare: {all}."},
    {"shape.wheel",
     "Member {first} runs {overlap} deep through wheel {second} at node {node}: it crosses the wheel's plane within its radius. All such pairs: {all}.",
     "Stab {first} läuft {overlap} tief durch Rad {second} am Knoten {node}: Er kreuzt die Radebene innerhalb des Radius. Alle solchen Paare: {all}."},
};

}  // namespace

std::span<const Entry> shape_sentences() { return table; }

}  // namespace seamwright::reports

// SPDX-License-Identifier: GPL-3.0-or-later
// A design's joints and welds, and what cracks or is held beside them.
#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>

#include "catalog/files/design_rows.h"
#include "catalog/files/macros_reader.h"
#include "catalog/files/procedure_reader.h"
#include "engine/design/weld_geometry.h"

namespace seamwright::files {

namespace {

struct Joint {
  std::string id, node, kind, chord, through;
  joints::Layout layout;
};

// The member end that is welded; a plate along a chord need not be a member.
void read_end(Reader& r, const frame::Frame& f, joints::Weld& w) {
  if (w.layout == joints::Layout::plate_on_tube && !r.has("member")) return;
  w.member = known_id(r, "member", f.members);
  const frame::Member& member = *find(f.members, w.member);
  if (w.chord == w.member) r.fail("file.out-of-range", "member", w.member, "another member than the chord");
  const bool start = member.nodes.front() == w.node, end = member.nodes.back() == w.node;
  if (!start && !end) r.fail("file.weld-not-at-node", "member", w.member, w.node);
  w.at_start = start && end ? r.choice("end", {"start", "end"}) == "start" : start;
}

// Direction of a member where it meets a node.
frame::Vec3 axis_at(const frame::Frame& f, const std::string& id, const std::string& node) {
  const auto& nodes = find(f.members, id)->nodes;
  const auto at = static_cast<std::size_t>(std::find(nodes.begin(), nodes.end(), node) - nodes.begin());
  const std::size_t other = at + 1 < nodes.size() ? at + 1 : at - 1;
  return (find(f.nodes, nodes[other])->position_mm - find(f.nodes, node)->position_mm).normalized();
}

joints::Thread read_thread(Reader& r) {
  const joints::Thread t{r.real("thread_mm", positive), r.real("pitch_mm", positive)};
  if (!(t.pitch_mm < 0.5 * t.diameter_mm))
    r.fail("file.out-of-range", "pitch_mm", number_as_typed(t.pitch_mm), "less than half of thread_mm");
  return t;
}

// A weld between a tube and a plate needs these beside its throat.
void read_plate(Reader& r, const frame::Frame& f, joints::Weld& w) {
  if (w.layout != joints::Layout::slotted && w.layout != joints::Layout::plate_on_tube) return;
  w.plate_mm = r.real("plate_mm", positive);
  w.line_mm = r.real("line_mm", positive);
  const bool slotted = w.layout == joints::Layout::slotted;
  const char* key = slotted ? "plate_normal" : "stands";
  Eigen::Vector3d& direction = slotted ? w.plate_normal : w.stands;
  direction = r.vector(key);
  const frame::Vec3 axis = axis_at(f, slotted ? w.member : w.chord, w.node);
  if (!(direction.cross(axis).norm() > 0.1 * direction.norm()))
    r.fail("file.out-of-range", key, "along the tube", "a direction across the tube");
  if (slotted)
    r.need_possible("weld-line", "line_mm", w.id,
                    w.line_mm / design::member_length_mm(f, *find(f.members, w.member)));
  if (!slotted) w.carries_load = r.flag_or("carries_load", true);
}

Joint read_joint(Reader& r, const frame::Frame& f, const published::Catalog& catalog) {
  Joint j{r.id("id"), known_id(r, "node", f.nodes), r.text("kind"), "", "", {}};
  const published::JointKind* kind = published::find_joint_kind(catalog, j.kind);
  if (!kind) r.fail("file.unknown-id", "kind", j.kind, "a joint kind of the catalog");
  j.layout = kind->layout;
  if (kind->needs_chord) {
    j.chord = known_id(r, "chord", f.members);
    const auto& nodes = find(f.members, j.chord)->nodes;
    if (std::find(nodes.begin(), nodes.end(), j.node) == nodes.end())
      r.fail("file.weld-not-at-node", "chord", j.chord, j.node);
  }
  if (r.has("through")) {
    j.through = known_id(r, "through", f.members);
    const auto& nodes = find(f.members, j.through)->nodes;
    if (nodes.front() != j.node && nodes.back() != j.node)
      r.fail("file.weld-not-at-node", "through", j.through, j.node);
  }
  return j;
}

// A fillet around a brace may have legs of its own.
void read_legs(Reader& r, joints::Weld& w) {
  if (w.layout != joints::Layout::tube_on_tube) return;
  w.leg_crown_mm = r.real_or_none("leg_crown_mm", {0.1, 50});
  w.leg_saddle_mm = r.real_or_none("leg_saddle_mm", {0.1, 50});
}

// A root is proven by a macro section, as fused through or as deep as the weld states.
void read_root(Reader& r, const frame::Frame& f, joints::Weld& w) {
  if (w.layout == joints::Layout::tube_on_tube) w.fusion_mm = r.real_or_none("fusion_mm", not_negative);
  const bool in_part = w.fusion_mm > 0;
  w.root_proof = r.text_or("root_proof", "");
  const MacroShown shown = w.root_proof.empty() ? MacroShown{} : shown_by_macro(r.file(), w.root_proof);
  if (!w.root_proof.empty() && !shown.fused && !(in_part && shown.measured))
    r.fail("file.unknown-id", "root_proof", w.root_proof,
           in_part ? "a [[macro]] with root = \"fused\" or penetration_mm in procedures/"
                   : "a [[macro]] with root = \"fused\" in procedures/");
  if (!in_part || shown.fused) return;
  const frame::RoundTube* tube = design::round_tube(f, w.member);
  if (!tube) r.fail("file.out-of-range", "fusion_mm", number_as_typed(w.fusion_mm), "none: the brace is no round tube");
  if (!(w.fusion_mm < tube->wall_mm))
    r.fail("file.out-of-range", "fusion_mm", number_as_typed(w.fusion_mm),
           "less than the brace's wall, or a root_proof with root = \"fused\"");
}

}  // namespace

void read_welds(Rows& rows, design::Design& d, const published::Catalog& catalog) {
  std::vector<Joint> joints;
  std::vector<Reader> joint_rows;
  rows.read_each("joint", [&](Reader& r) {
    joints.push_back(read_joint(r, d.frame, catalog));
    joint_rows.push_back(r);
  });
  std::vector<std::pair<joints::Weld, Reader>> partners;
  rows.read_each("weld", [&](Reader& r) {
    joints::Weld w;
    w.id = r.id("id");
    w.joint = known_id(r, "joint", joints);
    const Joint& joint = *find(joints, w.joint);
    w.node = joint.node;
    w.kind = joint.kind;
    w.layout = joint.layout;
    w.chord = joint.chord;
    w.through = joint.through;
    read_end(r, d.frame, w);
    w.throat_mm = r.real("throat_mm", positive);
    read_legs(r, w);
    read_plate(r, d.frame, w);
    w.filler_ultimate_mpa = r.real_or_none("filler_ultimate_mpa", {1, 3000});
    read_root(r, d.frame, w);
    w.procedure = r.text_or("procedure", "");
    if (r.has("positions")) w.positions = known_positions(r);
    w.stress_relieved = r.flag_or("stress_relieved", false);
    if (w.kind == "tube-splice") {
      w.offset_mm = r.real_or_none("offset_mm", {0, 100});
      w.other_wall_mm = r.real_or_none("other_wall_mm", positive);
    }
    if (r.has("attachment_length_mm")) w.attachment_length_mm = r.real("attachment_length_mm", positive);
    w.shares_given = r.has("x_share") || r.has("k_share");
    w.x_share = r.real_or_none("x_share", {0, 1});
    w.k_share = r.real_or_none("k_share", {0, 1});
    if (w.x_share + w.k_share > 1)
      r.fail("file.out-of-range", "k_share", number_as_typed(w.x_share + w.k_share),
             "x and k shares of at most 1 together");
    if (w.k_share > 0 || r.has("partner")) {
      w.partner = r.id("partner");
      w.gap_mm = r.real("gap_mm", {-200, 1000});
      partners.emplace_back(w, r);
    }
    r.need_possible("throat-wall", "throat_mm", w.id, w.throat_mm / design::thinnest_wall_mm(d.frame, w));
    d.welds.push_back(w);
  });
  for (std::size_t i = 0; i < joints.size(); ++i)
    if (std::none_of(d.welds.begin(), d.welds.end(), [&](const auto& w) { return w.joint == joints[i].id; }))
      joint_rows[i].fail("file.joint-without-weld", "id", joints[i].id, "a [[weld]] with this joint");
  for (const auto& [w, r] : partners) {
    const joints::Weld* other = find(d.welds, w.partner);
    if (!other || other == find(d.welds, w.id) || other->chord != w.chord || other->node != w.node)
      r.fail("file.unknown-id", "partner", w.partner, "another weld on the same chord at the same node");
  }
}

namespace {

frame::Vec3 read_faces(Reader& r, const design::Design& d, const design::Notch& n) {
  const frame::Vec3 faces = r.vector("faces"), axis = axis_at(d.frame, n.member, find(d.frame.members, n.member)->nodes[0]);
  if (!(faces.cross(axis).norm() > 0.1 * faces.norm()))
    r.fail("file.out-of-range", "faces", "along the tube", "a direction across the tube");
  return faces;
}

// Measures of a seat or a slot, for its drawing alone: both run out at the nearer end.
void read_measures(Reader& r, design::Design& d, design::Notch& n) {
  const frame::RoundTube* tube = design::round_tube(d.frame, n.member);
  if (n.kind == "seat" && r.has("bore_mm")) {
    n.bore_mm = r.real("bore_mm", positive);
    if (tube && !(n.bore_mm > tube->diameter_mm - 2 * tube->wall_mm && n.bore_mm < tube->diameter_mm))
      r.fail("file.out-of-range", "bore_mm", number_as_typed(n.bore_mm), "within the tube's wall");
  }
  if (n.kind != "clamp-slot" || !r.has("slot_mm")) return;
  n.slot_mm = r.real("slot_mm", positive);
  if (tube && !(n.slot_mm < tube->diameter_mm))
    r.fail("file.out-of-range", "slot_mm", number_as_typed(n.slot_mm), "less than the tube's diameter");
  n.faces = read_faces(r, d, n);
}

// Notches that are not welds, and bolts: what each kind needs is in its own keys.
void read_notch(Reader& r, design::Design& d) {
  design::Notch n;
  n.id = r.id("id");
  n.kind = r.choice("kind", {"shoulder", "hole", "thread", "seat", "clamp-slot"});
  n.member = known_id(r, "member", d.frame.members);
  n.at_mm = r.real("at_mm", not_negative);
  const double length = design::member_length_mm(d.frame, *find(d.frame.members, n.member));
  if (n.at_mm > length)
    r.fail("file.out-of-range", "at_mm", number_as_typed(n.at_mm), "a place on the member");
  if (n.kind == "shoulder") {
    n.shoulder = {r.real("large_mm", positive), r.real("small_mm", positive), r.real("fillet_mm", positive)};
    if (!(n.shoulder.large_mm > n.shoulder.small_mm))
      r.fail("file.out-of-range", "small_mm", number_as_typed(n.shoulder.small_mm), "less than large_mm");
    if (r.has("large_end")) n.large_end = r.choice("large_end", {"start", "end"});
  } else if (n.kind == "hole") {
    n.hole_mm = r.real("hole_mm", positive);
    n.faces = read_faces(r, d, n);
    if (const frame::RoundTube* tube = design::round_tube(d.frame, n.member))
      r.need_possible("hole", "hole_mm", n.id, n.hole_mm / tube->diameter_mm);
  } else if (n.kind == "thread") {
    n.thread = read_thread(r);
  } else {
    if (r.has("factor")) {
      n.factor = r.real("factor", {1, 20});
      n.factor_source = r.text("factor_source");
    }
    read_measures(r, d, n);
  }
  d.notches.push_back(n);
}

// An end that no weld holds: clamped, pressed, one tube with another member.
void read_end_declared(Reader& r, design::Design& d) {
  design::UnweldedEnd e;
  e.member = known_id(r, "member", d.frame.members);
  e.node = known_id(r, "node", d.frame.nodes);
  const auto& nodes = find(d.frame.members, e.member)->nodes;
  if (nodes.front() != e.node && nodes.back() != e.node)
    r.fail("file.weld-not-at-node", "member", e.member, e.node);
  if (!r.has("continues")) {
    e.because = r.text("because");
    if (e.because.empty()) r.fail("file.out-of-range", "because", "", "why nothing is rated there");
    d.assumptions.push_back({"assumption.end-not-rated",
                             {text("member", e.member), text("node", e.node), text("because", e.because)}});
    d.unwelded_ends.push_back(e);
    return;
  }
  e.continues = known_id(r, "continues", d.frame.members);
  const frame::Member &one = *find(d.frame.members, e.member), &other = *find(d.frame.members, e.continues);
  if (e.continues == e.member || (other.nodes.front() != e.node && other.nodes.back() != e.node))
    r.fail("file.weld-not-at-node", "continues", e.continues, e.node);
  const auto away = [&](const frame::Member& m) {
    const std::string& next = m.nodes.front() == e.node ? m.nodes[1] : m.nodes[m.nodes.size() - 2];
    return (find(d.frame.nodes, next)->position_mm - find(d.frame.nodes, e.node)->position_mm).normalized();
  };
  constexpr double straight = 0.9994;  // cosine of two degrees
  if (one.tube != other.tube || away(one).dot(away(other)) > -straight)
    r.fail("file.out-of-range", "continues", e.continues, "a member of the same tube, straight on");
  d.unwelded_ends.push_back(e);
}

void read_bolts(Reader& r, design::Design& d) {
  r.expects({"head_mm"});  // it looks like thread_mm
  design::BoltCircle b;
  b.id = r.id("id");
  b.member = known_id(r, "member", d.frame.members);
  b.at_start = r.choice("end", {"start", "end"}) == "start";
  b.thread = read_thread(r);
  b.count = static_cast<int>(r.real("count", {2, 100}));
  b.circle_mm = r.real("circle_mm", positive);
  const std::string grade = r.choice("grade", {"8.8", "10.9", "12.9"});
  b.ultimate_mpa = grade == "8.8" ? 800 : grade == "10.9" ? 1000 : 1200;
  b.brittle_in_shear = grade != "8.8";
  b.preload_n = r.real_or_none("preload_n", not_negative);
  if (b.preload_n > 0) b.loss_percent = r.real("loss_percent", {0, 100});
  b.prying = r.real_or("prying", {1, 5}, 1);
  b.friction = r.real_or_none("friction", {0.01, 1});
  b.head_mm = r.real_or_none("head_mm", positive);
  d.bolts.push_back(b);
}

}  // namespace

void read_beside_welds(Rows& rows, design::Design& d) {
  rows.read_each("notch", [&](Reader& r) { read_notch(r, d); });
  rows.read_each("bolts", [&](Reader& r) { read_bolts(r, d); });
  rows.read_each("end", [&](Reader& r) { read_end_declared(r, d); });
}

}  // namespace seamwright::files

// SPDX-License-Identifier: GPL-3.0-or-later
#include "engine/study/frame_deck.h"

#include <fmt/format.h>

#include <Eigen/Geometry>
#include <algorithm>
#include <array>
#include <cmath>
#include <iterator>
#include <map>
#include <set>

#include "engine/design/weld_geometry.h"
#include "engine/frame/check.h"
#include "engine/loads/channels.h"

namespace seamwright::study {

namespace {

using frame::Vec3;

constexpr double stub_mm = 40;  // of a pin
constexpr double stiff = 100;   // times the tube's own stiffness: the pieces inside a chord

// Nodal forces of one case, 6 for each node of the frame: N, N mm.
struct DeckCase {
  std::string id;
  Eigen::VectorXd force;
};

// The beams carry this at each node, less what supports give.
Eigen::VectorXd beam_load(const frame::Assembly& a, const frame::Solution& s, bool supported) {
  Eigen::VectorXd f = Eigen::VectorXd::Zero(6 * static_cast<Eigen::Index>(a.node_ids.size()));
  for (const frame::Element& e : a.elements) {
    const auto i = 6 * static_cast<Eigen::Index>(e.first), j = 6 * static_cast<Eigen::Index>(e.second);
    frame::Vector12 u;
    u << s.displacements.col(0).segment<6>(i), s.displacements.col(0).segment<6>(j);
    const frame::Vector12 q = e.to_local.transpose() * (e.stiffness * (e.to_local * u));
    f.segment<6>(i) += q.head<6>();
    f.segment<6>(j) += q.tail<6>();
  }
  if (supported) f -= s.reactions.col(0).head(f.size());
  return f;
}

std::vector<DeckCase> cases_on_supports(const frame::Frame& frame) {
  std::vector<DeckCase> cases;
  if (frame.cases.empty()) throw Fault{Message{"deck.no-case", {}}};
  const frame::Assembly a = frame::assemble(frame, frame::Footing::supports);
  const frame::Statics statics(a);
  for (const frame::LoadCase& c : frame.cases)
    cases.push_back({c.id, beam_load(a, statics.solve(frame::case_load(a, c)), true)});
  return cases;
}

std::vector<DeckCase> cases_at_rest(const design::Design& design, const loads::Duty& duty,
                                    const frame::Frame& frame) {
  std::set<double> payloads{0};
  for (const loads::Leg* leg : loads::all_legs(duty)) payloads.insert(leg->pose.payload_kg);
  std::vector<DeckCase> cases;
  for (const double kg : payloads) {
    loads::Pose pose;
    pose.payload_kg = kg;
    const loads::ChannelSolution s =
        loads::solve_channel(frame, design.carriers, duty.rider, design.steering, pose, "standing");
    cases.push_back({fmt::format("at rest, payload {:g} kg", kg), beam_load(s.assembly, s.solution, false)});
  }
  return cases;
}

std::string one_line(std::string text) {
  std::replace_if(
      text.begin(), text.end(), [](char c) { return static_cast<unsigned char>(c) < 0x20; }, ' ');
  return text;
}

class Deck {
 public:
  Deck(const frame::Frame& frame, int divisions) : frame_(frame), divisions_(divisions) {
    for (const frame::Node& n : frame.nodes) {
      number_[n.id] = static_cast<int>(places_.size()) + 1;
      places_.push_back(n.position_mm);
    }
    const frame::Assembly assembly = frame::assemble(frame, frame::Footing::nothing);
    std::size_t span = 0;
    for (const frame::Element& e : assembly.elements) {
      span = span > 0 && &e != assembly.elements.data() && (&e)[-1].member == e.member ? span : 0;
      add_span(frame.members[e.member], span++, e);
    }
    for (const frame::Hinge& h : frame.hinges) add_hinge(h);
  }

  std::string written(const std::string& title, const std::vector<DeckCase>& cases, bool supported) const {
    std::string out = fmt::format("** {}\n** mm, N, t, MPa\n", one_line(title));
    for (const frame::Member& m : frame_.members)
      if (!m.start_flexibility.isZero() || !m.end_flexibility.isZero()) {
        out +=
            "** LEFT OUT: the chords' walls give way under the braces in the rating, here joints are rigid\n";
        break;
      }
    for (const frame::Node& n : frame_.nodes)
      out += fmt::format("** node {} is {}\n", number_.at(n.id), one_line(n.id));
    put_nodes(out);
    put_materials(out);
    int element = 0, group = 0;
    for (const auto& [kind, pieces] : groups_) put_group(out, kind, pieces, ++group, element);
    for (const Link& l : links_)  // as springs along their axes
      out += fmt::format("*ELEMENT, TYPE=SPRINGA, ELSET=E{}\n{}, {}, {}\n*SPRING, ELSET=E{}\n\n{:.9g}\n",
                         ++group, ++element, l.from, l.to, group, l.n_mm);
    put_hinges(out);
    put_boundary(out, supported);
    for (const DeckCase& c : cases) put_step(out, c);
    return out;
  }

 private:
  struct Kind {
    std::string tube;
    bool rigid = false;
    std::array<double, 3> up{};  // the direction 1 of the section
    auto operator<=>(const Kind&) const = default;
  };
  using Piece = std::array<int, 3>;
  struct Link {
    int from, to;
    double n_mm;
  };

  Vec3 place(int node) const { return places_[static_cast<std::size_t>(node - 1)]; }
  struct Pin {
    std::string id;
    Vec3 axis;
    std::array<int, 2> nodes, tips;
  };

  int new_node(const Vec3& at) {
    places_.push_back(at);
    return static_cast<int>(places_.size());
  }

  // The i-th stretch of a member, between two of its nodes.
  void add_span(const frame::Member& m, std::size_t i, const frame::Element& e) {
    const bool first = i == 0, last = i + 2 == m.nodes.size();
    const int from = number_.at(m.nodes[i]), to = number_.at(m.nodes[i + 1]);
    Kind kind{m.tube, false, {}};
    if (m.axial_only) {
      links_.push_back({from, to, e.stiffness(0, 0)});
      return;
    }
    for (Eigen::Index k = 0; k < 3; ++k)
      kind.up[static_cast<std::size_t>(k)] = std::round(e.axes(1, k) * 1e6) / 1e6 + 0.0;
    turning_.insert({from, to});
    const Vec3 along = e.axes.row(0);
    const Vec3 at = place(from) + (first ? Vec3(m.start_offset_mm + along * m.start_cut_mm) : Vec3::Zero()),
               end = place(to) + (last ? Vec3(m.end_offset_mm - along * m.end_cut_mm) : Vec3::Zero());
    const int near = arm(kind, from, at), far = arm(kind, to, end);
    span(kind, near, far, divisions_);
  }

  // A stiff piece from the node to where the member begins; the node itself where that is the same place.
  int arm(Kind kind, int node, const Vec3& to) {
    if ((to - place(node)).norm() < frame::same_place_mm) return node;
    kind.rigid = true;
    const int end = new_node(to);
    span(kind, node, end, 3);
    return end;
  }

  void span(const Kind& kind, int from, int to, int parts) {
    const Vec3 a = place(from), b = place(to);
    int before = from;
    for (int k = 1; k <= parts; ++k) {
      const int middle = new_node(a + (b - a) * (2 * k - 1) / (2.0 * parts));
      const int next = k == parts ? to : new_node(a + (b - a) * k / parts);
      groups_[kind].push_back({before, middle, next});
      before = next;
    }
  }

  void put_nodes(std::string& out) const {
    out += "*NODE, NSET=ALL\n";
    for (std::size_t i = 0; i < places_.size(); ++i)
      out +=
          fmt::format("{}, {:.6f}, {:.6f}, {:.6f}\n", i + 1, places_[i].x(), places_[i].y(), places_[i].z());
    out += fmt::format("*NSET, NSET=DESIGN, GENERATE\n1, {}\n", frame_.nodes.size());
  }

  void put_materials(std::string& out) const {
    for (std::size_t i = 0; i < frame_.materials.size(); ++i) {
      const frame::Material& m = frame_.materials[i];
      out += fmt::format("** {}\n*MATERIAL, NAME=M{}\n*ELASTIC\n{:.9g}, {:.9g}\n*DENSITY\n{:.9g}\n",
                         one_line(m.id), i, m.youngs_mpa, m.poisson, m.density_kg_m3 * 1e-12);
      out +=
          fmt::format("*MATERIAL, NAME=S{}\n*ELASTIC\n{:.9g}, {:.9g}\n", i, stiff * m.youngs_mpa, m.poisson);
    }
  }

  const frame::Tube& tube(const std::string& id) const {
    return *std::find_if(frame_.tubes.begin(), frame_.tubes.end(), [&](const auto& t) { return t.id == id; });
  }

  void put_group(std::string& out, const Kind& kind, const std::vector<Piece>& pieces, int group,
                 int& element) const {
    const frame::Tube& t = tube(kind.tube);
    out += fmt::format("** tube {}\n*ELEMENT, TYPE=B32R, ELSET=E{}\n", one_line(t.id), group);
    for (const Piece& p : pieces) {
      out += fmt::format("{}", ++element);
      for (const int n : p) out += fmt::format(", {}", n);
      out += "\n";
    }
    const auto material = std::find_if(frame_.materials.begin(), frame_.materials.end(),
                                       [&](const auto& m) { return m.id == t.material; });
    const std::string name = fmt::format("{}{}", kind.rigid ? "S" : "M", material - frame_.materials.begin());
    out += fmt::format("*BEAM SECTION, ELSET=E{}, MATERIAL={}, SECTION={}\n{:.9g}, {:.9g}, {:.9g}\n", group,
                       name, section_of(t), kind.up[0], kind.up[1], kind.up[2]);
  }

  static std::string section_of(const frame::Tube& t) {
    if (const auto* s = std::get_if<frame::RoundTube>(&t.section))
      return fmt::format("PIPE\n{:.9g}, {:.9g}", s->diameter_mm / 2, s->wall_mm);
    if (const auto* s = std::get_if<frame::SolidBar>(&t.section))
      return fmt::format("PIPE\n{:.9g}, {:.9g}", s->diameter_mm / 2, 0.4999 * s->diameter_mm);
    if (const auto* s = std::get_if<frame::PlateStrip>(&t.section))
      return fmt::format("RECT\n{:.9g}, {:.9g}", s->height_mm, s->thickness_mm);
    if (const auto* s = std::get_if<frame::RectangularTube>(&t.section))
      return fmt::format("BOX\n{:.9g}, {:.9g}, {:.9g}, {:.9g}, {:.9g}, {:.9g}", s->height_mm, s->width_mm,
                         s->wall_mm, s->wall_mm, s->wall_mm, s->wall_mm);
    throw Fault{Message{"deck.no-section", {text("tube", t.id)}}};
  }

  // A pin in two bearings: the nodes go together, and the ends of two stubs along the axis go together across
  // it. Equations between rotations are not understood everywhere.
  void add_hinge(const frame::Hinge& h) {
    const int first = number_.at(h.first), second = number_.at(h.second);
    const auto met = std::find_if(frame_.members.begin(), frame_.members.end(), [&](const frame::Member& m) {
      return std::find(m.nodes.begin(), m.nodes.end(), h.first) != m.nodes.end();
    });
    const Vec3 axis = h.axis.normalized(), across = axis.unitOrthogonal();
    Kind kind{met->tube, true, {across.x(), across.y(), across.z()}};
    const Vec3 tip = place(first) + stub_mm * axis;
    hinges_.push_back({h.id, axis, {first, second}, {new_node(tip), new_node(tip)}});
    for (std::size_t k = 0; k < 2; ++k) span(kind, hinges_.back().nodes[k], hinges_.back().tips[k], 2);
  }

  void put_hinges(std::string& out) const {
    for (const Pin& p : hinges_) {
      out += fmt::format("** hinge {}\n", one_line(p.id));
      for (int k = 1; k <= 3; ++k)
        out += fmt::format("*EQUATION\n2\n{}, {}, 1., {}, {}, -1.\n", p.nodes[1], k, p.nodes[0], k);
      const Vec3 t = p.axis.unitOrthogonal();
      Vec3 v = p.axis.cross(t);
      Eigen::Index first = 0, second = 0;
      t.cwiseAbs().maxCoeff(&first);
      v -= t * (v[first] / t[first]);  // so that each equation has a motion of its own to give
      v.cwiseAbs().maxCoeff(&second);
      put_across(out, p.tips, t, first);
      put_across(out, p.tips, v, second);
    }
  }

  static void put_across(std::string& out, const std::array<int, 2>& tips, const Vec3& t,
                         Eigen::Index given) {
    std::vector<std::string> terms{fmt::format("{}, {}, {:.12g}", tips[1], given + 1, t[given])};
    for (Eigen::Index k = 0; k < 3; ++k) {
      if (std::abs(t[k]) < 1e-12) continue;
      if (k != given) terms.push_back(fmt::format("{}, {}, {:.12g}", tips[1], k + 1, t[k]));
      terms.push_back(fmt::format("{}, {}, {:.12g}", tips[0], k + 1, -t[k]));
    }
    out += fmt::format("*EQUATION\n{}\n", terms.size());
    for (std::size_t i = 0; i < terms.size(); ++i)  // four terms to a line
      out += terms[i] + (i + 1 == terms.size() || i % 4 == 3 ? "\n" : ", ");
  }

  void put_boundary(std::string& out, bool supported) const {
    out += "*BOUNDARY\n";
    if (!supported) {
      out += fmt::format("** held so that nothing floats; its reactions are to vanish\n{}, 1, 6\n",
                         number_.at(frame_.members.front().nodes.front()));
      return;
    }
    for (const frame::Support& support : frame_.supports)
      for (std::size_t k = 0; k < 6; ++k)
        if (support.fixed[k]) out += fmt::format("{}, {}\n", number_.at(support.node), k + 1);
  }

  void put_step(std::string& out, const DeckCase& c) const {
    out += fmt::format("** {}\n*STEP\n*STATIC\n*CLOAD, OP=NEW\n", one_line(c.id));
    const double least = 1e-9 * c.force.cwiseAbs().maxCoeff();
    for (Eigen::Index i = 0; i < c.force.size(); ++i)
      if (std::abs(c.force[i]) > least && (i % 6 < 3 || turning_.contains(static_cast<int>(i / 6) + 1)))
        out += fmt::format("{}, {}, {:.12g}\n", i / 6 + 1, i % 6 + 1, c.force[i]);
    out += "*NODE PRINT, NSET=DESIGN\nU\n*NODE PRINT, NSET=DESIGN, TOTALS=ONLY\nRF\n*END STEP\n";
  }

  const frame::Frame& frame_;
  int divisions_;
  std::map<std::string, int> number_;
  std::vector<Vec3> places_;
  std::set<int> turning_;  // nodes that beams meet; links turn nothing
  std::map<Kind, std::vector<Piece>> groups_;
  std::vector<Link> links_;
  std::vector<Pin> hinges_;
};

}  // namespace

std::string frame_deck(const design::Design& design, const loads::Duty* duty, int divisions) {
  if (divisions < 1 || divisions > 200)
    throw Fault{Message{"frame.bad-number",
                        {text("id", design.identity.name), text("what", "divisions"),
                         number("value", divisions, ""), number("min", 1, ""), number("max", 200, "")}}};
  const frame::Frame frame = design::frame_with_cuts(design);
  const std::vector<DeckCase> cases = duty ? cases_at_rest(design, *duty, frame) : cases_on_supports(frame);
  return Deck(frame, divisions).written(design.identity.name + " " + design.identity.revision, cases, !duty);
}

}  // namespace seamwright::study

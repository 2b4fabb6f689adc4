// SPDX-License-Identifier: GPL-3.0-or-later
#include "reports/content/template_picture.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "engine/evidence/constants.h"

namespace seamwright::reports {

namespace {

using shape::CutPlace;
using shape::TubeEnd;

constexpr double pi = std::numbers::pi;
constexpr double alike_mm = 0.01;
constexpr double gap_shown_mm = 0.05;  // below, the dashed line would lie in the heavy one
constexpr double line_mm = 3.6, paper_edge_mm = 2;
constexpr double letter_share = 0.56;  // mean width of a letter over its size
const Pen cut_pen{{Ink::ink, 0}, 0.35, Dash::solid}, edge_pen{{Ink::ink, 0}, 0.12, Dash::solid},
    whole_pen{{Ink::ink, 0}, 0.15, Dash::dashed}, guide_pen{{Ink::faint, 0}, 0.15, Dash::dotted};

const frame::RoundTube* round_of(const shape::Blank& b) { return std::get_if<frame::RoundTube>(&b.section); }

double depth_mm(const TubeEnd& e) {
  double most = 0;
  for (const CutPlace& p : e.line) most = std::max(most, p.cut_mm - e.long_point_mm);
  return most;
}

bool has_template(const shape::Blank& b, const TubeEnd& e) {
  return round_of(b) && !e.line.empty() &&
         (e.kind == TubeEnd::Kind::coped || e.kind == TubeEnd::Kind::mitred) && depth_mm(e) > alike_mm;
}

// Places of the line at equal angles: what two ends are compared by.
std::vector<double> sampled(const TubeEnd& e) {
  std::vector<double> out;
  for (int i = 0; i < 180; ++i)
    if (const auto p = shape::cut_place(e, 2 * pi * i / 180)) {
      out.push_back(p->cut_mm - e.long_point_mm);
      out.push_back(p->cut_mm - p->gap_along_mm - e.long_point_mm);
    }
  return out;
}

bool alike(const std::vector<double>& a, const std::vector<double>& b) {
  return a.size() == b.size() && std::equal(a.begin(), a.end(), b.begin(),
                                            [](double x, double y) { return std::abs(x - y) <= alike_mm; });
}

struct Drawer {
  const TubeEnd& end;
  double radius;
  Picture picture{};

  double x_of(double angle) const { return (std::remainder(angle, 2 * pi) + pi) * radius; }
  Point place(const CutPlace& p, double mm) const {
    return {(p.angle_rad + pi) * radius, mm - end.long_point_mm};
  }
  void line(std::vector<Point> points, const Pen& pen) {
    picture.items.emplace_back(Path{std::move(points), false, pen, {}});
  }
  void words(const Point& at, Cell cell, double size, PictureText::Anchor anchor = PictureText::Anchor::start,
             bool bold = false, bool upright = false) {
    picture.items.emplace_back(PictureText{at, std::move(cell), size, anchor, {Ink::ink, 0}, bold, upright});
  }

  void cut() {
    std::vector<Point> points, whole;
    for (const CutPlace& p : end.line) points.push_back(place(p, p.cut_mm));
    const auto finish = [&] {
      if (whole.size() > 1) line(std::move(whole), whole_pen);
      whole.clear();
    };
    for (const CutPlace& p : end.line) {
      if (p.gap_along_mm < gap_shown_mm)
        finish();
      else
        whole.push_back(place(p, p.cut_mm - p.gap_along_mm));
    }
    finish();
    line(std::move(points), cut_pen);
  }
  // A letter below the middle of each stretch of the line along which one edge touches.
  void letters() {
    const double least = 3 / radius;  // rad: where a letter has room
    const auto differs = [](const CutPlace& p) { return p.gap_along_mm >= gap_shown_mm; };
    for (std::size_t i = 0; i + 1 < end.line.size();) {
      std::size_t last = i;
      while (last + 1 < end.line.size() && differs(end.line[last + 1]) == differs(end.line[i]) &&
             end.line[last + 1].outer_touches() == end.line[i].outer_touches())
        ++last;
      if (differs(end.line[i]) && end.line[last].angle_rad - end.line[i].angle_rad > least) {
        const double middle = (end.line[i].angle_rad + end.line[last].angle_rad) / 2;
        const auto p = shape::cut_place(end, middle);
        if (p)
          words({(middle + pi) * radius + (std::abs(middle) * radius < 3 ? 3.5 : 0),
                 p->cut_mm - end.long_point_mm + 3},
                Message{p->outer_touches() ? MessageId("templates.letter-outer") : "templates.letter-inner",
                        {}},
                2.4, PictureText::Anchor::middle);
      }
      i = last + 1;
    }
  }
  double cut_at_mm(double angle) const {
    const auto p = shape::cut_place(end, angle);
    return p ? p->cut_mm - end.long_point_mm : 0;
  }
};

std::size_t letters_in(double width, double size) {
  return std::max<std::size_t>(8, static_cast<std::size_t>(width / size / letter_share));
}

// Names in lines, broken after commas.
std::vector<std::string> broken(const std::vector<std::string>& names, std::size_t most) {
  std::vector<std::string> lines(1);
  for (std::size_t i = 0; i < names.size(); ++i) {
    const std::string name = names[i] + (i + 1 < names.size() ? "," : "");
    if (!lines.back().empty() && lines.back().size() + name.size() + 1 > most) lines.emplace_back();
    lines.back() += (lines.back().empty() ? "" : " ") + name;
  }
  return lines;
}

std::string name_of_end(const TubeEnd& e) { return e.weld + " " + e.member; }

// Adds the words below the cut; gives the height below them.
double add_words(Drawer& d, const Template& one, const shape::Blank& b, double y) {
  const TubeEnd& e = *one.end;
  const double width = 2 * pi * d.radius - 2 * paper_edge_mm;
  constexpr double size = 2.8;
  const auto add = [&](Cell cell, bool bold = false) {
    d.words({paper_edge_mm, y += line_mm}, std::move(cell), bold ? 3.4 : size, PictureText::Anchor::start, bold);
  };
  add(Message{"templates.weld", {text("weld", e.weld), text("member", e.member)}}, true);
  add(Message{"templates.on", {text("onto", e.onto), text("node", e.node)}});
  const frame::RoundTube& tube = *round_of(b);
  add(Message{
      "tube-size.round",
      {text("steel", b.steel), number("diameter", tube.diameter_mm, ""), number("wall", tube.wall_mm, "")}});
  const auto add_names = [&](MessageId id, const char* argument, const std::vector<std::string>& names) {
    for (const std::string& line : broken(names, letters_in(width, size) - 6))
      add(Message{id, {text(argument, line)}});
  };
  if (!e.others.empty()) add_names("templates.with", "others", e.others);
  std::vector<std::string> same;
  for (const TubeEnd* other : one.same) same.push_back(name_of_end(*other));
  if (!same.empty()) add_names("templates.same", "ends", same);
  return y + paper_edge_mm;
}

void add_marks(Drawer& d, double below) {
  const TubeEnd& e = d.end;
  const double wide = 2 * pi * d.radius, top = wide / 2;
  d.line({{top, d.cut_at_mm(0) + 1}, {top, below}}, edge_pen);
  d.picture.items.emplace_back(
      Path{{{top, below - 3}, {top - 1.3, below}, {top + 1.3, below}}, true, edge_pen, {Ink::ink, 0}});
  d.words({top, below + 3}, Message{facing(e.top), {}}, 2.4, PictureText::Anchor::middle);
  if (!e.crown_rad) return;
  const double x = d.x_of(*e.crown_rad);
  d.line({{x, d.cut_at_mm(*e.crown_rad) + 4}, {x, below - 4}}, guide_pen);
  const bool right_angle = e.kind == TubeEnd::Kind::coped && e.angle_deg > 89.95;
  constexpr double beside = 14;  // the words of the top mark and its line
  const bool right_of_top = x >= top && x - top < beside, left_of_top = x < top && top - x < beside;
  const bool start = x < 0.2 * wide || right_of_top, end = !start && (x > 0.8 * wide || left_of_top);
  const PictureText::Anchor anchor = start ? PictureText::Anchor::start
                                     : end ? PictureText::Anchor::end
                                           : PictureText::Anchor::middle;
  const double aside = start ? paper_edge_mm : end ? -paper_edge_mm : 0;
  d.words({x + aside, below - 1.5},
          right_angle ? Message{"templates.side-start", {text("onto", e.onto)}}
                      : Message{"templates.side-acute", {}},
          2.2, anchor);
}

}  // namespace

MessageId facing(const frame::Vec3& top) {
  Eigen::Index axis = 0;
  top.cwiseAbs().maxCoeff(&axis);
  const bool positive = top[axis] > 0;
  if (axis == 0) return positive ? MessageId("templates.faces-forward") : "templates.faces-rear";
  if (axis == 1) return positive ? MessageId("templates.faces-left") : "templates.faces-right";
  return positive ? MessageId("templates.faces-up") : "templates.faces-down";
}

std::vector<Template> templates_of(const std::vector<shape::Blank>& blanks) {
  struct Known {
    std::vector<double> places;
    frame::RoundTube tube;
  };
  std::vector<Template> out;
  std::vector<Known> known;
  for (const shape::Blank& b : blanks)
    for (const TubeEnd* e : {&b.start, &b.end}) {
      if (!has_template(b, *e)) continue;
      const frame::RoundTube& tube = *round_of(b);
      std::vector<double> places = sampled(*e);
      std::size_t i = 0;
      while (i < out.size() &&
             !(known[i].tube.diameter_mm == tube.diameter_mm && known[i].tube.wall_mm == tube.wall_mm &&
               facing(out[i].end->top) == facing(e->top) && alike(known[i].places, places)))
        ++i;
      if (i < out.size()) {
        out[i].same.push_back(e);
        continue;
      }
      out.push_back({e, {}});
      known.push_back({std::move(places), tube});
    }
  return out;
}

Picture template_picture(const Template& one, const shape::Blank& blank) {
  const TubeEnd& e = *one.end;
  Drawer d{e, round_of(blank)->diameter_mm / 2};
  const double wide = 2 * pi * d.radius, deepest = depth_mm(e), marks = deepest + 12;
  d.picture.width_mm = wide;
  d.line({{0, 0}, {wide, 0}}, edge_pen);
  d.words({wide / 2, -1.2}, Message{"templates.square-cut", {}}, 2.2, PictureText::Anchor::middle);
  d.cut();
  d.letters();
  add_marks(d, marks);
  const double bottom = add_words(d, one, blank, marks + 4);
  for (const double x : {0.0, wide}) d.line({{x, 0}, {x, bottom}}, edge_pen);
  d.line({{0, bottom}, {wide, bottom}}, edge_pen);
  d.words({wide - 0.8, bottom - 2}, Message{"templates.seam", {}}, 2.2, PictureText::Anchor::start, false,
          true);
  // Room above for the words on the square cut.
  constexpr double above = 4;
  Picture out{wide, bottom + above, {}};
  for (auto& item : d.picture.items) {
    if (auto* p = std::get_if<Path>(&item))
      for (Point& q : p->points) q.y += above;
    else if (auto* t = std::get_if<PictureText>(&item))
      t->at.y += above;
    out.items.push_back(std::move(item));
  }
  return out;
}

}  // namespace seamwright::reports

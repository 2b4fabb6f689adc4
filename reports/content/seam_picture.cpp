// SPDX-License-Identifier: GPL-3.0-or-later
#include "reports/content/seam_picture.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <utility>

#include "engine/shape/pieces.h"
#include "engine/sites/joint_readings.h"
#include "reports/content/frame_names.h"
#include "reports/content/seam_solid.h"
#include "reports/content/weld_card.h"

namespace seamwright::reports {

namespace {

using frame::Vec3;

constexpr double text_mm = 2.5, head_mm = 17, strip_high_mm = 5.4, load_high_mm = 4 + 3 * strip_high_mm, load_gap_mm = 3, names_wide_mm = 28, ring_mm = 1.6;
constexpr double axis_mm = 11, label_half_mm = 1.3, note_mm = 3.2, narrow_foot_mm = 14;
constexpr double least_wide = 0.07;  // of the room of a strip, at the pale end
constexpr double foot_mm = 20;       // scale and what it says, below the strips

const Pen no_line{{Ink::none, 0}, 0, Dash::solid};

bool is_narrow(double width_mm) { return width_mm < 150; }

double wide_of(double level) { return least_wide + (1 - least_wide) * level; }

// The level between two neighbouring places. Beside a place without a number the level of the other holds up to half way.
struct LevelsAround {
  const SeamValues::Around& values;
  const SeamScale& scale;
  // The part says how far on from the place.
  std::optional<double> level(std::size_t place, double part) const {
    const double a = values[place % values.size()], b = values[(place + 1) % values.size()];
    if (std::isnan(a) && std::isnan(b)) return {};
    if (std::isnan(b)) return part <= 0.5 ? std::optional(level_of(scale, a)) : std::nullopt;
    if (std::isnan(a)) return part >= 0.5 ? std::optional(level_of(scale, b)) : std::nullopt;
    return (1 - part) * level_of(scale, a) + part * level_of(scale, b);
  }
};

const SeamValues::Around& around_of(const SeamValues& values, SeamLine line) { return values.at[static_cast<std::size_t>(line)]; }

Colour tint(double level) { return {Ink::scale, level}; }

void add_text(Picture& p, const Point& at, Cell text, double size, PictureText::Anchor anchor = PictureText::Anchor::start,
              Colour colour = {Ink::ink, 0}, bool bold = false) {
  p.items.emplace_back(PictureText{at, std::move(text), size, anchor, colour, bold});
}

void add_line(Picture& p, std::vector<Point> points, const Pen& pen) { p.items.emplace_back(Path{std::move(points), false, pen, {}}); }

void add_ring(Picture& p, const Point& at) {
  p.items.emplace_back(Circle{at, ring_mm, {{Ink::sheet, 0}, 1.1, Dash::solid}, {}});
  p.items.emplace_back(Circle{at, ring_mm, {{Ink::arc, 0}, 0.5, Dash::solid}, {}});
}

// Edges of a strip as lines that go on from piece to piece.
class Edges {
 public:
  explicit Edges(Picture& picture) : p_(picture) {}
  ~Edges() { end(); }
  Edges(const Edges&) = delete;
  Edges& operator=(const Edges&) = delete;
  void add(const Point& from, const Point& to) {
    if (points_.empty()) points_.push_back(from);
    points_.push_back(to);
  }
  void end() {
    if (!points_.empty()) add_line(p_, std::move(points_), {{Ink::faint, 0}, 0.13, Dash::solid});
    points_.clear();
  }

 private:
  Picture& p_;
  std::vector<Point> points_;
};

struct Box {
  double left = 0, top = 0, width_mm = 0, height_mm = 0;
};

// The joint as one sees it.
class SolidView {
 public:
  SolidView(Picture& picture, const SeamSolid& solid, const SeamValues& values, const SeamPlace& largest, const Box& box)
      : p_(picture), solid_(solid), values_(values), largest_(largest) {
    camera_.axes = axes_towards(solid, values, largest);
    towards_ = camera_.axes.row(2).transpose();
    outline_ = outline_of(solid, towards_);
    fit(box);
  }

  void add(const SeamScale& scale) {
    for (const auto& line : outline_.hidden_toes) draw(line, {{Ink::faint, 0}, 0.15, Dash::dashed});
    for (const SeamLine line : seam_lines) add_strip({around_of(values_, line), scale}, line);
    for (const auto& line : outline_.seen) draw(line, {{Ink::ink, 0}, 0.3, Dash::solid});
    add_angles();
    add_parts();
    const std::size_t n = solid_.around().size();
    const auto section = static_cast<std::size_t>(std::lround(largest_.angle_deg / 360 * static_cast<double>(n))) % n;
    const double wide = wide_of(level_of(scale, largest_.value));
    add_ring(p_, projected(camera_, strip_middle(solid_, largest_.line, section, wide)));
  }

 private:
  void fit(const Box& box) {
    Eigen::Array2d least(1e300, 1e300), most(-1e300, -1e300);
    for (const auto* lines : {&outline_.seen, &outline_.hidden_toes})
      for (const auto& line : *lines)
        for (const Vec3& at : line) {
          const Eigen::Array2d q = (camera_.axes * at).head<2>().array();
          least = least.min(q);
          most = most.max(q);
        }
    const Eigen::Array2d middle = 0.5 * (least + most), size = (most - least).max(1.0);
    camera_.centre_mm = camera_.axes.transpose() * Vec3(middle[0], middle[1], 0);
    camera_.middle = {box.left + box.width_mm / 2, box.top + box.height_mm / 2};
    camera_.scale = std::min(box.width_mm / size[0], box.height_mm / size[1]);
  }

  void draw(const std::vector<Vec3>& line, const Pen& pen) {
    std::vector<Point> points;
    for (const Vec3& at : line) points.push_back(projected(camera_, at));
    add_line(p_, std::move(points), pen);
  }

  void add_strip(const LevelsAround& levels, SeamLine line) {
    const std::size_t n = solid_.around().size(), per_place = n / solid::places_around;
    Edges outer(p_);  // so that the pale end is seen too
    for (std::size_t i = 0; i < n; ++i) {
      const double part = static_cast<double>(i % per_place), of = static_cast<double>(per_place);
      const auto from = levels.level(i / per_place, part / of), to = levels.level(i / per_place, (part + 1) / of);
      const StripPiece piece = strip_piece(solid_, line, i, wide_of(from.value_or(0)), wide_of(to.value_or(0)));
      if (!from || !to || piece.normal.dot(towards_) <= 0 || !is_seen(solid_, piece.middle + 0.3 * piece.normal, towards_)) {
        outer.end();
        continue;
      }
      std::vector<Point> corners;
      for (const Vec3& corner : piece.corners) corners.push_back(projected(camera_, corner));
      outer.add(corners[3], corners[2]);
      const Colour colour = tint(0.5 * (*from + *to));
      p_.items.emplace_back(Path{std::move(corners), true, {colour, 0.08, Dash::solid}, colour});
    }
  }

  // Degrees at crowns and saddles, outside the widest strip on the chord.
  void add_angles() {
    const std::size_t n = solid_.around().size();
    for (std::size_t quarter = 0; quarter < 4; ++quarter) {
      const std::size_t i = quarter * n / 4;
      const StripPiece out = strip_piece(solid_, SeamLine::chord_toe, i, 1.25, 1.25);
      if (out.normal.dot(towards_) < 0.1 || !is_seen(solid_, out.corners[3] + 0.3 * out.normal, towards_)) continue;
      const Point at = projected(camera_, out.corners[3]), toe = projected(camera_, out.corners[0]);
      const double length = std::max(0.1, std::hypot(at.x - toe.x, at.y - toe.y));
      add_line(p_, {toe, at}, {{Ink::faint, 0}, 0.13, Dash::solid});
      add_label({at.x + 2.2 * (at.x - toe.x) / length, at.y + 2.2 * (at.y - toe.y) / length},
                Quantity{90.0 * static_cast<double>(quarter), "", 3}, quarter == 0 ? 2 : quarter == 1 ? 3.2 : 4.4);
    }
  }

  // Names of brace and chord near their open ends, where nothing stands before them.
  void add_parts() {
    for (const std::string& part : {solid_.brace_part, solid_.chord_part})
      for (const double further : {1.0, 1.5, 2.2})
        if (add_part(part, further)) break;
  }
  bool add_part(const std::string& part, double further) {
    for (const auto& tube : solid_.tubes)
      for (const bool at_to : {true, false}) {
        if (tube.part != part || !(at_to ? tube.open_to : tube.open_from)) continue;
        const Vec3 along = tube.body.to - tube.body.from, outward = (at_to ? 1 : -1) * along.normalized();
        // Clear of the circle of the end, which is as high in the picture as one looks along the tube.
        const double slant = outward.dot(towards_), level = std::sqrt(std::max(0.05, 1 - slant * slant));
        const double inward = further * (std::max(0.0, slant) * shape::outer_radius_mm(tube.body.section) + 2.5 / camera_.scale) / level;
        const Vec3 at = (at_to ? tube.body.to : tube.body.from) - inward * outward;
        if (inward < 0.6 * along.norm() && is_free(part, at)) {
          add_label(projected(camera_, at), Verbatim{part}, name_width_mm(part));
          return true;
        }
      }
    return false;
  }
  // The part's own wall lies behind every letter, and no other label.
  bool is_free(const std::string& part, const Vec3& at) const {
    const Point middle = projected(camera_, at);
    const double half = 0.5 * name_width_mm(part);
    const Vec3 aside = half / camera_.scale * Vec3(camera_.axes.row(0).transpose());
    return is_bare(solid_, part, at, towards_) && is_bare(solid_, part, at + aside, towards_) && is_bare(solid_, part, at - aside, towards_) &&
           std::none_of(labels_.begin(), labels_.end(), [&](const auto& l) {
             return std::abs(l.first.x - middle.x) < half + l.second && std::abs(l.first.y - middle.y) < 2 * label_half_mm;
           });
  }

  // Words on a piece of bare paper, so that no line runs through them.
  void add_label(const Point& middle, Cell text, double wide_mm) {
    const double w = wide_mm / 2, h = label_half_mm;
    labels_.emplace_back(middle, w);
    p_.items.emplace_back(Path{{{middle.x - w, middle.y - h}, {middle.x + w, middle.y - h}, {middle.x + w, middle.y + h}, {middle.x - w, middle.y + h}},
                               true, no_line, {Ink::sheet, 0}});
    add_text(p_, {middle.x, middle.y + 0.9}, std::move(text), text_mm, PictureText::Anchor::middle, {Ink::faint, 0});
  }

  Picture& p_;
  const SeamSolid& solid_;
  const SeamValues& values_;
  const SeamPlace& largest_;
  FrameCamera camera_;
  Vec3 towards_;
  SeamOutline outline_;
  std::vector<std::pair<Point, double>> labels_;  // their middles, and half their widths
};

// The seam of one load rolled out: a row for each line, from 0 to 360 degrees.
class RolledOut {
 public:
  RolledOut(Picture& picture, const Box& box) : p_(picture), box_(box) {}

  void add(const SeamSubject& subject, const SeamValues& values, bool says_size) {
    const auto largest = largest_place(values);
    Message head{values.name, {}};
    if (largest && says_size)
      head = {"seam.load", {sentence_argument("load", values.name), number("factor", largest->value, ""),
                            sentence_argument("line", name_of(largest->line)), number("angle", largest->angle_deg, "")}};
    add_text(p_, {box_.left, box_.top + 2.6}, head, text_mm);
    double top = box_.top + 4;
    for (const double angle : {0.0, 90.0, 180.0, 270.0, 360.0})
      add_line(p_, {{x(angle), top}, {x(angle), top + 3 * strip_high_mm}}, {{Ink::grid, 0}, 0.15, Dash::solid});
    for (const SeamLine line : seam_lines) {
      const double middle = top + strip_high_mm / 2;
      add_text(p_, {box_.left + names_wide_mm - 3, middle + 0.9}, Message{name_of(line), {}}, 2.3, PictureText::Anchor::end, {Ink::faint, 0});
      add_row({around_of(values, line), subject.scale}, middle);
      if (largest && largest->line == line) add_ring(p_, {x(largest->angle_deg), middle});
      top += strip_high_mm;
    }
  }

  void add_axis() {
    const double y = box_.top + 4 + 3 * strip_high_mm;
    for (const double angle : {0.0, 90.0, 180.0, 270.0, 360.0}) {
      add_text(p_, {x(angle), y + 2.8}, Quantity{angle, "", 3}, 2.3, PictureText::Anchor::middle, {Ink::faint, 0});
      const bool is_crown = std::fmod(angle, 180) == 0;
      add_text(p_, {x(angle), y + 5.6}, Message{is_crown ? MessageId("seam.crown") : "seam.saddle", {}}, 2.3, PictureText::Anchor::middle,
               {Ink::faint, 0});
    }
    add_text(p_, {box_.left, y + 9.2}, Message{"seam.rolled-out", {}}, 2.3, PictureText::Anchor::start, {Ink::faint, 0});
  }

 private:
  double x(double angle_deg) const { return box_.left + names_wide_mm + (box_.width_mm - names_wide_mm - 4) * angle_deg / 360; }

  void add_row(const LevelsAround& levels, double middle) {
    constexpr std::size_t parts = 4;
    constexpr double room = strip_high_mm - 0.8, place_deg = 360.0 / solid::places_around;
    Edges upper(p_), lower(p_);
    for (std::size_t place = 0; place < solid::places_around; ++place)
      for (std::size_t i = 0; i < parts; ++i) {
        const double from = static_cast<double>(i) / parts, to = static_cast<double>(i + 1) / parts;
        const auto a = levels.level(place, from), b = levels.level(place, to);
        if (!a || !b) {
          upper.end();
          lower.end();
          continue;
        }
        const double left = x((static_cast<double>(place) + from) * place_deg), right = x((static_cast<double>(place) + to) * place_deg);
        const double ha = room * wide_of(*a) / 2, hb = room * wide_of(*b) / 2;
        const Colour colour = tint(0.5 * (*a + *b));
        p_.items.emplace_back(Path{{{left, middle - ha}, {right, middle - hb}, {right, middle + hb}, {left, middle + ha}}, true,
                                   {colour, 0.06, Dash::solid}, colour});
        upper.add({left, middle - ha}, {right, middle - hb});
        lower.add({left, middle + ha}, {right, middle + hb});
      }
  }

  Picture& p_;
  Box box_;
};

// A place has no number on a line that has others.
bool has_gap(const SeamSubject& subject) {
  return std::any_of(subject.loads.begin(), subject.loads.end(), [](const SeamValues& load) {
    return std::any_of(load.at.begin(), load.at.end(), [](const SeamValues::Around& around) {
      const auto missing = std::count_if(around.begin(), around.end(), [](double v) { return std::isnan(v); });
      return missing > 0 && missing < static_cast<std::ptrdiff_t>(around.size());
    });
  });
}

// Ends of a scale that few numbers divide well, as parts of a power of ten, and how many.
constexpr std::array<std::pair<double, int>, 8> scale_ends{{{1, 5}, {1.5, 3}, {2, 4}, {3, 3}, {4, 4}, {5, 5}, {6, 3}, {8, 4}}};

double decade_of(double value) { return std::pow(10, std::floor(std::log10(value) + 1e-9)); }

double round_above(double value) {
  for (const auto& [end, parts] : scale_ends)
    if (end * decade_of(value) >= value * (1 - 1e-9)) return end * decade_of(value);
  return 10 * decade_of(value);
}

int parts_of(double end) {
  for (const auto& [known, parts] : scale_ends)
    if (std::abs(end / decade_of(end) - known) < 1e-6) return parts;
  return 5;
}

// A wedge from pale and thin to dark and wide, with numbers.
void add_scale(Picture& p, const SeamSubject& subject, const Box& box) {
  constexpr std::size_t parts = 40;
  constexpr double room = strip_high_mm - 0.8;
  const double middle = box.top + strip_high_mm / 2, wide = box.width_mm - 13;
  const auto x = [&](double level) { return box.left + 6 + wide * level; };
  for (std::size_t i = 0; i < parts; ++i) {
    const double a = static_cast<double>(i) / parts, b = static_cast<double>(i + 1) / parts, ha = room * wide_of(a) / 2, hb = room * wide_of(b) / 2;
    p.items.emplace_back(Path{{{x(a), middle - ha}, {x(b), middle - hb}, {x(b), middle + hb}, {x(a), middle + ha}}, true,
                              {tint(0.5 * (a + b)), 0.06, Dash::solid}, tint(0.5 * (a + b))});
  }
  for (const double side : {-1.0, 1.0})
    add_line(p, {{x(0), middle + side * room * wide_of(0) / 2}, {x(1), middle + side * room / 2}}, {{Ink::faint, 0}, 0.13, Dash::solid});
  const SeamScale& s = subject.scale;
  const int steps = s.logarithmic ? static_cast<int>(std::lround(std::log10(s.most / s.least))) : parts_of(s.most);
  for (int i = 0; i <= steps; i += is_narrow(p.width_mm) && steps > 4 ? 2 : 1) {
    const double part = static_cast<double>(i) / steps;
    const double value = s.logarithmic ? s.least * std::pow(s.most / s.least, part) : s.least + part * (s.most - s.least);
    add_line(p, {{x(part), middle + room / 2 + 0.3}, {x(part), middle + room / 2 + 1}}, {{Ink::faint, 0}, 0.15, Dash::solid});
    add_text(p, {x(part), middle + room / 2 + 3.4}, Quantity{subject.shown_as * value, subject.unit, 2}, 2.3, PictureText::Anchor::middle,
             {Ink::faint, 0});
  }
  add_text(p, {box.left, middle + room / 2 + 7}, Message{subject.scale_name, {}}, 2.3);
  if (is_narrow(p.width_mm)) return;
  double down = middle + room / 2 + 10.4;
  const auto note = [&](MessageId id) {
    add_text(p, {box.left, down}, Message{id, {}}, 2.3, PictureText::Anchor::start, {Ink::faint, 0});
    down += note_mm;
  };
  note("seam.how-root");
  if (has_gap(subject)) note("seam.gaps");
}

// The load with the largest place; none where none has a number.
const SeamValues* governing(const std::vector<SeamValues>& loads) {
  const SeamValues* most = nullptr;
  double largest = -1;
  for (const SeamValues& load : loads)
    if (const auto place = largest_place(load); place && place->value > largest) {
      largest = place->value;
      most = &load;
    }
  return most;
}

struct Layout {
  double height_mm = 0;
  Box view, strips, scale;
};

// The joint beside the strips, under words; in a narrow picture above the scale, alone.
Layout laid_out(const SeamSubject& subject, double width_mm) {
  if (is_narrow(width_mm)) {
    const double high = 0.75 * width_mm;
    return {high + narrow_foot_mm, {3, 3, width_mm - 6, high - 5}, {}, {1, high, width_mm - 1, 0}};
  }
  const double rows = static_cast<double>(subject.loads.size()), foot = has_gap(subject) ? foot_mm + note_mm : foot_mm;
  const double strips = rows * load_high_mm + (rows - 1) * load_gap_mm + axis_mm, view_high = std::max(strips + foot, 0.36 * width_mm);
  const double middle = 0.5 * width_mm, right = middle - 1;
  return {head_mm + view_high,
          {3, head_mm + 1, middle - 9, view_high - 4},
          {middle, head_mm, right, load_high_mm},
          {middle, head_mm + strips + 1, right, 0}};
}

void add_head(Picture& p, const SeamSubject& subject, const Message& largest_place) {
  add_text(p, {1, 4.5}, Message{"seam.title", {text("weld", subject.weld), text("brace", subject.brace), text("chord", subject.chord)}}, 3.4,
           PictureText::Anchor::start, {Ink::ink, 0}, true);
  add_ring(p, {2.8, 9});
  add_text(p, {6.5, 9.9}, largest_place, 2.8);
  add_text(p, {6.5, 13.8}, subject.how_large, 2.8);
}

const rating::SiteRating& site_of(const rating::WeldRating& weld, double used) {
  return *std::find_if(weld.sites.begin(), weld.sites.end(), [&](const rating::SiteRating& s) { return s.used() == used; });
}

}  // namespace

SeamPicture seam_picture(const SeamSubject& subject, double width_mm) {
  const SeamValues* shown = governing(subject.loads);
  if (!shown) throw Fault{Message{"seam.not-drawn", {text("weld", subject.weld)}}};
  const SeamPlace largest = *largest_place(*shown);
  const SeamSolid solid = seam_solid(*subject.joint, subject.seam);
  const Layout at = laid_out(subject, width_mm);
  SeamPicture out{{width_mm, at.height_mm, {}},
                  subject.caption,
                  {"seam.largest", {sentence_argument("line", name_of(largest.line)), number("angle", largest.angle_deg, ""),
                                    sentence_argument("facing", facing_of(solid, largest.angle_deg))}},
                  subject.how_large};
  SolidView(out.picture, solid, *shown, largest, at.view).add(subject.scale);
  add_scale(out.picture, subject, at.scale);
  if (is_narrow(width_mm)) return out;
  add_head(out.picture, subject, out.largest_place);
  Box box = at.strips;
  for (const SeamValues& load : subject.loads) {
    RolledOut row(out.picture, box);
    row.add(subject, load, subject.loads.size() > 1);
    if (&load == &subject.loads.back()) row.add_axis();
    box.top += load_high_mm + load_gap_mm;
  }
  return out;
}

SeamPicture stress_picture(const solid::FrameJoint& joint, const models::JointReport::Seam& seam, double width_mm) {
  SeamSubject s;
  s.joint = &joint;
  s.seam = static_cast<std::size_t>(std::find(joint.welds.begin(), joint.welds.end(), seam.weld) - joint.welds.begin());
  s.weld = seam.weld;
  s.brace = seam.brace;
  s.chord = seam.chord;
  s.loads = stress_factors(seam);
  s.scale_name = "seam.scale-factor";
  if (const SeamValues* shown = governing(s.loads)) {
    const double largest = largest_place(*shown)->value;
    s.scale.most = round_above(std::max(largest, 1e-6));
    s.how_large = {"seam.largest-factor", {number("factor", largest, ""), sentence_argument("load", shown->name)}};
  }
  s.caption = {"seam.caption-factor", {text("weld", seam.weld)}};
  return seam_picture(s, width_mm);
}

std::optional<SeamPicture> used_picture(const design::Design& design, const rating::WeldRating& weld,
                                        double width_mm) {
  const std::optional<SeamValues> used = used_around(weld);
  if (!used) return {};
  const solid::FrameJoints joints = sites::frame_joints(design);
  for (const solid::FrameJoint& joint : joints.joints) {
    const auto found = std::find(joint.welds.begin(), joint.welds.end(), weld.id);
    if (found == joint.welds.end()) continue;
    SeamSubject s{&joint, static_cast<std::size_t>(found - joint.welds.begin()), weld.id, weld.member, weld.chord, {*used},
                  {least_used, most_used, true}, "seam.scale-used", "%", 100, {"seam.caption-used", {text("weld", weld.id)}}, {}};
    const double largest = largest_place(*used)->value;
    const rating::SiteRating& site = site_of(weld, largest);
    s.how_large = {"seam.largest-used", {number("used", 100 * largest, "%"), number("life", site.life_km_predicted, "km"),
                                         number("range", site.largest_range_mpa, "MPa")}};
    return seam_picture(s, width_mm);
  }
  return {};
}

PictureBlock block_of(SeamPicture picture) { return {std::move(picture.picture), std::move(picture.caption)}; }

}  // namespace seamwright::reports

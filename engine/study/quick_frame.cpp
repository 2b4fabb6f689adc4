// SPDX-License-Identifier: GPL-3.0-or-later
#include "engine/study/quick_frame.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

#include "engine/design/weld_geometry.h"
#include "engine/study/variant.h"

namespace seamwright::study {

namespace {

double area_of(const frame::RoundTube& t) { return std::numbers::pi * t.wall_mm * (t.diameter_mm - t.wall_mm); }

double density_of(const frame::Frame& f, const std::string& steel) {
  for (const frame::Material& m : f.materials)
    if (m.id == steel) return m.density_kg_m3 * 1e-9;
  return 0;
}

double price_in_stock(const Stock& stock, const std::string& steel, const frame::RoundTube& size) {
  for (const StockTube& s : stock.tubes)
    if (s.steel == steel && s.size == size && s.price_per_m > 0) return s.price_per_m;
  return 0;
}

}  // namespace

QuickFrame::QuickFrame(const design::Design& design, const Choices& choices, const Stock& stock, const SeamLengths& seams)
    : choices_(choices), others_kg_(frame_mass_kg(design.frame)), weld_per_mm_(stock.weld_per_mm), set_up_(stock.set_up) {
  const frame::Frame& f = design.frame;
  std::map<std::string, std::size_t> row_of, size_choice, throat_choice;
  for (std::size_t i = 0; i < choices.choices.size(); ++i) (choices.choices[i].throat ? throat_choice : size_choice)[choices.choices[i].tube] = i;
  for (const frame::Tube& t : f.tubes) {
    const auto* round = std::get_if<frame::RoundTube>(&t.section);
    if (!round) continue;
    Tube row{fixed, *round};
    if (const auto found = size_choice.find(t.id); found != size_choice.end()) row.choice = found->second;
    row.kg_mm3 = density_of(f, t.material);
    row.price_per_m = price_in_stock(stock, t.material, *round);
    for (row.steel = 0; row.steel < f.materials.size() && f.materials[row.steel].id != t.material;) ++row.steel;
    for (const frame::Member& m : f.members) {
      if (m.tube != t.id) continue;
      row.length_mm += design::member_length_mm(f, m);
      row.welded = row.welded || std::any_of(design.welds.begin(), design.welds.end(),
                                             [&](const joints::Weld& w) { return w.member == m.id || w.chord == m.id; });
    }
    if (row.length_mm == 0) continue;
    others_kg_ -= area_of(*round) * row.length_mm * row.kg_mm3;
    row_of[t.id] = tubes_.size();
    tubes_.push_back(row);
  }
  for (std::size_t i = 0; i < design.welds.size(); ++i) {
    const joints::Weld& w = design.welds[i];
    Weld row;
    row.throat_mm = w.throat_mm;
    row.seam_mm = seams.drawn_mm(i);
    row.other_wall_mm = std::numeric_limits<double>::infinity();
    for (const double wall : {w.plate_mm, w.other_wall_mm})
      if (wall > 0) row.other_wall_mm = std::min(row.other_wall_mm, wall);
    for (const bool chord : {false, true}) {
      const std::string& member = chord ? w.chord : w.member;
      if (member.empty()) continue;
      const std::string& tube = design::member_of(f, member).tube;
      if (const auto found = row_of.find(tube); found != row_of.end()) (chord ? row.chord : row.brace) = found->second;
      if (const auto found = throat_choice.find(tube); !chord && w.layout == joints::Layout::tube_on_tube && found != throat_choice.end())
        row.multiple = found->second;
    }
    if (row.brace != fixed) row.brace_mm = tubes_[row.brace].size.diameter_mm;
    welds_.push_back(row);
  }
}

double QuickFrame::seam_mm(const Weld& weld, const Point& point) const {
  return weld.brace == fixed ? weld.seam_mm : weld.seam_mm * size_of(tubes_[weld.brace], point).diameter_mm / weld.brace_mm;
}

double QuickFrame::tubes_kg(const Point& point) const {
  double kg = others_kg_;
  for (const Tube& t : tubes_) kg += area_of(size_of(t, point)) * t.length_mm * t.kg_mm3;
  return kg;
}

double QuickFrame::welds_kg(const Point& point) const {
  double kg = 0;
  for (const Weld& w : welds_) {
    double thinnest = w.other_wall_mm;
    for (const std::size_t tube : {w.brace, w.chord})
      if (tube != fixed) thinnest = std::min(thinnest, size_of(tubes_[tube], point).wall_mm);
    const double throat = chosen_throat_mm(w.throat_mm, w.multiple == fixed ? 1 : choices_.choices[w.multiple].multiples[point[w.multiple]], thinnest);
    kg += weld_metal_kg(seam_mm(w, point), throat);
  }
  return kg;
}

double QuickFrame::price(const Point& point) const {
  double price = set_up_ * static_cast<double>(sizes(point));
  for (const Weld& w : welds_) price += weld_per_mm_ * seam_mm(w, point);
  for (const Tube& t : tubes_)
    price += t.length_mm / 1000 * (t.choice == fixed ? t.price_per_m : choices_.choices[t.choice].sizes[point[t.choice]].price_per_m);
  return price;
}

std::size_t QuickFrame::sizes(const Point& point) const {
  std::vector<std::array<double, 3>> sizes;
  for (const Tube& t : tubes_)
    if (t.welded) sizes.push_back({static_cast<double>(t.steel), size_of(t, point).diameter_mm, size_of(t, point).wall_mm});
  std::sort(sizes.begin(), sizes.end());
  return static_cast<std::size_t>(std::unique(sizes.begin(), sizes.end()) - sizes.begin());
}

bool QuickFrame::walls_fit(const Point& point) const {
  for (const Weld& w : welds_) {
    if (w.brace == fixed || w.chord == fixed) continue;
    const double ratio = size_of(tubes_[w.brace], point).wall_mm / size_of(tubes_[w.chord], point).wall_mm;
    if (ratio > most_wall_ratio + 1e-9 || ratio < 1 / most_wall_ratio - 1e-9) return false;
  }
  return true;
}

}  // namespace seamwright::study

// SPDX-License-Identifier: GPL-3.0-or-later
#include "engine/shape/cut_list.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <numeric>

namespace seamwright::shape {

namespace {

constexpr double hair_mm = 1e-6;
constexpr std::size_t most_steps = 200000;  // of the search: a fraction of a second

using Bars = std::vector<std::vector<std::size_t>>;  // numbers of lengths in each

std::size_t bars_for(double sum_mm, double room_mm) {
  return static_cast<std::size_t>(std::ceil(sum_mm / room_mm - hair_mm));
}

Bars first_fit(const std::vector<double>& lengths, double room) {
  Bars bars;
  std::vector<double> left;
  for (std::size_t i = 0; i < lengths.size(); ++i) {
    const auto fits = [&](double l) { return lengths[i] <= l + hair_mm; };
    auto bar = static_cast<std::size_t>(std::find_if(left.begin(), left.end(), fits) - left.begin());
    if (bar == left.size()) {
      left.push_back(room);
      bars.emplace_back();
    }
    left[bar] -= lengths[i];
    bars[bar].push_back(i);
  }
  return bars;
}

// Looks whether so many bars take all lengths, longest first; gives up after `most_steps`.
struct Search {
  const std::vector<double>& lengths;
  std::vector<double> left;
  Bars bars;
  std::size_t steps = 0;
  bool given_up = false;

  bool fits_from(std::size_t i) {
    if (i == lengths.size()) return true;
    if (++steps > most_steps) {
      given_up = true;
      return false;
    }
    for (std::size_t b = 0; b < left.size(); ++b) {
      const bool seen = std::any_of(left.begin(), left.begin() + static_cast<std::ptrdiff_t>(b),
                                    [&](double l) { return std::abs(l - left[b]) < hair_mm; });
      if (seen || lengths[i] > left[b] + hair_mm) continue;
      left[b] -= lengths[i];
      bars[b].push_back(i);
      if (fits_from(i + 1)) return true;
      bars[b].pop_back();
      left[b] += lengths[i];
      if (given_up) return false;
    }
    return false;
  }
};

std::string name_of_section(const frame::Section& section) {
  struct Numbers {
    std::string operator()(const frame::RoundTube& t) const { return joined({0, t.diameter_mm, t.wall_mm}); }
    std::string operator()(const frame::RectangularTube& t) const {
      return joined({1, t.height_mm, t.width_mm, t.wall_mm, t.corner_radius_mm});
    }
    std::string operator()(const frame::FlatOvalTube& t) const {
      return joined({2, t.height_mm, t.width_mm, t.wall_mm});
    }
    std::string operator()(const frame::SolidBar& t) const { return joined({3, t.diameter_mm}); }
    std::string operator()(const frame::PlateStrip& t) const {
      return joined({4, t.height_mm, t.thickness_mm});
    }
    static std::string joined(std::initializer_list<double> numbers) {
      std::string all;
      for (const double n : numbers) all.append(std::to_string(n)).append(" ");
      return all;
    }
  };
  return std::visit(Numbers{}, section);
}

void pack(StockTube& tube, std::vector<CutPiece> pieces, double stock, double kerf) {
  std::stable_sort(pieces.begin(), pieces.end(),
                   [](const CutPiece& a, const CutPiece& b) { return a.length_mm > b.length_mm; });
  std::vector<double> lengths;
  for (const CutPiece& p : pieces) {
    lengths.push_back(p.length_mm + kerf);
    tube.pieces_mm += p.length_mm;
  }
  const double room = stock + kerf;  // the last piece of a bar may reach its end
  Bars bars = first_fit(lengths, room);
  tube.least_bars = least_bars(lengths, room);
  while (bars.size() > tube.least_bars) {
    Search search{lengths, std::vector<double>(bars.size() - 1, room), Bars(bars.size() - 1)};
    if (search.fits_from(0))
      bars = search.bars;
    else if (search.given_up)
      break;
    else
      tube.least_bars = bars.size();
  }
  for (const std::vector<std::size_t>& bar : bars) {
    tube.bars.emplace_back();
    for (const std::size_t i : bar) tube.bars.back().push_back(pieces[i]);
  }
  tube.waste_mm = static_cast<double>(bars.size()) * stock - tube.pieces_mm;
}

}  // namespace

std::size_t least_bars(const std::vector<double>& lengths, double room) {
  std::size_t most = bars_for(std::accumulate(lengths.begin(), lengths.end(), 0.0), room);
  // Pieces longer than the room less `small` have a bar each, as have those longer than half; what is at
  // least `small` and no longer than half goes into what these leave, and then into new bars.
  std::vector<double> smallest = lengths;
  smallest.push_back(0);
  for (const double small : smallest) {
    if (small > room / 2) continue;
    std::size_t alone = 0, halves = 0;
    double half_sum = 0, small_sum = 0;
    for (const double l : lengths) {
      if (l > room - small + hair_mm) {
        ++alone;
      } else if (l > room / 2 + hair_mm) {
        ++halves;
        half_sum += l;
      } else if (l >= small - hair_mm) {
        small_sum += l;
      }
    }
    const double beyond = small_sum - (static_cast<double>(halves) * room - half_sum);
    most = std::max(most, alone + halves + (beyond > 0 ? bars_for(beyond, room) : 0));
  }
  return most;
}

CutList cut_list(const std::vector<Blank>& blanks, double stock, double kerf) {
  CutList list{stock, kerf, {}};
  std::map<std::string, std::size_t> known;
  std::vector<std::vector<CutPiece>> pieces;
  for (const Blank& b : blanks) {
    const auto [it, fresh] = known.emplace(b.steel + "|" + name_of_section(b.section), list.tubes.size());
    if (fresh) {
      list.tubes.push_back({b.steel, b.section, {}, {}, 0, 0, 0});
      pieces.emplace_back();
    }
    const CutPiece piece{b.member, b.blank_mm};
    if (b.blank_mm > stock + hair_mm)
      list.tubes[it->second].too_long.push_back(piece);
    else
      pieces[it->second].push_back(piece);
  }
  for (std::size_t i = 0; i < list.tubes.size(); ++i) pack(list.tubes[i], std::move(pieces[i]), stock, kerf);
  return list;
}

}  // namespace seamwright::shape

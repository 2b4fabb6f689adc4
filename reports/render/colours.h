// SPDX-License-Identifier: GPL-3.0-or-later
// The colours of pictures on paper and in SVG.
#pragma once

#include <algorithm>
#include <cstdint>

#include "reports/content/picture.h"

namespace seamwright::reports {

struct Rgb {
  std::uint8_t red = 0, green = 0, blue = 0;
};

/// Size of an exponent against its base.
inline constexpr double raised_share = 0.7;

/// The scale runs in one hue from pale to dark, so that it stays one in black and white.
inline Rgb on_paper(const Colour& colour) {
  const double level = std::clamp(colour.level, 0.0, 1.0);
  const auto between = [&](double pale, double dark) {
    return static_cast<std::uint8_t>(pale + (dark - pale) * level + 0.5);
  };
  switch (colour.ink) {
    case Ink::faint:
      return {0x6B, 0x72, 0x78};
    case Ink::grid:
      return {0xC9, 0xCD, 0xD0};
    case Ink::steel:
      return {0x33, 0x62, 0x7E};
    case Ink::arc:
      return {0xB8, 0x5C, 0x00};
    case Ink::sheet:
      return {0xFF, 0xFF, 0xFF};
    case Ink::scale:
      return {between(0xDD, 0x0C), between(0xE8, 0x2C), between(0xEF, 0x40)};
    case Ink::none:
    case Ink::ink:
      break;
  }
  return {0x22, 0x26, 0x2A};
}

}  // namespace seamwright::reports

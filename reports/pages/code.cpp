// SPDX-License-Identifier: GPL-3.0-or-later
#include "reports/pages/code.h"

#include <qrencode.h>

#include <memory>

namespace seamwright::reports {

Picture code_of(const std::string& text) {
  constexpr double side_mm = 16, quiet = 4;  // the quiet zone is four modules wide
  Picture picture;
  if (text.empty()) return picture;
  struct Free {
    void operator()(QRcode* code) const { QRcode_free(code); }
  };
  const std::unique_ptr<QRcode, Free> code(QRcode_encodeData(
      static_cast<int>(text.size()), reinterpret_cast<const unsigned char*>(text.data()), 0, QR_ECLEVEL_M));
  if (!code) return picture;
  picture.width_mm = picture.height_mm = side_mm;
  const double module = side_mm / (code->width + 2 * quiet);
  for (int row = 0; row < code->width; ++row)
    for (int from = 0; from < code->width;) {
      const auto dark = [&](int column) { return (code->data[row * code->width + column] & 1) != 0; };
      int to = from;
      while (to < code->width && dark(to)) ++to;
      if (to > from) {  // a run of dark modules in one piece: no seams between them
        const double x0 = (quiet + from) * module, x1 = (quiet + to) * module, y0 = (quiet + row) * module,
                     y1 = y0 + module;
        Path run{{{x0, y0}, {x1, y0}, {x1, y1}, {x0, y1}}, true, {}, {Ink::ink, 0}};
        run.pen.colour.ink = Ink::none;
        picture.items.emplace_back(std::move(run));
      }
      from = to + 1;
    }
  return picture;
}

}  // namespace seamwright::reports

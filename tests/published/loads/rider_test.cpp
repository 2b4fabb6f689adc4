// SPDX-License-Identifier: GPL-3.0-or-later
// Seated body as one mass on a spring and damper, 5 Hz and 0.475 (Fairley & Griffin, J. Biomech. 22 (1989)
// 81-94, as cited in the Biomedical Engineering and Design Handbook, vol. 1; pages of the paper from memory).
// Apparent mass over mass (1 + 2 i zeta r) / (1 - r^2 + 2 i zeta r), r = f / 5 Hz: 1.1603, 1.4519, 0.6046 at
// 2, 5, 10 Hz (computed).
#include <complex>

#include "tests/engine/loads/small_states.h"
#include "tests/published/outside/outside.h"

using namespace seamwright;
using namespace seamwright::loads;
using seamwright::outside::WithinAbs;

TEST_CASE("apparent mass of a seated rider of 60 kg") {
  SOURCE(recalled, "Fairley & Griffin, J. Biomech. 22 (1989) 81-94: one mass, 5 Hz, 0.475; closed form",
         "the bars are stiff, not rigid");
  Rider rider;
  rider.mass_kg = 60;
  rider.saddle_share = 1;
  rider.vertical_frequency_hz = 5;
  rider.vertical_damping = 0.475;
  const State s = make_state(laden_frame(stiff_trike(), {"centre", "", {}, {}, {}}, rider, 0), 0, 1000);
  const Transfer t(s, 0);
  // All wheels rise together; the rider's own degree of freedom comes after those of the nodes.
  const auto own = 6 * static_cast<Eigen::Index>(s.assembly.node_ids.size());
  REQUIRE(s.assembly.full_size == own + 1);
  const double hz[] = {2, 5, 10}, factor[] = {1.1603, 1.4519, 0.6046};
  for (int i = 0; i < 3; ++i) {
    const Eigen::VectorXcd q = t.response_at(hz[i]).rowwise().sum();
    const std::complex<double> body = (s.moving.shapes.row(own) * q).value(),
                               seat = (rise_row(s, "centre") * q).value();
    const double r = hz[i] / 5;
    const std::complex<double> c(0, 2 * 0.475 * r), expected = (1.0 + c) / (1 - r * r + c);
    CHECK_THAT(std::abs(body / seat), WithinAbs(factor[i], 5e-4));
    CHECK_THAT(std::abs(body / seat - expected), WithinAbs(0, 5e-4));
  }
}

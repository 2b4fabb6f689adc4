# SPDX-License-Identifier: GPL-3.0-or-later
"""An S-N curve of one's own tests: own_tests.py. The tests are invented: N = 10^12 / S^3, scattered by a known share."""
import seamwright

scatter = [0.05, -0.05, 0.02, -0.02, 0.04, -0.04]
tests = [seamwright.Test(range_mpa, 10 ** (12 + off) / range_mpa**3) for range_mpa in (80, 120, 180) for off in scatter]
fitted = seamwright.fit(tests)
print(f"slope {fitted.slope:.3f}, log a {fitted.log_a:.3f}, deviation {fitted.deviation:.3f}")
print(f"at two million cycles: mean {fitted.mean_mpa_2e6:.1f} MPa, design {fitted.design_mpa_2e6:.1f} MPa")
for note in fitted.evidence.notes:
    print(seamwright.sentence(note))

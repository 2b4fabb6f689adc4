# SPDX-License-Identifier: GPL-3.0-or-later
"""S-N curves from tests with run-outs: the program's fit beside SciPy's maximum of the same likelihood, and its tolerance
factor beside SciPy's non-central t."""
import json
import pathlib
import subprocess
import sys
import tempfile

import numpy as np
from scipy.optimize import minimize
from scipy.stats import nct, norm

from outside import check

program = sys.argv[1]
rng = np.random.default_rng(3)
with tempfile.TemporaryDirectory() as folder:
    for case, (slope, deviation, limit, fixed) in enumerate(
            [(3.0, 0.15, 2e6, None), (5.0, 0.3, 1e6, None), (3.5, 0.2, 5e5, 3.0), (4.0, 0.25, 1e9, None), (3.0, 0.1, 3e5, 5.0)]):
        ranges = np.repeat([240.0, 180.0, 140.0, 110.0, 90.0], 4)
        log_n = 12 + (slope - 3) * 2.2 - slope * np.log10(ranges) + deviation * rng.standard_normal(ranges.size)
        out = 10**log_n > limit
        cycles = np.where(out, limit, 10**log_n)
        path = pathlib.Path(folder) / f"{case}.csv"
        path.write_text("stress_range_mpa,cycles,outcome\n" + "".join(f"{s!r},{n!r},{'runout' if o else 'failed'}\n" for s, n, o in zip(ranges.tolist(), cycles.tolist(), out)))
        command = [program, "fit", str(path), "--json"] + (["--slope", str(fixed)] if fixed else [])
        result = subprocess.run(command, capture_output=True, text=True)
        assert result.returncode in (0, 1), result.stderr
        found = json.loads(result.stdout)
        x, y = np.log10(ranges), np.log10(cycles)

        def loss(p):
            m = fixed if fixed else p[2]
            z = (y - (p[0] - m * x)) / np.exp(p[1])
            return -np.sum(np.where(out, norm.logsf(z), norm.logpdf(z) - p[1]))

        best = None
        for start in ([12, -1.5, 3], [14, -1, 4], [16, -1.5, 5]):
            r = minimize(loss, start[:2] + ([] if fixed else start[2:]), method="Nelder-Mead",
                         options={"xatol": 1e-10, "fatol": 1e-13, "maxiter": 20000, "maxfev": 40000})
            best = r if best is None or r.fun < best.fun else best
        failures = int(np.sum(~out))
        freedom = failures - (1 if fixed else 2)
        assert found["failures"] == failures and found["run_outs"] == int(out.sum())
        curve = f"fit {case + 1}, {failures} failures of {len(x)}" + (f", slope {fixed:g} given" if fixed else "")
        likeliest, search = "scipy.optimize.minimize, maximum of the censored likelihood", "end of the search"
        check(f"{curve}: log a", found["log_a"], best.x[0], 2e-4 * abs(best.x[0]), likeliest, search)
        if not fixed:
            check(f"{curve}: slope", found["slope"], best.x[2], 1e-3 * best.x[2], likeliest, search)
        check(f"{curve}: deviation", found["deviation_log_n"] / np.sqrt(failures / freedom), np.exp(best.x[1]), 1e-3 * np.exp(best.x[1]), likeliest, search)
        k = nct.ppf(0.75, freedom, norm.ppf(0.95) * np.sqrt(failures)) / np.sqrt(failures)
        check(f"{curve}: tolerance factor", found["tolerance_factor"], k, 1e-5 * k, "scipy.stats.nct", "accuracy of the distribution")

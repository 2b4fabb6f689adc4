# SPDX-License-Identifier: GPL-3.0-or-later
"""Recordings made here, read by the program, beside SciPy: spectra by scipy.signal.welch, resampling by numpy.interp."""
import json
import os
import pathlib
import subprocess
import sys
import tempfile

import numpy as np
import scipy.signal

from outside import apart, check

program = sys.argv[1]
random = np.random.default_rng(4210)


def ride(path, *arguments):
    out = subprocess.run([program, "ride", str(path), *arguments, "--json"], capture_output=True, text=True)
    assert out.returncode in (0, 1), out.stderr
    return json.loads(out.stdout)


with tempfile.TemporaryDirectory() as folder:
    # Even sampling: the spectrum is Welch's, number by number.
    path = pathlib.Path(folder) / "even.csv"
    rate, n = 250, 30000
    t = np.arange(n) / rate
    a = random.normal(size=n) + 3 * np.sin(2 * np.pi * 6.4 * t)
    path.write_text("time (s),a (m/s2)\n" + "\n".join(f"{x:.6f},{y:.9g}" for x, y in zip(t, a)) + "\n")
    seen = ride(path)
    channel = seen["channels"][0]
    assert seen["rate_hz"] == rate
    segment = 2 * (len(channel["frequency_hz"]) - 1)
    f, density = scipy.signal.welch(a, rate, "hann", segment, segment // 2, detrend="constant")
    worst = np.max(np.abs(np.array(channel["density"]) - density)[1:] / density[1:])
    apart(f"spectrum of {n} samples", worst, 1e-6, "scipy.signal.welch", "nine digits in the file")
    assert np.allclose(channel["frequency_hz"], f)

    # Uneven sampling with semicolons and decimal commas: resampled by straight lines.
    path = pathlib.Path(folder) / "uneven.csv"
    t = np.cumsum(random.uniform(0.004, 0.016, 20000))
    a = np.sin(2 * np.pi * 3 * t) + 0.3 * np.sin(2 * np.pi * 11 * t)
    comma = lambda x: f"{x:.9f}".replace(".", ",")
    path.write_text("time (s);a (m/s2)\n" + "\n".join(f"{comma(x)};{comma(y)}" for x, y in zip(t, a)) + "\n")
    seen = ride(path, "--rate", "80")
    grid = np.arange(t[0], t[-1] + 1e-9, 1 / 80)
    b = np.interp(grid, t, a)
    channel = seen["channels"][0]
    segment = 2 * (len(channel["frequency_hz"]) - 1)
    f, density = scipy.signal.welch(b, 80, "hann", segment, segment // 2, detrend="constant")
    strong = density > 1e-6 * density.max()
    worst = np.max(np.abs(np.array(channel["density"]) - density)[strong] / density[strong])
    apart("spectrum of uneven samples at 80 Hz", worst, 1e-3, "numpy.interp and scipy.signal.welch", "nine decimals in the file")
    check("largest range of uneven samples", channel["largest_range"], b.max() - b.min(), 1e-6, "numpy.interp", "nine decimals in the file")

    # Ten million rows would do as well; here a million. What the program itself takes does not count: a short recording takes that too.
    def written(name, rows):
        path = pathlib.Path(folder) / name
        with path.open("w") as out:
            out.write("ms\tstrain_microstrain\n")
            for k in range(0, rows, 1000):
                out.write("".join(f"{5 * i}\t{100 * np.sin(0.031 * i):.3f}\n" for i in range(k, k + 1000)))
        return path

    def resident_mb(path):
        child = subprocess.Popen([program, "ride", str(path), "--json"], stdout=subprocess.DEVNULL)
        _, status, used = os.wait4(child.pid, 0)
        child.returncode = os.waitstatus_to_exitcode(status)
        assert child.returncode in (0, 1), child.returncode
        return used.ru_maxrss / 1000

    short, long = written("short.csv", 20000), written("long.csv", 1000000)
    more = resident_mb(long) - resident_mb(short)
    print(f"a million rows ({long.stat().st_size / 1e6:.0f} MB) take {more:.1f} MB more than twenty thousand")
    assert more < 8, more

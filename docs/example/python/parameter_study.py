# SPDX-License-Identifier: GPL-3.0-or-later
"""Which wall of the spine gives the most life for its mass: parameter_study.py JOB."""
import sys

import seamwright

walls_mm = [2.5, 3.0, 4.0]
job = seamwright.read_job(sys.argv[1], equations=True)
variants = seamwright.sweep(job, [{"tube[spine].wall_mm": wall} for wall in walls_mm])
for wall, variant in zip(walls_mm, variants):
    if variant.impossible:
        print(f"{wall} mm: {seamwright.sentence(variant.impossible)}")
    else:
        print(f"{wall} mm: {variant.mass_kg:.3f} kg, {variant.life_km:.6g} km, {variant.governing_weld} at {variant.site}: {variant.verdict}")

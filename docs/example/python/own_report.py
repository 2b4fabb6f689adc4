# SPDX-License-Identifier: GPL-3.0-or-later
"""A report of one's own: own_report.py JOB. Each weld with its first site, its largest range, and the ranges that do half of its damage."""
import sys

import numpy
import seamwright

rating = seamwright.rate(seamwright.read_job(sys.argv[1], equations=True), method="spectral")
print(f"{rating.design.name}: {rating.verdict}, {len(rating.welds)} welds by {rating.method}")
ranges = {(site.weld, site.site): site for site in rating.ranges}
bounds_mpa = seamwright.range_bounds_mpa()
for weld in rating.welds:
    damage = ranges[weld.id, weld.governing_site].damage
    site = weld.sites[0]
    if damage.sum() > 0:
        half = numpy.searchsorted(numpy.cumsum(damage), damage.sum() / 2)
        print(f"{weld.id:8} {weld.governing_site:18} {site.life_km:10.4g} km, half of the damage below {bounds_mpa[half + 1]:g} MPa: {weld.verdict}")

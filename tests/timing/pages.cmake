# SPDX-License-Identifier: GPL-3.0-or-later
add_executable(timing_pages pages_timing.cpp)
target_link_libraries(timing_pages PRIVATE seamwright_habits reports_pages fmt::fmt)

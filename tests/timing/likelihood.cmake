# SPDX-License-Identifier: GPL-3.0-or-later
add_executable(timing_likelihood likelihood_timing.cpp)
target_link_libraries(timing_likelihood PRIVATE seamwright_habits engine_fatigue fmt::fmt)

# SPDX-License-Identifier: GPL-3.0-or-later
add_executable(timing_rainflow rainflow_timing.cpp)
target_link_libraries(timing_rainflow PRIVATE seamwright_habits engine_cycles engine_loads fmt::fmt)

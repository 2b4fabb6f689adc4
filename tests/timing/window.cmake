# SPDX-License-Identifier: GPL-3.0-or-later
add_executable(timing_window window_timing.cpp)
target_link_libraries(timing_window PRIVATE seamwright_habits app_desktop fmt::fmt)

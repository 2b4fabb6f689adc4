# SPDX-License-Identifier: GPL-3.0-or-later
add_executable(timing_frame frame_timing.cpp)
target_link_libraries(timing_frame PRIVATE seamwright_habits engine_frame fmt::fmt)

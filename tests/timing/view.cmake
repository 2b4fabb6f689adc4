# SPDX-License-Identifier: GPL-3.0-or-later
add_executable(timing_view view_timing.cpp)
target_link_libraries(timing_view PRIVATE seamwright_habits app_desktop fmt::fmt)
target_compile_definitions(timing_view PRIVATE SEAMWRIGHT_WITH_DISPLAY="${CMAKE_SOURCE_DIR}/tests/with_display.py")

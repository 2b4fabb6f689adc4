# SPDX-License-Identifier: GPL-3.0-or-later
add_executable(timing_scale scale_timing.cpp)
target_link_libraries(timing_scale PRIVATE seamwright_habits engine_rating engine_study catalog_files fmt::fmt)
target_compile_definitions(timing_scale PRIVATE SEAMWRIGHT_SOURCE_DIR="${CMAKE_SOURCE_DIR}")

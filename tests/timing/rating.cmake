# SPDX-License-Identifier: GPL-3.0-or-later
add_executable(timing_rating rating_timing.cpp)
target_link_libraries(timing_rating PRIVATE seamwright_habits engine_rating catalog_files fmt::fmt)
target_compile_definitions(timing_rating PRIVATE SEAMWRIGHT_SOURCE_DIR="${CMAKE_SOURCE_DIR}")

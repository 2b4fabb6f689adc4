# SPDX-License-Identifier: GPL-3.0-or-later
add_executable(timing_shape shape_timing.cpp)
target_link_libraries(timing_shape PRIVATE seamwright_habits catalog_models catalog_files fmt::fmt)
target_compile_definitions(timing_shape PRIVATE SEAMWRIGHT_SOURCE_DIR="${CMAKE_SOURCE_DIR}")
add_dependencies(timing_shape seamwright-worker)
target_compile_definitions(timing_shape PRIVATE SEAMWRIGHT_WORKER_PROGRAM="$<TARGET_FILE:seamwright-worker>")

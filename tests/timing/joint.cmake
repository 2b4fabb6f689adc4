# SPDX-License-Identifier: GPL-3.0-or-later
add_executable(timing_joint joint_timing.cpp)
target_link_libraries(timing_joint PRIVATE seamwright_habits catalog_models catalog_files engine_rating fmt::fmt)
target_compile_definitions(timing_joint PRIVATE SEAMWRIGHT_SOURCE_DIR="${CMAKE_SOURCE_DIR}" SEAMWRIGHT_WORKER_PROGRAM="$<TARGET_FILE:seamwright-worker>")
add_dependencies(timing_joint seamwright-worker)

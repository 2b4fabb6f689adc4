# SPDX-License-Identifier: GPL-3.0-or-later
add_executable(timing_book book_timing.cpp)
target_link_libraries(timing_book PRIVATE seamwright_habits catalog_book PkgConfig::sqlite fmt::fmt)

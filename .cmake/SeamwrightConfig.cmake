# SPDX-License-Identifier: GPL-3.0-or-later
# find_package(Seamwright): targets Seamwright::engine_rating, Seamwright::engine_fatigue, ...
include(CMakeFindDependencyMacro)
find_dependency(Threads)
find_dependency(Eigen3 3.4)
find_dependency(Boost 1.74)
find_dependency(fmt)
include(${CMAKE_CURRENT_LIST_DIR}/SeamwrightTargets.cmake)

# SPDX-License-Identifier: GPL-3.0-or-later
# find_package(Seamwright): the target Seamwright::seamwright is the whole library; Seamwright::engine_frame,
# Seamwright::catalog_files, ... are its parts.
include(CMakeFindDependencyMacro)
find_dependency(Threads)
find_dependency(Eigen3 3.4)
find_dependency(Boost 1.74)
find_dependency(fmt)
find_dependency(nlohmann_json)
find_dependency(PkgConfig)
include(${CMAKE_CURRENT_LIST_DIR}/SeamwrightPackages.cmake)
include(${CMAKE_CURRENT_LIST_DIR}/SeamwrightTargets.cmake)

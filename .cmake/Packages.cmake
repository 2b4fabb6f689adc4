# SPDX-License-Identifier: GPL-3.0-or-later
# Debian packages by cpack: program, library (engine and catalog with their headers and a CMake package), documents.
get_property(libraries GLOBAL PROPERTY SEAMWRIGHT_LIBRARIES)
list(FILTER libraries INCLUDE REGEX "^(engine|catalog)_")
list(REMOVE_ITEM libraries engine_shape_kernel engine_solid_mesher) # in the worker program alone
add_library(whole_library INTERFACE) # Seamwright::seamwright
set_target_properties(whole_library PROPERTIES EXPORT_NAME seamwright)
target_link_libraries(whole_library INTERFACE ${libraries})
install(TARGETS whole_library ${libraries} EXPORT SeamwrightTargets COMPONENT library)
install(CODE "set(FROM [[${CMAKE_SOURCE_DIR}]])
  set(GENERATED [[${SEAMWRIGHT_GENERATED}]])
  include([[${CMAKE_SOURCE_DIR}/.cmake/install_headers.cmake]])" COMPONENT library)
install(EXPORT SeamwrightTargets NAMESPACE Seamwright:: DESTINATION ${CMAKE_INSTALL_LIBDIR}/cmake/Seamwright COMPONENT library)
include(CMakePackageConfigHelpers)
write_basic_package_version_file(${CMAKE_BINARY_DIR}/SeamwrightConfigVersion.cmake COMPATIBILITY SameMinorVersion)
install(FILES .cmake/SeamwrightConfig.cmake .cmake/SeamwrightPackages.cmake ${CMAKE_BINARY_DIR}/SeamwrightConfigVersion.cmake
  DESTINATION ${CMAKE_INSTALL_LIBDIR}/cmake/Seamwright COMPONENT library)
install(DIRECTORY docs/ DESTINATION ${CMAKE_INSTALL_DOCDIR} COMPONENT documents)
install(FILES README.md DEVELOPERS.md LICENSE DESTINATION ${CMAKE_INSTALL_DOCDIR} COMPONENT documents)

set(CPACK_GENERATOR DEB)
set(CPACK_PACKAGE_NAME seamwright)
set(CPACK_PACKAGE_CONTACT "the Seamwright project")
set(CPACK_PACKAGE_DESCRIPTION_SUMMARY "Fatigue life, weld procedures and records of welded cargo trike frames")
set(CPACK_PACKAGING_INSTALL_PREFIX /usr)
set(CPACK_STRIP_FILES ON)
set(CPACK_DEB_COMPONENT_INSTALL ON)
set(CPACK_COMPONENTS_GROUPING IGNORE)
set(CPACK_COMPONENTS_ALL program library documents)
set(CPACK_DEBIAN_FILE_NAME DEB-DEFAULT)
set(CPACK_DEBIAN_PROGRAM_PACKAGE_NAME seamwright)
set(CPACK_DEBIAN_PROGRAM_PACKAGE_SHLIBDEPS ON)
set(CPACK_DEBIAN_PROGRAM_PACKAGE_DEPENDS "fonts-liberation, fonts-dejavu-core")
set(CPACK_DEBIAN_LIBRARY_PACKAGE_NAME libseamwright-dev)
set(CPACK_DEBIAN_LIBRARY_PACKAGE_DEPENDS
  "pkg-config, libeigen3-dev, libboost-dev, libfmt-dev, nlohmann-json3-dev, libtomlplusplus-dev, libmuparser-dev, libsodium-dev,
  libsqlite3-dev")
set(CPACK_DEBIAN_DOCUMENTS_PACKAGE_NAME seamwright-doc)
set(CPACK_DEBIAN_DOCUMENTS_PACKAGE_ARCHITECTURE all)
set(CPACK_COMPONENT_LIBRARY_DESCRIPTION "Engine and catalog as static libraries with their headers and a CMake package")
set(CPACK_COMPONENT_DOCUMENTS_DESCRIPTION "Guide, files, pictures")
include(CPack)

# SPDX-License-Identifier: GPL-3.0-or-later
# The habits that all targets share: language, warnings, sanitizers, and how a folder becomes a target.
set(CMAKE_EXPORT_COMPILE_COMMANDS ON)
set(CMAKE_POSITION_INDEPENDENT_CODE ON)
if(NOT CMAKE_BUILD_TYPE)
  set(CMAKE_BUILD_TYPE Release CACHE STRING "" FORCE)
endif()
find_package(Threads REQUIRED)
find_package(Eigen3 3.4 REQUIRED NO_MODULE)
find_package(Spectra 1.0 REQUIRED)
find_package(Boost 1.74 REQUIRED)
find_package(Catch2 2.13 REQUIRED)
find_package(fmt REQUIRED)
find_package(CLI11 REQUIRED)
find_package(nlohmann_json REQUIRED)
find_package(PkgConfig REQUIRED)
include(SeamwrightPackages)
include(Catch)

add_library(seamwright_habits INTERFACE)
target_compile_features(seamwright_habits INTERFACE cxx_std_20)
target_compile_options(seamwright_habits INTERFACE
  -Wall -Wextra -Wpedantic -Wshadow -Wconversion -Werror)
# The compiler looks every literal id up among the sentences. Off while one works: a new id then compiles what uses it and no more, and the
# house test of sentences alone finds an id without one.
option(SEAMWRIGHT_CHECK_IDS "every source knows the list of message ids" ON)
if(NOT SEAMWRIGHT_CHECK_IDS)
  target_compile_definitions(seamwright_habits INTERFACE SEAMWRIGHT_UNCHECKED_IDS)
endif()
set(SEAMWRIGHT_GENERATED ${CMAKE_BINARY_DIR}/generated) # headers that the build writes, by folder as the sources
target_include_directories(seamwright_habits INTERFACE ${CMAKE_SOURCE_DIR} ${SEAMWRIGHT_GENERATED})
if(SEAMWRIGHT_SANITIZE)
  target_compile_options(seamwright_habits INTERFACE
    -fsanitize=address,undefined -fno-sanitize-recover=all -fno-omit-frame-pointer
    -fno-sanitize=null,alignment,object-size,vptr # the address sanitizer stops those; half the time to compile
    -Wno-error) # GCC 12 warns falsely with sanitizers on; the other presets keep warnings as errors
  target_link_options(seamwright_habits INTERFACE -fsanitize=address,undefined)
  target_compile_definitions(seamwright_habits INTERFACE _GLIBCXX_ASSERTIONS)
endif()

# Sources of a library or a test are compiled eight at a time: they share the large template headers. The debug preset compiles each
# alone, so that every file includes what it uses.
option(SEAMWRIGHT_TOGETHER "compile the sources of a library or a test eight at a time" ON)

# With it what they all include is read once: headers of other libraries, never our own, so that nothing more is built anew when
# one changes. seamwright_precompile(NAME [LEVEL -O1] HEADERS <h> ... LINKS targets ...)
function(seamwright_precompile NAME)
  cmake_parse_arguments(ARG "" "LEVEL" "HEADERS;LINKS" ${ARGN})
  file(CONFIGURE OUTPUT ${CMAKE_BINARY_DIR}/${NAME}.cpp CONTENT "")
  add_library(${NAME} STATIC ${CMAKE_BINARY_DIR}/${NAME}.cpp)
  target_link_libraries(${NAME} PRIVATE seamwright_habits Eigen3::Eigen ${ARG_LINKS})
  target_compile_options(${NAME} PRIVATE ${ARG_LEVEL} -fpch-preprocess)
  target_precompile_headers(${NAME} PRIVATE <algorithm> <cmath> <functional> <map> <memory> <optional> <set> <string> <variant> <vector>
    <Eigen/Dense> <Eigen/SparseCore> ${ARG_HEADERS})
endfunction()
set(SEAMWRIGHT_TEST_LEVEL -O0) # tests check numbers, not speed, and compile in half of the time
if(SEAMWRIGHT_TOGETHER)
  seamwright_precompile(precompiled)
  seamwright_precompile(precompiled_tests LEVEL ${SEAMWRIGHT_TEST_LEVEL} HEADERS <catch2/catch.hpp>)
endif()
function(seamwright_together TARGET PRECOMPILED)
  set_target_properties(${TARGET} PROPERTIES UNITY_BUILD ${SEAMWRIGHT_TOGETHER} UNITY_BUILD_BATCH_SIZE 8)
  if(SEAMWRIGHT_TOGETHER)
    target_compile_options(${TARGET} PRIVATE -fpch-preprocess)
    target_precompile_headers(${TARGET} REUSE_FROM ${PRECOMPILED})
  endif()
endfunction()

# seamwright_library(NAME SOURCES a.cpp ... LINKS targets ... [PRECOMPILED target]): the folder's target.
function(seamwright_library NAME)
  cmake_parse_arguments(ARG "" "PRECOMPILED" "SOURCES;LINKS" ${ARGN})
  if(NOT ARG_PRECOMPILED)
    set(ARG_PRECOMPILED precompiled)
  endif()
  add_library(${NAME} ${ARG_SOURCES}) # shared in the debug preset alone, where a changed file then links its own library anew and nothing else
  target_link_libraries(${NAME} PUBLIC ${ARG_LINKS} PRIVATE $<BUILD_INTERFACE:seamwright_habits>)
  target_compile_features(${NAME} PUBLIC cxx_std_20)
  add_dependencies(${NAME} message_ids)
  target_include_directories(${NAME} PUBLIC $<BUILD_INTERFACE:${CMAKE_SOURCE_DIR}> $<BUILD_INTERFACE:${SEAMWRIGHT_GENERATED}> $<INSTALL_INTERFACE:include/seamwright>)
  seamwright_together(${NAME} ${ARG_PRECOMPILED})
  set_property(GLOBAL APPEND PROPERTY SEAMWRIGHT_LIBRARIES ${NAME})
endfunction()

# seamwright_vector_loops(a.cpp ...): sources with loops for several sets of instructions. Each product is rounded before it is
# added, so that the digits do not depend on the machine. Other options than its neighbours' keep them out of what these share.
function(seamwright_vector_loops)
  set_source_files_properties(${ARGN} PROPERTIES COMPILE_OPTIONS "-O3;-ffp-contract=off" SKIP_UNITY_BUILD_INCLUSION ON SKIP_PRECOMPILE_HEADERS ON)
endfunction()

# seamwright_embed(NAME HEADER h.h NAMESPACE a::b TYPE T [ROOT folder] FILES f ...): files built into the program, so that it needs none:
# NAME.cpp in the folder's build, with a function NAME() to a std::vector<T> of {name, text}; the header declares both. Names are paths below
# the root where there is one.
function(seamwright_embed NAME)
  cmake_parse_arguments(ARG "" "HEADER;NAMESPACE;TYPE;ROOT" "FILES" ${ARGN})
  string(REPLACE ";" "," joined "${ARG_FILES}")
  add_custom_command(
    OUTPUT ${CMAKE_CURRENT_BINARY_DIR}/${NAME}.cpp
    COMMAND ${CMAKE_COMMAND} -DOUT=${CMAKE_CURRENT_BINARY_DIR}/${NAME}.cpp -DNAME=${NAME} -DHEADER=${ARG_HEADER} -DNAMESPACE=${ARG_NAMESPACE}
            -DTYPE=${ARG_TYPE} -DFILES=${joined} -DROOT=${ARG_ROOT} -P ${CMAKE_SOURCE_DIR}/.cmake/embed.cmake
    DEPENDS ${ARG_FILES} ${CMAKE_SOURCE_DIR}/.cmake/embed.cmake
    VERBATIM)
endfunction()

# seamwright_hash(NAME TEXT PATTERN ... [EXCEPT regex]): a source with the constant NAME, the text and the hash of all files of these
# patterns; its path stands in ${NAME}. A source of its own, so that a changed file compiles nothing else.
function(seamwright_hash NAME TEXT)
  cmake_parse_arguments(ARG "" "EXCEPT" "" ${ARGN})
  file(GLOB_RECURSE files CONFIGURE_DEPENDS ${ARG_UNPARSED_ARGUMENTS})
  if(ARG_EXCEPT)
    list(FILTER files EXCLUDE REGEX "${ARG_EXCEPT}")
  endif()
  string(REPLACE ";" "," joined "${files}")
  set(out ${SEAMWRIGHT_GENERATED}/${NAME}.cpp)
  add_custom_command(
    OUTPUT ${out}
    COMMAND ${CMAKE_COMMAND} -DOUT=${out} -DNAME=${NAME} "-DTEXT=${TEXT}" -DFILES=${joined} -P ${CMAKE_SOURCE_DIR}/.cmake/hash.cmake
    DEPENDS ${files} ${CMAKE_SOURCE_DIR}/.cmake/hash.cmake
    VERBATIM)
  set_source_files_properties(${out} PROPERTIES SKIP_UNITY_BUILD_INCLUSION ON SKIP_PRECOMPILE_HEADERS ON)
  set(${NAME} ${out} PARENT_SCOPE)
endfunction()

# seamwright_test(NAME SOURCES a.cpp ... LINKS targets ... [COST n] [WHOLE]): one Catch2 program, and one ctest test. With a COST its cases take
# long: then each is a test of its own, and the costliest begin first, so that none is left alone at the end; WHOLE keeps together cases that
# share what takes long. A case tagged [night] is left to tests/run night, which runs its program whole.
# Catch2 2.13 exits 0 when a name matches no test, hence "--warn NoTests".
function(seamwright_test NAME)
  cmake_parse_arguments(ARG "WHOLE" "COST" "SOURCES;LINKS" ${ARGN})
  add_executable(${NAME} ${ARG_SOURCES})
  target_link_libraries(${NAME} PRIVATE seamwright_habits ${ARG_LINKS} Catch2::Catch2WithMain)
  target_compile_definitions(${NAME} PRIVATE SEAMWRIGHT_SOURCE_DIR="${CMAKE_SOURCE_DIR}")
  target_compile_options(${NAME} PRIVATE ${SEAMWRIGHT_TEST_LEVEL} -fPIC)
  set_target_properties(${NAME} PROPERTIES POSITION_INDEPENDENT_CODE OFF) # as the library whose precompiled headers they share
  seamwright_together(${NAME} precompiled_tests)
  # Short stacks of allocations and a small quarantine: a third less of the system's time.
  set(environment "ASAN_OPTIONS=quarantine_size_mb=64:malloc_context_size=4:allocator_release_to_os_interval_ms=-1")
  if(ARG_COST AND NOT ARG_WHOLE)
    catch_discover_tests(${NAME} TEST_PREFIX "${NAME}: " TEST_SPEC "~[night]" EXTRA_ARGS "--warn" "NoTests" PROPERTIES TIMEOUT 300 COST ${ARG_COST} ENVIRONMENT ${environment})
  else()
    add_test(NAME ${NAME} COMMAND ${NAME} "~[night]" --warn NoTests)
    if(NOT ARG_COST)
      set(ARG_COST 10)
    endif()
    set_tests_properties(${NAME} PROPERTIES TIMEOUT 600 COST ${ARG_COST} ENVIRONMENT ${environment})
    # What is held to something outside is kept for the report, which is then compared without a second run.
    if(NAME MATCHES "^test_(published|thresholds)" AND NOT SEAMWRIGHT_SANITIZE)
      set_property(TEST ${NAME} APPEND PROPERTY ENVIRONMENT "SEAMWRIGHT_CHECKS=${CMAKE_BINARY_DIR}/checks/${NAME}.jsonl")
      set_tests_properties(${NAME} PROPERTIES FIXTURES_REQUIRED begun_checks FIXTURES_SETUP checks)
    endif()
  endif()
endfunction()

# SPDX-License-Identifier: GPL-3.0-or-later
# cmake -DFROM=english.txt -DOUT=message_ids.h -P message_ids.cmake: the ids of all sentences, for the compiler to look them up. The header
# is only written when an id came or went, so that other words for a sentence compile nothing but the text.
file(READ ${FROM} text)
string(REGEX MATCHALL "\n[a-z-]+[.][^ =\n]+ " ids "${text}")
list(TRANSFORM ids STRIP)
list(REMOVE_DUPLICATES ids)
list(SORT ids COMPARE STRING)
list(TRANSFORM ids REPLACE "(.+)" "    \"\\1\",")
string(REPLACE ";" "\n" ids "${ids}")
set(header "// Written by message_ids.cmake.\n#pragma once\n\nnamespace seamwright {\n
/// The ids of all sentences, sorted byte by byte.\ninline constexpr const char* message_ids[] = {\n${ids}\n};\n\n}  // namespace seamwright\n")
if(EXISTS ${OUT})
  file(READ ${OUT} before)
endif()
if(NOT "${header}" STREQUAL "${before}")
  file(WRITE ${OUT} "${header}")
endif()

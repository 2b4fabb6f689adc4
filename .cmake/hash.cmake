# SPDX-License-Identifier: GPL-3.0-or-later
# cmake -DOUT=file.h -DNAME=a -DTEXT=words -DFILES=a.cpp,b.cpp -P hash.cmake: writes a header with one string constant: the words, and
# the hash of the files' content.
string(REPLACE "," ";" FILES "${FILES}")
set(all "")
foreach(file ${FILES})
  file(SHA256 ${file} hash)
  string(APPEND all ${hash})
endforeach()
string(SHA256 hash "${all}")
set(text "// Written by hash.cmake.\n#pragma once\n\nnamespace seamwright {\ninline constexpr const char* ${NAME} = \"${TEXT} ${hash}\\n\";\n}\n")
file(WRITE ${OUT} "${text}")

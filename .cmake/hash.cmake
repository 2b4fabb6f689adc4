# SPDX-License-Identifier: GPL-3.0-or-later
# cmake -DOUT=file.cpp -DNAME=a -DTEXT=words -DFILES=a.cpp,b.cpp -P hash.cmake: writes a source with one string constant: the words, and
# the hash of the files' content. A source of its own, so that a changed file compiles nothing else.
string(REPLACE "," ";" FILES "${FILES}")
set(all "")
foreach(file ${FILES})
  file(SHA256 ${file} hash)
  string(APPEND all ${hash})
endforeach()
string(SHA256 hash "${all}")
set(text "// Written by hash.cmake.\nnamespace seamwright {\nextern const char* const ${NAME};\nconst char* const ${NAME} = \"${TEXT} ${hash}\\n\";\n}\n")
file(WRITE ${OUT} "${text}")

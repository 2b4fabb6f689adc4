# SPDX-License-Identifier: GPL-3.0-or-later
# cmake -DOUT=file.cpp -DNAME=function -DFILES=a.toml,b.toml -P embed.cmake: writes files into a source, so that the program
# needs none.
string(REPLACE "," ";" FILES "${FILES}")
set(text "// Written by embed.cmake.\n#include \"catalog/published/published_data.h\"\n\nnamespace seamwright::published {\n")
string(APPEND text "const std::vector<DataFile>& ${NAME}() {\n  static const std::vector<DataFile> files{\n")
foreach(file ${FILES})
  get_filename_component(name ${file} NAME)
  file(READ ${file} content)
  string(APPEND text "      {\"${name}\", R\"~~~(${content})~~~\"},\n")
endforeach()
string(APPEND text "  };\n  return files;\n}\n}  // namespace seamwright::published\n")
file(WRITE ${OUT} "${text}")

# SPDX-License-Identifier: GPL-3.0-or-later
# cmake -DOUT=file.cpp -DNAME=function -DHEADER=a/b.h -DNAMESPACE=a::b -DTYPE=T -DFILES=a.toml,b.toml [-DROOT=folder] -P embed.cmake: writes
# files into a source; see seamwright_embed.
string(REPLACE "," ";" FILES "${FILES}")
set(text "// Written by embed.cmake.\n#include \"${HEADER}\"\n\nnamespace ${NAMESPACE} {\n")
string(APPEND text "const std::vector<${TYPE}>& ${NAME}() {\n  static const std::vector<${TYPE}> files{\n")
foreach(file ${FILES})
  if(ROOT)
    file(RELATIVE_PATH name ${ROOT} ${file})
  else()
    get_filename_component(name ${file} NAME)
  endif()
  file(READ ${file} content)
  string(APPEND text "      {\"${name}\", R\"~~~(${content})~~~\"},\n")
endforeach()
string(APPEND text "  };\n  return files;\n}\n}  // namespace ${NAMESPACE}\n")
file(WRITE ${OUT} "${text}")

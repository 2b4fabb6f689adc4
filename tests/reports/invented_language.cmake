# SPDX-License-Identifier: GPL-3.0-or-later
# cmake -DFROM=english.txt -DOUT=invented.txt -P invented_language.cmake: a language for tests, the English sentences in guillemets.
file(READ ${FROM} text)
string(REGEX REPLACE "\n([a-z-]+[.][^\n=]*) = ([^\n]*)" "\n\\1 = «\\2»" text "${text}")
foreach(row "code = qaa" "name = Invented" "decimal-mark = ," "group-mark = '")
  string(REGEX MATCH "^[a-z-]+ = " key "${row}")
  string(REGEX REPLACE "\n${key}[^\n]*" "\n${row}" text "${text}")
endforeach()
file(WRITE ${OUT} "${text}")

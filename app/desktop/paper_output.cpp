// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/desktop/paper_output.h"

#include <QLocale>

namespace seamwright::desktop {

reports::Paper paper() {
  const auto where = QLocale::system().territory();
  return where == QLocale::UnitedStates || where == QLocale::Canada || where == QLocale::Mexico
             ? reports::Paper::letter
             : reports::Paper::a4;
}

}  // namespace seamwright::desktop

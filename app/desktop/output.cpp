// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/desktop/output.h"

#include <QLocale>
#include <QSaveFile>
#include <stdexcept>

namespace seamwright::desktop {

void write_whole(const QString& path, const std::string& bytes) {
  QSaveFile file(path);
  const auto size = static_cast<qint64>(bytes.size());
  if (!file.open(QIODevice::WriteOnly) || file.write(bytes.data(), size) != size || !file.commit())
    throw std::runtime_error(path.toStdString() + ": " + file.errorString().toStdString());
}

reports::Paper paper() {
  const auto where = QLocale::system().territory();
  return where == QLocale::UnitedStates || where == QLocale::Canada || where == QLocale::Mexico
             ? reports::Paper::letter
             : reports::Paper::a4;
}

}  // namespace seamwright::desktop

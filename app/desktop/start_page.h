// SPDX-License-Identifier: GPL-3.0-or-later
// An empty window shows how to begin.
#pragma once

#include <QStringList>
#include <QWidget>

namespace seamwright::desktop {

class StartPage : public QWidget {
  Q_OBJECT
 public:
  explicit StartPage(const QStringList& recent, QWidget* parent = nullptr);

 signals:
  void demo_wanted();
  void open_wanted();
  void job_wanted(const QString& path);
};

}  // namespace seamwright::desktop

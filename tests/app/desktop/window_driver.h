// SPDX-License-Identifier: GPL-3.0-or-later
// The tests of the window share these: a home of their own, a job to open, waiting, and a watch on the event
// loop.
#pragma once

#include <QAccessible>
#include <QApplication>
#include <QElapsedTimer>
#include <QFile>
#include <QLabel>
#include <QPushButton>
#include <QSettings>
#include <QTemporaryDir>
#include <QTest>
#include <QTimer>

#include "app/desktop/main_window.h"
#include "app/desktop/start_page.h"
#include "catalog/files/demonstration.h"
#include "app/desktop/theme.h"
#include "app/desktop/window_words.h"

namespace seamwright::desktop {

/// Settings and drafts of a test go into a folder that goes with it. Made before the application.
class Home {
 public:
  Home() {
    // A second process of the same test shares the first one's.
    for (const char* name : {"XDG_CONFIG_HOME", "XDG_DATA_HOME", "XDG_CACHE_HOME"})
      if (qEnvironmentVariableIsEmpty("SEAMWRIGHT_TEST_HOME")) qputenv(name, folder_.path().toUtf8());
    if (qEnvironmentVariableIsEmpty("QT_QPA_PLATFORM")) qputenv("QT_QPA_PLATFORM", "offscreen");
  }
  QString path() const { return folder_.path(); }

 private:
  QTemporaryDir folder_;
};

inline void set_up(QApplication& application, Style style = Style::light) {
  QApplication::setOrganizationName(QStringLiteral("seamwright"));
  QApplication::setApplicationName(QStringLiteral("desktop"));
  QSettings::setDefaultFormat(QSettings::IniFormat);
  QLocale::setDefault(QLocale(QLocale::English));
  apply_style(application, style);
}

/// The demonstration's job in a folder of its own.
class Job {
 public:
  Job() { files::write_demonstration_job(folder().toStdString()); }
  QString folder() const { return folder_.path() + QStringLiteral("/job"); }
  QByteArray bytes(const char* name) const {
    QFile file(folder() + QLatin1Char('/') + QLatin1String(name));
    return file.open(QIODevice::ReadOnly) ? file.readAll() : QByteArray();
  }
  void put(const char* name, const QByteArray& bytes) const {
    QFile file(folder() + QLatin1Char('/') + QLatin1String(name));
    QVERIFY(file.open(QIODevice::WriteOnly));
    file.write(bytes);
  }

 private:
  QTemporaryDir folder_;
};

template <typename Done>
bool wait_for(const Done& done, int most_ms = 60000) {
  return QTest::qWaitFor(done, most_ms);
}

/// Turns of the event loop while it lives: work that held it up would leave none. How long the longest takes is for the timings.
class LoopWatch {
 public:
  LoopWatch() {
    timer_.setInterval(5);
    QObject::connect(&timer_, &QTimer::timeout, [this] { ++turns_; });
    timer_.start();
  }
  int turns() const { return turns_; }

 private:
  QTimer timer_;
  int turns_ = 0;
};

/// These can be focused or pointed at and have no name for those who do not see them.
inline QStringList nameless(const QWidget& window) {
  QStringList out;
  for (const QWidget* w : window.findChildren<QWidget*>()) {
    if (w->focusPolicy() == Qt::NoFocus || !w->isVisible()) continue;
    QAccessibleInterface* face = QAccessible::queryAccessibleInterface(const_cast<QWidget*>(w));
    if (face && face->text(QAccessible::Name).trimmed().isEmpty())
      out << QLatin1String(w->metaObject()->className()) + QLatin1Char(' ') + w->objectName() + " in " +
                 QLatin1String(w->parentWidget()->metaObject()->className());
  }
  return out;
}

/// Letters behind & that two visible controls of a page share.
inline QStringList doubled_mnemonics(const QWidget& window) {
  QMap<QString, QStringList> by;
  const auto take = [&](const QString& text) {
    const QKeySequence key = QKeySequence::mnemonic(text);
    if (!key.isEmpty()) by[key.toString()] << text;
  };
  for (const auto* b : window.findChildren<QAbstractButton*>())
    if (b->isVisible()) take(b->text());
  for (const auto* l : window.findChildren<QLabel*>())
    if (l->isVisible() && l->buddy()) take(l->text());
  QStringList out;
  for (auto it = by.begin(); it != by.end(); ++it)
    if (it.value().size() > 1) out << it.key() + QLatin1String(": ") + it.value().join(QLatin1String(" | "));
  return out;
}

}  // namespace seamwright::desktop

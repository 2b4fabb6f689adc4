// SPDX-License-Identifier: GPL-3.0-or-later
// Unsaved changes, kept beside the job so that a crash loses seconds: one file a job under the user's data
// folder, locked while its window lives. Written by a thread of its own.
#pragma once

#include <QDateTime>
#include <QLockFile>
#include <QObject>
#include <QThreadPool>
#include <QTimer>
#include <memory>
#include <vector>

#include "app/desktop/job_session.h"

namespace seamwright::desktop {

struct Draft {
  QString file;  ///< of the draft
  std::string folder;
  QDateTime time;
  std::array<std::string, 2> texts;  ///< design, duty
};

class Drafts : public QObject {
  Q_OBJECT
 public:
  explicit Drafts(QObject* parent = nullptr);
  ~Drafts() override;

  /// $XDG_DATA_HOME/seamwright/drafts.
  static QString folder();
  /// Drafts whose window is gone, newest first. Those that cannot be read are left where they are.
  static std::vector<Draft> kept_drafts();
  static void discard(const Draft& draft);

  /// Follows a session from now on; null for none.
  void follow(JobSession* session);
  /// Writes now what changed: the window lost the focus.
  void write_now();
  /// The draft of the session goes: it was saved, or its changes were given up.
  void remove();
  /// Waits until all is on the disk.
  void finish() { writer_.waitForDone(); }

  static constexpr int most_wait_ms = 10000;  ///< from a change to its draft

 private:
  JobSession* session_ = nullptr;
  QTimer timer_;
  QThreadPool writer_;
  std::unique_ptr<QLockFile> lock_;
  QString file_;
};

}  // namespace seamwright::desktop

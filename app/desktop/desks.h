// SPDX-License-Identifier: GPL-3.0-or-later
// The desks of the rail. One more is one more line in desks.cpp: its name, its drawing, and how it is made
// over the open job and book.
#pragma once

#include <QIcon>
#include <QString>
#include <QWidget>
#include <functional>
#include <vector>

#include "app/desktop/job_session.h"
#include "app/desktop/rater.h"
#include "app/desktop/shift.h"
#include "app/desktop/studies.h"

namespace seamwright::models {
class Modeller;
}

namespace seamwright::desktop {

class JointMaker;

/// Desks share these: the job in the window, its ratings and the last of them, the book's file ("" = none),
/// the message line.
struct Context {
  JobSession* session = nullptr;
  Rater* rater = nullptr;
  std::shared_ptr<const RatedJob> last;  ///< rating, null for none
  QString book;
  std::function<void(const QString&)> show_message;
  Shift* shift = nullptr;              ///< who signs
  std::function<QString()> make_book;  ///< asks for a new book and opens it; its file, "" for none
  std::function<void()> book_grew;     ///< entries were added here
  const std::vector<Study>* studies = nullptr;
  models::Modeller* modeller = nullptr;  ///< for solids; null: views draw the frame by themselves
  const JointMaker* joints = nullptr;
};

/// A desk answers to the menus: what does not concern it does nothing.
class Desk : public QWidget {
  Q_OBJECT
 public:
  using QWidget::QWidget;
  virtual void find() {}                      ///< the field in which one searches gets the focus
  virtual void show_fault() {}                ///< goes to where the job's fault is
  virtual void count_cycles() {}              ///< rates by histories
  virtual void show_study(const QString&) {}  ///< the page of a study by its id; "" = the frame
};

struct DeskKind {
  const char* id;    ///< of settings and objects
  MessageId name;    ///< message id, with its mnemonic
  QIcon (*icon)();
  bool needs_job;
  Desk* (*make)(const Context&);
};
const std::vector<DeskKind>& desks();

}  // namespace seamwright::desktop

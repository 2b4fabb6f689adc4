// SPDX-License-Identifier: GPL-3.0-or-later
// One person signs in this window; entries get into the book under their signature.
#pragma once

#include <QObject>
#include <QTimer>
#include <map>
#include <memory>
#include <string>
#include <vector>

#include "catalog/book/book.h"
#include "engine/qualification/calendar.h"

namespace seamwright::desktop {

/// Now, as the book writes it, and its day.
std::string now_utc();
qualification::Date today();

/// The person who signs in this window: unlocked once a shift, locked after half an hour without use, or at
/// once by the next person who unlocks.
class Shift : public QObject {
  Q_OBJECT
 public:
  explicit Shift(QObject* parent = nullptr);
  /// Null when nobody is unlocked for this book.
  std::shared_ptr<book::OpenKey> key(const std::string& book_id) const;
  const std::string& person() const { return person_; }
  void unlock(const std::string& book_id, const std::string& person, std::shared_ptr<book::OpenKey> key);
  void lock();
  /// Set once at the table and shown for every weld of the shift: ids by names of fields; and the frame that was worked on last.
  std::map<std::string, std::string> at_table;
  std::string serial;

 signals:
  void changed();

 private:
  QTimer idle_;
  std::string book_id_, person_;
  std::shared_ptr<book::OpenKey> key_;
};

/// Adds the entries under the person's signature, all or none. The key is opened with the passphrase, or is
/// the shift's where the passphrase is empty. Throws the book's Faults.
struct SignedRecords {
  std::size_t count = 0;
  std::string book_id;
  std::shared_ptr<book::OpenKey> key;
};
SignedRecords sign_records(const std::string& book, const std::string& person, const std::string& passphrase,
                           const std::shared_ptr<book::OpenKey>& of_shift,
                           const std::vector<book::NewEntry>& entries);

}  // namespace seamwright::desktop

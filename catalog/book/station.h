// SPDX-License-Identifier: GPL-3.0-or-later
// A key unlocked once a shift: a process of its own holds it, signs for the same user of this machine, and
// locks after a while without use. Changing person is one step: the new one's unlocking locks the old.
#pragma once

#include <memory>
#include <string>

#include "catalog/book/keys.h"

namespace seamwright::book {

/// Signs through the process that holds the key. Throws Fault "book.locked" when it has gone.
class Station : public Signer {
 public:
  std::string sign(const std::string& message) const override;
  std::string public_hex() const override { return public_hex_; }
  const std::string& person() const { return person_; }

 private:
  friend std::unique_ptr<Station> station_of(const std::string&);
  std::string path_, person_, public_hex_;
};

/// The person unlocked for a book; null when nobody is.
std::unique_ptr<Station> station_of(const std::string& book_id);

/// Starts the process that holds the key and gives back once it does. Idle time in seconds. No book may be
/// open here. Throws Fault "book.wrong-passphrase", "book.no-station" where the folder of sockets cannot be
/// made.
void unlock_station(const std::string& book_id, const std::string& person, const std::string& sealed_hex,
                    const std::string& passphrase, int idle_s);
/// False when nothing was unlocked.
bool lock_station(const std::string& book_id);

}  // namespace seamwright::book

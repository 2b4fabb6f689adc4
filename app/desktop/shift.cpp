// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/desktop/shift.h"

#include <QDateTime>

#include "catalog/book/station.h"

namespace seamwright::desktop {

namespace {

constexpr int idle_ms = 30 * 60 * 1000;

}  // namespace

std::string now_utc() {
  return QDateTime::currentDateTimeUtc().toString(QStringLiteral("yyyy-MM-ddTHH:mm:ssZ")).toStdString();
}

qualification::Date today() {
  return qualification::Date(std::chrono::floor<std::chrono::days>(std::chrono::system_clock::now()));
}

Shift::Shift(QObject* parent) : QObject(parent) {
  idle_.setSingleShot(true);
  idle_.setInterval(idle_ms);
  connect(&idle_, &QTimer::timeout, this, &Shift::lock);
}

std::shared_ptr<book::OpenKey> Shift::key(const std::string& book_id) const {
  return book_id == book_id_ ? key_ : nullptr;
}

void Shift::unlock(const std::string& book_id, const std::string& person,
                   std::shared_ptr<book::OpenKey> key) {
  book_id_ = book_id;
  person_ = person;
  key_ = std::move(key);
  idle_.start();
  emit changed();
}

void Shift::lock() {
  key_.reset();
  book_id_.clear();
  person_.clear();
  emit changed();
}

SignedRecords sign_records(const std::string& path, const std::string& person, const std::string& passphrase,
                           const std::shared_ptr<book::OpenKey>& of_shift,
                           const std::vector<book::NewEntry>& entries) {
  book::Book b = book::Book::open(path);
  SignedRecords out;
  out.book_id = b.id();
  const auto station = passphrase.empty() ? book::station_of(b.id()) : nullptr;
  if (station && station->person() == person) {
    out.count = b.append_all(person, *station, entries, now_utc()).size();
    return out;
  }
  out.key = passphrase.empty() && of_shift ? of_shift : std::shared_ptr(b.unlock(person, passphrase));
  out.count = b.append_all(person, *out.key, entries, now_utc()).size();
  return out;
}

}  // namespace seamwright::desktop

// SPDX-License-Identifier: GPL-3.0-or-later
// Values by what they were made of, the oldest forgotten.
#pragma once

#include <algorithm>
#include <list>
#include <memory>
#include <mutex>
#include <utility>

namespace seamwright::rating {

/// The values last asked for, the latest first. Two threads that ask at once may both make one: it is the same.
template <typename Key, typename Value>
class Recent {
 public:
  explicit Recent(std::size_t most) : most_(most) {}

  template <typename Make>
  std::shared_ptr<const Value> get(std::mutex& lock, const Key& key, const Make& make) {
    {
      const std::lock_guard<std::mutex> guard(lock);
      const auto at = std::find_if(kept_.begin(), kept_.end(), [&](const auto& one) { return one.first == key; });
      if (at != kept_.end()) {
        kept_.splice(kept_.begin(), kept_, at);
        return at->second;
      }
    }
    std::shared_ptr<const Value> made = std::make_shared<const Value>(make());
    const std::lock_guard<std::mutex> guard(lock);
    kept_.emplace_front(key, made);
    if (kept_.size() > most_) kept_.pop_back();
    return made;
  }

 private:
  std::size_t most_;
  std::list<std::pair<Key, std::shared_ptr<const Value>>> kept_;
};

}  // namespace seamwright::rating

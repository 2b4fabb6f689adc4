// SPDX-License-Identifier: GPL-3.0-or-later
// Values by what they were made of, the oldest forgotten.
#pragma once

#include <algorithm>
#include <list>
#include <memory>
#include <mutex>
#include <utility>

namespace seamwright::rating {

/// The values last asked for, the latest first, so many as have room. Two threads that ask at once may both make one: it
/// is the same.
template <typename Key, typename Value>
class Recent {
 public:
  /// Each value takes this of the room; 1 where nothing else is said.
  using Size = std::size_t (*)(const Value&);
  explicit Recent(std::size_t room, Size size = [](const Value&) { return std::size_t{1}; }) : room_(room), size_(size) {}

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
    used_ += size_(*made);
    for (; used_ > room_ && !kept_.empty(); kept_.pop_back()) used_ -= size_(*kept_.back().second);
    return made;
  }

 private:
  std::size_t room_, used_ = 0;
  Size size_;
  std::list<std::pair<Key, std::shared_ptr<const Value>>> kept_;
};

}  // namespace seamwright::rating

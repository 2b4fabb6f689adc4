// SPDX-License-Identifier: GPL-3.0-or-later
// Numbers and texts as bytes in a row, to compare or to keep.
#pragma once

#include <Eigen/Core>
#include <string>
#include <type_traits>

namespace seamwright::rating {

class ByteWriter {
 public:
  template <class Number>
    requires std::is_arithmetic_v<Number>
  void add(Number value) {
    bytes_.append(reinterpret_cast<const char*>(&value), sizeof value);
  }
  void add(const std::string& text) {
    add(text.size());
    bytes_ += text;
  }
  template <class Derived>
  void add(const Eigen::DenseBase<Derived>& numbers) {
    const typename Derived::PlainObject all = numbers;
    add(all.rows());
    add(all.cols());
    bytes_.append(reinterpret_cast<const char*>(all.data()),
                  static_cast<std::size_t>(all.size()) * sizeof(typename Derived::Scalar));
  }
  template <class... Values>
  void add_all(const Values&... values) {
    (add(values), ...);
  }
  std::string written() { return std::move(bytes_); }

 private:
  std::string bytes_;
};

}  // namespace seamwright::rating

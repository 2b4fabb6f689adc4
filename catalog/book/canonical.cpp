// SPDX-License-Identifier: GPL-3.0-or-later
#include "catalog/book/canonical.h"

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>
#include <vector>

#include "engine/evidence/evidence.h"

namespace seamwright::book {

namespace {

[[noreturn]] void not_text() { throw Fault{Message{"book.not-text", {}}}; }

// Code points of UTF-8; refuses what is not.
std::vector<char32_t> code_points(const std::string& s) {
  std::vector<char32_t> out;
  for (std::size_t i = 0; i < s.size();) {
    const auto byte = [&](std::size_t k) {
      if (i + k >= s.size()) not_text();
      return static_cast<unsigned char>(s[i + k]);
    };
    const unsigned char first = byte(0);
    const std::size_t more = first < 0x80         ? 0
                             : (first >> 5) == 6  ? 1
                             : (first >> 4) == 14 ? 2
                             : (first >> 3) == 30 ? 3
                                                  : 9;
    if (more == 9) not_text();
    char32_t point = more == 0 ? first : first & (0x3F >> more);
    for (std::size_t k = 1; k <= more; ++k) {
      const unsigned char next = byte(k);
      if ((next >> 6) != 2) not_text();
      point = (point << 6) | (next & 0x3F);
    }
    constexpr std::array<char32_t, 4> least{0, 0x80, 0x800, 0x10000};
    if (point < least.at(more) || point > 0x10FFFF || (point >= 0xD800 && point <= 0xDFFF)) not_text();
    out.push_back(point);
    i += more + 1;
  }
  return out;
}

std::u16string utf16(const std::string& s) {
  std::u16string out;
  for (const char32_t p : code_points(s)) {
    if (p < 0x10000) {
      out.push_back(static_cast<char16_t>(p));
    } else {
      out.push_back(static_cast<char16_t>(0xD800 + ((p - 0x10000) >> 10)));
      out.push_back(static_cast<char16_t>(0xDC00 + ((p - 0x10000) & 0x3FF)));
    }
  }
  return out;
}

// ASCII without anything to escape: most of what is recorded.
bool is_plain(const std::string& s) {
  return std::all_of(s.begin(), s.end(),
                     [](char c) { return c >= 0x20 && c < 0x7f && c != '"' && c != '\\'; });
}

void write_text(const std::string& s, std::string& out) {
  if (is_plain(s)) {
    out.append(1, '"').append(s).append(1, '"');
    return;
  }
  code_points(s);  // only UTF-8 goes in
  out.push_back('"');
  for (const char c : s) {
    switch (c) {
      case '"':
        out += "\\\"";
        break;
      case '\\':
        out += "\\\\";
        break;
      case '\b':
        out += "\\b";
        break;
      case '\f':
        out += "\\f";
        break;
      case '\n':
        out += "\\n";
        break;
      case '\r':
        out += "\\r";
        break;
      case '\t':
        out += "\\t";
        break;
      default:
        if (static_cast<unsigned char>(c) < 0x20) {
          constexpr const char* digits = "0123456789abcdef";
          out += "\\u00";
          out.push_back(digits[static_cast<unsigned char>(c) >> 4]);
          out.push_back(digits[static_cast<unsigned char>(c) & 15]);
        } else {
          out.push_back(c);
        }
    }
  }
  out.push_back('"');
}

void write(const Json& value, int depth, std::string& out);

void write_object(const Json& value, int depth, std::string& out) {
  std::vector<Json::const_iterator> members;
  bool plain = true;
  for (auto it = value.begin(); it != value.end(); ++it) {
    members.push_back(it);
    plain = plain && is_plain(it.key());
  }
  if (!plain)  // else the order of bytes, in which they come, is that of UTF-16
    std::sort(members.begin(), members.end(),
              [](const auto& a, const auto& b) { return utf16(a.key()) < utf16(b.key()); });
  out.push_back('{');
  for (std::size_t i = 0; i < members.size(); ++i) {
    if (i > 0) out.push_back(',');
    write_text(members[i].key(), out);
    out.push_back(':');
    write(members[i].value(), depth + 1, out);
  }
  out.push_back('}');
}

void write(const Json& value, int depth, std::string& out) {
  if (depth > deepest && value.is_structured()) throw Fault{Message{"book.too-deep", {}}};
  switch (value.type()) {
    case Json::value_t::object:
      return write_object(value, depth, out);
    case Json::value_t::array:
      out.push_back('[');
      for (std::size_t i = 0; i < value.size(); ++i) {
        if (i > 0) out.push_back(',');
        write(value[i], depth + 1, out);
      }
      out.push_back(']');
      return;
    case Json::value_t::string:
      return write_text(value.get_ref<const std::string&>(), out);
    case Json::value_t::boolean:
      out += value.get<bool>() ? "true" : "false";
      return;
    case Json::value_t::number_integer:
    case Json::value_t::number_unsigned: {
      const double number = value.get<double>();
      if (!(std::abs(number) <= 9007199254740992.0)) throw Fault{Message{"book.not-a-number", {}}};
      out += std::to_string(static_cast<std::int64_t>(number));
      return;
    }
    case Json::value_t::number_float:
      out += number_text(value.get<double>());
      return;
    case Json::value_t::null:
      out += "null";
      return;
    default:
      throw Fault{Message{"book.not-text", {}}};
  }
}

// True when brackets outside of texts stand more than that deep in one another.
bool is_too_deep(const std::string& json) {
  int depth = 0;
  bool in_text = false;
  for (std::size_t i = 0; i < json.size(); ++i) {
    const char c = json[i];
    if (in_text) {
      if (c == '\\') ++i;
      if (c == '"') in_text = false;
    } else if (c == '"') {
      in_text = true;
    } else if (c == '[' || c == '{') {
      if (++depth > deepest) return true;
    } else if (c == ']' || c == '}') {
      --depth;
    }
  }
  return false;
}

}  // namespace

Json read_json(const std::string& text) {
  return is_too_deep(text) ? Json(Json::value_t::discarded) : Json::parse(text, nullptr, false);
}

std::string number_text(double value) {
  if (!std::isfinite(value)) throw Fault{Message{"book.not-a-number", {}}};
  if (value == 0) return std::string("0");  // also -0
  std::array<char, 40> buffer{};
  const auto done = std::to_chars(buffer.data(), buffer.data() + buffer.size(), std::abs(value),
                                  std::chars_format::scientific);
  const std::string shortest(buffer.data(), done.ptr);
  // d.ddde+xx: digits and the place of the point.
  const std::size_t e = shortest.find('e');
  std::string digits = shortest.substr(0, e);
  digits.erase(std::remove(digits.begin(), digits.end(), '.'), digits.end());
  const int point = std::stoi(shortest.substr(e + 1)) + 1, count = static_cast<int>(digits.size());
  std::string out;
  if (value < 0) out.push_back('-');
  if (count <= point && point <= 21)
    return out.append(digits).append(static_cast<std::size_t>(point - count), '0');
  if (0 < point && point <= 21)
    return out + digits.substr(0, static_cast<std::size_t>(point)) + "." +
           digits.substr(static_cast<std::size_t>(point));
  if (-6 < point && point <= 0)
    return out.append("0.").append(static_cast<std::size_t>(-point), '0').append(digits);
  const int exponent = point - 1;
  out.push_back(digits[0]);
  if (count > 1) out.append(".").append(digits, 1, std::string::npos);
  return out.append(exponent > 0 ? "e+" : "e-").append(std::to_string(std::abs(exponent)));
}

std::string canonical(const Json& value) {
  std::string out;
  write(value, 1, out);
  return out;
}

}  // namespace seamwright::book

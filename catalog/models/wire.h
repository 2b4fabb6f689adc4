// SPDX-License-Identifier: GPL-3.0-or-later
// Tasks and answers as bytes: RFC 8949 (CBOR), each behind its length. What comes from the other side is not
// trusted: every reader throws a std::exception for what cannot be.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>

#include "catalog/models/modeller.h"

namespace seamwright::models {

/// Numbers are rounded to a millionth of a millimetre: equal shapes give equal bytes.
std::string bytes_of(const Task& task);
Task task_of(std::string_view bytes);

std::string bytes_of(const Answer& answer);
Answer answer_of(std::string_view bytes);

/// Frames: eight bytes of length, lowest first, then so many bytes. More than `most` is refused.
inline constexpr std::uint64_t most_frame_bytes = std::uint64_t{1} << 30;
std::string framed(std::string_view bytes);
/// The first whole frame of these bytes, which begin behind it then; none while it is not there yet.
std::optional<std::string_view> first_frame(std::string_view& bytes);
/// The first whole frame of a buffer, taken out of it; none while it is not there yet.
std::optional<std::string> next_frame(std::string& buffer);

}  // namespace seamwright::models

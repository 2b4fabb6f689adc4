// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <initializer_list>

#include "reports/content/blocks.h"

namespace seamwright::reports {

/// A number with its source, inputs, limits that it lies outside of, notes, and what it rests on.
Reason reason_of(const Evidence& evidence);

/// The usual cautions of every rating.
Caution cautions();

/// "source": a cause of damage that is no leg, manoeuvre or obstacle of the duty's has a word of its own.
Argument cause_argument(const std::string& source);

/// A message without arguments.
Message message_of(MessageId id);
/// A table with these columns and no rows.
Table table_of(MessageIds columns);

}  // namespace seamwright::reports

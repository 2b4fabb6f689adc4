// SPDX-License-Identifier: GPL-3.0-or-later
#include "engine/rating/rate.h"

namespace seamwright::rating {

const char* name_of(Verdict verdict) {
  switch (verdict) {
    case Verdict::meets:
      return "meets";
    case Verdict::not_covered:
      return "not_covered";
    case Verdict::falls_short:
      return "falls_short";
  }
  return "falls_short";
}

}  // namespace seamwright::rating

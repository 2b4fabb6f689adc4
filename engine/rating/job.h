// SPDX-License-Identifier: GPL-3.0-or-later
// A rating starts from a job: design, duty and rules. Plain data.
#pragma once

#include <memory>
#include <vector>

#include "engine/cycles/spectral.h"
#include "engine/design/design.h"
#include "engine/loads/duty.h"
#include "engine/rules/rule_tables.h"
#include "engine/rules/rules.h"
#include "engine/solid/joint_models.h"

namespace seamwright::rating {

struct Job {
  design::Design design;
  design::Identity duty_identity;
  loads::Duty duty;
  cycles::RangeModel range_model = cycles::RangeModel::dirlik;
  rules::Rules rules;
  std::shared_ptr<const solid::JointLibrary> joint_models;  ///< null: joints by equations, rigid or giving way by a formula
  std::vector<Message> assumptions;       ///< of the duty
  std::vector<Message> peak_assumptions;  ///< of its peak cases
};

}  // namespace seamwright::rating

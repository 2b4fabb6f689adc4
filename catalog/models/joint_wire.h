// SPDX-License-Identifier: GPL-3.0-or-later
// Tasks and answers about joints as JSON values. Readers throw a std::exception for what cannot be.
#pragma once

#include <nlohmann/json.hpp>

#include "engine/solid/joint_answer.h"

namespace seamwright::models::wire {

nlohmann::json to_json(const solid::JointTask& task);
solid::JointTask joint_task_of(const nlohmann::json& j);
nlohmann::json to_json(const solid::JointAnswer& answer);
solid::JointAnswer joint_answer_of(const nlohmann::json& j);

}  // namespace seamwright::models::wire

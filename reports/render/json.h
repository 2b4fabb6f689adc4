// SPDX-License-Identifier: GPL-3.0-or-later
// Results as JSON documents, "seamwright.<kind>/1"; docs/files.md lists their members. Numbers that are not
// finite become null.
#pragma once

#include <string>
#include <vector>

#include "catalog/figures/figures.h"
#include "engine/loads/stability.h"
#include "engine/measured/rig_rating.h"
#include "engine/rating/rate.h"
#include "engine/strength/peak_rating.h"
#include "engine/study/throat_needs.h"
#include "reports/content/book_blocks.h"
#include "reports/content/cycles_blocks.h"
#include "reports/content/frame_blocks.h"
#include "reports/content/measured_blocks.h"
#include "reports/content/procedure_blocks.h"
#include "reports/content/ride_blocks.h"
#include "reports/content/study_blocks.h"

namespace seamwright::reports {

/// One rating, or "ratings" when there are several.
std::string to_json(const std::vector<rating::Rating>& ratings);
std::string to_json(const figures::FigureResult& result, const published::Catalog& catalog);
std::string to_json(const std::string& what, const frame::Assembly& assembly,
                    const frame::Solution& solution);
std::string to_json(const std::vector<NamedModes>& all);
std::string to_json(const Count& count);
std::string to_json(const std::vector<measured::RigResult>& rigs);
std::string to_json(const measured::GaugePlan& plan, const std::optional<measured::GaugeResult>& readings);
std::string to_json(const study::Recalibration& recalibration);
std::string to_json(const files::Ride& ride);
std::string to_json(const strength::PeakRatings& peaks);
std::string to_json(const std::vector<study::ThroatNeed>& needs);
std::string to_json(const files::ComparedJobs& jobs);
std::string to_json(const study::Influences& influences);
std::string to_json(const std::vector<study::Suggestion>& suggestions);
std::string to_json(const fatigue::Fit& fit);
std::string to_json(const files::ProcedureReport& report);
std::string to_json(const files::WeldersReport& report);
std::string to_json(const files::InspectionReport& report);
std::string to_json(const book::Verified& verified);
std::string to_json(const book::Book& book, const book::Trace& trace, const book::FrameState& state);
std::string to_json(const book::Mark& what, const std::vector<book::Carrier>& carriers);
std::string to_json(const book::FrameState& state);
std::string to_json(const loads::Stability& stability, double friction);

}  // namespace seamwright::reports

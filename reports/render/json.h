// SPDX-License-Identifier: GPL-3.0-or-later
// Results as JSON documents, "seamwright.<kind>/1"; docs/files.md lists their members. Numbers that are not
// finite become null.
#pragma once

#include <optional>
#include <string>
#include <vector>

namespace seamwright {
namespace book {
class Book;
struct Carrier;
struct FrameState;
struct Mark;
struct Trace;
struct Verification;
}  // namespace book
namespace fatigue {
struct Fit;
}
namespace figures {
struct FigureResult;
}
namespace files {
struct ComparedJobs;
struct WrittenAnswer;
struct InspectionReport;
struct ProcedureReport;
struct Ride;
struct TestPieceReport;
struct WeldersReport;
}  // namespace files
namespace frame {
struct Assembly;
struct Solution;
}  // namespace frame
namespace loads {
struct Stability;
}
namespace measured {
struct GaugePlan;
struct GaugeResult;
struct RigResult;
}  // namespace measured
namespace models {
struct ShapeReport;
struct JointReport;
}
namespace published {
struct Catalog;
}
namespace rating {
struct Rating;
}
namespace strength {
struct PeakRatings;
}
namespace cycles {
struct Cycle;
}
namespace study {
struct Improvement;
struct Influences;
struct Recalibration;
struct Suggestion;
struct ThroatNeed;
}  // namespace study
}  // namespace seamwright

namespace seamwright::reports {

struct DueReport;
struct NamedModes;
struct TestPlanReport;

/// One rating, or "ratings" when there are several.
std::string to_json(const std::vector<rating::Rating>& ratings, const std::string& asked_weld = {});
std::string to_json(const figures::FigureResult& result, const published::Catalog& catalog);
std::string to_json(const std::string& what, const frame::Assembly& assembly,
                    const frame::Solution& solution);
std::string to_json(const std::vector<NamedModes>& all);
/// A count of cycles as one document, however many there are: what stands before them, each of them, what stands after.
std::pair<std::string, std::string> json_around_cycles(const std::vector<double>& residue);
std::string json_of_cycle(const cycles::Cycle& cycle, bool first);
std::string to_json(const std::vector<measured::RigResult>& rigs);
std::string to_json(const measured::GaugePlan& plan, const std::optional<measured::GaugeResult>& readings);
std::string to_json(const study::Recalibration& recalibration);
std::string to_json(const files::Ride& ride);
std::string to_json(const strength::PeakRatings& peaks);
std::string to_json(const std::vector<study::ThroatNeed>& needs);
std::string to_json(const files::ComparedJobs& jobs);
std::string to_json(const study::Influences& influences);
std::string to_json(const std::vector<study::Suggestion>& suggestions);
std::string to_json(const study::Improvement& found, const std::vector<files::WrittenAnswer>& written);
std::string to_json(const TestPlanReport& report);
std::string to_json(const fatigue::Fit& fit);
std::string to_json(const files::ProcedureReport& report);
std::string to_json(const files::WeldersReport& report);
std::string to_json(const files::TestPieceReport& report);
std::string to_json(const DueReport& report);
std::string to_json(const files::InspectionReport& report);
std::string to_json(const book::Verification& verified);
std::string to_json(const book::Book& book, const book::Trace& trace, const book::FrameState& state);
std::string to_json(const book::Mark& what, const std::vector<book::Carrier>& carriers);
std::string to_json(const book::FrameState& state);
std::string to_json(const models::ShapeReport& report);
std::string to_json(const models::JointReport& report);
std::string to_json(const loads::Stability& stability, double friction);

}  // namespace seamwright::reports

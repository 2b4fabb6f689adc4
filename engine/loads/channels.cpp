// SPDX-License-Identifier: GPL-3.0-or-later
#include "engine/loads/channels.h"

namespace seamwright::loads {

std::vector<std::string> channel_names(const frame::Frame& frame) {
  std::vector<std::string> names{"standing", "payload"};
  for (const frame::Wheel& wheel : frame.wheels) names.push_back(std::string("road-").append(wheel.id));
  return names;
}

namespace {

Eigen::VectorXd load_of(const frame::Frame& frame, const frame::Assembly& a, const Carriers& carriers,
                        const Rider& rider, const Steering& steering, Pose pose, const std::string& channel) {
  if (channel == "standing") return frame::gravity_load(a);
  if (channel == "payload") {
    pose.payload_kg = 0;
    const frame::Assembly empty =
        frame::assemble(frame_in(pose, frame, carriers, rider, steering), frame::Footing::tyres);
    return frame::gravity_load(a) - frame::gravity_load(empty);
  }
  for (std::size_t i = 0; i < a.wheel_ids.size(); ++i) {
    const auto wheel = static_cast<Eigen::Index>(i);
    if (channel == std::string("road-").append(a.wheel_ids[i]))
      return a.tyre_radial.col(wheel) * a.tyre_stiffness[wheel];
  }
  std::string known;
  for (const std::string& name : channel_names(frame)) known.append(known.empty() ? "" : ", ").append(name);
  throw Fault{Message{"loads.unknown-channel", {text("channel", channel), text("known", known)}}};
}

}  // namespace

ChannelSolution solve_channel(const frame::Frame& frame, const Carriers& carriers, const Rider& rider,
                              const Steering& steering, const Pose& pose, const std::string& channel) {
  ChannelSolution s;
  s.assembly = frame::assemble(frame_in(pose, frame, carriers, rider, steering), frame::Footing::tyres);
  const Eigen::VectorXd load = load_of(frame, s.assembly, carriers, rider, steering, pose, channel);
  s.solution = frame::Statics(s.assembly).solve(load);
  return s;
}

}  // namespace seamwright::loads

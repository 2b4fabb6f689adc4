// SPDX-License-Identifier: GPL-3.0-or-later
#include "engine/rating/memory.h"

#include <unordered_map>

#include "engine/rating/recent.h"

namespace seamwright::rating {

namespace {

loads::Ride ridden(const SolvedTrike& trike, const Memory::Crossing& c) {
  std::vector<loads::WheelOnGround> wheels;
  for (std::size_t i = 0; i < c.radius_mm.size(); ++i)
    wheels.push_back({trike.state.assembly.wheel_ids[i], trike.state.tracks[i], c.radius_mm[i]});
  const loads::Ground ground = loads::ground_over(c.obstacle, wheels, c.speed_m_s, loads::settling_s(trike.transfer),
                                                  static_cast<double>(c.steps) * c.sample_rate_hz);
  return loads::ride(trike.state, trike.transfer, c.structural_damping, ground, c.steps);
}

// Some 3 kB for a trike's degree of freedom, a megabyte for an answer or a ride, 20 kB for each weld in each generation.
constexpr std::size_t freedoms = 30000, answers = 48, rides = 64, loads_of_weld = 32, welds_in_generation = 2048;

std::size_t freedoms_of(const frame::Assembly& assembly) { return static_cast<std::size_t>(assembly.full_size); }

}  // namespace

class Memory::Weld {
 public:
  Recent<WeldLoad, WeldDamage> damage{loads_of_weld};
};

struct Memory::Kept {
  struct TrikeKey {
    frame::Frame frame;
    double payload_kg = 0, highest_hz = 0, structural_damping = 0;
    bool operator==(const TrikeKey&) const = default;
  };
  struct AnswerKey {
    std::shared_ptr<const SolvedTrike> trike;
    loads::Road road;
    double speed_kmh = 0, highest_hz = 0;
    std::string saddle_node;
    bool operator==(const AnswerKey&) const = default;
  };
  struct RideKey {
    std::shared_ptr<const SolvedTrike> trike;
    Memory::Crossing crossing;
    bool operator==(const RideKey&) const = default;
  };

  std::mutex lock;
  Recent<frame::Frame, loads::PosedTrike> posed{freedoms, [](const loads::PosedTrike& t) { return freedoms_of(t.assembly()); }};
  Recent<TrikeKey, SolvedTrike> solved{freedoms, [](const SolvedTrike& t) { return freedoms_of(t.state.assembly); }};
  Recent<AnswerKey, LegAnswer> answers{rating::answers};
  Recent<RideKey, loads::Ride> rides{rating::rides};
  Recent<RiddenFrame, std::vector<LoadPath>> paths{8};
  // Welds asked for lately, and those of the generation before, which go when this one is full.
  std::unordered_map<std::string, std::shared_ptr<Weld>> welds, older;
};

Memory::Memory() : kept_(std::make_unique<Kept>()) {}
Memory::~Memory() = default;

std::shared_ptr<const loads::PosedTrike> Memory::posed(const frame::Frame& frame) {
  return kept_->posed.get(kept_->lock, frame, [&] { return loads::PosedTrike(frame); });
}

std::shared_ptr<const SolvedTrike> Memory::solved(const frame::Frame& frame, double payload_kg, double highest_hz,
                                                  double structural_damping) {
  return kept_->solved.get(kept_->lock, {frame, payload_kg, highest_hz, structural_damping}, [&] {
    loads::State state = loads::make_state(frame, payload_kg, highest_hz);
    loads::Transfer transfer(state, structural_damping);
    return SolvedTrike{std::move(state), std::move(transfer)};
  });
}

std::shared_ptr<const LegAnswer> Memory::answer(const std::shared_ptr<const SolvedTrike>& trike, const loads::Road& road,
                                                const loads::Leg& leg, double highest_hz, const std::string& saddle_node) {
  return kept_->answers.get(kept_->lock, {trike, road, leg.speed_kmh, highest_hz, saddle_node}, [&] {
    loads::Spectra spectra = loads::leg_spectra(trike->state, trike->transfer, road, leg, highest_hz);
    loads::MomentMatrices moments = loads::moments_of(spectra);
    loads::LegLevels levels = loads::levels_of(trike->state, spectra, saddle_node);
    return LegAnswer{std::move(spectra), std::move(moments), std::move(levels)};
  });
}

std::shared_ptr<const loads::Ride> Memory::ride(const std::shared_ptr<const SolvedTrike>& trike, const Crossing& crossing) {
  return kept_->rides.get(kept_->lock, {trike, crossing}, [&] { return ridden(*trike, crossing); });
}

std::shared_ptr<const std::vector<LoadPath>> Memory::paths(const RiddenFrame& ridden) {
  return kept_->paths.get(kept_->lock, ridden, [&] { return load_paths(ridden); });
}

std::shared_ptr<Memory::Weld> Memory::weld(std::string sites) {
  const std::lock_guard<std::mutex> guard(kept_->lock);
  if (const auto at = kept_->welds.find(sites); at != kept_->welds.end()) return at->second;
  std::shared_ptr<Weld> weld;
  if (const auto at = kept_->older.find(sites); at != kept_->older.end()) weld = at->second;
  if (kept_->welds.size() >= welds_in_generation) kept_->older = std::exchange(kept_->welds, {});
  if (!weld) weld = std::make_shared<Weld>();
  kept_->welds.emplace(std::move(sites), weld);
  return weld;
}

std::shared_ptr<const WeldDamage> Memory::damage(Weld& weld, const WeldLoad& load, const std::function<WeldDamage()>& make) {
  return weld.damage.get(kept_->lock, load, make);
}

}  // namespace seamwright::rating

// SPDX-License-Identifier: GPL-3.0-or-later
// Pictures of the stress around a seam: what is largest is marked and named, more is wider and darker, a joint solved as its mirror image
// lies where the frame has it.
#include <catch2/catch.hpp>
#include <cmath>
#include <limits>

#include "engine/design/weld_geometry.h"
#include "engine/shape/fibre.h"
#include "engine/shape/pieces.h"
#include "engine/sites/joint_readings.h"
#include "reports/content/seam_picture.h"
#include "reports/content/seam_solid.h"
#include "reports/render/render.h"
#include "tests/reports/demonstration.h"

using namespace seamwright;
using namespace seamwright::reports;

namespace {

const solid::FrameJoints& demo_joints() {
  static const solid::FrameJoints all = sites::frame_joints(demo().design);
  return all;
}

struct Found {
  const solid::FrameJoint* joint = nullptr;
  std::size_t seam = 0;
};
Found joint_of(const std::string& weld) {
  for (const solid::FrameJoint& joint : demo_joints().joints)
    for (std::size_t i = 0; i < joint.welds.size(); ++i)
      if (joint.welds[i] == weld) return {&joint, i};
  return {};
}

// Stress that grows around the chord's toe from 0.5 by a half at each place; along the brace a tenth of it, at the root nothing.
models::JointReport::Seam growing(const std::string& weld) {
  models::JointReport::Seam seam;
  seam.weld = weld;
  seam.brace = "brace";
  seam.chord = "chord";
  for (const bool on_chord : {true, false})
    for (int k = 0; k < 16; ++k) {
      const double stress = 0.5 * (k + 1) * (on_chord ? 1 : 0.1);
      models::JointReport::ToePlace place;
      place.on_chord = on_chord;
      place.angle_deg = 22.5 * k;
      place.model = {0.5 * stress, -stress, 0.2 * stress};
      seam.toes.push_back(place);
    }
  return seam;
}

const PictureText* text_with(const Picture& p, MessageId id) {
  for (const auto& item : p.items)
    if (const auto* t = std::get_if<PictureText>(&item))
      if (const auto* m = std::get_if<Message>(&t->text); m && m->id == id) return t;
  return nullptr;
}

std::size_t rings(const Picture& p) {
  std::size_t count = 0;
  for (const auto& item : p.items)
    if (const auto* c = std::get_if<Circle>(&item)) count += c->pen.colour.ink == Ink::arc;
  return count;
}

// Filled pieces of a rolled-out seam or of the scale: dark, and high on average.
std::vector<std::pair<double, double>> pieces(const Picture& p) {
  std::vector<std::pair<double, double>> out;
  for (const auto& item : p.items) {
    const auto* path = std::get_if<Path>(&item);
    if (!path || path->fill.ink != Ink::scale || path->points[0].x != path->points[3].x || path->points[0].x < p.width_mm / 2) continue;
    out.emplace_back(path->fill.level, 0.5 * (path->points[3].y - path->points[0].y + path->points[2].y - path->points[1].y));
  }
  return out;
}

rating::SiteRating site(const char* kind, double angle_deg, double damage) {
  rating::SiteRating s;
  s.kind = kind;
  s.angle_deg = angle_deg;
  s.damage_unfactored = damage;
  s.allowed_damage = 0.5;
  s.life_km_predicted = 1000 / damage;
  s.largest_range_mpa = 80;
  return s;
}

}  // namespace

TEST_CASE("the place with the largest stress is marked and named") {
  const Found found = joint_of("W16");
  REQUIRE(found.joint);
  const SeamPicture block = stress_picture(*found.joint, growing("W16"));
  CHECK(rings(block.picture) == 5);  // beside the words, on the joint, and on each seam rolled out
  const PictureText* largest = text_with(block.picture, "seam.largest");
  REQUIRE(largest);
  const std::string words = sentence(std::get<Message>(largest->text), language_named("en"));
  CHECK(words.starts_with("Largest: toe on the chord, 337.5 degrees from the crown"));
  CHECK(sentence(std::get<Message>(text_with(block.picture, "seam.largest-factor")->text), language_named("en")) ==
        "8 MPa for each MPa of nominal stress in the brace, by in-plane bending.");
  CHECK(text_with(block.picture, "seam.title"));
  for (const char* language : {"en", "de"}) CHECK(to_svg(block.picture, language_named(language)).size() < 400000);
}

TEST_CASE("what is larger around a seam is drawn wider and darker") {
  const Found found = joint_of("W16");
  auto all = pieces(stress_picture(*found.joint, growing("W16")).picture);
  REQUIRE(all.size() > 6 * 15 * 4);
  std::sort(all.begin(), all.end());
  for (std::size_t i = 1; i < all.size(); ++i) {
    CHECK(all[i].second >= all[i - 1].second - 1e-9);
    if (all[i].first > all[i - 1].first + 1e-9) CHECK(all[i].second > all[i - 1].second);
  }
  CHECK(all.front().first < 0.05);
  CHECK(all.back().first > 0.95);
}

TEST_CASE("places without a number break the strip off, and no number at all makes no picture") {
  const Found found = joint_of("W16");
  models::JointReport::Seam seam = growing("W16");
  CHECK_FALSE(text_with(stress_picture(*found.joint, seam).picture, "seam.gaps"));
  const std::size_t whole = pieces(stress_picture(*found.joint, seam).picture).size();
  seam.toes[3].is_there = false;
  const Picture broken = stress_picture(*found.joint, seam).picture;
  CHECK(text_with(broken, "seam.gaps"));
  CHECK(pieces(broken).size() == whole - 3 * 2 * 2);  // three loads, half the way to either neighbour, two pieces each
  for (auto& toe : seam.toes) toe.is_there = false;
  const auto id_of = [&](const models::JointReport::Seam& s) {
    try {
      stress_picture(*found.joint, s);
    } catch (const Fault& fault) {
      return fault.message.id;
    }
    return MessageId();
  };
  CHECK(id_of(seam) == "seam.not-drawn");
  models::JointReport::Seam idle = growing("W16");
  idle.loaded = false;
  CHECK(id_of(idle) == "seam.not-drawn");
}

TEST_CASE("angles around a seam are the frame's, of joints solved as mirror images too") {
  std::size_t mirrored = 0;
  for (const solid::FrameJoint& joint : demo_joints().joints) {
    mirrored += joint.mirrored();
    for (std::size_t i = 0; i < joint.welds.size(); ++i) {
      const SeamSolid seam = seam_solid(joint, i);
      const joints::Weld& weld = *std::find_if(demo().design.welds.begin(), demo().design.welds.end(),
                                               [&](const joints::Weld& w) { return w.id == joint.welds[i]; });
      const design::Seat seat = design::seat_of(demo().design.frame, weld);
      const double radius = shape::outer_radius_mm(seam.brace.section);
      const auto& around = seam.around();
      for (std::size_t k = 0; k < around.size(); ++k) {
        const double turn = 2 * std::acos(-1.0) * static_cast<double>(k) / static_cast<double>(around.size());
        const frame::Vec3 off = around[k].root - seam.brace.from, across = off - off.dot(seat.brace) * seat.brace;
        const frame::Vec3 expected = radius * (std::cos(turn) * seat.crown + std::sin(turn) * seat.side);
        if ((across - expected).norm() > 0.01) FAIL_CHECK(weld.id << " at section " << k);
      }
    }
  }
  CHECK(mirrored > 5);
}

TEST_CASE("one sees the largest place of every seam of the demonstration") {
  std::size_t seen = 0, all = 0;
  for (const solid::FrameJoint& joint : demo_joints().joints)
    for (std::size_t i = 0; i < joint.welds.size(); ++i) {
      const SeamValues values = stress_factors(growing(joint.welds[i]))[1];
      const SeamPlace place = *largest_place(values);
      const SeamSolid solid = seam_solid(joint, i);
      const frame::Vec3 towards = axes_towards(solid, values, place).row(2).transpose();
      const StripPiece piece = strip_piece(solid, place.line, 135, 0.5, 0.5);
      seen += is_seen(solid, piece.middle + 0.3 * piece.normal, towards);
      ++all;
    }
  CHECK(all > 50);
  CHECK(seen >= all - 4);  // some lie in a corner that neighbours close
}

TEST_CASE("a rated weld shows the life used at its places, the largest of those that share one") {
  rating::WeldRating w;
  w.id = "W16";
  w.member = "pin";
  w.chord = "spine";
  for (int k = 0; k < 16; ++k) {
    w.sites.push_back(site("root", 22.5 * k, k == 4 ? 2 : 1e-3));
    w.sites.push_back(site("chord-toe", 22.5 * k, 1e-4));
  }
  w.sites.push_back(site("chord-toe", 181, 0.1));  // a plane of its own at 180 degrees
  const SeamValues used = *used_around(w);
  CHECK(used.at[static_cast<std::size_t>(SeamLine::root)][4] == Approx(4));
  CHECK(used.at[static_cast<std::size_t>(SeamLine::chord_toe)][8] == Approx(0.2));
  CHECK(std::isnan(used.at[static_cast<std::size_t>(SeamLine::brace_toe)][0]));
  for (const double width_mm : {180.0, 62.0}) {
    const auto seam = used_picture(demo().design, w, width_mm);
    REQUIRE(seam);
    CHECK(rings(seam->picture) == (width_mm > 150 ? 3 : 1));
    CHECK(sentence(seam->largest_place, language_named("en")).starts_with("Largest: root, 90 degrees from the crown"));
    CHECK(seam->how_large.id == "seam.largest-used");
    CHECK((text_with(seam->picture, "seam.largest") != nullptr) == (width_mm > 150));
  }
  w.sites.resize(20);  // as equations rate: not all around
  CHECK_FALSE(used_picture(demo().design, w));
  w.sites.clear();
  CHECK_FALSE(used_picture(demo().design, w));
}

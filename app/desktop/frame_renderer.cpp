// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/desktop/frame_renderer.h"

#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>
#include <cstddef>
#include <numbers>

#include "app/desktop/frame_shaders.h"
#include "app/desktop/theme.h"

namespace seamwright::desktop {

namespace {

using reports::BandPoint;
using reports::LineEnd;

constexpr float hidden_strength = 0.4F;
constexpr double line_lift_mm = 1;
// Scales of the picture: from these on, beads are large enough for lines of their own, and to be missed while
// a hand turns the frame.
constexpr double line_scale = 0.5, bead_scale = 0.25;

enum Attribute { place_attribute, normal_attribute, move_attribute, paint_attribute };

QVector3D as_vector(const QColor& c) { return {c.redF(), c.greenF(), c.blueF()}; }

QColor mixed(const QColor& a, const QColor& b, float share) {
  const auto mix = [&](float from, float to) { return from + share * (to - from); };
  return QColor::fromRgbF(mix(a.redF(), b.redF()), mix(a.greenF(), b.greenF()), mix(a.blueF(), b.blueF()));
}

// The ground's own grey, lit and in shade: tubes are darker than the sheet that they stand before in the
// light style, and lighter in the dark one.
QColor lit_steel() { return mixed(colours().ground, colours().ink, style() == Style::dark ? 0.52F : 0.06F); }
QColor dim_steel() { return mixed(colours().ground, colours().ink, style() == Style::dark ? 0.14F : 0.42F); }
QColor bead_steel() { return mixed(colours().ground, colours().ink, style() == Style::dark ? 0.66F : 0.34F); }

template <typename T>
void fill(QOpenGLBuffer& buffer, const std::vector<T>& data, QOpenGLBuffer::UsagePattern usage) {
  if (!buffer.isCreated()) buffer.create();
  buffer.setUsagePattern(usage);
  buffer.bind();
  buffer.allocate(data.data(), static_cast<int>(data.size() * sizeof(T)));
}

// A frame in parallel projection: the picture from -1 to 1, near before far, the first row at the top as
// images have it.
QMatrix4x4 clip_matrix(const reports::FrameDrawing& drawing, const reports::FrameCamera& camera,
                       double reach) {
  const frame::Vec3 middle = 0.5 * (drawing.least_mm + drawing.most_mm);
  const double wide = camera.scale / camera.middle.x, high = camera.scale / camera.middle.y;
  QMatrix4x4 m;
  m.fill(0);
  for (int k = 0; k < 3; ++k) {
    m(0, k) = static_cast<float>(wide * camera.axes(0, k));
    m(1, k) = static_cast<float>(-high * camera.axes(1, k));
    m(2, k) = static_cast<float>(-camera.axes(2, k) / reach);
  }
  m(0, 3) = static_cast<float>(-wide * camera.axes.row(0).dot(camera.centre_mm));
  m(1, 3) = static_cast<float>(high * camera.axes.row(1).dot(camera.centre_mm));
  m(2, 3) = static_cast<float>(camera.axes.row(2).dot(middle) / reach);
  m(3, 3) = 1;
  return m;
}

void add_line(std::vector<LineEnd>& lines, const frame::Vec3& from, const frame::Vec3& to, float faded) {
  for (const frame::Vec3* p : {&from, &to})
    lines.push_back({{static_cast<float>((*p)[0]), static_cast<float>((*p)[1]), static_cast<float>((*p)[2])},
                     {0, 0, 0},
                     faded});
}

// Wheels as circles; the frame at rest as its axes, where a motion is shown.
std::vector<LineEnd> quiet_lines(const FrameScene& scene) {
  std::vector<LineEnd> lines;
  const auto& d = scene.drawing;
  constexpr int parts = 72;
  for (const auto& w : d.wheels) {
    const frame::Vec3 ahead = w.axle.unitOrthogonal(), up = w.axle.cross(ahead);
    const auto rim = [&](int i) {
      const double a = 2 * std::numbers::pi * i / parts;
      return frame::Vec3(d.points[w.point].at_mm + w.radius_mm * (std::cos(a) * ahead + std::sin(a) * up));
    };
    for (int i = 0; i < parts; ++i) add_line(lines, rim(i), rim(i + 1), 0.35F);
  }
  if (scene.look.motion)
    for (const auto& s : d.stretches) add_line(lines, d.points[s.from].at_mm, d.points[s.to].at_mm, 0);
  return lines;
}

}  // namespace

std::unique_ptr<QOpenGLShaderProgram> FrameRenderer::program(const char* corner, const char* pixel,
                                                             const char* first) {
  const QByteArray head =
      QByteArray(embedded_ ? "#version 300 es\nprecision highp float;\n" : "#version 330 core\n") + first;
  auto program = std::make_unique<QOpenGLShaderProgram>();
  program->bindAttributeLocation("a_place", place_attribute);
  program->bindAttributeLocation("a_normal", normal_attribute);
  program->bindAttributeLocation("a_move", move_attribute);
  for (const char* name : {"a_paint", "a_pattern", "a_faded"})
    program->bindAttributeLocation(name, paint_attribute);
  const bool sound = program->addShaderFromSourceCode(QOpenGLShader::Vertex, head + corner) &&
                     program->addShaderFromSourceCode(QOpenGLShader::Fragment, head + pixel) &&
                     program->link();
  return sound ? std::move(program) : nullptr;
}

bool FrameRenderer::set_up(bool embedded) {
  initializeOpenGLFunctions();
  embedded_ = embedded;
  whole_ = program(shaders::body_corner, shaders::body_pixel, "");
  cut_ = program(shaders::body_corner, shaders::body_pixel, "#define SECTION\n");
  band_ = program(shaders::band_corner, shaders::band_pixel, "");
  line_ = program(shaders::line_corner, shaders::line_pixel, "");
  for (auto* array : {&bodies_, &bands_.array, &edges_.array, &quiet_.array, &contours_.array})
    array->create();
  return whole_ && cut_ && band_ && line_;
}

void FrameRenderer::keep_bodies(const FrameScene& scene) {
  const reports::FrameMesh& mesh = scene.mesh;
  bodies_.bind();
  const auto numbers = [&](Attribute attribute, QOpenGLBuffer& buffer, const std::vector<float>& data) {
    fill(buffer, data, QOpenGLBuffer::StaticDraw);
    glEnableVertexAttribArray(attribute);
    glVertexAttribPointer(attribute, 3, GL_FLOAT, GL_FALSE, 0, nullptr);
  };
  numbers(place_attribute, places_, mesh.points);
  numbers(normal_attribute, normals_, mesh.normals);
  fill(corners_, mesh.triangles, QOpenGLBuffer::StaticDraw);
  bodies_.release();
  // Parts stand before welds.
  corner_count_ = part_count_ = static_cast<int>(mesh.triangles.size());
  for (const auto& body : mesh.bodies)
    if (body.weld) part_count_ = std::min(part_count_, static_cast<int>(3 * body.first_triangle));
}

// Stress, faded, chosen, weld: four bytes a point.
void FrameRenderer::keep_paint(const FrameScene& scene) {
  const reports::FrameMesh& mesh = scene.mesh;
  const bool pulled = !scene.view.joint.empty();
  near_ = pulled ? reports::members_at(scene.drawing, scene.view.joint) : std::set<std::string>();
  const double most = scene.rest ? reports::largest_stress_mpa(*scene.rest) : 0;
  std::vector<unsigned char> paint(4 * mesh.places.size());
  faded_.clear();
  for (const auto& body : mesh.bodies) {
    const bool stays = !pulled || near_.contains(body.id) || body.id == scene.view.joint;
    const bool chosen = scene.look.chosen_members.contains(body.id) || body.id == scene.look.chosen;
    faded_.push_back(stays ? 0.F : 1.F);
    for (std::size_t i = body.first_point; i < body.first_point + body.points; ++i) {
      const double stress = most > 0 ? reports::stress_there(*scene.rest, mesh.places[i]) / most : 0;
      paint[4 * i] = static_cast<unsigned char>(std::lround(255 * std::clamp(stress, 0.0, 1.0)));
      paint[4 * i + 1] = stays ? 0 : 255;
      paint[4 * i + 2] = chosen ? 255 : 0;
      paint[4 * i + 3] = body.weld ? 255 : 0;
    }
  }
  bodies_.bind();
  fill(paint_, paint, QOpenGLBuffer::DynamicDraw);
  glEnableVertexAttribArray(paint_attribute);
  glVertexAttribPointer(paint_attribute, 4, GL_UNSIGNED_BYTE, GL_TRUE, 0, nullptr);
  bodies_.release();
}

void FrameRenderer::put_lines(Buffers& into, const std::vector<LineEnd>& lines) {
  into.array.bind();
  fill(into.buffer, lines, QOpenGLBuffer::StreamDraw);
  const auto part = [&](Attribute attribute, int count, std::size_t offset) {
    glEnableVertexAttribArray(attribute);
    glVertexAttribPointer(attribute, count, GL_FLOAT, GL_FALSE, sizeof(LineEnd),
                          reinterpret_cast<const void*>(offset));
  };
  part(place_attribute, 3, offsetof(LineEnd, place));
  part(move_attribute, 3, offsetof(LineEnd, move));
  part(paint_attribute, 1, offsetof(LineEnd, faded));
  into.array.release();
  into.count = static_cast<int>(lines.size());
}

void FrameRenderer::keep_lines(const FrameScene& scene) {
  const reports::FrameMesh& mesh = scene.mesh;
  std::vector<LineEnd> lines;
  for (std::size_t b = 0; b < mesh.bodies.size(); ++b)
    for (std::size_t i = 2 * mesh.bodies[b].first_edge;
         i < 2 * (mesh.bodies[b].first_edge + mesh.bodies[b].edges); ++i) {
      LineEnd end{{}, {}, faded_[b]};
      std::copy_n(&mesh.edges[3 * i], 3, end.place);
      if (!mesh.edge_moves.empty()) std::copy_n(&mesh.edge_moves[3 * i], 3, end.move);
      lines.push_back(end);
    }
  put_lines(edges_, lines);
  put_lines(quiet_, quiet_lines(scene));
}

void FrameRenderer::keep(const FrameScene& scene) {
  const bool new_mesh = mesh_version_ != scene.mesh_version,
             new_moves = new_mesh || moves_version_ != scene.moves_version,
             new_paint = new_mesh || paint_version_ != scene.paint_version;
  mesh_version_ = scene.mesh_version;
  moves_version_ = scene.moves_version;
  paint_version_ = scene.paint_version;
  if (new_mesh) keep_bodies(scene);
  if (new_paint) keep_paint(scene);
  if (new_moves || new_paint) keep_lines(scene);
  if (!new_moves) return;
  bodies_.bind();
  if (scene.mesh.moves.empty()) {
    glDisableVertexAttribArray(move_attribute);
  } else {
    fill(moves_, scene.mesh.moves, QOpenGLBuffer::DynamicDraw);
    glEnableVertexAttribArray(move_attribute);
    glVertexAttribPointer(move_attribute, 3, GL_FLOAT, GL_FALSE, 0, nullptr);
  }
  bodies_.release();
  bands_.array.bind();
  fill(bands_.buffer, scene.bands.points, QOpenGLBuffer::DynamicDraw);
  const auto part = [&](Attribute attribute, int count, std::size_t offset) {
    glEnableVertexAttribArray(attribute);
    glVertexAttribPointer(attribute, count, GL_FLOAT, GL_FALSE, sizeof(BandPoint),
                          reinterpret_cast<const void*>(offset));
  };
  part(place_attribute, 3, offsetof(BandPoint, place));
  part(normal_attribute, 3, offsetof(BandPoint, normal));
  part(move_attribute, 3, offsetof(BandPoint, move));
  part(paint_attribute, 4, offsetof(BandPoint, around));
  bands_.array.release();
  bands_.count = static_cast<int>(scene.bands.points.size());
}

void FrameRenderer::put_common(QOpenGLShaderProgram& program, const FrameScene& scene) {
  program.bind();
  program.setUniformValue("u_clip", clip_);
  program.setUniformValue("u_axes", axes_);
  program.setUniformValue("u_motion", motion_);
  program.setUniformValue("u_kept", kept_);
  program.setUniformValue("u_sheet", as_vector(colours().sheet));
  program.setUniformValue("u_ink", as_vector(colours().ink));
  program.setUniformValue("u_faint", as_vector(colours().faint));
  program.setUniformValue("u_steel", as_vector(colours().steel));
  program.setUniformValue("u_pale", as_vector(used_colour(0)));
  program.setUniformValue("u_deep", as_vector(used_colour(1)));
  program.setUniformValue("u_lit", as_vector(lit_steel()));
  program.setUniformValue("u_dim", as_vector(dim_steel()));
  program.setUniformValue("u_bead", as_vector(bead_steel()));
  program.setUniformValue("u_stressed", scene.shows_stress() ? 1.F : 0.F);
}

void FrameRenderer::draw_bodies(const FrameScene& scene, bool welds) {
  const bool section = scene.view.section.across != reports::FrameSection::Across::nothing;
  QOpenGLShaderProgram& program = section ? *cut_ : *whole_;
  put_common(program, scene);
  if (section)
    glDisable(GL_CULL_FACE);
  else
    glEnable(GL_CULL_FACE);
  glEnable(GL_POLYGON_OFFSET_FILL);
  glPolygonOffset(1, 1);
  bodies_.bind();
  glDrawElements(GL_TRIANGLES, welds ? corner_count_ : part_count_, GL_UNSIGNED_INT, nullptr);
  bodies_.release();
  glDisable(GL_CULL_FACE);
}

void FrameRenderer::draw_bands(const FrameScene& scene) {
  if (bands_.count == 0 || scene.shows_stress()) return;
  put_common(*band_, scene);
  glEnable(GL_CULL_FACE);
  glPolygonOffset(0.5F, 0.5F);
  bands_.array.bind();
  band_->setUniformValue("u_faded", 0.F);
  if (scene.view.joint.empty()) glDrawArrays(GL_TRIANGLES, 0, bands_.count);
  for (std::size_t i = 0; !scene.view.joint.empty() && i < scene.bands.bands.size(); ++i) {
    const auto& band = scene.bands.bands[i];
    const bool stays = near_.contains(scene.drawing.flags[band.flag].member);
    band_->setUniformValue("u_faded", stays ? 0.F : 1.F);
    glDrawArrays(GL_TRIANGLES, static_cast<int>(band.first), static_cast<int>(band.points));
  }
  bands_.array.release();
  glDisable(GL_POLYGON_OFFSET_FILL);
  glDisable(GL_CULL_FACE);
}

void FrameRenderer::draw_line_set(Buffers& lines, const QColor& colour) {
  if (lines.count == 0) return;
  line_->setUniformValue("u_line", as_vector(colour));
  lines.array.bind();
  glDrawArrays(GL_LINES, 0, lines.count);
  lines.array.release();
}

void FrameRenderer::draw_lines(const FrameScene& scene, const reports::FrameCamera& camera, bool quick) {
  lines_.clear();
  reports::add_contours(scene.mesh, camera.axes.row(2).transpose(), camera.scale > line_scale, faded_,
                        lines_);
  const auto kept = reports::kept_by(scene.view.section, scene.drawing);
  if (kept) reports::add_cuts(scene.mesh, *kept, double{motion_}, faded_, lines_);
  put_lines(contours_, lines_);
  put_common(*line_, scene);
  // Lines lie on surfaces made of flat pieces, and a little before them.
  line_->setUniformValue("u_nearer", static_cast<float>(line_lift_mm / reach_mm_));
  if (!quick) {
    glDepthMask(GL_FALSE);
    glDepthFunc(GL_GREATER);
    glEnable(GL_BLEND);
    glBlendFunc(GL_SRC_ALPHA, GL_ONE_MINUS_SRC_ALPHA);
    line_->setUniformValue("u_strength", hidden_strength);
    draw_line_set(edges_, colours().faint);
    draw_line_set(contours_, colours().faint);
    glDisable(GL_BLEND);
    glDepthMask(GL_TRUE);
  }
  line_->setUniformValue("u_strength", 1.F);
  glDepthFunc(GL_LEQUAL);
  draw_line_set(quiet_, colours().faint);
  if (!quick || camera.scale > bead_scale) draw_line_set(edges_, colours().ink);
  draw_line_set(contours_, colours().ink);
}

void FrameRenderer::draw(const FrameScene& scene, const reports::FrameCamera& camera, double line_px,
                         bool quick) {
  keep(scene);
  const QColor sheet = colours().sheet;
  glClearColor(sheet.redF(), sheet.greenF(), sheet.blueF(), 1);
  glDepthMask(GL_TRUE);
  glClear(GL_COLOR_BUFFER_BIT | GL_DEPTH_BUFFER_BIT);
  reach_mm_ = 0.75 * (scene.drawing.most_mm - scene.drawing.least_mm).norm() + 2 * scene.look.motion_mm + 1;
  clip_ = clip_matrix(scene.drawing, camera, reach_mm_);
  for (int row = 0; row < 3; ++row)
    for (int k = 0; k < 3; ++k) axes_(row, k) = static_cast<float>(camera.axes(row, k));
  motion_ = static_cast<float>(reports::motion_scale(scene.look));
  kept_ = QVector4D(0, 0, 0, 1);
  if (const auto kept = reports::kept_by(scene.view.section, scene.drawing))
    kept_ = QVector4D(static_cast<float>(kept->normal[0]), static_cast<float>(kept->normal[1]),
                      static_cast<float>(kept->normal[2]), static_cast<float>(kept->offset_mm));
  glFrontFace(GL_CW);  // since the picture stands on its head
  glEnable(GL_DEPTH_TEST);
  glDepthFunc(GL_LEQUAL);
  glDisable(GL_BLEND);
  glLineWidth(static_cast<float>(line_px));
  draw_bodies(scene, !quick || camera.scale > bead_scale);
  draw_bands(scene);
  draw_lines(scene, camera, quick);
  line_->release();
  glDisable(GL_DEPTH_TEST);
}

}  // namespace seamwright::desktop

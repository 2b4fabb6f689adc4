// SPDX-License-Identifier: GPL-3.0-or-later
// Draws a frame's scene with the graphics card, or with the processor that stands in for one: bodies, bands,
// edges, hidden lines. It keeps on the card what did not change.
#pragma once

#include <QColor>
#include <QMatrix4x4>
#include <QOpenGLBuffer>
#include <QOpenGLExtraFunctions>
#include <QOpenGLShaderProgram>
#include <QOpenGLVertexArrayObject>
#include <memory>
#include <vector>

#include "app/desktop/frame_scene.h"

namespace seamwright::desktop {

class FrameRenderer : protected QOpenGLExtraFunctions {
 public:
  /// Needs the context current. False when it does not take the programs.
  bool set_up(bool embedded);
  /// quick: without hidden lines and what is too small to be missed, while a hand waits for the picture.
  void draw(const FrameScene& scene, const reports::FrameCamera& camera, double line_px, bool quick);

 private:
  struct Buffers {
    QOpenGLVertexArrayObject array;
    QOpenGLBuffer buffer{QOpenGLBuffer::VertexBuffer};
    int count = 0;
  };
  std::unique_ptr<QOpenGLShaderProgram> program(const char* corner, const char* pixel, const char* first);
  void keep(const FrameScene& scene);
  void keep_bodies(const FrameScene& scene);
  void keep_paint(const FrameScene& scene);
  void keep_lines(const FrameScene& scene);
  void put_lines(Buffers& into, const std::vector<reports::LineEnd>& lines);
  void put_common(QOpenGLShaderProgram& program, const FrameScene& scene);
  void draw_bodies(const FrameScene& scene, bool welds);
  void draw_bands(const FrameScene& scene);
  void draw_lines(const FrameScene& scene, const reports::FrameCamera& camera, bool quick);
  void draw_line_set(Buffers& lines, const QColor& colour);

  std::unique_ptr<QOpenGLShaderProgram> whole_, cut_, band_, line_;
  QOpenGLVertexArrayObject bodies_;
  QOpenGLBuffer places_{QOpenGLBuffer::VertexBuffer}, normals_{QOpenGLBuffer::VertexBuffer},
      moves_{QOpenGLBuffer::VertexBuffer}, paint_{QOpenGLBuffer::VertexBuffer},
      corners_{QOpenGLBuffer::IndexBuffer};
  Buffers bands_, edges_, quiet_, contours_;
  std::vector<float> faded_;    ///< of each body
  std::set<std::string> near_;  ///< members at the joint that the view was pulled to
  std::vector<reports::LineEnd> lines_;
  int mesh_version_ = -1, moves_version_ = -1, paint_version_ = -1;
  int corner_count_ = 0, part_count_ = 0;
  QMatrix4x4 clip_;
  QMatrix3x3 axes_;
  QVector4D kept_;
  float motion_ = 0;
  double reach_mm_ = 1;  ///< from the middle to the nearest and farthest depth
  bool embedded_ = false;
};

}  // namespace seamwright::desktop

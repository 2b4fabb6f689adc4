// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/desktop/shaded_frame.h"

#include <QOpenGLContext>
#include <QPainter>

#include "app/desktop/frame_renderer.h"
#include "app/desktop/graphics_proof.h"

namespace seamwright::desktop {

namespace {

constexpr int samples = 4;  // of a pixel, where a card does it

}  // namespace

double picture_scale(const QWidget& widget) {
  constexpr double type_mm = 3.6;  // height of a line of hints
  return widget.fontMetrics().height() / type_mm;
}

reports::FrameCamera camera_in(const QWidget& widget, const FrameScene& scene) {
  const double per_mm = picture_scale(widget);
  return reports::camera_of(scene.drawing, scene.view, widget.width() / per_mm, widget.height() / per_mm);
}

ShadedFrame::ShadedFrame(const FrameScene& scene, Around around, QWidget* parent)
    : QOpenGLWidget(parent), scene_(scene), around_(std::move(around)) {
  QSurfaceFormat wanted = proven_graphics().format;
  if (!proven_graphics().software) wanted.setSamples(samples);
  setFormat(wanted);
  setAttribute(Qt::WA_TransparentForMouseEvents);
  setFocusPolicy(Qt::NoFocus);
}

ShadedFrame::~ShadedFrame() {
  if (context()) disconnect(context(), nullptr, this, nullptr);
  release();
}

void ShadedFrame::release() {
  if (!renderer_) return;
  makeCurrent();
  renderer_.reset();
  doneCurrent();
}

void ShadedFrame::initializeGL() {
  // A widget that moves to another window gets another context.
  connect(context(), &QOpenGLContext::aboutToBeDestroyed, this, &ShadedFrame::release);
  renderer_ = std::make_unique<FrameRenderer>();
  if (renderer_->set_up(context()->isOpenGLES())) return;
  renderer_.reset();
  emit given_up();
}

void ShadedFrame::paintGL() {
  if (!renderer_) return;
  around_.make_ready();
  QPainter painter(this);
  painter.beginNativePainting();
  renderer_->draw(scene_, camera_in(*this, scene_), devicePixelRatioF(), quick_);
  painter.endNativePainting();
  painter.setRenderHint(QPainter::Antialiasing);
  around_.paint_over(painter);
}

}  // namespace seamwright::desktop

// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/desktop/shaded_frame.h"

#include <QOffscreenSurface>
#include <QOpenGLContext>
#include <QOpenGLFramebufferObject>
#include <QPainter>

#include "app/desktop/frame_renderer.h"
#include "app/desktop/graphics_proof.h"

namespace seamwright::desktop {

namespace {

constexpr int samples = 4;     // of a pixel
constexpr int still_ms = 150;  // until lines are drawn smooth by the processor; a card draws them so at once
constexpr GLenum blue_first = 0x80E1;  // GL_BGRA, which the headers of small devices lack

std::unique_ptr<QOpenGLFramebufferObject> target(const QSize& size, int samples_of_pixel) {
  QOpenGLFramebufferObjectFormat format;
  format.setAttachment(QOpenGLFramebufferObject::CombinedDepthStencil);
  format.setSamples(samples_of_pixel);
  auto made = std::make_unique<QOpenGLFramebufferObject>(size, format);
  return made->isValid() ? std::move(made) : nullptr;
}

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
    : QWidget(parent), scene_(scene), around_(std::move(around)) {
  setAttribute(Qt::WA_TransparentForMouseEvents);
  setAttribute(Qt::WA_OpaquePaintEvent);
  setFocusPolicy(Qt::NoFocus);
  still_.setSingleShot(true);
  still_.setInterval(still_ms);
  connect(&still_, &QTimer::timeout, this, [this] {
    is_fine_ = true;
    update();
  });
  context_ = std::make_unique<QOpenGLContext>();
  context_->setFormat(proven_graphics().format);
  if (!context_->create()) return;
  surface_ = std::make_unique<QOffscreenSurface>();
  surface_->setFormat(context_->format());
  surface_->create();
  if (!context_->makeCurrent(surface_.get())) return;
  renderer_ = std::make_unique<FrameRenderer>();
  if (!renderer_->set_up(context_->isOpenGLES())) renderer_.reset();
  context_->doneCurrent();
}

ShadedFrame::~ShadedFrame() {
  if (!context_ || !surface_ || !context_->makeCurrent(surface_.get())) return;
  renderer_.reset();
  fine_.reset();
  plain_.reset();
  context_->doneCurrent();
}

void ShadedFrame::refresh() {
  is_fine_ = false;
  if (proven_graphics().software) still_.start();
  update();
}

bool ShadedFrame::draw(const QSize& size) {
  if (!renderer_ || !context_->makeCurrent(surface_.get())) return false;
  if (!plain_ || plain_->size() != size) {
    plain_ = target(size, 0);
    fine_ = target(size, samples);
    image_ = QImage(size, context_->isOpenGLES() ? QImage::Format_RGBX8888 : QImage::Format_RGB32);
    if (!plain_) return false;
  }
  const bool smooth = fine_ && (is_fine_ || !proven_graphics().software);
  (smooth ? fine_ : plain_)->bind();
  QOpenGLFunctions& gl = *context_->functions();
  gl.glViewport(0, 0, size.width(), size.height());
  renderer_->draw(scene_, camera_in(*this, scene_), devicePixelRatioF(), quick_);
  if (smooth) {
    QOpenGLFramebufferObject::blitFramebuffer(plain_.get(), fine_.get());
    plain_->bind();
  }
  gl.glPixelStorei(GL_PACK_ALIGNMENT, 4);
  if (context_->isOpenGLES())
    gl.glReadPixels(0, 0, size.width(), size.height(), GL_RGBA, GL_UNSIGNED_BYTE, image_.bits());
  else
    gl.glReadPixels(0, 0, size.width(), size.height(), blue_first, GL_UNSIGNED_BYTE, image_.bits());
  context_->doneCurrent();
  return true;
}

void ShadedFrame::paintEvent(QPaintEvent*) {
  around_.make_ready();
  const double ratio = devicePixelRatioF();
  if (!draw((QSizeF(size()) * ratio).toSize().expandedTo({1, 1}))) {
    emit given_up();
    return;
  }
  image_.setDevicePixelRatio(ratio);
  QPainter painter(this);
  painter.drawImage(0, 0, image_);
  painter.setRenderHint(QPainter::Antialiasing);
  around_.paint_over(painter);
}

}  // namespace seamwright::desktop

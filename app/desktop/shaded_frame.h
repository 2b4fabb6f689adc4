// SPDX-License-Identifier: GPL-3.0-or-later
// A scene as shaded tubes, drawn beside the window and painted into it as an image: a window that is put
// together from textures costs a processor that stands in for a card more than the frame itself. It takes no
// pointer and no key: the view around it does.
#pragma once

#include <QImage>
#include <QTimer>
#include <QWidget>
#include <functional>
#include <memory>

#include "app/desktop/frame_scene.h"

class QOffscreenSurface;
class QOpenGLContext;
class QOpenGLFramebufferObject;
class QPainter;

namespace seamwright::desktop {

class FrameRenderer;

class ShadedFrame : public QWidget {
  Q_OBJECT
 public:
  /// The scene is made ready before each picture; flags, scales and names are painted over its bodies.
  struct Around {
    std::function<void()> make_ready;
    std::function<void(QPainter&)> paint_over;
  };
  /// Only where proven_graphics() works. The scene outlives the widget.
  ShadedFrame(const FrameScene& scene, Around around, QWidget* parent);
  ~ShadedFrame() override;

  /// False where context or programs could not be made.
  bool is_sound() const { return renderer_ != nullptr; }
  /// Hidden lines wait while a hand turns the frame.
  void set_quick(bool quick) { quick_ = quick; }
  /// Draws the scene as it is now, and once more with smooth lines when it has been still for a moment.
  void refresh();

 signals:
  /// The graphics turned out not to serve.
  void given_up();

 protected:
  void paintEvent(QPaintEvent* event) override;

 private:
  bool draw(const QSize& size);

  const FrameScene& scene_;
  Around around_;
  std::unique_ptr<QOffscreenSurface> surface_;
  std::unique_ptr<QOpenGLContext> context_;
  std::unique_ptr<FrameRenderer> renderer_;
  /// All of one size: with several samples a pixel, and with one.
  std::unique_ptr<QOpenGLFramebufferObject> fine_, plain_;
  QTimer still_;
  QImage image_;
  bool quick_ = false, is_fine_ = false;
};

/// The view of a scene in a widget, in mm of the picture.
reports::FrameCamera camera_in(const QWidget& widget, const FrameScene& scene);
/// Pixels of a mm of a picture, by the font's size.
double picture_scale(const QWidget& widget);

}  // namespace seamwright::desktop

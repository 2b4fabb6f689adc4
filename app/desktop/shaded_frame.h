// SPDX-License-Identifier: GPL-3.0-or-later
// A scene as shaded tubes. It takes no pointer and no key: the view around it does.
#pragma once

#include <QOpenGLWidget>
#include <functional>
#include <memory>

#include "app/desktop/frame_scene.h"

class QPainter;

namespace seamwright::desktop {

class FrameRenderer;

class ShadedFrame : public QOpenGLWidget {
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

  /// Hidden lines wait while a hand turns the frame.
  void set_quick(bool quick) { quick_ = quick; }

 signals:
  /// The graphics turned out not to serve.
  void given_up();

 protected:
  void initializeGL() override;
  void paintGL() override;

 private:
  void release();

  const FrameScene& scene_;
  Around around_;
  std::unique_ptr<FrameRenderer> renderer_;
  bool quick_ = false;
};

/// The view of a scene in a widget, in mm of the picture.
reports::FrameCamera camera_in(const QWidget& widget, const FrameScene& scene);
/// Pixels of a mm of a picture, by the font's size.
double picture_scale(const QWidget& widget);

}  // namespace seamwright::desktop

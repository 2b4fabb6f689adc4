// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/desktop/graphics_proof.h"

#include <QByteArray>
#include <QGuiApplication>
#include <QOffscreenSurface>
#include <QOpenGLContext>
#include <QOpenGLFunctions>

namespace seamwright::desktop {

namespace {

Graphics tried(const QSurfaceFormat& wanted) {
  Graphics graphics;
  QOpenGLContext context;
  context.setFormat(wanted);
  if (!context.create()) return graphics;
  QOffscreenSurface surface;
  surface.setFormat(context.format());
  surface.create();
  if (!surface.isValid() || !context.makeCurrent(&surface)) return graphics;
  const QSurfaceFormat got = context.format();
  graphics.embedded = context.isOpenGLES();
  const int least = graphics.embedded ? 30 : 33;
  graphics.works = 10 * got.majorVersion() + got.minorVersion() >= least;
  const QByteArray renderer(reinterpret_cast<const char*>(context.functions()->glGetString(GL_RENDERER)));
  for (const char* name : {"llvmpipe", "softpipe", "SWR", "software", "Software"})
    graphics.software = graphics.software || renderer.contains(name);
  graphics.format = wanted;
  context.doneCurrent();
  return graphics;
}

Graphics find_graphics() {
  // These platforms paint into memory alone, and some only say so when asked for a context.
  const QString platform = QGuiApplication::platformName();
  if (platform == QLatin1String("offscreen") || platform == QLatin1String("minimal")) return {};
  QSurfaceFormat format;
  format.setDepthBufferSize(24);
  format.setVersion(3, 3);
  format.setProfile(QSurfaceFormat::CoreProfile);
  Graphics graphics = tried(format);
  if (graphics.works) return graphics;
  format = QSurfaceFormat();
  format.setDepthBufferSize(24);
  format.setRenderableType(QSurfaceFormat::OpenGLES);
  format.setVersion(3, 0);
  return tried(format);
}

}  // namespace

const Graphics& proven_graphics() {
  static const Graphics graphics = find_graphics();
  return graphics;
}

}  // namespace seamwright::desktop

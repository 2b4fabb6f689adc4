// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/desktop/frame_view.h"

#include <QPainter>
#include <QSettings>
#include <algorithm>
#include <cmath>
#include <numbers>

#include "app/desktop/frame_scales.h"
#include "app/desktop/graphics_proof.h"
#include "app/desktop/shaded_frame.h"
#include "app/desktop/theme.h"
#include "app/desktop/window_words.h"
#include "reports/content/plain_solids.h"
#include "reports/pages/paint.h"

namespace seamwright::desktop {

namespace {

constexpr int picture_ms = 33;        // from one picture of a motion to the next
constexpr int rest_ms = 250;          // a view that stands so long is at rest
constexpr double swing_s = 1.6;       // there and back
constexpr std::size_t few_flags = 7;  // the chosen one, the one under the pointer, the five worst
constexpr double margin_mm = 11;      // in a window each mm counts, and the few flags find their room
constexpr const char* shaded_key = "view/shaded";

bool same_geometry(const reports::FrameDrawing& a, const reports::FrameDrawing& b) {
  const auto same_point = [](const auto& p, const auto& q) { return p.node == q.node && p.at_mm == q.at_mm; };
  const auto same_stretch = [](const auto& p, const auto& q) {
    return p.member == q.member && p.from == q.from && p.to == q.to && p.diameter_mm == q.diameter_mm &&
           p.bore_mm == q.bore_mm;
  };
  const auto same_flag = [](const auto& p, const auto& q) {
    return p.id == q.id && p.member == q.member && p.at_mm == q.at_mm;
  };
  return std::equal(a.points.begin(), a.points.end(), b.points.begin(), b.points.end(), same_point) &&
         std::equal(a.stretches.begin(), a.stretches.end(), b.stretches.begin(), b.stretches.end(),
                    same_stretch) &&
         std::equal(a.flags.begin(), a.flags.end(), b.flags.begin(), b.flags.end(), same_flag);
}

}  // namespace

FrameView::FrameView(QWidget* parent) : QWidget(parent) {
  setFocusPolicy(Qt::StrongFocus);
  setMouseTracking(true);
  setAccessibleName(sentence_of("window.frame-view"));
  setAccessibleDescription(sentence_of("window.frame-view-keys"));
  setWhatsThis(sentence_of("window.frame-view-keys"));
  scene_.view.margin_mm = margin_mm;
  rest_.setSingleShot(true);
  rest_.setInterval(rest_ms);
  connect(&rest_, &QTimer::timeout, this, [this] { emit lines_wanted(scene_.view.turn_deg, scene_.view.tip_deg); });
  swing_.setInterval(picture_ms);
  connect(&swing_, &QTimer::timeout, this, [this] {
    if (!isVisible()) return;
    const double angle = 2 * std::numbers::pi * 1e-3 * static_cast<double>(clock_.elapsed()) / swing_s;
    // A mode swings to both sides; weight pulls to one.
    scene_.look.motion_share =
        scene_.look.motion && !scene_.look.motion->mode ? 0.5 - 0.5 * std::cos(angle) : std::sin(angle);
    refresh();
  });
  set_shaded(QSettings().value(QLatin1String(shaded_key), true).toBool());
}

void FrameView::set_shaded(bool shaded) {
  const bool can = proven_graphics().works;
  if (can) QSettings().setValue(QLatin1String(shaded_key), shaded);
  if ((shaded && can) == is_shaded()) return;
  if (shaded_) {
    shaded_->deleteLater();
    shaded_->hide();
    shaded_ = nullptr;
  } else {
    shaded_ = new ShadedFrame(
        scene_, {[this] { make_ready(); }, [this](QPainter& painter) { paint_over(painter); }}, this);
    if (!shaded_->is_sound()) {
      delete shaded_;
      shaded_ = nullptr;
      return;
    }
    shaded_->setGeometry(rect());
    shaded_->show();
    connect(
        shaded_, &ShadedFrame::given_up, this, [this] { set_shaded(false); }, Qt::QueuedConnection);
  }
  refresh();
  emit settings_changed();
}

void FrameView::set_drawing(reports::FrameDrawing drawing) {
  if (!same_geometry(scene_.drawing, drawing)) {
    solids_.reset();
    set_lines(nullptr);
    mesh_is_old_ = true;
  }
  scene_.drawing = std::move(drawing);
  find_motion();
}

void FrameView::set_solids(std::shared_ptr<const shape::FrameSolids> solids) {
  solids_ = std::move(solids);
  mesh_is_old_ = true;
  refresh();
}

void FrameView::set_lines(std::shared_ptr<const reports::TurnedLines> lines) {
  lines_ = std::move(lines);
  scene_.look.turned = lines_.get();
  refresh();
}

// Only what stands still is asked for: turning puts it off.
void FrameView::ask_for_lines() {
  const bool there = lines_ && lines_->turn_deg == scene_.view.turn_deg && lines_->tip_deg == scene_.view.tip_deg;
  if (shaded_ || !solids_ || there || scene_.look.motion || !scene_.view.joint.empty() ||
      scene_.view.section.across != reports::FrameSection::Across::nothing)
    return;
  rest_.start();
}

void FrameView::set_rated(std::shared_ptr<const RatedJob> rated) {
  rated_ = std::move(rated);
  const reports::FrameLook shown = rated_ ? reports::look_of(rated_->rating) : reports::FrameLook();
  scene_.look.used = shown.used;
  scene_.look.falls_short = shown.falls_short;
  scene_.look.not_covered = shown.not_covered;
  find_motion();
}

void FrameView::set_second(std::shared_ptr<const reports::FrameDrawing> second) {
  second_ = std::move(second);
  scene_.look.second = second_.get();
  refresh();
}

void FrameView::choose(const QString& flag) {
  scene_.look.chosen = flag.toStdString();
  repaint_bodies();
}

void FrameView::go_to(const QString& flag) {
  make_ready();
  scene_.view = reports::facing_view(scene_.drawing, scene_.mesh, scene_.bands, scene_.view,
                                     flag.toStdString(), width() / per_mm(), height() / per_mm());
  choose(flag);
}

void FrameView::choose_members(const std::set<std::string>& members) {
  scene_.look.chosen_members = members;
  repaint_bodies();
}

void FrameView::show_motion(int index) {
  motion_ = index;
  find_motion();
  emit settings_changed();
}

// The rating's motions belong to its own nodes: of a frame changed since, they wait for the next rating.
void FrameView::find_motion() {
  scene_.look.motion = scene_.rest = nullptr;
  if (rated_) {
    const auto fits = [&](const reports::FrameMotion& m) {
      return m.at.size() == scene_.drawing.points.size();
    };
    const auto& all = rated_->motions;
    if (motion_ >= 0 && static_cast<std::size_t>(motion_) < all.size() &&
        fits(all[static_cast<std::size_t>(motion_)]))
      scene_.look.motion = &all[static_cast<std::size_t>(motion_)];
    if (!all.empty() && fits(all[0]) && all[0].stress_mpa.size() == scene_.drawing.stretches.size())
      scene_.rest = &all[0];
  }
  scene_.look.motion_mm =
      scene_.look.motion ? motion_size_ * (scene_.drawing.most_mm - scene_.drawing.least_mm).norm() : 0;
  if (!scene_.look.motion) run_motion(false);
  bands_are_old_ = true;
  repaint_bodies();
}

void FrameView::run_motion(bool runs) {
  runs = runs && scene_.look.motion;
  if (!runs) scene_.look.motion_share = 1;
  if (runs == swing_.isActive()) return;
  clock_.start();
  runs ? swing_.start() : swing_.stop();
  refresh();
  emit settings_changed();
}

void FrameView::set_motion_size(double share) {
  motion_size_ = share;
  find_motion();
  emit settings_changed();
}

void FrameView::set_section(const reports::FrameSection& section) {
  scene_.view.section = section;
  refresh();
  emit settings_changed();
}

void FrameView::set_hue(FrameHue hue) {
  scene_.hue = hue;
  refresh();
  emit settings_changed();
}

void FrameView::set_all_flags(bool all) {
  scene_.all_flags = all;
  refresh();
  emit settings_changed();
}

void FrameView::look_from(double turn_deg, double tip_deg) {
  scene_.view.turn_deg = turn_deg;
  scene_.view.tip_deg = tip_deg;
  refresh();
}

void FrameView::fit() {
  scene_.view.held.reset();
  scene_.view.joint.clear();
  repaint_bodies();
}

void FrameView::zoom(double by) {
  const reports::FrameCamera seen = camera();
  scene_.view = reports::zoomed_about(scene_.view, seen, seen.middle, by);
  refresh();
}

double FrameView::per_mm() const { return picture_scale(*this); }
reports::FrameCamera FrameView::camera() const { return camera_in(*this, scene_); }
reports::Point FrameView::in_mm(QPointF pixels) const {
  return {pixels.x() / per_mm(), pixels.y() / per_mm()};
}
QPointF FrameView::pixel(const frame::Vec3& place_mm) const {
  const reports::Point p = reports::projected(camera(), place_mm);
  return {p.x * per_mm(), p.y * per_mm()};
}

void FrameView::make_ready() {
  if (mesh_is_old_) {
    scene_.mesh =
        reports::frame_mesh(scene_.drawing, solids_ ? *solids_ : reports::plain_solids(scene_.drawing));
    ++scene_.mesh_version;
  }
  if (mesh_is_old_ || bands_are_old_) {
    reports::set_moves(scene_.mesh, scene_.drawing, scene_.look.motion);
    scene_.bands = reports::frame_bands(scene_.drawing, scene_.mesh, scene_.look);
    ++scene_.moves_version;
  }
  mesh_is_old_ = bands_are_old_ = false;
}

void FrameView::refresh() {
  if (shaded_)
    shaded_->refresh();
  else
    update();
}

void FrameView::repaint_bodies() {
  ++scene_.paint_version;
  refresh();
}

void FrameView::resizeEvent(QResizeEvent*) {
  if (shaded_) shaded_->setGeometry(rect());
}

void FrameView::paintEvent(QPaintEvent*) {
  if (shaded_) return;  // it covers all of this
  QPainter painter(this);
  painter.fillRect(rect(), colours().sheet);
  paint_over(painter);
  ask_for_lines();
}

// All of the frame in lines; over shaded bodies, flags and scales alone.
void FrameView::paint_over(QPainter& painter) {
  painter.setFont(hint_font());
  reports::FrameLook look = scene_.look;
  look.body = !shaded_;
  if (!scene_.all_flags) look.most_flags = few_flags;
  reports::FramePicture drawn =
      reports::frame_picture(scene_.drawing, scene_.view, look, width() / per_mm(), height() / per_mm());
  reports::paint(painter, QPointF(0, 0), per_mm(), drawn.picture, language(), picture_colour);
  hits_ = std::move(drawn.hits);
  painter.setRenderHint(QPainter::Antialiasing, false);
  if (rated_) paint_scales(painter);
  if (scene_.look.motion) {
    painter.setPen(colours().faint);
    painter.drawText(rect().adjusted(12, 8, -12, -8), Qt::AlignTop | Qt::AlignLeft, motion_words(scene_));
  }
  painter.setPen(QPen(hasFocus() ? colours().steel : colours().hairline, 1));
  painter.setBrush(Qt::NoBrush);
  painter.drawRect(rect().adjusted(0, 0, -1, -1));
}

void FrameView::paint_scales(QPainter& painter) {
  if (shaded_ && scene_.shows_stress())
    paint_stress_scale(painter, rect(), *scene_.rest);
  else
    paint_used_scale(painter, rect());
}

QString motion_words(const FrameScene& scene) {
  const reports::FrameMotion& m = *scene.look.motion;
  std::size_t most = 0;
  for (std::size_t i = 0; i < m.at.size(); ++i)
    if (m.at[i].norm() > m.at[most].norm()) most = i;
  const double largest_mm = m.at.empty() ? 0 : m.at[most].norm();
  if (!(largest_mm > 0)) return sentence_of(m.name);
  const std::string name = sentence_of(m.name).toStdString(), node = scene.drawing.points[most].node;
  if (m.mode) return sentence_of("window.mode-drawn", {text("name", name), text("node", node)});
  return sentence_of("window.motion-drawn",
                     {text("name", name), text("node", node), number("most", largest_mm, "mm"),
                      number("times", scene.look.motion_mm / largest_mm, "")});
}

}  // namespace seamwright::desktop

// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/desktop/frame_menu.h"

#include <QActionGroup>
#include <QHBoxLayout>
#include <QLabel>
#include <QMenu>
#include <QPushButton>
#include <QSlider>
#include <cmath>
#include <functional>

#include "app/desktop/frame_view.h"
#include "app/desktop/graphics_proof.h"
#include "app/desktop/window_words.h"

namespace seamwright::desktop {

namespace {

using Across = reports::FrameSection::Across;

constexpr int slider_steps = 1000;

// An entry with a tick that says how things are, asked again after each change.
void add_entry(QMenu& menu, FrameView& view, const QString& words, const std::function<bool()>& is_on,
               const std::function<void(bool)>& set) {
  QAction* action = menu.addAction(words);
  action->setCheckable(true);
  QObject::connect(action, &QAction::triggered, &view, set);
  const auto show = [action, is_on] { action->setChecked(is_on()); };
  QObject::connect(&view, &FrameView::settings_changed, action, show);
  show();
}

void add_sections(QMenu& menu, FrameView& view) {
  const std::pair<Across, QString> all[] = {{Across::nothing, sentence_of("window.section-none")},
                                            {Across::y, sentence_of("window.section-lengthwise")},
                                            {Across::x, sentence_of("window.section-across")},
                                            {Across::z, sentence_of("window.section-level")}};
  for (const auto& [across, words] : all)
    add_entry(
        menu, view, words, [&view, across = across] { return view.view().section.across == across; },
        [&view, across = across](bool) {
          view.set_section(reports::section_facing(view.view(), across, view.view().section.place));
        });
}

void add_motion(QMenu& menu, FrameView& view) {
  add_entry(
      menu, view, sentence_of("window.motion-runs"), [&view] { return view.is_running(); },
      [&view](bool on) { view.run_motion(on); });
  const std::pair<double, QString> sizes[] = {{0.03, sentence_of("window.motion-small")},
                                              {0.06, sentence_of("window.motion-usual")},
                                              {0.12, sentence_of("window.motion-large")}};
  for (const auto& [share, words] : sizes)
    add_entry(
        menu, view, words, [&view, share = share] { return std::abs(view.motion_size() - share) < 1e-9; },
        [&view, share = share](bool) { view.set_motion_size(share); });
}

}  // namespace

QPushButton* make_view_button(FrameView& view) {
  auto* button = new QPushButton(sentence_of("window.view-menu"));
  button->setAccessibleDescription(sentence_of("window.frame-view-keys"));
  auto* menu = new QMenu(button);
  if (proven_graphics().works)
    add_entry(
        *menu, view, sentence_of("window.shaded"), [&view] { return view.is_shaded(); },
        [&view](bool on) { view.set_shaded(on); });
  add_entry(
      *menu, view, sentence_of("window.flags-all"), [&view] { return view.scene().all_flags; },
      [&view](bool on) { view.set_all_flags(on); });
  add_entry(
      *menu, view, sentence_of("window.hue-stress"), [&view] { return view.scene().hue == FrameHue::stress; },
      [&view](bool on) { view.set_hue(on ? FrameHue::stress : FrameHue::life); });
  menu->addSeparator();
  add_sections(*menu, view);
  menu->addSeparator();
  add_motion(*menu, view);
  button->setMenu(menu);
  return button;
}

QWidget* make_section_row(FrameView& view) {
  auto* row = new QWidget;
  auto* layout = new QHBoxLayout(row);
  layout->setContentsMargins(0, 0, 0, 0);
  layout->setSpacing(4);
  auto* label = new QLabel;
  auto* slider = new QSlider(Qt::Horizontal);
  slider->setRange(0, slider_steps);
  slider->setPageStep(slider_steps / 20);
  slider->setAccessibleName(sentence_of("window.section-place"));
  auto* side = new QPushButton(sentence_of("window.section-side"));
  layout->addWidget(label);
  layout->addWidget(slider, 1);
  layout->addWidget(side);
  QObject::connect(slider, &QSlider::valueChanged, &view, [&view](int value) {
    reports::FrameSection section = view.view().section;
    section.place = value / double(slider_steps);
    view.set_section(section);
  });
  QObject::connect(side, &QPushButton::clicked, &view, [&view] {
    reports::FrameSection section = view.view().section;
    section.takes_high = !section.takes_high;
    view.set_section(section);
  });
  const auto show = [&view, row, label, slider] {
    const reports::FrameSection& section = view.view().section;
    const auto kept = reports::kept_by(section, view.scene().drawing);
    row->setVisible(kept.has_value());
    if (!kept) return;
    const QSignalBlocker quiet(slider);
    slider->setValue(static_cast<int>(std::lround(section.place * slider_steps)));
    const char* axes[] = {"", "x", "y", "z"};
    label->setText(sentence_of("window.section-at",
                               {text("axis", axes[static_cast<int>(section.across)]),
                                number("place", kept->offset_mm * (section.takes_high ? 1 : -1), "mm")}));
  };
  QObject::connect(&view, &FrameView::settings_changed, row, show);
  row->hide();
  return row;
}

}  // namespace seamwright::desktop

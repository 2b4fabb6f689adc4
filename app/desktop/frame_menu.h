// SPDX-License-Identifier: GPL-3.0-or-later
// The settings of a view of the frame, to be set by pointer and keys: a button with a menu, and a row for the
// section.
#pragma once

class QPushButton;
class QWidget;

namespace seamwright::desktop {

class FrameView;

/// Its menu: painter, section, hue, motion, flags.
QPushButton* make_view_button(FrameView& view);
/// The section's place and side; shown while there is one.
QWidget* make_section_row(FrameView& view);

}  // namespace seamwright::desktop

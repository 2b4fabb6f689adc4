// SPDX-License-Identifier: GPL-3.0-or-later
// Advice above the work that waits until it is answered, and is in nobody's way.
#pragma once

#include <QFrame>
#include <functional>
#include <utility>
#include <vector>

namespace seamwright::desktop {

class MessageBar : public QFrame {
  Q_OBJECT
 public:
  /// Words of the buttons and what they do; true: the bar goes.
  using Answer = std::pair<QString, std::function<bool()>>;
  MessageBar(const QString& text, const std::vector<Answer>& answers, QWidget* parent = nullptr);
};

}  // namespace seamwright::desktop

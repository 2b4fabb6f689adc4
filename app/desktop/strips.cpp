// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/desktop/strips.h"

#include <QHeaderView>
#include <QPainter>
#include <QStyledItemDelegate>
#include <algorithm>
#include <cmath>

#include "app/desktop/theme.h"
#include "app/desktop/window_words.h"
#include "reports/content/rating_blocks.h"

namespace seamwright::desktop {

namespace {

constexpr int margin = 10;

double x_of_use(const QRect& area, double used) {
  return area.left() + margin + reports::place_of_used(used) * (area.width() - 2 * margin);
}

// Hairlines at the decades, a strong one at the target.
void paint_axis(QPainter& painter, const QRect& area) {
  for (double decade = reports::least_used; decade <= reports::most_used * 1.001; decade *= 10) {
    const bool target = std::abs(decade - 1) < 1e-6;
    painter.setPen(QPen(target ? colours().ink : colours().hairline, target ? 1.4 : 1));
    const int x = static_cast<int>(std::lround(x_of_use(area, decade)));
    painter.drawLine(x, area.top(), x, area.bottom());
  }
}

class StripDelegate : public QStyledItemDelegate {
 public:
  StripDelegate(const StripsModel& model, QObject* parent) : QStyledItemDelegate(parent), model_(model) {}
  void paint(QPainter* painter, const QStyleOptionViewItem& option, const QModelIndex& index) const override {
    painter->save();
    painter->fillRect(option.rect, option.state & QStyle::State_Selected ? colours().band : colours().sheet);
    paint_axis(*painter, option.rect);
    const reports::Strip* s = model_.strip(index.row());
    if (s && std::isfinite(s->used)) {
      // A second design's line needs room below.
      const bool two = model_.second_of(index.row()) != nullptr;
      const double from = option.rect.left() + margin, to = x_of_use(option.rect, s->used);
      const double place = reports::place_of_used(s->used),
                   high = option.rect.height() * (two ? 0.2 + 0.2 * place : 0.35 + 0.3 * place),
                   middle = option.rect.center().y() + (two ? -2.5 : 0.5);
      painter->fillRect(QRectF(from, middle - high / 2, std::max(2.0, to - from), high), used_colour(place));
      if (s->extended) {  // to be confirmed by test: an open end
        painter->setPen(QPen(colours().sheet, 2, Qt::DotLine));
        painter->drawLine(QPointF(to - 3, middle - high / 2), QPointF(to - 3, middle + high / 2));
      }
    }
    if (const reports::Strip* second = model_.second_of(index.row()); second && std::isfinite(second->used)) {
      painter->setPen(QPen(colours().ink, 2));
      const double y = option.rect.bottom() - 2.5;
      painter->drawLine(
          QPointF(option.rect.left() + margin, y),
          QPointF(std::max(option.rect.left() + margin + 2.0, x_of_use(option.rect, second->used)), y));
    }
    painter->restore();
  }

 private:
  const StripsModel& model_;
};

// Names the decades above the strips.
class StripsHeader : public QHeaderView {
 public:
  explicit StripsHeader(QWidget* parent) : QHeaderView(Qt::Horizontal, parent) {}

 protected:
  void paintSection(QPainter* painter, const QRect& rect, int section) const override {
    if (section != StripsModel::strip_column) return QHeaderView::paintSection(painter, rect, section);
    painter->save();
    painter->fillRect(rect, colours().band);
    painter->setPen(colours().faint);
    painter->setFont(hint_font());
    for (double decade = reports::least_used; decade <= reports::most_used * 1.001; decade *= 10) {
      const bool target = std::abs(decade - 1) < 1e-6;
      const bool first = decade<reports::least_used * 1.5, last = decade> reports::most_used / 1.5;
      const QString text = target ? sentence_of("window.target-one") : quantity(decade, "", 1);
      const double x = x_of_use(rect, decade);
      const QRectF box = first  ? QRectF(x - 2, rect.top(), 90, rect.height())
                         : last ? QRectF(x - 88, rect.top(), 90, rect.height())
                                : QRectF(x - 60, rect.top(), 120, rect.height());
      painter->setPen(target ? colours().ink : colours().faint);
      painter->drawText(box,
                        int(Qt::AlignVCenter) | int(first  ? Qt::AlignLeft
                                                    : last ? Qt::AlignRight
                                                           : Qt::AlignHCenter),
                        text);
    }
    painter->restore();
  }
};

}  // namespace

void StripsModel::set_rated(std::shared_ptr<const RatedJob> rated) {
  const auto same = [&] {
    if (!rated_ || !rated || rated_->strips.size() != rated->strips.size()) return false;
    return std::equal(rated_->strips.begin(), rated_->strips.end(), rated->strips.begin(),
                      [](const auto& a, const auto& b) { return a.id == b.id; });
  };
  if (same()) {
    rated_ = std::move(rated);
    emit dataChanged(index(0, 0), index(rowCount() - 1, columns - 1));
    return;
  }
  beginResetModel();
  rated_ = std::move(rated);
  endResetModel();
}

void StripsModel::set_second(std::shared_ptr<const SecondDesign> second) {
  second_.clear();
  if (second) {
    second_name_ = second->name;
    for (reports::Strip& s : reports::strips_of(second->rating)) second_.emplace(s.id, std::move(s));
  }
  if (rowCount() > 0) emit dataChanged(index(0, 0), index(rowCount() - 1, columns - 1));
}

const reports::Strip* StripsModel::second_of(int row) const {
  const reports::Strip* first = strip(row);
  const auto it = first ? second_.find(first->id) : second_.end();
  return it == second_.end() ? nullptr : &it->second;
}

int StripsModel::rowCount(const QModelIndex& parent) const {
  return parent.isValid() || !rated_ ? 0 : static_cast<int>(rated_->strips.size());
}
int StripsModel::columnCount(const QModelIndex& parent) const { return parent.isValid() ? 0 : int(columns); }

const reports::Strip* StripsModel::strip(int row) const {
  return rated_ && row >= 0 && row < rowCount() ? &rated_->strips[static_cast<std::size_t>(row)] : nullptr;
}

int StripsModel::row_of(const QString& weld) const {
  for (int r = 0; r < rowCount(); ++r)
    if (QString::fromStdString(strip(r)->id) == weld) return r;
  return -1;
}

QVariant StripsModel::data(const QModelIndex& index, int role) const {
  const reports::Strip* s = strip(index.row());
  if (!s) return {};
  if (role == Qt::TextAlignmentRole && index.column() == life_column)
    return QVariant(Qt::AlignRight | Qt::AlignVCenter);
  if (role == Qt::ForegroundRole && index.column() == verdict_column)
    return s->verdict == rating::Verdict::falls_short   ? colours().arc
           : s->verdict == rating::Verdict::not_covered ? colours().faint
                                                        : colours().steel;
  const bool text = role == Qt::DisplayRole || role == Qt::AccessibleTextRole;
  if (!text && role != Qt::ToolTipRole) return {};
  switch (index.column()) {
    case verdict_column: {
      QString words = cell_text(reports::State{rating::name_of(s->verdict)});
      if (s->extended)
        words += role == Qt::DisplayRole ? QStringLiteral(" ◐")
                                         : QStringLiteral(", ") + cell_text(reports::State{"extended"});
      return words;
    }
    case weld_column:
      return visible_text(s->id);
    case member_column:
      return s->chord.empty() ? visible_text(s->member)
                              : visible_text(s->member) + QStringLiteral(" › ") + visible_text(s->chord);
    case site_column:
      return sentence_of("site.named", {site_argument("site", s->site)});
    case life_column:
      return cell_text(reports::life_cell(s->life_km, s->at_most));
    default: {
      if (role == Qt::DisplayRole) return {};
      const QString used = quantity(100 * s->used, "%", 2);
      const reports::Strip* second = second_of(index.row());
      if (!second) return used;
      return sentence_of("desk.second-used",
                         {number("first", 100 * s->used, "%"), seamwright::text("design", second_name_),
                          number("second", 100 * second->used, "%"), number("life", second->life_km, "km")});
    }
  }
}

QVariant StripsModel::headerData(int section, Qt::Orientation orientation, int role) const {
  static constexpr MessageId names[] = {"column.verdict", "column.weld",    "window.member-on",
                                        "column.site",    "column.life-km", "window.life-used"};
  if (orientation != Qt::Horizontal || role != Qt::DisplayRole || section >= int(columns)) return {};
  return sentence_of(names[section]);
}

Strips::Strips(QWidget* parent) : QTreeView(parent), model_(new StripsModel(this)) {
  setModel(model_);
  setHeader(new StripsHeader(this));
  setItemDelegateForColumn(StripsModel::strip_column, new StripDelegate(*model_, this));
  setRootIsDecorated(false);
  setUniformRowHeights(true);
  setAllColumnsShowFocus(true);
  setSelectionBehavior(QAbstractItemView::SelectRows);
  setAccessibleName(sentence_of("window.strips"));
  setTabKeyNavigation(false);
  setMinimumHeight(64);  // low screens
  header()->setStretchLastSection(true);
  header()->setHighlightSections(false);
  connect(selectionModel(), &QItemSelectionModel::currentChanged, this, [this](const QModelIndex& now) {
    const reports::Strip* s = model_->strip(now.row());
    if (s && !quiet_) emit chosen(QString::fromStdString(s->id));
  });
}

void Strips::set_rated(std::shared_ptr<const RatedJob> rated) {
  const reports::Strip* now = model_->strip(currentIndex().row());
  const QString chosen_before = now ? QString::fromStdString(now->id) : QString();
  const bool first = model_->rowCount() == 0;
  quiet_ = true;
  model_->set_rated(std::move(rated));
  if (!chosen_before.isEmpty()) choose(chosen_before);
  quiet_ = false;
  set_filter(filter_);
  if (first)
    for (int k = 0; k < StripsModel::strip_column; ++k) resizeColumnToContents(k);
}

void Strips::choose(const QString& weld) {
  const int row = model_->row_of(weld);
  if (row < 0 || row == currentIndex().row()) return;
  quiet_ = true;
  setCurrentIndex(model_->index(row, 0));
  scrollTo(model_->index(row, 0));
  quiet_ = false;
}

void Strips::set_filter(const QString& text) {
  filter_ = text;
  for (int r = 0; r < model_->rowCount(); ++r) {
    bool match = text.isEmpty();
    for (int k = 0; k < StripsModel::strip_column && !match; ++k)
      match = model_->index(r, k).data().toString().contains(text, Qt::CaseInsensitive);
    setRowHidden(r, {}, !match);
  }
}

}  // namespace seamwright::desktop

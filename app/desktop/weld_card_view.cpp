// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/desktop/weld_card_view.h"

#include <QHBoxLayout>
#include <QHeaderView>
#include <QLabel>
#include <QPushButton>
#include <QSvgRenderer>
#include <QSvgWidget>
#include <QTableView>
#include <QTreeView>
#include <QVBoxLayout>
#include <cmath>

#include "app/desktop/plots.h"
#include "app/desktop/theme.h"
#include "app/desktop/window_words.h"
#include "catalog/published/built_in.h"
#include "reports/content/plot_pictures.h"
#include "reports/content/prediction_blocks.h"
#include "reports/content/rating_blocks.h"
#include "reports/content/seam_picture.h"
#include "reports/pages/paint.h"

namespace seamwright::desktop {

namespace {

QLabel* heading(const QString& text) {
  auto* label = new QLabel(text);
  label->setWordWrap(true);
  QPalette p = label->palette();
  p.setColor(QPalette::WindowText, colours().faint);
  label->setPalette(p);
  label->setContentsMargins(0, 8, 0, 0);
  return label;
}

void colour(QLabel* label, const QColor& c) {
  QPalette p = label->palette();
  p.setColor(QPalette::WindowText, c);
  label->setPalette(p);
}

void add_reasons(QStandardItem* parent, const std::vector<reports::Reason>& reasons) {
  for (const reports::Reason& r : reasons) {
    auto* item = new QStandardItem(sentence_of(r.text));
    item->setEditable(false);
    item->setToolTip(item->text());
    add_reasons(item, r.because);
    parent->appendRow(item);
  }
}

}  // namespace

WeldCardView::WeldCardView(QWidget* parent) : QScrollArea(parent) {
  setObjectName(QStringLiteral("sheet"));
  setWidgetResizable(true);
  setHorizontalScrollBarPolicy(Qt::ScrollBarAlwaysOff);
  setAccessibleName(sentence_of("window.card"));
  setFocusPolicy(Qt::NoFocus);
  auto* page = new QWidget;
  auto* outer = new QVBoxLayout(page);
  outer->setContentsMargins(16, 12, 16, 12);
  empty_ = new QLabel(sentence_of("window.card-empty"));
  empty_->setWordWrap(true);
  outer->addWidget(empty_);
  content_ = new QWidget;
  auto* layout = new QVBoxLayout(content_);
  layout->setContentsMargins(0, 0, 0, 0);
  layout->setSpacing(6);
  layout->addWidget(make_head());
  layout->addWidget(seam_words_ = heading({}));
  layout->addWidget(seam_ = new PictureView(sentence_of("seam.damage")));
  layout->addWidget(heading(sentence_of("window.by-leg")));
  layout->addWidget(legs_ = new PictureView(sentence_of("window.by-leg")));
  layout->addWidget(heading(sentence_of("window.by-cause")));
  layout->addWidget(causes_ = new PictureView(sentence_of("window.by-cause")));
  layout->addWidget(heading(sentence_of("window.sn")));
  layout->addWidget(sn_ = new PictureView(sentence_of("window.sn")));
  auto* why = heading(sentence_of("window.why"));
  layout->addWidget(why);
  why_ = new QTreeView;
  why_->setHeaderHidden(true);
  why_->setAccessibleName(sentence_of("window.why").remove(QLatin1Char('&')));
  why_->setMinimumHeight(260);
  why_->setWordWrap(true);
  why_->setModel(reasons_ = new QStandardItemModel(this));
  why_->setHorizontalScrollMode(QAbstractItemView::ScrollPerPixel);
  why_->header()->setStretchLastSection(false);
  why_->header()->setSectionResizeMode(QHeaderView::ResizeToContents);
  why->setBuddy(why_);
  layout->addWidget(why_);
  auto* sites = heading(sentence_of("window.sites"));
  layout->addWidget(sites);
  sites_ = new QTableView;
  sites_->setAccessibleName(sentence_of("window.sites").remove(QLatin1Char('&')));
  sites_->setModel(site_rows_ = new QStandardItemModel(this));
  sites_->verticalHeader()->hide();
  sites_->setShowGrid(false);
  sites_->setTabKeyNavigation(false);
  sites_->setEditTriggers(QAbstractItemView::NoEditTriggers);
  sites_->setMinimumHeight(200);
  for (QWidget* table : {static_cast<QWidget*>(why_), static_cast<QWidget*>(sites_)})
    table->setMinimumWidth(160);
  sites->setBuddy(sites_);
  layout->addWidget(sites_);
  outer->addWidget(content_);
  outer->addStretch(1);
  setWidget(page);
  content_->hide();
}

QWidget* WeldCardView::make_head() {
  auto* head = new QWidget;
  auto* layout = new QVBoxLayout(head);
  layout->setContentsMargins(0, 0, 0, 0);
  layout->setSpacing(4);
  layout->addWidget(title_ = new QLabel);
  title_->setWordWrap(true);
  layout->addWidget(verdict_ = new QLabel);
  verdict_->setFont(answer_font());
  verdict_->setWordWrap(true);  // a long word must not widen the card beyond its place
  auto* row = new QHBoxLayout;
  life_ = new QLabel;
  life_->setFont(answer_font());
  life_->setTextInteractionFlags(Qt::TextSelectableByMouse);
  life_unit_ = new QLabel;
  colour(life_unit_, colours().faint);
  life_unit_->setWordWrap(true);
  row->addWidget(life_);
  row->addWidget(life_unit_, 1, Qt::AlignBottom);
  layout->addLayout(row);
  layout->addWidget(stale_ = new QLabel(sentence_of("window.stale")));
  colour(stale_, colours().faint);
  stale_->hide();
  layout->addWidget(facts_ = new QLabel);
  facts_->setWordWrap(true);
  facts_->setTextInteractionFlags(Qt::TextSelectableByMouse);
  suggest_ = new QPushButton(sentence_of("window.suggest"));
  layout->addWidget(suggest_, 0, Qt::AlignLeft);
  connect(suggest_, &QPushButton::clicked, this, &WeldCardView::suggestions_wanted);
  layout->addWidget(sketch_ = new QSvgWidget);
  sketch_->setAccessibleName(sentence_of("window.sketch"));
  return head;
}

void WeldCardView::set_stale(bool stale) { stale_->setVisible(stale); }

void WeldCardView::show_head(const reports::WeldCard& card, const RatedJob& rated) {
  QString title = visible_text(card.id) + QStringLiteral(" · ") + sentence_of("site.named", {site_argument("site", card.site.site)});
  if (!card.member.empty()) title += QStringLiteral("\n") + visible_text(card.member);
  if (!card.chord.empty()) title += QStringLiteral(" › ") + visible_text(card.chord);
  title_->setText(title);
  verdict_->setText(cell_text(card.verdict));
  colour(verdict_, card.verdict.name == "falls_short"   ? colours().arc
                   : card.verdict.name == "not_covered" ? colours().faint
                                                        : colours().steel);
  const fatigue::PredictedLife& predicted = card.predicted.life;
  const double life_km = predicted.median * card.service_km;
  life_->setText((card.at_most && !std::isnan(life_km) ? QStringLiteral("≤ ") : QString()) + quantity(life_km, "", 2));
  life_unit_->setText(sentence_of("window.life-of", {number("service", card.service_km, "km")}));
  QStringList facts;
  if (card.extended) facts << sentence_of("window.by-test");
  if (card.at_most) facts << sentence_of("window.at-most");
  if (!std::isnan(life_km))
    facts << sentence_of("window.interval", {number("earliest", predicted.low * card.service_km, "km"),
                                             number("latest", predicted.high * card.service_km, "km")});
  facts << sentence_of("window.crack", {number("cracked", 1000 * card.predicted.cracked.mean, "")});
  facts << sentence_of("window.format", {number("life", card.site.life_km, "km")});
  facts << sentence_of("window.used", {number("used", 100 * card.used, "%")});
  facts << sentence_of(reports::path_sentence(card.path));
  facts << sentence_of(rated.method == rating::Method::time ? MessageId("window.by-histories")
                                                            : "window.by-moments");
  if (!card.procedure.empty()) facts << sentence_of("window.procedure", {text("procedure", card.procedure)});
  facts_->setText(facts.join(QLatin1Char('\n')));
}

// Drawn for paper: inks and papers give way to those of the style.
void WeldCardView::show_sketch(const std::string& kind) {
  QByteArray svg = reports::qt_svg(published::drawing_of(kind));
  sketch_->setVisible(!svg.isEmpty());
  if (svg.isEmpty()) return;
  svg.replace("#22262A", colours().ink.name().toLatin1());
  svg.replace("#6B7278", colours().faint.name().toLatin1());
  svg.replace("#FFFFFF", colours().sheet.name().toLatin1());
  svg.replace("#D5D9DC", colours().band.name().toLatin1());
  sketch_->load(svg);
  const QSize size = sketch_->renderer()->defaultSize();
  const int wide = std::clamp(viewport()->width() - 48, 160, 340);
  sketch_->setFixedSize(wide, wide * size.height() / std::max(1, size.width()));
}

// A picture says where around the seam the damage lies; there is none where the joint has no model.
void WeldCardView::show_seam(const RatedJob& rated, const std::string& weld) {
  constexpr double wide_mm = 62;
  const auto picture = reports::used_picture(rated.job->design, reports::rated_weld(rated.rating, weld), wide_mm);
  seam_->setVisible(picture.has_value());
  seam_words_->setVisible(picture.has_value());
  if (!picture) return;
  seam_words_->setText(sentence_of(picture->largest_place) + QLatin1Char(' ') + sentence_of(picture->how_large));
  seam_->set_picture(picture->picture, {sentence_of(picture->caption), sentence_of("seam.how-root")});
}

void WeldCardView::show_tables(const reports::WeldCard& card) {
  reasons_->clear();
  add_reasons(reasons_->invisibleRootItem(), card.reasons.reasons);
  for (int r = 0; r < reasons_->rowCount(); ++r) why_->setExpanded(reasons_->index(r, 0), true);
  site_rows_->clear();
  QStringList titles;
  for (const Message& m : card.sites.columns) titles << sentence_of(m);
  site_rows_->setHorizontalHeaderLabels(titles);
  for (const auto& row : card.sites.rows) {
    QList<QStandardItem*> items;
    for (const reports::Cell& cell : row) {
      auto* item = new QStandardItem(cell_text(cell));
      if (std::holds_alternative<reports::Quantity>(cell))
        item->setTextAlignment(Qt::AlignRight | Qt::AlignVCenter);
      items << item;
    }
    site_rows_->appendRow(items);
  }
  sites_->resizeColumnsToContents();
}

void WeldCardView::show_weld(const std::shared_ptr<const RatedJob>& rated, const std::string& weld) {
  reports::WeldCard card;
  bool there = rated && !weld.empty();
  if (there) try {
      card = reports::weld_card(*rated->job, rated->rating, weld);
    } catch (const Fault&) {
      there = false;  // the weld is gone from the design
    }
  content_->setVisible(there);
  empty_->setVisible(!there);
  if (!there) return;
  show_head(card, *rated);
  show_sketch(card.kind);
  show_seam(*rated, weld);
  legs_->set_picture(reports::shares_plot(card.by_leg, 100), description_of(card.by_leg));
  causes_->set_picture(reports::shares_plot(card.by_cause, 100), description_of(card.by_cause));
  sn_->set_picture(reports::sn_plot(card.plot), description_of(card.plot));
  show_tables(card);
}

}  // namespace seamwright::desktop

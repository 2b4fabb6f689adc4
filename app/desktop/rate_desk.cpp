// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/desktop/rate_desk.h"

#include <QComboBox>
#include <QHBoxLayout>
#include <QLabel>
#include <QLineEdit>
#include <QPushButton>
#include <QScrollArea>
#include <QSettings>
#include <QSplitter>
#include <QTabWidget>
#include <QVBoxLayout>
#include <algorithm>

#include "app/desktop/form_panel.h"
#include "app/desktop/frame_menu.h"
#include "app/desktop/frame_view.h"
#include "app/desktop/plots.h"
#include "app/desktop/solid_maker.h"
#include "app/desktop/strips.h"
#include "app/desktop/study_page.h"
#include "app/desktop/theme.h"
#include "app/desktop/weld_card_view.h"
#include "app/desktop/window_words.h"
#include "reports/content/evidence_blocks.h"
#include "reports/content/prediction_blocks.h"
#include "reports/content/rating_blocks.h"

namespace seamwright::desktop {

namespace {

constexpr int duty_section = 2;
constexpr const char *across_key = "rate/across", *upright_key = "rate/upright";

QLabel* wrapped() {
  auto* label = new QLabel;
  label->setWordWrap(true);
  label->setTextFormat(Qt::PlainText);
  return label;
}

}  // namespace

RateDesk::RateDesk(const Context& context) : context_(context) {
  auto* layout = new QVBoxLayout(this);
  layout->setContentsMargins(8, 8, 8, 8);
  forms_ = new FormPanel(*context_.session);
  trip_ = new TripLine;
  forms_->section(duty_section)->put_above(trip_);
  card_ = new WeldCardView;
  across_ = new QSplitter(Qt::Horizontal);
  across_->addWidget(forms_);
  across_->addWidget(make_middle());
  across_->addWidget(card_);
  across_->setStretchFactor(1, 1);
  across_->setChildrenCollapsible(false);
  across_->setSizes({340, 640, 380});
  upright_ = new QSplitter(Qt::Vertical);
  upright_->addWidget(across_);
  upright_->addWidget(make_bottom());
  upright_->setStretchFactor(0, 1);
  upright_->setChildrenCollapsible(false);
  upright_->setSizes({560, 220});
  layout->addWidget(upright_);
  QSettings settings;
  across_->restoreState(settings.value(QLatin1String(across_key)).toByteArray());
  upright_->restoreState(settings.value(QLatin1String(upright_key)).toByteArray());

  connect(context_.session, &JobSession::changed, this, &RateDesk::job_changed);
  connect(context_.rater, &Rater::finished, this, &RateDesk::rated);
  connect(frame_, &FrameView::flag_chosen, this, &RateDesk::choose);
  connect(frame_, &FrameView::member_chosen, this, [this](const QString& id) {
    frame_->choose_members({id.toStdString()});
    context_.show_message(sentence_of("window.member-chosen", {text("member", id.toStdString())}));
  });
  connect(strips_, &Strips::chosen, this, &RateDesk::choose);
  connect(forms_, &FormPanel::row_chosen, this, &RateDesk::choose_row);
  connect(card_, &WeldCardView::suggestions_wanted, this, &RateDesk::suggest);
  card_->show_weld(nullptr, {});
  const auto& last = context_.last;
  if (last && last->job == context_.session->job()) {  // rated before another desk was looked at
    frame_->set_drawing(reports::frame_drawing(last->job->design));
    solids_->request(last->job);
    trip_->set_duty(last->job->duty);
    rated(last);
  } else {
    job_changed();
  }
}

RateDesk::~RateDesk() {
  QSettings settings;
  settings.setValue(QLatin1String(across_key), across_->saveState());
  settings.setValue(QLatin1String(upright_key), upright_->saveState());
}

QWidget* RateDesk::make_middle() {
  auto* middle = new QWidget;
  auto* layout = new QVBoxLayout(middle);
  layout->setContentsMargins(0, 0, 0, 0);
  layout->setSpacing(4);
  auto* head = new QHBoxLayout;
  verdict_ = new QLabel;
  verdict_->setFont(answer_font());
  head->addWidget(verdict_);
  headline_ = wrapped();
  head->addWidget(headline_, 1);
  layout->addLayout(head);
  caution_ = wrapped();
  caution_->setFont(hint_font());
  QStringList cautions;
  for (const Message& m : reports::cautions().texts) cautions << sentence_of(m);
  caution_->setText(cautions.join(QLatin1Char(' ')));
  frame_ = new FrameView;
  solids_ = new SolidMaker(context_.modeller, this);
  solids_->serve(*frame_);
  auto* seen = new QWidget;
  auto* column = new QVBoxLayout(seen);
  column->setContentsMargins(0, 8, 0, 0);
  column->setSpacing(4);
  column->addLayout(make_view_row());
  column->addWidget(make_section_row(*frame_));
  column->addWidget(frame_, 1);
  column->addWidget(caution_);
  pages_ = new QTabWidget;
  pages_->setAccessibleName(sentence_of("desk.pages"));
  pages_->setDocumentMode(true);
  pages_->setUsesScrollButtons(true);
  pages_->addTab(seen, sentence_of("desk.frame"));
  for (const Study& study : *context_.studies) {
    auto* page = new StudyPage(study, *context_.session, *context_.joints);
    auto* area = new QScrollArea;  // low screens
    area->setFrameShape(QFrame::NoFrame);
    area->setWidgetResizable(true);
    area->setFocusPolicy(Qt::NoFocus);
    area->setWidget(page);
    pages_->addTab(area, sentence_of(study.name));
    studies_.push_back(page);
    connect(page, &StudyPage::message_wanted, this,
            [this](const QString& text) { context_.show_message(text); });
    connect(page, &StudyPage::second_found, this, &RateDesk::show_second);
  }
  layout->addWidget(pages_, 1);
  return middle;
}

QHBoxLayout* RateDesk::make_view_row() {
  auto* row = new QHBoxLayout;
  row->setSpacing(4);
  const auto view = [&](const QString& name, double turn_deg, double tip_deg) {
    auto* button = new QPushButton(name);
    connect(button, &QPushButton::clicked, this,
            [this, turn_deg, tip_deg] { frame_->look_from(turn_deg, tip_deg); });
    row->addWidget(button);
  };
  view(sentence_of("window.view-oblique"), 32, 24);
  view(sentence_of("window.view-side"), 0, 0);
  view(sentence_of("window.view-front"), 90, 0);
  view(sentence_of("window.view-above"), 0, 90);
  auto* fit = new QPushButton(sentence_of("window.view-fit"));
  connect(fit, &QPushButton::clicked, frame_, &FrameView::fit);
  row->addWidget(fit);
  row->addWidget(make_view_button(*frame_));
  row->addStretch(1);
  auto* label = new QLabel(sentence_of("window.motion"));
  motion_ = new QComboBox;
  motion_->setSizeAdjustPolicy(QComboBox::AdjustToMinimumContentsLengthWithIcon);  // long names of modes widen nothing
  motion_->setMinimumContentsLength(10);
  motion_->setAccessibleName(sentence_of("window.motion").remove(QLatin1Char('&')));
  label->setBuddy(motion_);
  row->addWidget(label);
  row->addWidget(motion_);
  connect(motion_, &QComboBox::currentIndexChanged, this,
          [this](int index) { frame_->show_motion(index - 1); });
  return row;
}

QWidget* RateDesk::make_bottom() {
  auto* bottom = new QWidget;
  auto* layout = new QVBoxLayout(bottom);
  layout->setContentsMargins(0, 0, 0, 0);
  layout->setSpacing(4);
  auto* row = new QHBoxLayout;
  auto* title = new QLabel(sentence_of("window.all-welds"));
  filter_ = new QLineEdit;
  filter_->setPlaceholderText(sentence_of("window.find-weld"));
  filter_->setAccessibleName(sentence_of("window.find-weld"));
  filter_->setClearButtonEnabled(true);
  filter_->setMaximumWidth(260);
  title->setBuddy(filter_);
  count_ = new QPushButton(sentence_of("window.count"));
  count_->setObjectName(QStringLiteral("first"));
  count_->setToolTip(sentence_of("window.count-why"));
  row->addWidget(title);
  row->addWidget(filter_);
  row->addStretch(1);
  row->addWidget(count_);
  layout->addLayout(row);
  strips_ = new Strips;
  layout->addWidget(strips_, 1);
  connect(filter_, &QLineEdit::textChanged, strips_, &Strips::set_filter);
  connect(count_, &QPushButton::clicked, this, &RateDesk::count_cycles);
  return bottom;
}

void RateDesk::job_changed() {
  const auto job = context_.session->job();
  count_->setEnabled(job != nullptr);
  card_->set_stale(rated_ && rated_->job != job);
  if (!job) return;
  frame_->set_drawing(reports::frame_drawing(job->design));
  solids_->request(job);
  trip_->set_duty(job->duty);
  context_.rater->request(job, chosen_);
}

void RateDesk::rated(const std::shared_ptr<const RatedJob>& r) {
  rated_ = r;
  if (follows_worst_) chosen_ = r->rating.governing_weld;
  strips_->set_rated(r);
  frame_->set_rated(r);
  strips_->choose(chosen());
  frame_->choose(chosen());
  show_motions();
  show_headline();
  card_->set_stale(r->job != context_.session->job());
  card_->show_weld(r, chosen_);
}

void RateDesk::show_motions() {
  const int before = motion_->currentIndex();
  const QSignalBlocker quiet(motion_);
  motion_->clear();
  motion_->addItem(sentence_of("window.motion-none"));
  for (const reports::FrameMotion& m : rated_->motions) motion_->addItem(sentence_of(m.name));
  motion_->setCurrentIndex(std::clamp(before, 0, motion_->count() - 1));
  frame_->show_motion(motion_->currentIndex() - 1);
}

// The whole frame first: its predicted life, and which weld governs.
void RateDesk::show_headline() {
  const rating::Rating& r = rated_->rating;
  const reports::State state{rating::name_of(r.verdict)};
  verdict_->setText(cell_text(state));
  QPalette p = verdict_->palette();
  p.setColor(QPalette::WindowText, r.verdict == rating::Verdict::falls_short ? colours().arc : colours().ink);
  verdict_->setPalette(p);
  QString text = sentence_of(reports::answer_of(r));
  if (!r.shape.empty()) text += QLatin1Char(' ') + sentence_of("shape.rated-findings");
  for (const Message& finding : r.shape) text += QLatin1Char(' ') + sentence_of(finding);
  headline_->setText(text);
}

void RateDesk::choose(const QString& weld) {
  if (weld.isEmpty() || weld.toStdString() == chosen_) return;
  chosen_ = weld.toStdString();
  follows_worst_ = false;
  frame_->go_to(weld);
  strips_->choose(weld);
  forms_->choose_weld(weld);
  std::set<std::string> members;
  if (rated_)
    for (const reports::Strip& s : rated_->strips)
      if (s.id == chosen_) members = {s.member};
  frame_->choose_members(members);
  card_->show_weld(rated_, chosen_);
  // Its ranges are worked out for one weld at a time.
  if (rated_ && rated_->explained != chosen_ && rated_->rating.governing_weld != chosen_ &&
      rated_->method == rating::Method::spectral && context_.session->job())
    context_.rater->request(context_.session->job(), chosen_);
}

void RateDesk::choose_row(const QString& table, const QString& id) {
  if (table == QLatin1String("weld") || table == QLatin1String("notch") || table == QLatin1String("bolts"))
    return choose(id);
  if (table == QLatin1String("member")) frame_->choose_members({id.toStdString()});
  if (table == QLatin1String("tube") && context_.session->job()) {
    std::set<std::string> members;
    for (const frame::Member& m : context_.session->job()->design.frame.members)
      if (m.tube == id.toStdString()) members.insert(m.id);
    frame_->choose_members(members);
  }
}

void RateDesk::find() {
  filter_->setFocus();
  filter_->selectAll();
}

void RateDesk::show_fault() { forms_->show_fault(); }

void RateDesk::count_cycles() {
  if (context_.session->job() && !context_.rater->is_counting())
    context_.rater->count_cycles(context_.session->job(), chosen_);
}

StudyPage* RateDesk::page_of(const QString& study) const {
  const auto it = std::find_if(studies_.begin(), studies_.end(), [&](const StudyPage* page) {
    return study == QLatin1String(page->study().id);
  });
  return it == studies_.end() ? nullptr : *it;
}

void RateDesk::show_study(const QString& id) {
  const auto it = std::find(studies_.begin(), studies_.end(), page_of(id));
  pages_->setCurrentIndex(it == studies_.end() ? 0 : 1 + static_cast<int>(it - studies_.begin()));
  (it == studies_.end() ? static_cast<QWidget*>(frame_) : *it)->setFocus();
}

void RateDesk::show_second(const std::shared_ptr<const SecondDesign>& second) {
  strips_->set_second(second);
  frame_->set_second(std::make_shared<reports::FrameDrawing>(reports::frame_drawing(second->design)));
}

void RateDesk::suggest() {
  StudyPage* page = page_of(QStringLiteral("suggest"));
  if (chosen_.empty() || !page->set_field(QStringLiteral("weld"), chosen())) return;
  show_study(QStringLiteral("suggest"));
  page->run_study();
}

}  // namespace seamwright::desktop

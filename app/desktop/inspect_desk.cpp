// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/desktop/inspect_desk.h"

#include <QComboBox>
#include <QFileDialog>
#include <QFormLayout>
#include <QGridLayout>
#include <QLabel>
#include <QLineEdit>
#include <QListWidget>
#include <QPushButton>
#include <QScrollArea>
#include <QSplitter>
#include <QVBoxLayout>
#include <algorithm>

#include "app/desktop/forms.h"
#include "app/desktop/number_field.h"
#include "app/desktop/record_dialog.h"
#include "app/desktop/theme.h"
#include "app/desktop/weld_picker.h"
#include "app/desktop/window_words.h"
#include "catalog/book/records/inspection_record.h"
#include "catalog/book/records/names.h"
#include "catalog/book/bulk.h"
#include "catalog/files/job_checks.h"
#include "reports/content/procedure_blocks.h"

namespace seamwright::desktop {

namespace {

namespace field = book::field;
using inspection::Judgement;

constexpr double largest_imperfection = 50;  // mm
constexpr int state_role = Qt::UserRole + 1, joint_role = Qt::UserRole + 2;

QLineEdit* gloved_line(const QString& name) {
  auto* line = new QLineEdit;
  make_large(line);
  line->setFont(number_font());
  name_control(line, name);
  return line;
}

// The limit that stands in a weld's list; "" where it has none of that number.
std::string limit_on(const files::InspectedWeld& weld, const std::string& imperfection) {
  for (const files::LimitRow& row : weld.limits)
    if (row.number == imperfection) return row.limit;
  return {};
}

Judgement worst_of(const std::vector<files::InspectedRow>& rows) {
  Judgement worst = Judgement::accepted;
  for (const files::InspectedRow& r : rows)
    if (r.judgement == Judgement::rejected || (r.judgement == Judgement::engineer && worst == Judgement::accepted)) worst = r.judgement;
  return worst;
}

}  // namespace

InspectDesk::InspectDesk(const Context& context) : context_(context) {
  auto* layout = new QHBoxLayout(this);
  layout->setContentsMargins(8, 8, 8, 8);
  auto* split = new QSplitter(Qt::Horizontal);
  split->addWidget(make_left());
  split->addWidget(scrolling(make_middle()));
  split->addWidget(make_right());
  split->setStretchFactor(1, 1);
  split->setChildrenCollapsible(false);
  split->setSizes({320, 720, 380});
  layout->addWidget(split);
  const auto job = context_.session->job();
  if (!job) {  // its files do not read: the message line says why
    title_->setText(sentence_of("window.weld-no-job"));
    return;
  }
  picker_->set_job(job);
  const auto read = [this, job](const rating::Rating& rating) {
    try {
      welds_to_inspect_ = files::welds_to_inspect(
          *job, rating, files::read_procedures(files::path_beside_job(context_.session->folder(), "procedures"), today()));
    } catch (const Fault& fault) {
      context_.show_message(QStringLiteral("▼ ") + sentence_with_place(fault));
    }
  };
  // Until a rating stands, every weld is held to level B without undercut.
  read(context_.last ? context_.last->rating : rating::Rating{});
  connect(context_.rater, &Rater::finished, this, [this, read](const std::shared_ptr<const RatedJob>& rated) {
    context_.last = rated;
    read(rated->rating);
    show_weld();
  });
  show_states();
  if (picker_->list()->count() > 0) picker_->list()->setCurrentRow(0);
}

QWidget* InspectDesk::make_left() {
  picker_ = new WeldPicker(context_.modeller);
  auto* frame = new QWidget;
  auto* column = new QVBoxLayout(frame);
  column->setContentsMargins(0, 0, 0, 0);
  serial_ = gloved_line(sentence_of("inspect.serial"));
  serial_->setText(QString::fromStdString(context_.shift->serial));
  auto* label = new QLabel(sentence_of("inspect.serial"));
  label->setBuddy(serial_);
  column->addWidget(label);
  column->addWidget(serial_);
  picker_->put_above_search(frame);
  connect(serial_, &QLineEdit::editingFinished, this, &InspectDesk::show_states);
  connect(picker_, &WeldPicker::chosen, this, [this](QListWidgetItem* now) {
    weld_ = now->data(Qt::UserRole).toString().toStdString();
    for (const Measure& m : measures_) {  // what was measured at one weld says nothing of another
      m.field->clear();
      if (m.number) m.number->clear();
    }
    note_->clear();
    photo_->clear();
    show_weld();
  });
  return picker_;
}

void InspectDesk::add_measure(QGridLayout* grid, const std::string& imperfection, const QString& title) {
  Measure m;
  m.imperfection = imperfection;
  const int row = grid->rowCount();
  m.field = new NumberField(0, largest_imperfection, QStringLiteral("mm"));
  make_large(m.field);
  m.field->setFont(number_font());
  m.field->setMaximumWidth(140);
  name_control(m.field, title);
  if (imperfection.empty()) {
    m.number = gloved_line(sentence_of("inspect.other-number"));
    m.number->setPlaceholderText(sentence_of("inspect.other-number"));
    m.number->setMaximumWidth(220);
    grid->addWidget(m.number, row, 0);
    connect(m.number, &QLineEdit::textChanged, this, &InspectDesk::show_verdicts);
  } else {
    auto* label = new QLabel(title);
    label->setBuddy(m.field);
    grid->addWidget(label, row, 0);
  }
  m.limit = wrapped_label(body_font());
  m.limit->setMinimumWidth(110);
  m.verdict = wrapped_label(number_font());
  grid->addWidget(m.field->with_reading(), row, 1);
  grid->addWidget(m.limit, row, 2);
  grid->addWidget(m.verdict, row, 3);
  connect(m.field, &NumberField::changed, this, &InspectDesk::show_verdicts);
  measures_.push_back(m);
}

QWidget* InspectDesk::make_middle() {
  auto* middle = new QWidget;
  auto* column = new QVBoxLayout(middle);
  column->setContentsMargins(8, 0, 8, 0);
  title_ = wrapped_label(number_font());
  presumed_ = wrapped_label(body_font());
  column->addWidget(title_);
  column->addWidget(presumed_);
  auto* grid = new QGridLayout;
  grid->setColumnStretch(2, 1);
  for (const auto& [imperfection, title] :
       {std::pair("throat", MessageId("inspect.throat")), std::pair("5011", MessageId("inspect.undercut")),
        std::pair("507", MessageId("inspect.offset")), std::pair("617", MessageId("inspect.gap"))})
    add_measure(grid, imperfection, sentence_of(title));
  add_measure(grid, {}, sentence_of("inspect.other-size"));
  column->addLayout(grid);
  answer_ = wrapped_label(number_font());
  column->addWidget(answer_);
  limits_ = wrapped_label(body_font());
  limits_->setAlignment(Qt::AlignTop);
  limits_->setContentsMargins(12, 8, 12, 8);
  auto* area = new QScrollArea;
  area->setObjectName(QStringLiteral("sheet"));
  area->setWidgetResizable(true);
  area->setAccessibleName(sentence_of("inspect.all-limits"));
  area->setWidget(limits_);
  column->addWidget(area, 1);
  return middle;
}

QWidget* InspectDesk::make_right() {
  auto* right = new QWidget;
  auto* outer = new QVBoxLayout(right);
  outer->setContentsMargins(0, 0, 0, 0);
  auto* means = new QWidget;
  auto* column = new QVBoxLayout(means);
  column->setContentsMargins(0, 0, 0, 0);
  const auto add = [&](MessageId label, QWidget* control) {
    auto* title = new QLabel(sentence_of(label));
    title->setBuddy(control);
    column->addWidget(title);
    column->addWidget(control);
  };
  method_ = new QComboBox;
  make_large(method_);
  method_->setFont(number_font());
  name_control(method_, sentence_of("inspect.method"));
  tool_ = gloved_line(sentence_of("inspect.tool"));
  note_ = gloved_line(sentence_of("inspect.note"));
  photo_ = gloved_line(sentence_of("inspect.photo"));
  add("inspect.method", method_);
  add("inspect.tool", tool_);
  add("inspect.note", note_);
  add("inspect.photo", photo_);
  auto* look = new QPushButton(sentence_of("desk.look"));
  make_large(look);
  look->setAccessibleName(without_mnemonic("desk.look") + QLatin1Char(' ') + sentence_of("inspect.photo"));
  column->addWidget(look);
  connect(look, &QPushButton::clicked, this, [this] {
    const QString path = QFileDialog::getOpenFileName(this, sentence_of("inspect.photo"));
    if (!path.isEmpty()) photo_->setText(path);
  });
  column->addStretch(1);
  outer->addWidget(scrolling(means), 1);
  const auto button = [&](MessageId label, Decision decision) {
    auto* b = new QPushButton(sentence_of(label));
    make_large(b);
    b->setFont(number_font());
    outer->addWidget(b);
    connect(b, &QPushButton::clicked, this, [this, decision] { ask_record(decision); });
    return b;
  };
  accept_ = button("inspect.accept", Decision::accept);
  accept_->setObjectName(QStringLiteral("first"));
  reject_ = button("inspect.reject", Decision::reject);
  engineer_ = button("inspect.to-engineer", Decision::engineer);
  return right;
}

void InspectDesk::find() { picker_->find(); }

void InspectDesk::choose(const QString& weld) { picker_->choose(weld); }

const files::InspectedWeld* InspectDesk::inspected() const {
  const auto at = std::find_if(welds_to_inspect_.begin(), welds_to_inspect_.end(), [&](const auto& w) { return w.id == weld_; });
  return at == welds_to_inspect_.end() ? nullptr : &*at;
}

const joints::Weld* InspectDesk::weld() const {
  const auto job = context_.session->job();
  if (!job) return nullptr;
  const auto at = std::find_if(job->design.welds.begin(), job->design.welds.end(), [&](const auto& w) { return w.id == weld_; });
  return at == job->design.welds.end() ? nullptr : &*at;
}

void InspectDesk::show_weld() {
  const files::InspectedWeld* w = inspected();
  const joints::Weld* drawn = weld();
  if (!w || !drawn) return;
  picker_->show_in_frame(weld_);
  title_->setText(sentence_of("inspect.weld", {text("weld", weld_), number("throat", drawn->throat_mm, "mm"), text("methods", w->methods)}));
  presumed_->setText(sentence_of(
      !context_.last ? MessageId("inspect.presumed-unrated") : w->demand.no_undercut ? MessageId("inspect.presumed-no-undercut") : MessageId("inspect.presumed"),
      {text("level", std::string(1, w->demand.level)), term_argument("asked", "found.", w->demand.asked_by)}));
  QStringList methods, lines;
  for (const QString& method : QString::fromStdString(w->methods).split(QLatin1String(", "))) methods << method;
  const QString before = method_->currentText();
  method_->clear();
  method_->addItems(methods);
  if (methods.contains(before)) method_->setCurrentText(before);
  for (const files::LimitRow& row : w->limits)
    lines << sentence_of("inspect.limit-line", {text("number", row.number), term_argument("name", "imperfection.", row.name),
                                                term_argument("limit", "found.", row.limit)});
  limits_->setText(lines.join(QLatin1Char('\n')));
  show_verdicts();
}

std::string InspectDesk::imperfection_of(const Measure& m) const {
  return m.imperfection.empty() ? m.number->text().trimmed().toStdString() : m.imperfection;
}

std::vector<files::InspectedRow> InspectDesk::judged() const {
  std::vector<files::InspectedRow> rows;
  const auto job = context_.session->job();
  const files::InspectedWeld* w = inspected();
  const joints::Weld* drawn = weld();
  if (!job || !w || !drawn) return rows;
  for (const Measure& m : measures_) {
    const auto value = m.field->value();
    const std::string imperfection = imperfection_of(m);
    if (value && !imperfection.empty())
      rows.push_back(files::judged_finding({weld_, "", imperfection, *value, "", "", "", 0}, *drawn, job->design, w->demand));
  }
  return rows;
}

void InspectDesk::show_verdicts() {
  const files::InspectedWeld* w = inspected();
  const std::vector<files::InspectedRow> rows = judged();
  for (const Measure& m : measures_) {
    const std::string imperfection = imperfection_of(m);
    m.limit->clear();
    m.verdict->clear();
    if (!w || imperfection.empty()) continue;
    const auto row = std::find_if(rows.begin(), rows.end(), [&](const files::InspectedRow& r) { return r.finding.imperfection == imperfection; });
    const std::string limit = row != rows.end() ? row->limit : limit_on(*w, imperfection);
    if (!limit.empty()) m.limit->setText(sentence_of("inspect.limit", {term_argument("limit", "found.", limit)}));
    if (row != rows.end()) m.verdict->setText(cell_text(reports::judgement_state(row->judgement)));
  }
  const Judgement worst = worst_of(rows);
  answer_->setText(rows.empty() ? sentence_of("inspect.nothing-measured") : cell_text(reports::judgement_state(worst)));
  accept_->setEnabled(worst == Judgement::accepted);
}

// Each weld of the frame whose serial is typed stands with its state in the book.
void InspectDesk::show_states() {
  const std::string serial = serial_->text().trimmed().toStdString();
  std::vector<book::Record> inspections, welds;
  if (!context_.book.isEmpty() && !serial.empty()) {
    try {
      const book::Book book = book::Book::open_read(context_.book.toStdString());
      inspections = book.current({book::mark::frame, serial}, book::kind::inspection);
      for (const char* kind : {book::kind::weld, book::kind::repair})
        for (book::Record& r : book.current({book::mark::frame, serial}, kind)) welds.push_back(std::move(r));
    } catch (const Fault& fault) {
      context_.show_message(QStringLiteral("▼ ") + sentence_of(fault.message));
    }
  }
  for (int i = 0; i < picker_->list()->count(); ++i) {
    QListWidgetItem* item = picker_->list()->item(i);
    const std::string id = item->data(Qt::UserRole).toString().toStdString();
    std::int64_t welded = 0;
    for (const book::Record& r : welds)
      if (r.text_of(field::weld) == id) welded = std::max(welded, r.entry.seq);
    const book::Record* last = nullptr;
    for (const book::Record& r : inspections)
      if (r.text_of(field::weld) == id && r.entry.seq > welded) last = &r;
    const MessageId state = serial.empty() || welded == 0 ? MessageId("inspect.state-not-welded")
                            : !last                       ? MessageId("inspect.state-open")
                            : last->text_of(field::result) == "accept" ? MessageId("inspect.state-accepted")
                                                                       : MessageId("inspect.state-rejected");
    item->setData(state_role, welded > 0 && !last);
    // The row says which members the weld joins; its state stands behind that.
    if (item->data(joint_role).isNull()) item->setData(joint_role, item->text());
    item->setText(item->data(joint_role).toString() + (serial.empty() ? QString() : QStringLiteral("   ") + sentence_of(state)));
  }
}

std::vector<book::NewEntry> InspectDesk::records(Decision decision, const std::string& serial, const std::string& reason) const {
  const auto joined = [](const std::string& one, const std::string& other) { return one.empty() ? other : other.empty() ? one : one + "; " + other; };
  const std::string note = joined(note_->text().trimmed().toStdString(), reason), day = qualification::text_of(today());
  std::vector<files::InspectedRow> rows = judged();
  std::optional<book::Attachment> photo;
  if (!photo_->text().trimmed().isEmpty()) photo = book::read_attachment(photo_->text().trimmed().toStdString());
  if (decision == Decision::engineer) {
    std::string what = note;
    for (const files::InspectedRow& r : rows) what = joined(what, r.finding.imperfection + " " + QString::number(r.finding.value_mm).toStdString() + " mm");
    return {book::left_to_engineer(serial, weld_, moment_.empty() ? now_utc() : moment_, what, photo)};
  }
  // The last entry of a method is the one that counts: what is rejected comes last.
  std::stable_sort(rows.begin(), rows.end(), [](const auto& a, const auto& b) {
    return (a.judgement == Judgement::rejected) < (b.judgement == Judgement::rejected);
  });
  std::vector<book::NewEntry> all;
  book::Inspection seen{serial, weld_, method_->currentText().toStdString(), day, false, {}, {}, tool_->text().trimmed().toStdString(), note};
  for (const files::InspectedRow& row : rows) {
    seen.accepted = row.judgement == Judgement::accepted;
    seen.imperfection = row.finding.imperfection;
    seen.value_mm = row.finding.value_mm;
    all.push_back(book::inspection_record(seen, photo));
  }
  // A decision that no value says stands by itself.
  if (rows.empty() || (decision == Decision::reject && rows.back().judgement == Judgement::accepted)) {
    seen.accepted = decision == Decision::accept;
    seen.imperfection.clear();
    seen.value_mm.reset();
    all.push_back(book::inspection_record(seen, photo));
  }
  return all;
}

std::vector<Message> InspectDesk::concerns(Decision decision, const book::Book& book, const std::string& serial) const {
  std::vector<Message> all;
  if (!serial.empty() && book.current({book::mark::frame, serial}, book::kind::frame).empty())
    all.push_back({"desk.concern-frame", {text("serial", serial)}});
  const std::string tool = tool_->text().trimmed().toStdString();
  if (!tool.empty() && book.current({book::mark::tool, tool}, book::kind::tool).empty()) all.push_back({"inspect.concern-tool", {text("tool", tool)}});
  if (decision == Decision::accept && worst_of(judged()) != Judgement::accepted) all.push_back({"inspect.concern-limits", {}});
  return all;
}

void InspectDesk::ask_record(Decision decision) {
  for (const Measure& m : measures_)
    if (m.field->is_refused()) return context_.show_message(QStringLiteral("▼ ") + sentence_of("desk.no-number", {text("field", m.field->accessibleName().toStdString())}));
  // A number without its size, or a size without its number, would be lost in silence.
  for (const Measure& m : measures_)
    if (m.number && m.number->text().trimmed().isEmpty() != m.field->text().trimmed().isEmpty())
      return context_.show_message(QStringLiteral("▼ ") + sentence_of("desk.no-number", {text("field", m.field->accessibleName().toStdString())}));
  moment_ = now_utc();
  if (decision == Decision::engineer && note_->text().trimmed().isEmpty() && judged().empty())
    return context_.show_message(QStringLiteral("▼ ") + sentence_of("inspect.say-what"));
  if (context_.book.isEmpty()) context_.book = context_.make_book();
  if (context_.book.isEmpty()) return context_.show_message(sentence_of("window.record-no-book"));
  try {
    const book::Book book = book::Book::open_read(context_.book.toStdString());
    RecordDialog dialog(
        *context_.shift, context_.book,
        [this, decision](const std::string& serial, const std::string&, const std::string& reason) { return records(decision, serial, reason); },
        [this, decision, &book](const std::string& serial) { return concerns(decision, book, serial); }, this);
    dialog.setWindowTitle(sentence_of("inspect.record-title"));
    dialog.set_serial(serial_->text().trimmed());
    if (dialog.exec() != QDialog::Accepted) return;
    context_.shift->serial = dialog.serial();
    serial_->setText(QString::fromStdString(dialog.serial()));
    context_.book_grew();
    context_.show_message(sentence_of("window.recorded", {number("count", static_cast<double>(dialog.signed_count()), ""), text("serial", dialog.serial())}));
  } catch (const Fault& fault) {
    return context_.show_message(QStringLiteral("▼ ") + sentence_with_place(fault));
  }
  show_states();
  // The next weld that waits is chosen.
  const int row = picker_->list()->currentRow();
  for (int i = 1; i <= picker_->list()->count(); ++i)
    if (QListWidgetItem* next = picker_->list()->item((row + i) % picker_->list()->count()); next->data(state_role).toBool()) {
      picker_->list()->setCurrentItem(next);
      break;
    }
  measures_.front().field->setFocus();
}

}  // namespace seamwright::desktop

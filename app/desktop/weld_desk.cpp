// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/desktop/weld_desk.h"

#include <QComboBox>
#include <QDate>
#include <QFileDialog>
#include <QHBoxLayout>
#include <QLabel>
#include <QListWidget>
#include <QPushButton>
#include <QScrollArea>
#include <QSplitter>
#include <QVBoxLayout>
#include <algorithm>

#include "app/desktop/band_strip.h"
#include "app/desktop/begin_forms.h"
#include "app/desktop/dialogs.h"
#include "app/desktop/forms.h"
#include "app/desktop/number_field.h"
#include "app/desktop/pass_clock.h"
#include "app/desktop/paper_output.h"
#include "app/desktop/procedure_editor.h"
#include "app/desktop/record_form.h"
#include "app/desktop/test_piece_form.h"
#include "app/desktop/theme.h"
#include "app/desktop/weld_picker.h"
#include "app/desktop/window_words.h"
#include "catalog/book/records/weld_record.h"
#include "catalog/files/job_checks.h"
#include "engine/shape/fillet.h"
#include "engine/shape/plan.h"
#include "catalog/files/source.h"
#include "reports/pages/pages.h"
#include "reports/sheets/sheets.h"

namespace seamwright::desktop {

namespace {

constexpr int alone_role = Qt::UserRole + 1;  // a procedure looked at without a weld
// The machine shows this of a field of the record.
BandStrip* strip_of(const book::Kind& kind, const char* name) {
  const book::Field& field = *book::field_of(kind, name);
  return new BandStrip(sentence_of(field.control), QString::fromUtf8(field.unit), field.most);
}

// Set once at the table, for all welds of a shift; the other fields are of one weld.
const std::vector<std::string> at_table{book::field::machine, book::field::filler, book::field::gas};
const std::vector<std::string> read_at_machine{book::field::amperes, book::field::volts, book::field::speed_mm_s};

std::vector<std::string> names_but(const book::Kind& kind, const std::vector<std::string>& kept) {
  std::vector<std::string> others;
  for (const book::Field& f : kind.fields)
    if (std::find(kept.begin(), kept.end(), f.name) == kept.end()) others.emplace_back(f.name);
  return others;
}

double seam_length_of(const design::Design& design, const std::string& weld) {
  const shape::Plan plan = shape::plan_of(design);
  const auto body = std::find_if(plan.welds.begin(), plan.welds.end(), [&](const shape::WeldBody& w) { return w.id == weld; });
  const double length = body == plan.welds.end() ? 0 : shape::seam_length_mm(*body);
  return length > 0 ? length : 0;
}

void show_answer(QLabel* label, const reports::State& state, qualification::Answer answer, const QString& text) {
  label->setText(cell_text(state) + QStringLiteral(": ") + text);
  QPalette p = label->palette();
  p.setColor(QPalette::WindowText, answer == qualification::Answer::no ? colours().arc : colours().ink);
  label->setPalette(p);
}

}  // namespace

WeldDesk::WeldDesk(const Context& context) : context_(context) {
  auto* layout = new QHBoxLayout(this);
  layout->setContentsMargins(8, 8, 8, 8);
  auto* split = new QSplitter(Qt::Horizontal);
  picker_ = new WeldPicker(context_.modeller);
  picker_->list()->setSelectionMode(QAbstractItemView::ExtendedSelection);
  split->addWidget(picker_);
  split->addWidget(scrolling(make_middle()));
  split->addWidget(make_right());
  split->setStretchFactor(1, 1);
  split->setChildrenCollapsible(false);
  split->setSizes({360, 680, 380});
  layout->addWidget(split);
  connect(&task_, &Task::failed, this,
          [this](const Message& m) { context_.show_message(QStringLiteral("▼ ") + sentence_of(m)); });
  const auto job = context_.session->job();
  if (!job) {  // its files do not read: the message line says why
    title_->setText(sentence_of("window.weld-no-job"));
    return;
  }
  connect(picker_, &WeldPicker::chosen, this, [this](QListWidgetItem* now) {
    forget_readings();
    weld_ = now->data(Qt::UserRole).toString().toStdString();
    alone_ = now->data(alone_role).toString().toStdString();
    show_weld();
  });
  picker_->set_job(job);
  read_folder();
  suggest_known();
  for (const files::ProcedureFile& p : procedures_) {
    auto* item = new QListWidgetItem(
        sentence_of("desk.joint-alone", {text("procedure", p.sheet.id), text("name", p.sheet.name)}));
    item->setData(alone_role, QString::fromStdString(p.sheet.id));
    picker_->list()->addItem(item);
  }
  if (picker_->list()->count() > 0) picker_->list()->setCurrentRow(0);
}

void WeldDesk::read_folder() {
  try {
    procedures_ =
        files::read_procedures(files::path_beside_job(context_.session->folder(), "procedures"), today());
    certificates_ = files::read_certificates(
        files::path_beside_job(context_.session->folder(), "certificates.toml"), today());
  } catch (const Fault& fault) {
    context_.show_message(QStringLiteral("▼ ") + sentence_with_place(fault));
  }
  const QSignalBlocker quiet(certificate_);
  const QString before = certificate_->currentData().toString();
  certificate_->clear();
  for (const auto& c : certificates_.all)
    certificate_->addItem(visible_text(c.welder) + QLatin1Char(' ') + visible_text(c.id),
                          QString::fromStdString(c.id));
  if (const int row = certificate_->findData(before); row >= 0) certificate_->setCurrentIndex(row);
}

QWidget* WeldDesk::make_middle() {
  auto* middle = new QWidget;
  auto* column = new QVBoxLayout(middle);
  column->setContentsMargins(8, 0, 8, 0);
  title_ = wrapped_label(number_font());
  settings_ = wrapped_label(answer_font());
  settings_->setAccessibleName(sentence_of("window.what-to-set"));
  column->addWidget(title_);
  column->addWidget(settings_);
  auto* row = new QHBoxLayout;
  auto* label = new QLabel(sentence_of("window.run"));
  run_ = new QComboBox;
  make_large(run_);
  run_->setAccessibleName(sentence_of("window.run").remove(QLatin1Char('&')));
  label->setBuddy(run_);
  row->addWidget(label);
  row->addWidget(run_);
  row->addWidget(new QLabel(sentence_of("window.type-what-shows")), 1);
  column->addLayout(row);
  const book::Kind& kind = book::kind_named(book::kind::weld);
  amperes_ = strip_of(kind, book::field::amperes);
  volts_ = strip_of(kind, book::field::volts);
  speed_ = strip_of(kind, book::field::speed_mm_s);
  heat_ = new BandStrip(sentence_of("window.heat"), QStringLiteral("kJ/mm"), 0);
  for (BandStrip* strip : {amperes_, volts_, speed_, heat_}) {
    column->addWidget(strip);
    connect(strip, &BandStrip::changed, this, &WeldDesk::show_reading);
  }
  clock_ = new PassClock;
  column->addWidget(clock_);
  connect(clock_, &PassClock::measured, this, [this](double speed) { speed_->field()->setText(QString::number(speed, 'g', 3)); });
  cooling_ = wrapped_label(body_font());
  column->addWidget(cooling_);
  // Before the arc is struck, beside what the sheet says of it: the gap as measured, the purge as it flows.
  std::vector<std::string> elsewhere = read_at_machine;
  elsewhere.insert(elsewhere.end(), at_table.begin(), at_table.end());
  form_ = new RecordForm(kind, elsewhere);
  column->addWidget(form_);
  facts_ = wrapped_label(body_font());
  auto* area = new QScrollArea;
  area->setObjectName(QStringLiteral("sheet"));
  area->setWidgetResizable(true);
  area->setAccessibleName(sentence_of("window.rest-of-procedure"));
  facts_->setContentsMargins(12, 8, 12, 8);
  facts_->setAlignment(Qt::AlignTop);
  area->setWidget(facts_);
  column->addWidget(area, 1);
  connect(run_, &QComboBox::currentIndexChanged, this, [this] {
    forget_readings();
    show_run();
  });
  return middle;
}

QWidget* WeldDesk::make_right() {
  auto* right = new QWidget;
  auto* outer = new QVBoxLayout(right);
  outer->setContentsMargins(0, 0, 0, 0);
  auto* answers = new QWidget;
  auto* column = new QVBoxLayout(answers);
  column->setContentsMargins(0, 0, 0, 0);
  auto* label = new QLabel(sentence_of("window.who-welds"));
  certificate_ = new QComboBox;
  make_large(certificate_);
  certificate_->setAccessibleName(sentence_of("window.who-welds").remove(QLatin1Char('&')));
  label->setBuddy(certificate_);
  welder_answer_ = wrapped_label(number_font());
  procedure_answer_ = wrapped_label(number_font());
  cautions_ = wrapped_label(body_font());
  QStringList lines;
  for (const Message& m : reports::trade_cautions().texts) lines << QStringLiteral("!  ") + sentence_of(m);
  cautions_->setText(lines.join(QLatin1Char('\n')));
  column->addWidget(label);
  column->addWidget(certificate_);
  column->addWidget(welder_answer_);
  column->addSpacing(16);
  table_ = new RecordForm(book::kind_named(book::kind::weld), names_but(book::kind_named(book::kind::weld), at_table), 1);
  column->addWidget(new QLabel(sentence_of("desk.at-table")));
  column->addWidget(table_);
  for (const auto& [name, value] : context_.shift->at_table) table_->set_text(name, value);
  column->addSpacing(16);
  column->addWidget(procedure_answer_);
  column->addSpacing(16);
  column->addWidget(cautions_);
  column->addWidget(make_forms());
  column->addStretch(1);
  outer->addWidget(scrolling(answers), 1);
  print_ = new QPushButton(sentence_of("window.print-sheet"));
  record_ = new QPushButton(sentence_of("window.record-weld"));
  record_->setObjectName(QStringLiteral("first"));
  for (QPushButton* b : {print_, record_}) {
    make_large(b);
    b->setFont(number_font());
    outer->addWidget(b);
  }
  connect(print_, &QPushButton::clicked, this, &WeldDesk::print_sheet);
  connect(record_, &QPushButton::clicked, this, &WeldDesk::ask_record);
  connect(certificate_, &QComboBox::currentIndexChanged, this, &WeldDesk::show_answers);
  return right;
}

// The papers behind a weld, each by a form: needed seldom, so they scroll with the rest.
QWidget* WeldDesk::make_forms() {
  auto* box = new QWidget;
  auto* column = new QVBoxLayout(box);
  column->setContentsMargins(0, 16, 0, 0);
  new_procedure_ = new QPushButton(sentence_of("desk.new-procedure"));
  edit_procedure_ = new QPushButton(sentence_of("desk.edit-procedure"));
  new_record_ = new QPushButton(sentence_of("desk.new-record"));
  new_certificate_ = new QPushButton(sentence_of("desk.new-certificate"));
  for (QPushButton* b : {new_procedure_, edit_procedure_, new_record_, new_certificate_}) {
    make_large(b);
    column->addWidget(b);
  }
  connect(new_procedure_, &QPushButton::clicked, this, &WeldDesk::ask_procedure);
  connect(edit_procedure_, &QPushButton::clicked, this, &WeldDesk::ask_edit);
  connect(new_record_, &QPushButton::clicked, this, &WeldDesk::ask_test_piece);
  connect(new_certificate_, &QPushButton::clicked, this, &WeldDesk::ask_certificate);
  return box;
}

void WeldDesk::find() { picker_->find(); }

void WeldDesk::choose(const QString& weld) { picker_->choose(weld); }

std::vector<NumberField*> WeldDesk::fields() const {
  std::vector<NumberField*> all = form_->numbers();
  all.push_back(clock_->length());
  all.insert(all.begin(), {amperes_->field(), volts_->field(), speed_->field()});
  return all;
}

// Readings at one weld, or in one pass, say nothing of another.
void WeldDesk::forget_readings() {
  for (BandStrip* strip : {amperes_, volts_, speed_}) strip->field()->clear();
  form_->clear();
  clock_->clear();
}

std::vector<std::string> WeldDesk::chosen_welds() const {
  std::vector<std::string> all;
  for (const QListWidgetItem* item : picker_->list()->selectedItems())
    if (item->data(alone_role).isNull()) all.push_back(item->data(Qt::UserRole).toString().toStdString());
  if (all.empty() && !weld_.empty()) all.push_back(weld_);
  return all;
}

void WeldDesk::show_weld() {
  const auto job = context_.session->job();
  if (!job) return;
  picker_->show_in_frame(weld_);
  const auto& welds = job->design.welds;
  const auto weld = std::find_if(welds.begin(), welds.end(), [&](const auto& w) { return w.id == weld_; });
  if (weld == welds.end() && alone_.empty()) return;
  const std::string procedure = alone_.empty() ? weld->procedure : alone_;
  const auto file = std::find_if(procedures_.begin(), procedures_.end(),
                                 [&](const auto& p) { return p.sheet.id == procedure; });
  file_.reset();
  if (file != procedures_.end()) file_ = *file;
  title_->setText(!alone_.empty() ? sentence_of("desk.joint-alone", {text("procedure", procedure),
                                                                     text("name", file_->sheet.name)})
                  : file_ ? sentence_of("window.weld-by", {text("weld", weld_), text("procedure", procedure),
                                                           text("name", file_->sheet.name)})
                          : sentence_of("window.weld-without", {text("weld", weld_)}));
  record_->setEnabled(alone_.empty());
  {
    const QSignalBlocker quiet(run_);
    run_->clear();
    if (file_)
      for (const qualification::Run& r : file_->sheet.runs) run_->addItem(QString::number(r.number));
  }
  print_->setEnabled(file_.has_value());
  edit_procedure_->setEnabled(file_.has_value());
  new_record_->setEnabled(file_ && !file_->record);
  facts_->clear();
  if (file_) {
    QStringList lines;
    for (const reports::Facts::Fact& fact : reports::facts_by_hand(file_->sheet).facts)
      lines << sentence_of(fact.label) + QStringLiteral(": ") + cell_text(fact.value);
    facts_->setText(lines.join(QLatin1Char('\n')));
  }
  show_run();
  show_answers();
}

void WeldDesk::show_run() {
  const int run = run_->currentIndex();
  if (const auto job = context_.session->job(); job && alone_.empty()) clock_->set_length(seam_length_of(job->design, weld_));
  reports::Bands bands;
  if (file_ && run >= 0) bands = reports::bands_of(*file_, static_cast<std::size_t>(run));
  amperes_->set_band(bands.amperes);
  volts_->set_band(bands.volts);
  speed_->set_band(bands.speed_mm_s);
  settings_->clear();
  if (file_ && run >= 0) {
    QStringList parts;
    if (!file_->sheet.current.empty()) parts << visible_text(file_->sheet.current);
    for (const auto& [band, unit] :
         {std::pair(bands.amperes, "A"), std::pair(bands.volts, "V"), std::pair(bands.speed_mm_s, "mm/s")})
      parts << cell_text(reports::span_cell(band, unit));
    // Not broken within a span: a word joiner behind each dash.
    settings_->setText(parts.join(QStringLiteral("   ")).replace(u'–', QStringLiteral("–\u2060")));
  }
  show_reading();
}

void WeldDesk::show_reading() {
  reading_ = {};
  reports::Reading& r = reading_;
  const int run = run_->currentIndex();
  if (file_ && run >= 0) {
    try {
      r = reports::reading_of(*file_, static_cast<std::size_t>(run),
                              {amperes_->value(), volts_->value(), speed_->value()});
    } catch (const Fault& fault) {
      context_.show_message(sentence_of(fault.message));
    }
  }
  amperes_->show_value(amperes_->value(), r.amperes);
  volts_->show_value(volts_->value(), r.volts);
  speed_->show_value(speed_->value(), r.speed);
  heat_->set_band({r.least_heat, r.most_heat});
  heat_->show_value(r.heat_kj_mm, r.heat);
  cooling_->setText(r.shortest_cooling_s > 0
                        ? sentence_of("window.cooling-times", {number("thick", r.shortest_cooling_s, "s"),
                                                               number("thin", r.longest_cooling_s, "s")})
                        : sentence_of("window.cooling-unknown"));
}

// May I, and is the procedure fit: the first reason where not.
void WeldDesk::show_answers() {
  welder_answer_->clear();
  procedure_answer_->clear();
  procedure_fits_ = welder_covers_ = qualification::Answer::cannot_decide;
  if (!file_) return procedure_answer_->setText(sentence_of("welders.no-procedure"));
  try {
    files::ProcedureReport r =
        files::procedure_report({file_->path, context_.session->folder(), weld_,
                                 certificate_->currentData().toString().toStdString(), today(), today()});
    const qualification::Check welder = std::move(r.welder);
    r.welder.clear();
    r.answer = files::answer_of(r);
    procedure_fits_ = r.answer;
    welder_covers_ = qualification::verdict(welder);
    show_answer(procedure_answer_, reports::range_state(r.answer), r.answer, sentence_of(reports::procedure_answer(r).text));
    if (welder.empty()) return welder_answer_->setText(sentence_of("window.no-certificate"));
    const qualification::Item* reason = qualification::first_reason(welder);
    const auto& all = certificates_.all;
    const auto c =
        std::find_if(all.begin(), all.end(), [&](const auto& x) { return x.id == r.certificate_id; });
    show_answer(
        welder_answer_, reports::welder_state(qualification::verdict(welder)), qualification::verdict(welder),
        reason ? sentence_of("procedure.unfit", {term_argument("item", "item.", reason->item), term_argument("found", "found.", reason->found),
                                                 term_argument("covered", "found.", reason->covered)}) +
                     (reason->note.id.empty() ? QString() : QLatin1Char(' ') + sentence_of(reason->note))
               : sentence_of(
                     "window.qualified-to",
                     {text("day", qualification::text_of(qualification::holds_to(*c))), text("id", c->id)}));
  } catch (const Fault& fault) {
    context_.show_message(QStringLiteral("▼ ") + sentence_with_place(fault));
  }
}

// Ids that the book knows are offered while one types.
void WeldDesk::suggest_known() {
  if (context_.book.isEmpty()) return;
  try {
    const book::Book book = book::Book::open_read(context_.book.toStdString());
    const book::Kind& kind = book::kind_named(book::kind::weld);
    for (const char* name : {book::field::machine, book::field::filler, book::field::gas, book::field::lots})
      for (RecordForm* form : {form_, table_}) form->suggest(name, book.values_of(book::field_of(kind, name)->carried));
  } catch (const Fault&) {  // the recording tells
  }
}

void WeldDesk::ask_procedure() {
  const std::vector<std::string> welds = chosen_welds();
  if (welds.empty()) return context_.show_message(sentence_of("start.no-weld"));
  const QString file = ask_new_procedure(this, context_.session->folder(), welds, procedures_.empty() ? std::string() : procedures_.front().sheet.maker);
  if (file.isEmpty()) return;
  read_folder();
  show_weld();
  context_.show_message(sentence_of("start.procedure-written", {text("file", file.toStdString())}));
}

void WeldDesk::ask_edit() {
  if (!file_) return;
  try {
    if (!ask_edited_procedure(this, context_.session->folder(), file_->path)) return;
  } catch (const Fault& fault) {
    return context_.show_message(QStringLiteral("▼ ") + sentence_with_place(fault));
  }
  const std::string path = file_->path;
  read_folder();
  show_weld();
  context_.show_message(sentence_of("window.report-written", {text("file", path)}));
}

void WeldDesk::ask_test_piece() {
  try {
    if (!file_ || !ask_new_record(this, context_.session->folder(), *file_)) return;
  } catch (const Fault& fault) {
    return context_.show_message(QStringLiteral("▼ ") + sentence_with_place(fault));
  }
  read_folder();
  show_weld();
  context_.show_message(sentence_of("piece.written", {text("record", file_->sheet.record), text("file", file_->path)}));
}

void WeldDesk::ask_certificate() {
  if (!ask_new_certificate(this, context_.session->folder(), certificates_.employer)) return;
  read_folder();
  show_answers();
  context_.show_message(sentence_of("start.certificate-entered"));
}

void WeldDesk::print_sheet() {
  const auto job = context_.session->job();
  if (!file_ || !job) return;
  const QString path = QFileDialog::getSaveFileName(
      this, sentence_of("window.print-sheet").remove(QLatin1Char('&')),
      visible_text(file_->sheet.id) + QStringLiteral(".pdf"), QStringLiteral("PDF (*.pdf)"));
  if (path.isEmpty()) return;
  const files::ProcedureQuestion q{file_->path, context_.session->folder(),
                                   weld_,       certificate_->currentData().toString().toStdString(),
                                   today(),     today()};
  task_.start([this, path, q, job, book = context_.book,
               in = language()](const rating::Progress&) -> Task::Then {
    reports::Anchor anchor;
    if (!book.isEmpty()) {
      const book::Book b = book::Book::open_read(book.toStdString());
      anchor = reports::anchor_of(b, "");
    }
    files::write_text(path.toStdString(), reports::to_pdf(reports::procedure_sheet(files::procedure_report(q),
                                                                                   &job->design, anchor),
                                                          in, paper()));
    return [this, path] {
      context_.show_message(sentence_of("window.report-written", {text("file", path.toStdString())}));
    };
  });
}

}  // namespace seamwright::desktop

// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/desktop/weld_desk.h"

#include <QComboBox>
#include <QDate>
#include <QFileDialog>
#include <QHBoxLayout>
#include <QLabel>
#include <QLineEdit>
#include <QListWidget>
#include <QPushButton>
#include <QScrollArea>
#include <QSplitter>
#include <QVBoxLayout>
#include <algorithm>
#include <chrono>

#include "app/desktop/band_strip.h"
#include "app/desktop/dialogs.h"
#include "app/desktop/forms.h"
#include "app/desktop/frame_view.h"
#include "app/desktop/number_field.h"
#include "app/desktop/paper_output.h"
#include "app/desktop/record_dialog.h"
#include "app/desktop/record_form.h"
#include "app/desktop/solid_maker.h"
#include "app/desktop/theme.h"
#include "app/desktop/window_words.h"
#include "catalog/book/records/weld_record.h"
#include "catalog/files/job_checks.h"
#include "catalog/files/source.h"
#include "reports/pages/pages.h"
#include "reports/sheets/sheets.h"

namespace seamwright::desktop {

namespace {

constexpr int alone_role = Qt::UserRole + 1;  // a procedure looked at without a weld
constexpr int large_target = 48;              // pixels: for gloves

qualification::Date today() {
  return qualification::Date(std::chrono::floor<std::chrono::days>(std::chrono::system_clock::now()));
}

QLabel* wrapped(const QFont& font) {
  auto* label = new QLabel;
  label->setWordWrap(true);
  label->setTextFormat(Qt::PlainText);
  label->setFont(font);
  return label;
}

// The machine shows this of a field of the record.
BandStrip* strip_of(const book::Kind& kind, const char* name) {
  const book::Field& field = *book::field_of(kind, name);
  return new BandStrip(sentence_of(field.control), QString::fromUtf8(field.unit), field.most);
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
  split->addWidget(make_left());
  split->addWidget(make_middle());
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
  frame_->set_drawing(reports::frame_drawing(job->design));
  solids_->request(job);
  try {
    procedures_ =
        files::read_procedures(files::path_beside_job(context_.session->folder(), "procedures"), today());
    certificates_ = files::read_certificates(
        files::path_beside_job(context_.session->folder(), "certificates.toml"), today());
  } catch (const Fault& fault) {
    context_.show_message(QStringLiteral("▼ ") + sentence_with_place(fault));
  }
  for (const auto& c : certificates_.all)
    certificate_->addItem(visible_text(c.welder) + QLatin1Char(' ') + visible_text(c.id),
                          QString::fromStdString(c.id));
  for (const joints::Weld& w : job->design.welds) {
    auto* item =
        new QListWidgetItem(visible_text(w.id) + QStringLiteral("   ") + visible_text(w.member) +
                            (w.chord.empty() ? QString() : QStringLiteral(" › ") + visible_text(w.chord)));
    item->setData(Qt::UserRole, QString::fromStdString(w.id));
    welds_->addItem(item);
  }
  for (const files::ProcedureFile& p : procedures_) {
    auto* item = new QListWidgetItem(
        sentence_of("desk.joint-alone", {text("procedure", p.sheet.id), text("name", p.sheet.name)}));
    item->setData(alone_role, QString::fromStdString(p.sheet.id));
    welds_->addItem(item);
  }
  if (welds_->count() > 0) welds_->setCurrentRow(0);
}

QWidget* WeldDesk::make_left() {
  auto* left = new QWidget;
  auto* column = new QVBoxLayout(left);
  column->setContentsMargins(0, 0, 0, 0);
  frame_ = new FrameView;
  solids_ = new SolidMaker(context_.modeller, this);
  solids_->serve(*frame_);
  column->addWidget(frame_, 1);
  auto* label = new QLabel(sentence_of("window.which-weld"));
  filter_ = new QLineEdit;
  filter_->setPlaceholderText(sentence_of("window.find-weld"));
  filter_->setAccessibleName(sentence_of("window.which-weld").remove(QLatin1Char('&')));
  filter_->setMinimumHeight(large_target);
  filter_->setClearButtonEnabled(true);
  label->setBuddy(filter_);
  welds_ = new QListWidget;
  welds_->setAccessibleName(sentence_of("window.welds"));
  welds_->setFont(number_font());
  welds_->setSelectionMode(QAbstractItemView::ExtendedSelection);
  column->addWidget(label);
  column->addWidget(filter_);
  column->addWidget(welds_, 1);
  connect(frame_, &FrameView::flag_chosen, this, &WeldDesk::choose);
  connect(filter_, &QLineEdit::textChanged, this, [this](const QString& text) {
    for (int i = 0; i < welds_->count(); ++i)
      welds_->item(i)->setHidden(!welds_->item(i)->text().contains(text, Qt::CaseInsensitive));
  });
  connect(filter_, &QLineEdit::returnPressed, this, [this] {
    for (int i = 0; i < welds_->count(); ++i)
      if (!welds_->item(i)->isHidden()) return welds_->setCurrentRow(i);
  });
  connect(welds_, &QListWidget::currentItemChanged, this, [this](QListWidgetItem* now) {
    if (!now) return;
    forget_readings();
    weld_ = now->data(Qt::UserRole).toString().toStdString();
    alone_ = now->data(alone_role).toString().toStdString();
    show_weld();
  });
  return left;
}

QWidget* WeldDesk::make_middle() {
  auto* middle = new QWidget;
  auto* column = new QVBoxLayout(middle);
  column->setContentsMargins(8, 0, 8, 0);
  title_ = wrapped(number_font());
  settings_ = wrapped(answer_font());
  settings_->setAccessibleName(sentence_of("window.what-to-set"));
  column->addWidget(title_);
  column->addWidget(settings_);
  auto* row = new QHBoxLayout;
  auto* label = new QLabel(sentence_of("window.run"));
  run_ = new QComboBox;
  run_->setMinimumHeight(large_target);
  run_->setAccessibleName(sentence_of("window.run").remove(QLatin1Char('&')));
  label->setBuddy(run_);
  row->addWidget(label);
  row->addWidget(run_);
  row->addWidget(new QLabel(sentence_of("window.type-what-shows")), 1);
  column->addLayout(row);
  const book::Kind& kind = book::kind_named(book::kind::weld);
  const std::vector<std::string> read_at_machine{book::field::amperes, book::field::volts,
                                                 book::field::speed_mm_s};
  amperes_ = strip_of(kind, book::field::amperes);
  volts_ = strip_of(kind, book::field::volts);
  speed_ = strip_of(kind, book::field::speed_mm_s);
  heat_ = new BandStrip(sentence_of("window.heat"), QStringLiteral("kJ/mm"), 0);
  for (BandStrip* strip : {amperes_, volts_, speed_, heat_}) {
    column->addWidget(strip);
    connect(strip, &BandStrip::changed, this, &WeldDesk::show_reading);
  }
  cooling_ = wrapped(body_font());
  column->addWidget(cooling_);
  // Before the arc is struck, beside what the sheet says of it: the gap as measured, the purge as it flows.
  form_ = new RecordForm(kind, read_at_machine);
  column->addWidget(form_);
  facts_ = wrapped(body_font());
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
  auto* column = new QVBoxLayout(right);
  column->setContentsMargins(0, 0, 0, 0);
  auto* label = new QLabel(sentence_of("window.who-welds"));
  certificate_ = new QComboBox;
  certificate_->setMinimumHeight(large_target);
  certificate_->setAccessibleName(sentence_of("window.who-welds").remove(QLatin1Char('&')));
  label->setBuddy(certificate_);
  welder_answer_ = wrapped(number_font());
  procedure_answer_ = wrapped(number_font());
  cautions_ = wrapped(body_font());
  QStringList lines;
  for (const Message& m : reports::trade_cautions().texts) lines << QStringLiteral("!  ") + sentence_of(m);
  cautions_->setText(lines.join(QLatin1Char('\n')));
  column->addWidget(label);
  column->addWidget(certificate_);
  column->addWidget(welder_answer_);
  column->addSpacing(16);
  column->addWidget(procedure_answer_);
  column->addSpacing(16);
  column->addWidget(cautions_);
  column->addStretch(1);
  print_ = new QPushButton(sentence_of("window.print-sheet"));
  record_ = new QPushButton(sentence_of("window.record-weld"));
  record_->setObjectName(QStringLiteral("first"));
  for (QPushButton* b : {print_, record_}) {
    b->setMinimumHeight(large_target + 8);
    b->setFont(number_font());
    column->addWidget(b);
  }
  connect(print_, &QPushButton::clicked, this, &WeldDesk::print_sheet);
  connect(record_, &QPushButton::clicked, this, &WeldDesk::ask_record);
  connect(certificate_, &QComboBox::currentIndexChanged, this, &WeldDesk::show_answers);
  return right;
}

void WeldDesk::find() {
  filter_->setFocus();
  filter_->selectAll();
}

void WeldDesk::choose(const QString& weld) {
  for (int i = 0; i < welds_->count(); ++i)
    if (welds_->item(i)->data(Qt::UserRole).toString() == weld) return welds_->setCurrentRow(i);
}

std::vector<NumberField*> WeldDesk::fields() const {
  std::vector<NumberField*> all = form_->numbers();
  all.insert(all.begin(), {amperes_->field(), volts_->field(), speed_->field()});
  return all;
}

// Readings at one weld, or in one run, say nothing of another.
void WeldDesk::forget_readings() {
  for (BandStrip* strip : {amperes_, volts_, speed_}) strip->field()->clear();
  form_->clear();
}

std::vector<std::string> WeldDesk::chosen_welds() const {
  std::vector<std::string> all;
  for (const QListWidgetItem* item : welds_->selectedItems())
    if (item->data(alone_role).isNull()) all.push_back(item->data(Qt::UserRole).toString().toStdString());
  if (all.empty() && !weld_.empty()) all.push_back(weld_);
  return all;
}

void WeldDesk::show_weld() {
  const auto job = context_.session->job();
  if (!job) return;
  frame_->choose(QString::fromStdString(weld_));
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

std::vector<book::NewEntry> WeldDesk::records(const std::string& serial, const std::string& person,
                                              const std::string& reason) const {
  const auto read_at = [](const BandStrip* strip) {
    return strip->value() > 0 ? book::Weld::Number(strip->value()) : std::nullopt;
  };
  book::Weld weld;
  weld.frame = serial;
  weld.welder = person;
  weld.day = qualification::text_of(today());
  if (file_) {
    weld.procedure = file_->sheet.id;
    weld.revision = file_->sheet.revision;
  }
  if (run_->currentIndex() >= 0) weld.run = run_->currentText().toInt();
  weld.amperes = read_at(amperes_);
  weld.volts = read_at(volts_);
  weld.speed_mm_s = read_at(speed_);
  if (!reason.empty()) weld.reason = reason;
  book::enter(weld, form_->entered());
  std::vector<book::NewEntry> all;
  for (const std::string& id : chosen_welds()) {
    weld.weld = id;
    all.push_back(book::weld_record(weld));
  }
  return all;
}

std::vector<Message> WeldDesk::concerns(const book::Book& book, const std::string& serial) const {
  std::vector<Message> all;
  const auto outside = [&](MessageId what, reports::Place place) {
    if (place == reports::Place::outside)
      all.push_back({"desk.concern-outside", {sentence_argument("what", what)}});
  };
  outside("desk.outside-amperes", reading_.amperes);
  outside("desk.outside-volts", reading_.volts);
  outside("desk.outside-speed", reading_.speed);
  outside("desk.outside-heat", reading_.heat);
  if (!serial.empty() && book.current({book::mark::frame, serial}, book::kind::frame).empty())
    all.push_back({"desk.concern-frame", {text("serial", serial)}});
  if (procedure_fits_ != qualification::Answer::yes) all.push_back({"desk.concern-procedure", {}});
  if (welder_covers_ != qualification::Answer::yes) all.push_back({"desk.concern-welder", {}});
  return all;
}

void WeldDesk::ask_record() {
  for (const NumberField* field : fields())
    if (field->is_refused()) {
      const std::string name = field->accessibleName().toStdString();
      return context_.show_message(QStringLiteral("▼ ") +
                                   sentence_of("desk.no-number", {text("field", name)}));
    }
  if (context_.book.isEmpty()) context_.book = context_.make_book();
  if (context_.book.isEmpty()) return context_.show_message(sentence_of("window.record-no-book"));
  const book::Book book = book::Book::open_read(context_.book.toStdString());
  RecordDialog dialog(
      *context_.shift, context_.book,
      [this](const std::string& serial, const std::string& person, const std::string& reason) {
        return records(serial, person, reason);
      },
      [this, &book](const std::string& serial) { return concerns(book, serial); }, this);
  if (dialog.exec() != QDialog::Accepted) return;
  context_.book_grew();
  context_.show_message(sentence_of(
      "window.recorded",
      {number("count", static_cast<double>(dialog.signed_count()), ""), text("serial", dialog.serial())}));
}

}  // namespace seamwright::desktop

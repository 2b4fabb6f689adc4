// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/desktop/trace_desk.h"

#include <QDateTime>
#include <QFileDialog>
#include <QFileInfo>
#include <QHBoxLayout>
#include <QHeaderView>
#include <QLabel>
#include <QLineEdit>
#include <QListWidget>
#include <QPlainTextEdit>
#include <QProgressBar>
#include <QPushButton>
#include <QSplitter>
#include <QTreeWidget>
#include <QVBoxLayout>
#include <map>

#include "app/desktop/dialogs.h"
#include "app/desktop/paper_output.h"
#include "app/desktop/entry_dialog.h"
#include "app/desktop/forms.h"
#include "app/desktop/record_dialog.h"
#include "app/desktop/theme.h"
#include "app/desktop/window_words.h"
#include "catalog/book/gaps.h"
#include "catalog/book/job_records.h"
#include "catalog/book/records/names.h"
#include "catalog/book/verify.h"
#include "catalog/files/source.h"
#include "reports/content/book_blocks.h"
#include "reports/pages/pages.h"
#include "reports/sheets/sheets.h"

namespace seamwright::desktop {

namespace {

constexpr std::size_t most_found = 200;
constexpr int index_role = Qt::UserRole;

QString kind_word(const std::string& kind) { return sentence_of(composed_id("book.kind-", kind)); }

book::Book open_to_read(const QString& path) { return book::Book::open_read(path.toStdString()); }

std::string date_of_today() {
  return QDateTime::currentDateTimeUtc().date().toString(Qt::ISODate).toStdString();
}

QLabel* label_of(MessageId id) {
  auto* label = new QLabel(sentence_of(id));
  label->setTextFormat(Qt::PlainText);
  return label;
}

}  // namespace

TraceDesk::TraceDesk(const Context& context) : context_(context) {
  auto* layout = new QVBoxLayout(this);
  layout->setContentsMargins(8, 8, 8, 8);
  layout->addWidget(make_chain());
  auto* split = new QSplitter(Qt::Horizontal);
  split->addWidget(make_left());
  auto* middle = new QWidget;
  auto* column = new QVBoxLayout(middle);
  column->setContentsMargins(0, 0, 0, 0);
  title_ = label_of("window.story-empty");
  title_->setFont(number_font());
  title_->setWordWrap(true);
  column->addWidget(title_);
  story_ = new QTreeWidget;
  story_->setAccessibleName(sentence_of("window.story"));
  story_->setHeaderLabels({sentence_of("column.time"), sentence_of("column.kind"),
                           sentence_of("column.author"), sentence_of("column.says")});
  story_->setUniformRowHeights(true);
  story_->setTabKeyNavigation(false);
  column->addWidget(story_, 1);
  split->addWidget(middle);
  split->addWidget(make_right());
  split->setStretchFactor(1, 1);
  split->setChildrenCollapsible(false);
  split->setSizes({260, 720, 400});
  layout->addWidget(split, 1);
  connect(story_, &QTreeWidget::currentItemChanged, this, [this](QTreeWidgetItem* now) { show_entry(now); });
  connect(found_, &QListWidget::currentRowChanged, this, &TraceDesk::choose);
  connect(search_, &QLineEdit::textChanged, this, &TraceDesk::search);
  connect(&task_, &Task::failed, this, &TraceDesk::fail);
  connect(&task_, &Task::ended, this, [this] {
    progress_->hide();
    cancel_->hide();
  });
  setEnabled(!context_.book.isEmpty());
  if (context_.book.isEmpty()) title_->setText(sentence_of("window.story-no-book"));
  choose(-1);
}

QPushButton* TraceDesk::button(MessageId id, void (TraceDesk::*what)()) {
  auto* made = new QPushButton(sentence_of(id));
  connect(made, &QPushButton::clicked, this, what);
  return made;
}

// One line that tells whether the whole chain holds.
QWidget* TraceDesk::make_chain() {
  auto* line = new QWidget;
  auto* row = new QHBoxLayout(line);
  row->setContentsMargins(0, 0, 0, 0);
  chain_ = label_of("window.chain-unknown");
  chain_->setWordWrap(true);
  progress_ = new QProgressBar;
  progress_->setRange(0, 0);
  progress_->setMaximumWidth(160);
  progress_->setAccessibleName(sentence_of("window.chain-running"));
  progress_->hide();
  cancel_ = new QPushButton(sentence_of("window.stop"));
  cancel_->hide();
  connect(cancel_, &QPushButton::clicked, &task_, &Task::cancel);
  auto* label = label_of("window.head-of-paper");
  head_ = new QLineEdit;
  head_->setObjectName(QStringLiteral("head"));
  head_->setPlaceholderText(QStringLiteral("837:530f9983"));
  head_->setMaximumWidth(200);
  head_->setAccessibleName(sentence_of("window.head-of-paper").remove(QLatin1Char('&')));
  label->setBuddy(head_);
  verify_ = button("window.verify", &TraceDesk::verify);
  verify_->setObjectName(QStringLiteral("first"));
  row->addWidget(chain_, 1);
  row->addWidget(progress_);
  row->addWidget(cancel_);
  row->addWidget(label);
  row->addWidget(head_);
  row->addWidget(verify_);
  return line;
}

QWidget* TraceDesk::make_left() {
  auto* left = new QWidget;
  auto* column = new QVBoxLayout(left);
  column->setContentsMargins(0, 0, 0, 0);
  auto* label = label_of("window.search-book");
  search_ = new QLineEdit;
  search_->setAccessibleName(sentence_of("window.search-book").remove(QLatin1Char('&')));
  search_->setPlaceholderText(sentence_of("window.search-hint"));
  search_->setClearButtonEnabled(true);
  search_->setFont(number_font());
  label->setBuddy(search_);
  found_ = new QListWidget;
  found_->setAccessibleName(sentence_of("window.found"));
  column->addWidget(label);
  column->addWidget(search_);
  column->addWidget(found_, 1);
  print_ = button("window.print-record", &TraceDesk::print_record);
  gaps_ = button("window.show-gaps", &TraceDesk::gaps);
  recall_ = button("window.show-recall", &TraceDesk::recall);
  entry_button_ = button("desk.new-entry", &TraceDesk::ask_entry);
  job_ = button("desk.record-job", &TraceDesk::record_job);
  release_ = button("desk.release", &TraceDesk::release);
  for (QPushButton* b : {print_, gaps_, recall_, entry_button_, job_, release_}) column->addWidget(b);
  job_->setEnabled(context_.session != nullptr);
  return left;
}

QWidget* TraceDesk::make_right() {
  auto* right = new QWidget;
  auto* column = new QVBoxLayout(right);
  column->setContentsMargins(0, 0, 0, 0);
  entry_ = new QPlainTextEdit;
  entry_->setReadOnly(true);
  entry_->setAccessibleName(sentence_of("window.entry"));
  entry_->setTabChangesFocus(true);
  file_ = button("window.save-file", &TraceDesk::save_file);
  column->addWidget(entry_, 1);
  column->addWidget(file_);
  return right;
}

void TraceDesk::find() {
  search_->setFocus();
  search_->selectAll();
}

void TraceDesk::look_up(const QString& typed) {
  search_->setText(typed);
  if (found_->count() > 0) found_->setCurrentRow(0);
}

void TraceDesk::ask_entry() {
  const std::size_t count = ask_new_entry(this, *context_.shift, context_.book);
  if (count == 0) return;
  context_.book_grew();
  context_.show_message(sentence_of("desk.entered", {number("count", static_cast<double>(count), "")}));
  search();
}

void TraceDesk::sign(const QString& title, const QString& serial,
                     const std::function<std::vector<book::NewEntry>(const std::string&)>& entries) {
  RecordDialog dialog(
      *context_.shift, context_.book, [&](const std::string& frame, const std::string&, const std::string&) { return entries(frame); },
      [](const std::string&) { return std::vector<Message>(); }, this);
  dialog.setWindowTitle(title);
  dialog.set_serial(serial);
  dialog.ask_no_frame();
  if (dialog.exec() != QDialog::Accepted) return;
  context_.book_grew();
  context_.show_message(sentence_of("desk.entered", {number("count", static_cast<double>(dialog.signed_count()), "")}));
  search();
}

// Frames are held to a rating by counted histories of the very texts that enter the book.
void TraceDesk::record_job() {
  const auto job = context_.session ? context_.session->job() : nullptr;
  const auto& last = context_.last;
  if (!job || !last || last->job != job || last->method != rating::Method::time || !context_.session->is_saved())
    return context_.show_message(QStringLiteral("▼ ") + sentence_of("desk.count-first"));
  try {
    const auto entries = book::job_records(open_to_read(context_.book), context_.session->folder(), context_.session->text(File::design), last->rating,
                                           "seamwright " SEAMWRIGHT_VERSION, today());
    sign(without_mnemonic("desk.record-job"), {}, [&](const std::string&) { return entries; });
  } catch (const Fault& fault) {
    context_.show_message(QStringLiteral("▼ ") + sentence_with_place(fault));
  }
}

// A frame with open gaps is not released: they are shown in place of the signature.
void TraceDesk::release() {
  const int row = found_->currentRow();
  if (row < 0) return;
  const std::string serial = found_marks_[static_cast<std::size_t>(row)].value;
  try {
    const book::Book b = open_to_read(context_.book);
    if (!book::open_gaps(book::gaps(b, serial, date_of_today())).empty()) return gaps();
    const std::vector<book::NewEntry> entry{book::release_record(b, serial, date_of_today())};
    sign(without_mnemonic("desk.release"), QString::fromStdString(serial), [&](const std::string&) { return entry; });
  } catch (const Fault& fault) {
    fail(fault.message);
  }
}

void TraceDesk::search() {
  found_->clear();
  found_marks_.clear();
  if (context_.book.isEmpty()) return;
  try {
    found_marks_ =
        book::search(open_to_read(context_.book), search_->text().trimmed().toStdString(), most_found);
  } catch (const Fault& fault) {
    return fail(fault.message);
  }
  for (const book::Mark& m : found_marks_)
    found_->addItem(sentence_of(composed_id("mark.", m.name)) + QStringLiteral(": ") + visible_text(m.value));
  if (found_marks_.empty() && !search_->text().trimmed().isEmpty())
    found_->addItem(sentence_of("window.found-nothing"));
}

void TraceDesk::choose(int row) {
  story_->clear();
  records_.clear();
  show_entry(nullptr);
  const bool there = row >= 0 && static_cast<std::size_t>(row) < found_marks_.size();
  const bool frame = there && found_marks_[static_cast<std::size_t>(row)].name == book::mark::frame;
  print_->setEnabled(frame);
  gaps_->setEnabled(frame);
  release_->setEnabled(frame);
  recall_->setEnabled(there && !frame);
  if (!there) return;
  const book::Mark& what = found_marks_[static_cast<std::size_t>(row)];
  try {
    records_ = book::records_behind(open_to_read(context_.book), what);
  } catch (const Fault& fault) {
    return fail(fault.message);
  }
  title_->setText(
      sentence_of("window.story-of",
                  {sentence_argument("name", composed_id("mark.", what.name)), text("value", what.value),
                   number("count", static_cast<double>(records_.size()), "")}));
  std::map<std::int64_t, QTreeWidgetItem*> by_seq;
  for (std::size_t i = 0; i < records_.size(); ++i) {
    const book::Record& r = records_[i];
    // A correction hangs on what it corrects.
    const auto of_it = by_seq.find(r.replaces);
    auto* item = of_it != by_seq.end() ? new QTreeWidgetItem(of_it->second) : new QTreeWidgetItem(story_);
    item->setText(0, visible_text(r.entry.time.substr(0, 10)) + QLatin1Char(' ') +
                         visible_text(r.entry.time.substr(11, 5)));
    item->setText(
        1, kind_word(r.kind) + (r.replaced_by > 0
                                    ? QStringLiteral(" (") + sentence_of("window.replaced") + QLatin1Char(')')
                                    : QString()));
    item->setText(2, visible_text(r.entry.author));
    item->setText(3, cell_text(reports::line_of(r)).left(400));
    item->setData(0, index_role, static_cast<int>(i));
    item->setExpanded(true);
    by_seq[r.entry.seq] = item;
  }
  story_->expandAll();
  for (int column = 0; column < 3; ++column) story_->resizeColumnToContents(column);
  if (story_->topLevelItemCount() > 0) story_->setCurrentItem(story_->topLevelItem(0));
}

void TraceDesk::show_entry(QTreeWidgetItem* item) {
  file_->setEnabled(false);
  if (!item) return entry_->clear();
  const book::Record& r = records_[static_cast<std::size_t>(item->data(0, index_role).toInt())];
  QStringList lines{
      sentence_of("window.entry-place", {number("seq", static_cast<double>(r.entry.seq), "")}),
      sentence_of("column.kind") + QStringLiteral(": ") + kind_word(r.kind),
      sentence_of("column.time") + QStringLiteral(": ") + visible_text(reports::local_time(r.entry.time)),
      sentence_of("column.author") + QStringLiteral(": ") + visible_text(r.entry.author)};
  if (r.replaces > 0)
    lines << sentence_of("record.replaces", {number("of", static_cast<double>(r.replaces), "")});
  if (r.replaced_by > 0)
    lines << sentence_of("record.replaced", {number("by", static_cast<double>(r.replaced_by), "")});
  lines << QString() << QString::fromStdString(r.content.dump(2)) << QString()
        << sentence_of("window.entry-hash") + QLatin1Char('\n') + visible_text(r.entry.hash)
        << sentence_of("window.entry-prev") + QLatin1Char('\n') + visible_text(r.entry.prev)
        << sentence_of("window.entry-signature") + QLatin1Char('\n') + visible_text(r.entry.signature);
  entry_->setPlainText(lines.join(QLatin1Char('\n')));
  file_->setEnabled(r.content.is_object() && r.content.contains(book::field::file));
}

void TraceDesk::save_file() {
  const QTreeWidgetItem* item = story_->currentItem();
  if (!item) return;
  const book::Json& file =
      records_[static_cast<std::size_t>(item->data(0, index_role).toInt())].content[book::field::file];
  // Its name comes from outside: only the last part, and only as a suggestion.
  const QString name = QFileInfo(visible_text(file.value(book::field::name, std::string("file")))).fileName();
  const QString path = QFileDialog::getSaveFileName(this, sentence_of("window.save-file-title"), name);
  if (path.isEmpty()) return;
  task_.start([this, path, sha = file.value(book::field::sha256, std::string()),
               from = context_.book](const rating::Progress&) -> Task::Then {
    files::write_text(path.toStdString(), open_to_read(from).attachment(sha).value_or(""));
    return [this, path] {
      context_.show_message(sentence_of("window.report-written", {text("file", path.toStdString())}));
    };
  });
}

void TraceDesk::verify() {
  const std::string head = head_->text().trimmed().toStdString();
  const bool started =
      task_.start([this, head, from = context_.book](const rating::Progress& progress) -> Task::Then {
        const book::Book as_it_is = book::Book::open_read(from.toStdString(), book::Tables::as_they_are);
        const book::Verification v = book::verify(as_it_is, head, {}, progress.stop);
        book::remember(as_it_is, v, date_of_today());
        return [this, v] {
          book::Verification in_short = v;
          in_short.head = reports::short_head(v.head);
          const reports::Answer answer = reports::headline(in_short);
          chain_->setText(cell_text(answer.verdict) + QStringLiteral(": ") + sentence_of(answer.text));
          if (answer.verdict.name != "intact") show_document(this, reports::verified_document(v));
        };
      });
  if (!started) return context_.show_message(sentence_of("window.busy"));
  chain_->setText(sentence_of("window.chain-running"));
  progress_->show();
  cancel_->show();
}

void TraceDesk::print_record() {
  const int row = found_->currentRow();
  if (row < 0) return;
  const std::string serial = found_marks_[static_cast<std::size_t>(row)].value;
  const QString path = QFileDialog::getSaveFileName(
      this, sentence_of("window.print-record").remove(QLatin1Char('&')),
      visible_text(serial) + QStringLiteral(".pdf"), QStringLiteral("PDF (*.pdf)"));
  if (path.isEmpty()) return;
  task_.start(
      [this, path, serial, in = language(), from = context_.book](const rating::Progress&) -> Task::Then {
        const book::Book b = open_to_read(from);
        files::write_text(
            path.toStdString(),
            reports::to_pdf(reports::frame_sheet(b, book::trace(b, serial), date_of_today()), in, paper()));
        return [this, path] {
          context_.show_message(sentence_of("window.report-written", {text("file", path.toStdString())}));
        };
      });
}

void TraceDesk::recall() {
  const book::Mark what = found_marks_[static_cast<std::size_t>(found_->currentRow())];
  task_.start([this, what, from = context_.book](const rating::Progress&) -> Task::Then {
    const reports::Document d =
        reports::recall_document(what, book::recall(open_to_read(from), what, date_of_today()));
    return [this, d] { show_document(this, d); };
  });
}

void TraceDesk::gaps() {
  const std::string serial = found_marks_[static_cast<std::size_t>(found_->currentRow())].value;
  task_.start([this, serial, from = context_.book](const rating::Progress&) -> Task::Then {
    const reports::Document d =
        reports::gaps_document(book::state_of(open_to_read(from), serial, date_of_today()));
    return [this, d] { show_document(this, d); };
  });
}

void TraceDesk::fail(const Message& message) {
  chain_->setText(sentence_of("window.chain-unknown"));
  context_.show_message(QStringLiteral("▼ ") + sentence_of(message));
}

}  // namespace seamwright::desktop

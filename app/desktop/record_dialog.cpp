// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/desktop/record_dialog.h"

#include <QCheckBox>
#include <QDialogButtonBox>
#include <QFileDialog>
#include <QFormLayout>
#include <QLabel>
#include <QLineEdit>
#include <QPlainTextEdit>
#include <QPushButton>

#include "app/desktop/forms.h"
#include "app/desktop/window_words.h"
#include "reports/content/record_lines.h"

namespace seamwright::desktop {

namespace {

constexpr qsizetype shortest_reason = 10;  // characters: a word or two, not a blank

// As it will be printed, a field to a line.
QString record_text(const book::NewEntry& entry) {
  QString text;
  for (const auto& [label, value] : reports::lines_of(entry).facts)
    text += sentence_of(label) + QStringLiteral(": ") + cell_text(value) + QLatin1Char('\n');
  return text;
}

}  // namespace

RecordDialog::RecordDialog(Shift& shift, const QString& book, Entries entries, Concerns concerns,
                           QWidget* parent)
    : QDialog(parent),
      shift_(shift),
      book_(book.toStdString()),
      entries_(std::move(entries)),
      concerns_(std::move(concerns)) {
  setWindowTitle(without_mnemonic("window.record-weld"));
  auto* form = new QFormLayout(this);
  serial_ = add_line(form, "window.serial");
  person_ = add_line(form, "window.person");
  passphrase_ = add_line(form, "window.passphrase", {}, true);
  passphrase_->setPlaceholderText(sentence_of("window.passphrase-hint"));
  stay_ = new QCheckBox(sentence_of("desk.stay-unlocked"));
  form->addRow(stay_);
  concerned_ = new QLabel;
  concerned_->setTextFormat(Qt::PlainText);
  concerned_->setWordWrap(true);
  form->addRow(concerned_);
  reason_ = add_line(form, "desk.reason");
  shown_ = new QPlainTextEdit;
  shown_->setReadOnly(true);
  shown_->setTabChangesFocus(true);
  shown_->setMinimumSize(480, 240);
  shown_->setAccessibleName(without_mnemonic("window.will-be-sealed"));
  form->addRow(sentence_of("window.will-be-sealed"), shown_);
  wrong_ = add_fault(form);
  auto* buttons = new QDialogButtonBox;
  sign_ = buttons->addButton(sentence_of("window.sign"), QDialogButtonBox::ActionRole);
  buttons->addButton(sentence_of("window.cancel"), QDialogButtonBox::RejectRole);
  make_large(sign_);
  form->addRow(buttons);
  person_->setText(visible_text(shift_.person()));
  connect(serial_, &QLineEdit::textChanged, this, &RecordDialog::show_what);
  connect(person_, &QLineEdit::textChanged, this, &RecordDialog::show_what);
  connect(reason_, &QLineEdit::textChanged, this, &RecordDialog::show_what);
  connect(buttons, &QDialogButtonBox::rejected, this, &QDialog::reject);
  connect(sign_, &QPushButton::clicked, this, &RecordDialog::sign);
  connect(&task_, &Task::failed, this, [this](const Message& m) {
    show_fault(wrong_, m);
    sign_->setEnabled(true);
  });
  show_what();
}

std::string RecordDialog::serial() const { return serial_->text().toStdString(); }

void RecordDialog::set_serial(const QString& serial) { serial_->setText(serial); }

void RecordDialog::ask_no_frame() {
  serial_->hide();
  if (QWidget* label = qobject_cast<QFormLayout*>(layout())->labelForField(serial_)) label->hide();
}

std::string RecordDialog::reason() const { return reason_->text().trimmed().toStdString(); }

void RecordDialog::show_what() {
  const std::vector<Message> concerns = concerns_(serial());
  QStringList lines;
  for (const Message& m : concerns) lines << QStringLiteral("▼ ") + sentence_of(m);
  if (!lines.isEmpty()) lines << sentence_of("desk.reason-asked");
  concerned_->setText(lines.join(QLatin1Char('\n')));
  concerned_->setVisible(!lines.isEmpty());
  sign_->setEnabled(concerns.empty() || reason_->text().trimmed().size() >= shortest_reason);
  QString text;
  for (const book::NewEntry& n : entries_(serial(), person_->text().toStdString(), reason()))
    text += record_text(n) + QLatin1Char('\n');
  shown_->setPlainText(text);
}

// Opening a key takes a second of work on purpose: not in the window's thread.
void RecordDialog::sign() {
  const std::string person = person_->text().toStdString(), passphrase = passphrase_->text().toStdString();
  std::shared_ptr<book::OpenKey> key;
  if (person == shift_.person()) try {
      key = shift_.key(book::Book::open_read(book_).id());
    } catch (const Fault&) {  // the signing tells
    }
  const bool started =
      task_.start([this, person, passphrase, key, stay = stay_->isChecked(), path = book_,
                   entries = entries_(serial(), person, reason())](const rating::Progress&) -> Task::Then {
        SignedRecords done = sign_records(path, person, passphrase, key, entries);
        return [this, done, person, stay] {
          if (done.key && (stay || person == shift_.person())) shift_.unlock(done.book_id, person, done.key);
          count_ = done.count;
          accept();
        };
      });
  if (!started) return;
  sign_->setEnabled(false);
  wrong_->setText(sentence_of("desk.signing"));
}

QString ask_new_book(QWidget* parent) {
  QDialog dialog(parent);
  dialog.setWindowTitle(without_mnemonic("desk.new-book"));
  auto* form = new QFormLayout(&dialog);
  auto* why = new QLabel(sentence_of("desk.new-book-why"));
  why->setWordWrap(true);
  form->addRow(why);
  auto* file = add_path(form, "desk.book-file", [&dialog] {
    return QFileDialog::getSaveFileName(&dialog, without_mnemonic("desk.new-book"));
  });
  QLineEdit *owner = add_line(form, "desk.owner"), *stamp = add_line(form, "desk.stamp"),
            *first = add_line(form, "window.passphrase", {}, true),
            *again = add_line(form, "desk.again", {}, true);
  QLabel* wrong = add_fault(form);
  auto* buttons = new QDialogButtonBox;
  auto* make = buttons->addButton(sentence_of("desk.make-book"), QDialogButtonBox::ActionRole);
  buttons->addButton(sentence_of("window.cancel"), QDialogButtonBox::RejectRole);
  form->addRow(buttons);
  QObject::connect(buttons, &QDialogButtonBox::rejected, &dialog, &QDialog::reject);
  Task task;
  QObject::connect(&task, &Task::failed, &dialog, [&](const Message& m) {
    show_fault(wrong, m);
    make->setEnabled(true);
  });
  QObject::connect(make, &QPushButton::clicked, &dialog, [&] {
    if (first->text() != again->text()) return show_fault(wrong, {"desk.not-the-same", {}});
    make->setEnabled(false);
    task.start([&dialog, path = file->text().toStdString(), id = owner->text().toStdString(),
                mark = stamp->text().toStdString(),
                words = first->text().toStdString()](const rating::Progress&) -> Task::Then {
      book::Book::create(path, id, mark, words, now_utc());
      return [&dialog] { dialog.accept(); };
    });
  });
  return dialog.exec() == QDialog::Accepted ? file->text() : QString();
}

}  // namespace seamwright::desktop

// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/desktop/entry_dialog.h"

#include <QComboBox>
#include <QDialog>
#include <QDialogButtonBox>
#include <QFileDialog>
#include <QFormLayout>
#include <QLabel>
#include <QLineEdit>
#include <QPushButton>
#include <QScrollArea>
#include <QVBoxLayout>
#include <algorithm>
#include <array>

#include "app/desktop/forms.h"
#include "app/desktop/number_field.h"
#include "app/desktop/record_dialog.h"
#include "app/desktop/record_form.h"
#include "app/desktop/window_words.h"
#include "catalog/book/bulk.h"
#include "catalog/book/records/inspection_record.h"
#include "catalog/book/records/names.h"

namespace seamwright::desktop {

namespace {

// These are made elsewhere, from files or from what the book says: no form of fields makes them.
bool is_made_by_form(const book::Kind& kind) {
  constexpr std::array elsewhere{book::kind::person, book::kind::revoke, book::kind::role, book::kind::key, book::kind::erase,
                                 book::kind::format, book::kind::procedure, book::kind::qualification, book::kind::design,
                                 book::kind::rating, book::kind::exception, book::kind::release, book::kind::correction,
                                 book::kind::annulment, book::kind::verification};
  return std::find(elsewhere.begin(), elsewhere.end(), std::string_view(kind.name)) == elsewhere.end();
}

bool takes_file(const book::Kind& kind) {
  return std::any_of(kind.fields.begin(), kind.fields.end(), [](const book::Field& f) { return f.type == book::Type::file; });
}

struct EntryForm {
  const book::Kind* kind = nullptr;
  RecordForm* form = nullptr;
};

book::NewEntry entry_of(const EntryForm& e, const QString& file) {
  std::optional<book::Attachment> attached;
  if (!file.trimmed().isEmpty()) attached = book::read_attachment(file.trimmed().toStdString());
  return book::record_of_values(*e.kind, e.form->entered(), std::move(attached));
}

}  // namespace

std::size_t ask_new_entry(QWidget* parent, Shift& shift, const QString& book) {
  QDialog dialog(parent);
  dialog.setObjectName(QStringLiteral("new-entry"));
  dialog.setWindowTitle(sentence_of("desk.new-entry"));
  auto* form = new QFormLayout(&dialog);
  auto* kind = new QComboBox;
  make_large(kind);
  name_control(kind, sentence_of("desk.new-entry-kind"));
  for (const book::Kind& k : book::kinds())
    if (is_made_by_form(k)) kind->addItem(sentence_of(k.label), QLatin1String(k.name));
  form->addRow(sentence_of("desk.new-entry-kind"), kind);
  auto* area = new QScrollArea;
  area->setWidgetResizable(true);
  area->setMinimumSize(560, 360);
  form->addRow(area);
  auto* file = add_path(form, "desk.new-entry-file", [&dialog] { return QFileDialog::getOpenFileName(&dialog, sentence_of("desk.new-entry-file")); });
  QLabel* wrong = add_fault(form);
  auto* buttons = new QDialogButtonBox;
  QPushButton* on = buttons->addButton(sentence_of("desk.new-entry-sign"), QDialogButtonBox::ActionRole);
  buttons->addButton(sentence_of("window.cancel"), QDialogButtonBox::RejectRole);
  make_large(on);
  form->addRow(buttons);
  EntryForm now;
  const auto show = [&] {
    now.kind = &book::kind_named(kind->currentData().toString().toStdString());
    now.form = new RecordForm(*now.kind, {}, 2, RecordForm::Fields::all);
    area->setWidget(now.form);
    file->setEnabled(takes_file(*now.kind));
    file->clear();
    wrong->clear();
  };
  QObject::connect(kind, &QComboBox::currentIndexChanged, &dialog, show);
  QObject::connect(buttons, &QDialogButtonBox::rejected, &dialog, &QDialog::reject);
  std::size_t count = 0;
  QObject::connect(on, &QPushButton::clicked, &dialog, [&] {
    for (const NumberField* field : now.form->numbers())
      if (field->is_refused()) return show_fault(wrong, {"desk.no-number", {text("field", field->accessibleName().toStdString())}});
    try {
      const book::NewEntry entry = entry_of(now, file->text());
      RecordDialog sign(
          shift, book, [&](const std::string&, const std::string&, const std::string&) { return std::vector{entry}; },
          [](const std::string&) { return std::vector<Message>(); }, &dialog);
      sign.setWindowTitle(sentence_of("desk.new-entry"));
      sign.ask_no_frame();
      if (sign.exec() != QDialog::Accepted) return;
      count = sign.signed_count();
      dialog.accept();
    } catch (const Fault& fault) {
      show_fault(wrong, fault.message);
    }
  });
  show();
  dialog.exec();
  return count;
}

}  // namespace seamwright::desktop

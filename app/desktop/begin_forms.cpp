// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/desktop/begin_forms.h"

#include <QComboBox>
#include <QDialog>
#include <QDialogButtonBox>
#include <QFormLayout>
#include <QLabel>
#include <QLineEdit>
#include <QPlainTextEdit>
#include <QPushButton>

#include "app/desktop/forms.h"
#include "app/desktop/theme.h"
#include "app/desktop/window_words.h"
#include "catalog/files/begin_procedure.h"
#include "catalog/files/job_checks.h"
#include "catalog/files/job_reader.h"
#include "catalog/published/published_data.h"
#include "engine/design/design.h"
#include "engine/qualification/welder.h"

namespace seamwright::desktop {

namespace {

QLabel* add_words(QFormLayout* form) {
  auto* label = new QLabel;
  label->setWordWrap(true);
  label->setTextFormat(Qt::PlainText);
  form->addRow(label);
  return label;
}

QPushButton* add_buttons(QFormLayout* form, QDialog& dialog, MessageId label) {
  auto* buttons = new QDialogButtonBox;
  QPushButton* make = buttons->addButton(sentence_of(label), QDialogButtonBox::ActionRole);
  buttons->addButton(sentence_of("window.cancel"), QDialogButtonBox::RejectRole);
  make_large(make);
  form->addRow(buttons);
  QObject::connect(buttons, &QDialogButtonBox::rejected, &dialog, &QDialog::reject);
  return make;
}

std::string typed(const QLineEdit* line) { return line->text().trimmed().toStdString(); }

QComboBox* add_choice(QFormLayout* form, MessageId label) {
  auto* choice = new QComboBox;
  make_large(choice);
  name_control(choice, without_mnemonic(label));
  form->addRow(sentence_of(label), choice);
  return choice;
}

}  // namespace

QString ask_new_procedure(QWidget* parent, const std::string& job, const std::vector<std::string>& welds, const std::string& maker) {
  QDialog dialog(parent);
  dialog.setObjectName(QStringLiteral("new-procedure"));
  dialog.setWindowTitle(sentence_of("desk.new-procedure"));
  auto* form = new QFormLayout(&dialog);
  QLabel* for_welds = add_words(form);
  std::string names;
  for (const std::string& w : welds) names += (names.empty() ? "" : ", ") + w;
  for_welds->setText(sentence_of("start.for-welds", {text("welds", names)}));
  QComboBox* like = add_choice(form, "start.like");
  for (const files::ProcedureStart& s : files::procedure_starts) like->addItem(sentence_of(s.name), QLatin1String(s.id));
  QLineEdit *id = add_line(form, "field.id"), *name = add_line(form, "field.name"), *by = add_line(form, "start.maker", visible_text(maker)),
            *filler = add_line(form, "desk.filler-designation");
  for (QLineEdit* line : {id, name, by, filler}) make_large(line);
  auto* shown = new QPlainTextEdit;
  shown->setReadOnly(true);
  shown->setTabChangesFocus(true);
  shown->setMinimumSize(480, 220);
  shown->setAccessibleName(sentence_of("start.shown"));
  form->addRow(sentence_of("start.shown"), shown);
  QLabel* wrong = add_fault(form);
  QPushButton* make = add_buttons(form, dialog, "start.write");
  const auto wanted = [&] {
    files::NewProcedure n;
    n.id = typed(id);
    n.name = typed(name);
    n.maker = typed(by);
    n.filler = typed(filler);
    n.like = like->currentData().toString().toStdString();
    n.welds = welds;
    n.wording = files::Wording(language().file->code);
    return n;
  };
  // The file is shown while one types, or why it cannot be written.
  const auto show = [&] {
    make->setEnabled(!typed(id).empty());
    wrong->clear();
    try {
      shown->setPlainText(visible_text(files::procedure_text(wanted(), files::read_design(files::design_path(job), published::catalog()))));
    } catch (const Fault& fault) {
      shown->clear();
      show_fault(wrong, fault.message);
      make->setEnabled(false);
    }
  };
  for (QLineEdit* line : {id, name, by, filler}) QObject::connect(line, &QLineEdit::textChanged, &dialog, show);
  QObject::connect(like, &QComboBox::currentIndexChanged, &dialog, show);
  QString written;
  QObject::connect(make, &QPushButton::clicked, &dialog, [&] {
    try {
      written = QString::fromStdString(files::begin_procedure(job, wanted()));
      dialog.accept();
    } catch (const Fault& fault) {
      show_fault(wrong, fault.message);
    }
  });
  show();
  return dialog.exec() == QDialog::Accepted ? written : QString();
}

bool ask_new_certificate(QWidget* parent, const std::string& job, const std::string& employer) {
  QDialog dialog(parent);
  dialog.setObjectName(QStringLiteral("new-certificate"));
  dialog.setWindowTitle(sentence_of("desk.new-certificate"));
  auto* form = new QFormLayout(&dialog);
  QLineEdit *id = add_line(form, "field.id"), *welder = add_line(form, "label.welder"), *designation = add_line(form, "label.designation"),
            *tested = add_line(form, "label.tested"), *by = add_line(form, "label.employer", visible_text(employer));
  designation->setPlaceholderText(QStringLiteral("ISO 9606-1 141 T BW FM1 S s2 D38 H-L045 ss nb"));
  designation->setMinimumWidth(420);
  tested->setPlaceholderText(QStringLiteral("2026-05-04"));
  by->setEnabled(employer.empty());
  QComboBox* route = add_choice(form, "label.route");
  for (const char* r : {"b", "a", "c"}) route->addItem(QLatin1String(r));
  for (QLineEdit* line : {id, welder, designation, tested, by}) make_large(line);
  QLabel* ranges = add_words(form);
  QLabel* wrong = add_fault(form);
  QPushButton* make = add_buttons(form, dialog, "start.enter");
  // The ranges of the designation are shown while one types.
  QObject::connect(designation, &QLineEdit::textChanged, &dialog, [&] {
    ranges->clear();
    try {
      const qualification::Designation d = qualification::read_designation(typed(designation));
      const qualification::Range wall = d.fillet ? qualification::fillet_range(d.thickness_mm) : qualification::butt_range(d.thickness_mm);
      std::string positions;
      for (const std::string& p : d.positions)
        for (const std::string& c : qualification::positions_covered(p, d.fillet)) positions += (positions.empty() ? "" : ", ") + c;
      ranges->setText(sentence_of("start.covers-welder", {term_argument("wall", "found.", qualification::text_of(wall, "mm")),
                                                          term_argument("diameter", "found.", d.diameter_mm > 0 ? qualification::text_of(qualification::diameter_range(d.diameter_mm), "mm") : "plate"),
                                                          text("positions", positions)}));
    } catch (const Fault& fault) {
      ranges->setText(sentence_of(fault.message));
    }
  });
  QObject::connect(make, &QPushButton::clicked, &dialog, [&] {
    try {
      files::add_certificate(job, {typed(id), typed(welder), typed(designation), typed(tested), route->currentText().toStdString(), typed(by)});
      dialog.accept();
    } catch (const Fault& fault) {
      show_fault(wrong, fault.message);
    }
  });
  return dialog.exec() == QDialog::Accepted;
}

}  // namespace seamwright::desktop

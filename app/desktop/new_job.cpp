// SPDX-License-Identifier: GPL-3.0-or-later
// A job begun from a few measures.
#include <QDialog>
#include <QDialogButtonBox>
#include <QFileDialog>
#include <QFormLayout>
#include <QLabel>
#include <QLineEdit>
#include <QPushButton>

#include "app/desktop/dialogs.h"
#include "app/desktop/forms.h"
#include "app/desktop/number_field.h"
#include "app/desktop/window_words.h"
#include "catalog/files/begin.h"
#include "catalog/published/published_data.h"

namespace seamwright::desktop {

namespace {

NumberField* measure(QFormLayout* form, MessageId label, const files::MeasureRange& range, double value) {
  auto* box = new NumberField(range.least, range.most, QStringLiteral("mm"));
  box->setValue(value);
  const QString takes =
      sentence_of("field.takes", {number("least", range.least, "mm"), number("most", range.most, "mm")});
  box->setToolTip(takes);
  box->setWhatsThis(takes);
  name_control(box, without_mnemonic(label));
  auto* title = new QLabel(sentence_of(label));
  title->setBuddy(box);
  form->addRow(title, box->with_reading());
  return box;
}

double measured(const NumberField* box, MessageId label) {
  if (const auto value = box->value()) return *value;
  throw Fault{Message{"desk.no-number", {text("field", without_mnemonic(label).toStdString())}}};
}

}  // namespace

QString ask_new_job(QWidget* parent) {
  QDialog dialog(parent);
  dialog.setWindowTitle(without_mnemonic("window.menu-new"));
  auto* form = new QFormLayout(&dialog);
  auto* why = new QLabel(sentence_of("desk.new-job-why"));
  why->setWordWrap(true);
  form->addRow(why);
  files::Measures m;
  auto* name = add_line(form, "desk.new-name", sentence_of("desk.new-trike"));
  auto* wheelbase = measure(form, "desk.wheelbase", files::wheelbase_range, m.wheelbase_mm);
  auto* track = measure(form, "desk.track", files::track_range, m.track_mm);
  auto* box_width = measure(form, "desk.box-width", files::box_width_range, m.box_width_mm);
  auto* platform = add_line(form, "desk.platform-tube", QStringLiteral("40x2"));
  auto* spine = add_line(form, "desk.spine-tube", QStringLiteral("60x3"));
  auto* folder = add_path(form, "desk.new-folder", [&dialog] {
    return QFileDialog::getExistingDirectory(&dialog, without_mnemonic("desk.new-folder"));
  });
  auto* wrong = add_fault(form);
  auto* buttons = new QDialogButtonBox;
  auto* make = buttons->addButton(sentence_of("desk.make-job"), QDialogButtonBox::ActionRole);
  make->setDefault(true);
  buttons->addButton(sentence_of("window.cancel"), QDialogButtonBox::RejectRole);
  form->addRow(buttons);
  QObject::connect(buttons, &QDialogButtonBox::rejected, &dialog, &QDialog::reject);
  QObject::connect(make, &QPushButton::clicked, &dialog, [&] {
    try {
      if (folder->text().trimmed().isEmpty())
        throw Fault{
            Message{"desk.missing", {text("field", without_mnemonic("desk.new-folder").toStdString())}}};
      m.name = name->text().toStdString();
      m.wheelbase_mm = measured(wheelbase, "desk.wheelbase");
      m.track_mm = measured(track, "desk.track");
      m.box_width_mm = measured(box_width, "desk.box-width");
      m.platform = files::round_tube_of(platform->text().toStdString());
      m.spine = files::round_tube_of(spine->text().toStdString());
      files::begin_job(folder->text().toStdString(), m, published::catalog());
      dialog.accept();
    } catch (const Fault& fault) {
      show_fault(wrong, fault.message);
    } catch (const std::exception& error) {
      show_fault(wrong, {"window.failed", {text("what", error.what())}});
    }
  });
  return dialog.exec() == QDialog::Accepted ? folder->text() : QString();
}

}  // namespace seamwright::desktop

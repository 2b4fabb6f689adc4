// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/desktop/study_page.h"

#include <QComboBox>
#include <QFileDialog>
#include <QFormLayout>
#include <QHBoxLayout>
#include <QLabel>
#include <QLineEdit>
#include <QProgressBar>
#include <QPushButton>
#include <QTimer>
#include <QVBoxLayout>

#include "app/desktop/document_view.h"
#include "app/desktop/forms.h"
#include "app/desktop/joint_maker.h"
#include "app/desktop/number_field.h"
#include "app/desktop/paper_output.h"
#include "app/desktop/theme.h"
#include "app/desktop/window_words.h"
#include "catalog/files/source.h"
#include "reports/render/render.h"

namespace seamwright::desktop {

namespace {

using Kind = StudyField::Kind;

}  // namespace

StudyPage::StudyPage(const Study& study, JobSession& session, const JointMaker& joints, QWidget* parent)
    : QWidget(parent), study_(study), session_(session), joints_(joints) {
  auto* layout = new QVBoxLayout(this);
  layout->setContentsMargins(0, 8, 0, 0);
  auto* why = new QLabel(sentence_of(study.why));
  why->setWordWrap(true);
  layout->addWidget(why);
  auto* form = new QFormLayout;
  form->setFieldGrowthPolicy(QFormLayout::AllNonFixedFieldsGrow);
  for (const StudyField& f : study.fields) add_field(form, f);
  layout->addLayout(form);
  auto* row = new QHBoxLayout;
  work_ = new QPushButton(sentence_of("desk.work"));
  work_->setObjectName(QStringLiteral("first"));
  stop_ = new QPushButton(sentence_of("desk.stop"));
  write_ = new QPushButton(sentence_of("desk.write"));
  progress_ = new QProgressBar;
  progress_->setAccessibleName(sentence_of("window.progress"));
  progress_->setMaximumWidth(240);
  progress_->setTextVisible(false);
  row->addWidget(work_);
  row->addWidget(stop_);
  row->addWidget(progress_);
  row->addStretch(1);
  row->addWidget(write_);
  layout->addLayout(row);
  note_ = new QLabel;
  note_->setWordWrap(true);
  note_->setTextFormat(Qt::PlainText);
  layout->addWidget(note_);
  view_ = new DocumentView;
  view_->setAccessibleName(sentence_of(study.name));
  view_->setMinimumHeight(80);
  layout->addWidget(view_, 1);
  for (QWidget* w : {static_cast<QWidget*>(stop_), static_cast<QWidget*>(progress_)}) w->hide();
  write_->setEnabled(false);
  note_->hide();
  setFocusProxy(work_);
  list_choices();
  listen();
}

void StudyPage::listen() {
  connect(work_, &QPushButton::clicked, this, &StudyPage::run_study);
  connect(stop_, &QPushButton::clicked, this, &StudyPage::stop);
  connect(write_, &QPushButton::clicked, this, &StudyPage::write);
  connect(&task_, &Task::progress, this, [this](double share) {
    progress_->setRange(0, 1000);
    progress_->setValue(static_cast<int>(1000 * share));
  });
  connect(&task_, &Task::ended, this, [this] {
    work_->setEnabled(true);
    stop_->hide();
    progress_->hide();
    QTimer::singleShot(0, this, &StudyPage::ended);  // once the answer stands
  });
  connect(&task_, &Task::failed, this, [this](const Message& m) {
    show_fault(note_, m);
    note_->show();
  });
  connect(&session_, &JobSession::changed, this, [this] {
    list_choices();
    show_stale();
  });
}

void StudyPage::add_field(QFormLayout* form, const StudyField& f) {
  QWidget* edit = nullptr;
  if (f.kind == Kind::number) {
    auto* box = new NumberField(f.least, f.most, QLatin1String(f.unit));
    box->setValue(f.value);
    box->setMaximumWidth(180);
    connect(box, &QLineEdit::returnPressed, this, &StudyPage::run_study);
    edit = box;
  } else if (f.kind == Kind::choice) {
    auto* box = new QComboBox;
    box->setMaximumWidth(320);
    edit = box;
  } else {
    auto* line = new QLineEdit;
    line->setClearButtonEnabled(true);
    connect(line, &QLineEdit::returnPressed, this, &StudyPage::run_study);
    edit = line;
  }
  const QString help = sentence_of(f.help);
  name_control(edit, without_mnemonic(f.label));
  edit->setAccessibleDescription(help);
  edit->setToolTip(help);
  edit->setWhatsThis(help);
  fields_[QLatin1String(f.id)] = edit;
  auto* name = new QLabel(sentence_of(f.label) + (f.needed ? QStringLiteral(" *") : QString()));
  name->setBuddy(edit);
  auto* box = qobject_cast<NumberField*>(edit);
  form->addRow(name, box ? box->with_reading() : path_field(f, edit));
}

QWidget* StudyPage::path_field(const StudyField& f, QWidget* edit) {
  if (f.kind != Kind::file && f.kind != Kind::new_file) return edit;
  auto* both = new QWidget;
  both->setSizePolicy(QSizePolicy::Preferred, QSizePolicy::Fixed);
  auto* row = new QHBoxLayout(both);
  row->setContentsMargins(0, 0, 0, 0);
  auto* look = new QPushButton(sentence_of("desk.look"));
  look->setAccessibleName(without_mnemonic("desk.look") + QLatin1Char(' ') + without_mnemonic(f.label));
  row->addWidget(edit, 1);
  row->addWidget(look);
  connect(look, &QPushButton::clicked, this, [this, f, edit] {
    const QString start = visible_text(session_.folder()), title = without_mnemonic(f.label);
    const QString path = f.kind == Kind::new_file ? QFileDialog::getSaveFileName(this, title, start)
                                                  : QFileDialog::getOpenFileName(this, title, start);
    if (!path.isEmpty()) static_cast<QLineEdit*>(edit)->setText(path);
  });
  return both;
}

// Lists what the job offers; what was chosen stays where it still is there.
void StudyPage::list_choices() {
  const auto job = session_.job();
  if (!job) return;
  for (const StudyField& f : study_.fields) {
    if (f.kind != Kind::choice) continue;
    auto* box = static_cast<QComboBox*>(fields_[QLatin1String(f.id)]);
    const QString before = box->currentText();
    box->clear();
    box->addItems(f.choices(*job));
    box->setCurrentIndex(std::max(0, box->findText(before)));
  }
}

bool StudyPage::set_field(const QString& id, const QString& value) {
  QWidget* w = fields_.value(id);
  if (auto* line = qobject_cast<QLineEdit*>(w)) line->setText(value);
  if (auto* box = qobject_cast<QComboBox*>(w)) box->setCurrentText(value);
  return w != nullptr;
}

StudyInput StudyPage::input() const {
  StudyInput in;
  in.job = joints_.with_models(session_.job());
  in.folder = session_.folder();
  in.design_path = session_.path(File::design);
  in.design_text = session_.text(File::design);
  for (auto it = fields_.begin(); it != fields_.end(); ++it) {
    const auto* number = qobject_cast<const NumberField*>(it.value());
    if (number) in.numbers[it.key()] = number->value().value_or(std::nan(""));
    if (const auto* line = qobject_cast<const QLineEdit*>(it.value()); line && !number)
      in.words[it.key()] = line->text();
    if (const auto* box = qobject_cast<const QComboBox*>(it.value())) in.words[it.key()] = box->currentText();
  }
  return in;
}

QString StudyPage::missing() const {
  if (!session_.job()) return sentence_of("window.weld-no-job");
  for (const StudyField& f : study_.fields)
    if (const auto* number = qobject_cast<const NumberField*>(fields_[QLatin1String(f.id)]);
        number && !number->value())
      return sentence_of("desk.no-number", {text("field", without_mnemonic(f.label).toStdString())});
  for (const StudyField& f : study_.fields)
    if (const auto* line = qobject_cast<const QLineEdit*>(fields_[QLatin1String(f.id)]);
        f.needed && line && line->text().trimmed().isEmpty())
      return sentence_of("desk.missing", {text("field", without_mnemonic(f.label).toStdString())});
  return {};
}

bool StudyPage::run_study() {
  if (const QString why = missing(); !why.isEmpty()) {
    note_->setText(QStringLiteral("▼ ") + why);
    note_->show();
    return false;
  }
  const StudyInput in = input();
  const bool started =
      task_.start([this, in, asked = session_.job(), work = study_.work](const rating::Progress& progress) -> Task::Then {
        StudyAnswer answer = work(in, progress);
        return [this, asked, answer = std::move(answer)] {
          document_ = answer.document;
          answered_ = true;
          worked_ = asked;
          view_->set_document(document_);
          write_->setEnabled(true);
          show_stale();
          if (answer.second) emit second_found(answer.second);
        };
      });
  if (!started) return false;
  note_->hide();
  work_->setEnabled(false);
  progress_->setRange(0, 0);
  progress_->show();
  stop_->show();
  return true;
}

void StudyPage::show_stale() {
  const bool stale = answered_ && worked_ != session_.job();
  note_->setText(stale ? sentence_of("desk.stale") : QString());
  note_->setVisible(stale);
}

void StudyPage::write() {
  const QString path =
      QFileDialog::getSaveFileName(this, sentence_of(study_.name), visible_text(session_.folder()),
                                   QStringLiteral("PDF (*.pdf);;HTML (*.html)"));
  if (!path.isEmpty()) write_to(path);
}

void StudyPage::write_to(const QString& path) {
  if (!answered_) return;
  task_.start([this, path, d = document_, in = language()](const rating::Progress&) -> Task::Then {
    files::write_text(path.toStdString(), path.endsWith(QLatin1String(".html"))
                                              ? reports::to_html(d, in)
                                              : reports::to_pdf(d, in, paper()));
    return [this, path] {
      emit message_wanted(sentence_of("window.report-written", {text("file", path.toStdString())}));
    };
  });
}

}  // namespace seamwright::desktop

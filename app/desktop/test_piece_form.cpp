// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/desktop/test_piece_form.h"

#include <QCheckBox>
#include <QComboBox>
#include <QDialog>
#include <QDialogButtonBox>
#include <QFormLayout>
#include <QHBoxLayout>
#include <QLabel>
#include <QLineEdit>
#include <QPlainTextEdit>
#include <QPushButton>
#include <QScrollArea>
#include <QVBoxLayout>
#include <algorithm>
#include <array>

#include "app/desktop/forms.h"
#include "app/desktop/number_field.h"
#include "app/desktop/procedure_words.h"
#include "app/desktop/shift.h"
#include "app/desktop/window_words.h"
#include "catalog/files/begin_record.h"
#include "catalog/files/job_reader.h"
#include "catalog/published/published_data.h"
#include "engine/design/design.h"
#include "engine/evidence/typed.h"

namespace seamwright::desktop {

namespace {

using qualification::Examination;
using qualification::JointForm;
using qualification::Macro;

struct Word {
  const char* key;
  MessageId label;
};
constexpr std::array words{Word{"heat", "item.heat-of-the-test-piece"},
                           Word{"other_heat", "piece.other-heat"},
                           Word{"certificate", "label.certificate-number"},
                           Word{"filler_batch", "item.batch-of-the-filler"},
                           Word{"gas_batch", "piece.gas-batch"},
                           Word{"witnessed_by", "item.witness"},
                           Word{"laboratory", "piece.laboratory"}};

// A number that a person wrote and that is none stops the writing: it would be left out in silence.
double number_in(const NumberField* field) {
  if (field->is_refused()) throw Fault{Message{"desk.no-number", {text("field", field->accessibleName().toStdString())}}};
  return field->value().value_or(0);
}

// Numbers with blanks or semicolons between; a comma is the decimal sign.
std::vector<double> numbers_in(const QLineEdit* line) {
  std::vector<double> all;
  for (const QString& part : line->text().split(QRegularExpression(QStringLiteral("[\\s;]+")), Qt::SkipEmptyParts)) {
    const auto value = typed_number(part.toStdString());
    if (!value) throw Fault{Message{"desk.no-number", {text("field", line->accessibleName().toStdString())}}};
    all.push_back(*value);
  }
  return all;
}

class PieceForm : public QDialog {
 public:
  PieceForm(QWidget* parent, const std::string& job, const files::ProcedureFile& procedure)
      : QDialog(parent), procedure_(procedure), design_(files::read_design(files::design_path(job), published::catalog())),
        expected_(files::expected_record(job, procedure, today())), content_(files::read_text(procedure.path)) {
    setObjectName(QStringLiteral("new-record"));
    setWindowTitle(sentence_of("desk.new-record"));
    resize(900, 700);
    auto* column = new QVBoxLayout(this);
    auto* inside = new QWidget;
    form_ = new QFormLayout(inside);
    form_->setRowWrapPolicy(QFormLayout::WrapLongRows);
    auto* area = new QScrollArea;
    area->setWidgetResizable(true);
    area->setWidget(inside);
    column->addWidget(area, 3);
    add_head();
    add_chemistry();
    add_piece();
    add_passes();
    add_examinations();
    add_macros();
    takes_ranges_ = new QCheckBox(sentence_of("piece.takes-ranges"));
    make_large(takes_ranges_);
    form_->addRow(takes_ranges_);
    connect(takes_ranges_, &QCheckBox::toggled, this, &PieceForm::show_worth);
    told_ = new QPlainTextEdit;
    told_->setReadOnly(true);
    told_->setTabChangesFocus(true);
    told_->setAccessibleName(sentence_of("piece.told"));
    column->addWidget(told_, 2);
    auto* buttons = new QDialogButtonBox;
    write_ = buttons->addButton(sentence_of("piece.write"), QDialogButtonBox::ActionRole);
    QPushButton* cancel = buttons->addButton(sentence_of("window.cancel"), QDialogButtonBox::RejectRole);
    for (QPushButton* b : {write_, cancel}) {
      make_large(b);
      b->setAutoDefault(false);
    }
    column->addWidget(buttons);
    connect(buttons, &QDialogButtonBox::rejected, this, &QDialog::reject);
    connect(write_, &QPushButton::clicked, this, &PieceForm::write);
    show_worth();
  }

 private:
  QLineEdit* add_text(MessageId label, const QString& value = {}) {
    QLineEdit* line = add_line(form_, label, value);
    make_large(line);
    connect(line, &QLineEdit::textChanged, this, &PieceForm::show_worth);
    return line;
  }
  NumberField* make_number(const QString& name, double most, const char* unit, double value = 0) {
    auto* field = new NumberField(0, most, QString::fromUtf8(unit));
    field->setAccessibleName(name);
    make_large(field);
    if (value > 0) field->setValue(value);
    connect(field, &QLineEdit::textChanged, this, &PieceForm::show_worth);
    return field;
  }
  NumberField* add_number(MessageId label, double most, const char* unit, double value) {
    NumberField* field = make_number(without_mnemonic(label), most, unit, value);
    form_->addRow(sentence_of(label), field->with_reading());
    return field;
  }
  QComboBox* make_choice(const QString& name, const std::vector<std::pair<QString, QString>>& all) {
    auto* choice = new QComboBox;
    make_large(choice);
    name_control(choice, name);
    for (const auto& [shown, word] : all) choice->addItem(shown, word);
    connect(choice, &QComboBox::currentIndexChanged, this, &PieceForm::show_worth);
    return choice;
  }
  void add_heading(MessageId id) {
    QLabel* label = wrapped_label(font());
    label->setText(sentence_of(id));
    form_->addRow(label);
  }

  void add_head() {
    QLabel* what = wrapped_label(font());
    what->setText(sentence_of("piece.for", {text("procedure", procedure_.sheet.id)}));
    form_->addRow(what);
    id_ = add_text("piece.id", visible_text(expected_.id));
    date_ = add_text("label.tested", visible_text(expected_.date));
    signed_by_ = add_text("piece.signed-by");
    standard_ = make_choice(sentence_of("piece.standard"), {{QStringLiteral("ISO 15614-1:2017, level 2"), QStringLiteral("2")},
                                                            {QStringLiteral("ISO 15614-1:2017, level 1"), QStringLiteral("1")},
                                                            {QStringLiteral("ISO 15613"), QStringLiteral("15613")}});
    if (expected_.record.pre_production) standard_->setCurrentIndex(2);
    form_->addRow(sentence_of("piece.standard"), standard_);
    for (const Word& w : words) texts_.emplace_back(w.key, add_text(w.label));
  }

  // Hardness and preheat are foretold from it; asked where the procedure does not state it.
  void add_chemistry() {
    if (procedure_.steel) return;
    add_heading("piece.chemistry");
    auto* box = new QWidget;
    auto* row = new QHBoxLayout(box);
    row->setContentsMargins(0, 0, 0, 0);
    for (const char* element : {"C", "Si", "Mn", "Cr", "Mo"}) {
      NumberField* field = make_number(QLatin1String(element), 30, "%");
      field->setPlaceholderText(QLatin1String(element) + QStringLiteral(", %"));
      row->addWidget(field);
      chemistry_.emplace_back(element, field);
    }
    form_->addRow(box);
  }

  void add_piece() {
    const qualification::Variables& t = expected_.record.tested;
    add_heading("piece.as-planned");
    joint_ = make_choice(sentence_of("sheet.joint"), {{sentence_of("found.branch"), QStringLiteral("branch")},
                                                      {sentence_of("found.butt"), QStringLiteral("butt")},
                                                      {sentence_of("found.fillet"), QStringLiteral("fillet")}});
    joint_->setCurrentIndex(joint_->findData(QLatin1String(name_of(t.form))));
    form_->addRow(sentence_of("sheet.joint"), joint_);
    wall_ = add_number("item.wall", 100, "mm", t.thickness_mm);
    other_wall_ = add_number("item.other-wall", 100, "mm", t.other_thickness_mm);
    diameter_ = add_number("item.diameter", 1000, "mm", t.diameter_mm);
    other_diameter_ = add_number("item.main-diameter", 1000, "mm", t.other_diameter_mm);
    angle_ = add_number("item.branch-angle", 90, "°", t.branch_angle_deg);
    throat_ = add_number("item.throat", 100, "mm", t.throat_mm);
    QStringList positions;
    for (const std::string& p : t.positions) positions << visible_text(p);
    positions_ = add_text("item.positions", positions.join(QLatin1Char(' ')));
    preheat_ = add_number("item.preheat", 500, "°C", t.preheat_c);
    interpass_ = add_number("item.interpass", 500, "°C", t.interpass_c);
  }

  // One row for each pass of the procedure; its bands are shown, never taken for what was welded.
  void add_passes() {
    add_heading("piece.passes");
    for (const qualification::Run& run : procedure_.sheet.runs) {
      std::array<NumberField*, 3> pass{};
      auto* box = new QWidget;
      auto* row = new QHBoxLayout(box);
      row->setContentsMargins(0, 0, 0, 0);
      const QString name = sentence_of("piece.pass", {number("run", run.number, "")});
      const auto field = [&](std::size_t i, const char* unit, double most, const qualification::Span& band) {
        pass[i] = make_number(name + QLatin1Char(' ') + QLatin1String(unit), most, unit);
        if (band.stated()) pass[i]->setPlaceholderText(QStringLiteral("%1 – %2").arg(band.least).arg(band.most));
        row->addWidget(pass[i]->with_reading());
      };
      field(0, "A", 2000, run.amperes);
      field(1, "V", 100, run.volts);
      field(2, "mm/s", 1000, run.speed_mm_s);
      form_->addRow(name, box);
      passes_.push_back(pass);
    }
  }

  void add_examinations() {
    add_heading("piece.examinations");
    const std::vector<std::pair<QString, QString>> results{{sentence_of("piece.not-done"), QString()},
                                                           {sentence_of("found.accepted"), QStringLiteral("accept")},
                                                           {sentence_of("found.rejected"), QStringLiteral("reject")}};
    for (const auto& [method, label] :
         {std::pair("VT", MessageId("item.visual-testing")), std::pair("PT", MessageId("piece.penetrant")), std::pair("MT", MessageId("piece.magnetic")),
          std::pair("RT", MessageId("piece.radiographic")), std::pair("UT", MessageId("piece.ultrasonic")),
          std::pair("tensile", MessageId("piece.tensile")), std::pair("bend", MessageId("piece.bend"))}) {
      QComboBox* choice = make_choice(sentence_of(label), results);
      form_->addRow(sentence_of(label), choice);
      results_.emplace_back(method, choice);
      if (method == std::string("VT")) undercut_ = add_number("piece.undercut", 100, "mm", 0);
    }
    strength_ = add_text("piece.strength");
    least_strength_ = add_number("piece.least-strength", 3000, "MPa", 0);
    bend_ = add_text("piece.bend-angles");
    flaws_ = add_text("piece.bend-flaws");
    hardness_ = add_text("piece.hardness");
  }

  // A branch is cut at two crowns and two saddles, other joints once.
  void add_macros() {
    add_heading("piece.macros");
    const bool branch = procedure_.sheet.form == JointForm::branch;
    for (int i = 0; i < (branch ? 4 : 1); ++i) {
      auto* box = new QWidget;
      auto* row = new QHBoxLayout(box);
      row->setContentsMargins(0, 0, 0, 0);
      const QString name = !branch ? sentence_of("piece.macro") : sentence_of(i % 2 == 0 ? MessageId("piece.macro-crown") : "piece.macro-saddle");
      MacroRow m;
      m.place = !branch ? "" : i % 2 == 0 ? "crown" : "saddle";
      m.root = make_choice(name, {{sentence_of("piece.not-done"), QString()},
                                  {sentence_of("piece.root-fused"), QStringLiteral("fused")},
                                  {sentence_of("piece.root-open"), QStringLiteral("not-fused")}});
      row->addWidget(m.root);
      for (const auto& [to, label] : {std::pair(&m.leg, MessageId("piece.leg")), std::pair(&m.throat, MessageId("item.throat")),
                                      std::pair(&m.penetration, MessageId("piece.penetration"))}) {
        *to = make_number(name + QLatin1Char(' ') + sentence_of(label), 100, "mm");
        (*to)->setPlaceholderText(sentence_of(label) + QStringLiteral(", mm"));
        row->addWidget(*to);
      }
      form_->addRow(name, box);
      macros_.push_back(m);
    }
  }

  qualification::TestReport tested() const {
    qualification::TestReport test;
    for (const auto& [key, line] : texts_)
      if (!line->text().trimmed().isEmpty()) test.stated[key] = line->text().trimmed().toStdString();
    for (const auto& pass : passes_) {
      const qualification::WeldedPass p{number_in(pass[0]), number_in(pass[1]), number_in(pass[2])};
      if (p.amperes > 0 || p.volts > 0 || p.speed_mm_s > 0) test.passes.push_back(p);
    }
    for (const auto& [method, choice] : results_) {
      if (choice->currentData().toString().isEmpty()) continue;
      Examination e;
      e.method = method;
      e.by = texts_.back().second->text().trimmed().toStdString();
      e.accepted = choice->currentData().toString() == QLatin1String("accept");
      if (e.method == "VT" && !undercut_->text().trimmed().isEmpty()) e.findings.push_back({"5011", number_in(undercut_)});
      if (e.method == "tensile") {
        e.strength_mpa = numbers_in(strength_);
        e.least_strength_mpa = number_in(least_strength_);
      }
      if (e.method == "bend") {
        e.bend_deg = numbers_in(bend_);
        e.flaw_mm = numbers_in(flaws_);
      }
      test.examinations.push_back(std::move(e));
    }
    for (const MacroRow& m : macros_) {
      if (m.root->currentData().toString().isEmpty()) continue;
      Macro macro;
      macro.id = id_->text().trimmed().toStdString() + "-M" + std::to_string(test.macros.size() + 1);
      macro.fused = m.root->currentData().toString() == QLatin1String("fused");
      macro.place = m.place;
      macro.leg_mm = number_in(m.leg);
      macro.throat_mm = number_in(m.throat);
      macro.penetration_mm = number_in(m.penetration);
      macro.by = texts_.back().second->text().trimmed().toStdString();
      test.macros.push_back(std::move(macro));
    }
    return test;
  }

  files::NewRecord wanted() const {
    files::NewRecord r;
    r.id = id_->text().trimmed().toStdString();
    r.date = date_->text().trimmed().toStdString();
    r.signed_by = signed_by_->text().trimmed().toStdString();
    const QString standard = standard_->currentData().toString();
    r.record.level = standard == QLatin1String("1") ? 1 : 2;
    r.record.pre_production = standard == QLatin1String("15613");
    r.record.hardness_hv10 = numbers_in(hardness_);
    qualification::Variables& t = r.record.tested;
    const QString joint = joint_->currentData().toString();
    t.form = joint == QLatin1String("butt") ? JointForm::butt : joint == QLatin1String("fillet") ? JointForm::fillet : JointForm::branch;
    t.single_run = procedure_.sheet.single_run;
    t.thickness_mm = number_in(wall_);
    t.other_thickness_mm = number_in(other_wall_);
    t.diameter_mm = number_in(diameter_);
    t.other_diameter_mm = number_in(other_diameter_);
    t.branch_angle_deg = number_in(angle_);
    t.throat_mm = number_in(throat_);
    for (const QString& p : positions_->text().split(QRegularExpression(QStringLiteral("[\\s,;]+")), Qt::SkipEmptyParts))
      t.positions.push_back(p.toStdString());
    t.preheat_c = number_in(preheat_);
    t.interpass_c = number_in(interpass_);
    r.test = tested();
    for (const auto& [element, field] : chemistry_)
      if (!field->text().trimmed().isEmpty()) r.chemistry.emplace_back(element, number_in(field));
    r.takes_ranges = takes_ranges_->isChecked();
    return r;
  }

  void show_worth() {
    if (!told_) return;  // still being made
    try {
      const std::string text = files::text_with_record(content_, procedure_, wanted());
      told_->setPlainText(procedure_words(procedure_.path, text, design_, today()));
      write_->setEnabled(true);
    } catch (const Fault& fault) {
      told_->setPlainText(QStringLiteral("▼ ") + sentence_with_place(fault));
      write_->setEnabled(false);
    }
  }

  void write() {
    try {
      write_procedure(procedure_.path, content_, files::text_with_record(content_, procedure_, wanted()));
      accept();
    } catch (const Fault& fault) {
      told_->setPlainText(QStringLiteral("▼ ") + sentence_with_place(fault));
    } catch (const std::exception& error) {
      told_->setPlainText(QStringLiteral("▼ ") + visible_text(error.what()));
    }
  }

  struct MacroRow {
    std::string place;
    QComboBox* root = nullptr;
    NumberField *leg = nullptr, *throat = nullptr, *penetration = nullptr;
  };
  files::ProcedureFile procedure_;
  design::Design design_;
  files::NewRecord expected_;
  std::string content_;
  QFormLayout* form_ = nullptr;
  QLineEdit *id_ = nullptr, *date_ = nullptr, *signed_by_ = nullptr, *positions_ = nullptr, *strength_ = nullptr, *bend_ = nullptr,
            *flaws_ = nullptr, *hardness_ = nullptr;
  QComboBox *standard_ = nullptr, *joint_ = nullptr;
  NumberField *wall_ = nullptr, *other_wall_ = nullptr, *diameter_ = nullptr, *other_diameter_ = nullptr, *angle_ = nullptr, *throat_ = nullptr,
              *preheat_ = nullptr, *interpass_ = nullptr, *undercut_ = nullptr, *least_strength_ = nullptr;
  std::vector<std::pair<std::string, QLineEdit*>> texts_;
  std::vector<std::pair<std::string, NumberField*>> chemistry_;
  std::vector<std::array<NumberField*, 3>> passes_;
  std::vector<std::pair<std::string, QComboBox*>> results_;
  std::vector<MacroRow> macros_;
  QCheckBox* takes_ranges_ = nullptr;
  QPlainTextEdit* told_ = nullptr;
  QPushButton* write_ = nullptr;
};

}  // namespace

bool ask_new_record(QWidget* parent, const std::string& job, const files::ProcedureFile& procedure) {
  PieceForm form(parent, job, procedure);
  return form.exec() == QDialog::Accepted;
}

}  // namespace seamwright::desktop

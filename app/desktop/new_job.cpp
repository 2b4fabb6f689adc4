// SPDX-License-Identifier: GPL-3.0-or-later
// A job begun from measures and plain questions; the frame follows while they are dragged.
#include <QComboBox>
#include <QDialog>
#include <QDialogButtonBox>
#include <QFileDialog>
#include <QFormLayout>
#include <QLabel>
#include <QLineEdit>
#include <QPushButton>
#include <QScreen>
#include <QScrollArea>
#include <QSlider>
#include <QTabWidget>
#include <QTimer>
#include <cmath>

#include "app/desktop/dialogs.h"
#include "app/desktop/forms.h"
#include "app/desktop/frame_view.h"
#include "app/desktop/number_field.h"
#include "app/desktop/theme.h"
#include "app/desktop/window_words.h"
#include "catalog/files/begin.h"
#include "catalog/files/job_reader.h"
#include "catalog/published/published_data.h"

namespace seamwright::desktop {

namespace {

constexpr int slider_steps = 200, wait_ms = 30;

struct Row {
  const files::Question* question = nullptr;
  NumberField* field = nullptr;
  QSlider* slider = nullptr;
  QLabel* takes = nullptr;
  bool own = false;  ///< typed or dragged, not what is usual
};

struct TubeRow {
  std::string id;
  QLineEdit* field = nullptr;
  QString usual;
};

class NewJobDialog : public QDialog {
 public:
  explicit NewJobDialog(QWidget* parent) : QDialog(parent) {
    setWindowTitle(without_mnemonic("window.menu-new"));
    auto* sides = new QHBoxLayout(this);
    auto* left = new QVBoxLayout;
    sides->addLayout(left, 1);
    frame_ = new FrameView(this);
    frame_->set_shaded(false);
    sides->addWidget(frame_, 1);
    add_why(left);
    auto* tabs = new QTabWidget;
    left->addWidget(tabs, 1);
    tabs->addTab(page(files::questions().first(files::frame_ask_count), nullptr), sentence_of("desk.new-frame"));
    tabs->addTab(page(files::questions().subspan(files::frame_ask_count), [this](QVBoxLayout* column) { add_words(column); }),
                 sentence_of("desk.new-service"));
    tabs->addTab(tube_page(), sentence_of("desk.new-tubes"));
    add_end(left);
    wait_.setSingleShot(true);
    wait_.setInterval(wait_ms);
    connect(&wait_, &QTimer::timeout, this, [this] { follow(); });
    follow();
    const QSize room = screen()->availableSize();
    resize(std::min(1180, room.width() - 40), std::min(680, room.height() - 60));
  }

  QString folder() const { return folder_->text().trimmed(); }

 private:
  void add_why(QVBoxLayout* left) {
    auto* why = new QLabel(sentence_of("desk.new-job-why"));
    why->setWordWrap(true);
    left->addWidget(why);
    auto* form = new QFormLayout;
    name_ = add_line(form, "desk.new-name", sentence_of("desk.new-trike"));
    left->addLayout(form);
  }

  QWidget* page(std::span<const files::Question> questions, const std::function<void(QVBoxLayout*)>& more) {
    auto* inner = new QWidget;
    auto* column = new QVBoxLayout(inner);
    if (more) more(column);
    for (const files::Question& q : questions) add_question(column, q);
    column->addStretch(1);
    auto* scroll = new QScrollArea;
    scroll->setWidgetResizable(true);
    scroll->setHorizontalScrollBarPolicy(Qt::ScrollBarAlwaysOff);
    scroll->setWidget(inner);
    return scroll;
  }

  void add_question(QVBoxLayout* column, const files::Question& q) {
    Row row;
    row.question = &q;
    row.field = new NumberField(-1e6, 1e6, QString::fromLatin1(q.unit));
    row.slider = new QSlider(Qt::Horizontal);
    row.slider->setRange(0, slider_steps);
    name_control(row.field, sentence_of(q.label));
    row.slider->setAccessibleName(sentence_of(q.label));
    row.field->setMaximumWidth(90);
    auto* both = new QHBoxLayout;
    both->addWidget(row.field);
    both->addWidget(row.slider, 1);
    row.takes = new QLabel;
    row.takes->setFont(hint_font());
    both->addWidget(row.takes);
    add_title(column, q.sentence, row.field);
    column->addLayout(both);
    const std::size_t at = rows_.size();
    rows_.push_back(row);
    connect(row.field, &NumberField::changed, this, [this, at] {
      if (setting_) return;
      rows_[at].own = !rows_[at].field->text().trimmed().isEmpty();
      wait_.start();
    });
    connect(row.slider, &QSlider::valueChanged, this, [this, at](int step) {
      if (setting_) return;
      const files::AskRange range = rows_[at].question->range(answers_);
      const double whole = std::round(range.least + (range.most - range.least) * step / slider_steps);
      rows_[at].field->setValue(std::clamp(whole, range.least, range.most));
    });
  }

  void add_title(QVBoxLayout* column, MessageId question, QWidget* field) {
    auto* title = new QLabel(sentence_of(question));
    title->setWordWrap(true);
    title->setBuddy(field);
    column->addWidget(title);
  }

  void add_words(QVBoxLayout* column) {
    const auto choice = [&](MessageId question, MessageId label, std::initializer_list<const char*> words) {
      auto* box = new QComboBox;
      for (const char* word : words)
        box->addItem(sentence_of(composed_id("word.", word)), QString::fromLatin1(word));
      name_control(box, sentence_of(label));
      add_title(column, question, box);
      column->addWidget(box);
      return box;
    };
    hurt_ = choice("desk.ask-in-the-box", "new.in-the-box", {"people", "goods"});
    inside_ = choice("desk.ask-inside", "new.inside", {"vented", "treated", "sealed"});
  }

  QWidget* tube_page() {
    auto* inner = new QWidget;
    auto* form = new QFormLayout(inner);
    for (const auto& [id, tube] : files::pattern_tubes()) {
      TubeRow row{id, new QLineEdit, {}};
      row.usual = QStringLiteral("%1x%2").arg(tube.diameter_mm).arg(tube.wall_mm);
      row.field->setText(row.usual);
      name_control(row.field, QString::fromStdString(id));
      auto* title = new QLabel(QString::fromStdString(id));
      title->setBuddy(row.field);
      form->addRow(title, row.field);
      connect(row.field, &QLineEdit::textChanged, &wait_, qOverload<>(&QTimer::start));
      tubes_.push_back(row);
    }
    auto* scroll = new QScrollArea;
    scroll->setWidgetResizable(true);
    scroll->setWidget(inner);
    return scroll;
  }

  void add_end(QVBoxLayout* left) {
    auto* form = new QFormLayout;
    folder_ = add_path(form, "desk.new-folder", [this] {
      return QFileDialog::getExistingDirectory(this, without_mnemonic("desk.new-folder"));
    });
    wrong_ = add_fault(form);
    left->addLayout(form);
    auto* buttons = new QDialogButtonBox;
    auto* make = buttons->addButton(sentence_of("desk.make-job"), QDialogButtonBox::ActionRole);
    make->setDefault(true);
    buttons->addButton(sentence_of("window.cancel"), QDialogButtonBox::RejectRole);
    left->addWidget(buttons);
    connect(buttons, &QDialogButtonBox::rejected, this, &QDialog::reject);
    connect(make, &QPushButton::clicked, this, [this] { make_job(); });
  }

  // Throws Fault "desk.no-number" and "new.bad-tube" for what was typed.
  files::NewJob job() const {
    files::NewJob job;
    job.name = name_->text().toStdString();
    job.wording = files::Wording(language().file->code);
    for (const Row& row : rows_) {
      if (!row.own) continue;
      const auto value = row.field->value();
      if (!value) throw Fault{Message{"desk.no-number", {text("field", sentence_of(row.question->label).toStdString())}}};
      job.given[row.question->ask] = *value;
    }
    for (const TubeRow& row : tubes_)
      if (row.field->text() != row.usual) job.tubes.emplace_back(row.id, files::round_tube_of(row.field->text().toStdString()));
    if (hurt_->currentData() == QLatin1String("goods")) job.hurt = rules::Consequence::whole_frame;
    for (const design::Inside inside : design::insides)
      if (inside_->currentData().toString() == QLatin1String(design::name_of(inside))) job.inside = inside;
    return job;
  }

  // Every row shows its answer and its range; the frame is drawn anew where it can be.
  void follow() {
    wrong_->clear();
    try {
      const files::NewJob now = job();
      answers_ = files::answered(now.given);
      setting_ = true;
      for (Row& row : rows_) show_answer(row);
      setting_ = false;
      frame_->set_drawing(reports::frame_drawing(
          files::read_design_text("design.toml", files::new_design_text(now), published::catalog())));
      if (!drawn_) frame_->fit();
      drawn_ = true;
    } catch (const Fault& fault) {
      show_fault(wrong_, fault.message);
    } catch (const std::exception& error) {
      show_fault(wrong_, {"window.failed", {text("what", error.what())}});
    }
  }

  void show_answer(Row& row) {
    const files::AskRange range = row.question->range(answers_);
    const double value = answers_[row.question->ask];
    if (!row.own) row.field->setValue(value);
    row.slider->setValue(static_cast<int>(std::lround(slider_steps * (value - range.least) / (range.most - range.least))));
    const QString takes = sentence_of("field.takes", {number("least", range.least, row.question->unit),
                                                      number("most", range.most, row.question->unit)});
    row.takes->setText(takes);
    row.field->setWhatsThis(takes);
  }

  void make_job() {
    try {
      if (folder().isEmpty())
        throw Fault{Message{"desk.missing", {text("field", without_mnemonic("desk.new-folder").toStdString())}}};
      files::begin_job(folder().toStdString(), job(), published::catalog());
      accept();
    } catch (const Fault& fault) {
      show_fault(wrong_, fault.message);
    } catch (const std::exception& error) {
      show_fault(wrong_, {"window.failed", {text("what", error.what())}});
    }
  }

  FrameView* frame_ = nullptr;
  QLineEdit *name_ = nullptr, *folder_ = nullptr;
  QComboBox *hurt_ = nullptr, *inside_ = nullptr;
  QLabel* wrong_ = nullptr;
  std::vector<Row> rows_;
  std::vector<TubeRow> tubes_;
  files::Answers answers_;
  QTimer wait_;
  bool setting_ = false, drawn_ = false;
};

}  // namespace

QString ask_new_job(QWidget* parent) {
  NewJobDialog dialog(parent);
  return dialog.exec() == QDialog::Accepted ? dialog.folder() : QString();
}

}  // namespace seamwright::desktop

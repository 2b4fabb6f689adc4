// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/desktop/procedure_editor.h"

#include <QDialog>
#include <QDialogButtonBox>
#include <QHeaderView>
#include <QLabel>
#include <QMessageBox>
#include <QPlainTextEdit>
#include <QPushButton>
#include <QTableWidget>
#include <QUndoStack>
#include <QVBoxLayout>
#include <array>

#include "app/desktop/forms.h"
#include "app/desktop/procedure_words.h"
#include "app/desktop/shift.h"
#include "app/desktop/theme.h"
#include "app/desktop/window_words.h"
#include "catalog/files/job_reader.h"
#include "catalog/files/procedure_reader.h"
#include "catalog/files/written.h"
#include "catalog/published/published_data.h"
#include "engine/design/design.h"

namespace seamwright::desktop {

namespace {

using files::Form;

struct Line {
  std::string place;
  Form form;
  Message label;
};

struct Item {
  const char* key;
  Form form;
  MessageId label;
};
constexpr std::array items{Item{"name", Form::text, "field.name"},
                           Item{"revision", Form::text, "field.revision"},
                           Item{"maker", Form::text, "sheet.maker"},
                           Item{"material", Form::text, "sheet.material"},
                           Item{"groups", Form::list, "sheet.groups"},
                           Item{"process", Form::text, "sheet.process"},
                           Item{"wall_mm", Form::list, "sheet.wall"},
                           Item{"other_wall_mm", Form::list, "sheet.other-wall"},
                           Item{"diameter_mm", Form::list, "sheet.diameter"},
                           Item{"other_diameter_mm", Form::list, "sheet.other-diameter"},
                           Item{"angle_deg", Form::list, "sheet.angle"},
                           Item{"throat_mm", Form::list, "sheet.throat"},
                           Item{"positions", Form::list, "sheet.position"},
                           Item{"preparation", Form::text, "sheet.preparation"},
                           Item{"gap", Form::text, "sheet.gap"},
                           Item{"cleaning", Form::text, "sheet.cleaning"},
                           Item{"fixture", Form::text, "sheet.fixture"},
                           Item{"tacking", Form::text, "sheet.tacking"},
                           Item{"sequence", Form::text, "sheet.sequence"},
                           Item{"weaving", Form::text, "sheet.weaving"},
                           Item{"torch", Form::text, "sheet.torch"},
                           Item{"nozzle", Form::text, "sheet.nozzle"},
                           Item{"filler", Form::text, "sheet.filler"},
                           Item{"drying", Form::text, "sheet.drying"},
                           Item{"gas", Form::text, "sheet.gas"},
                           Item{"back_purge", Form::text, "sheet.purge"},
                           Item{"tungsten", Form::text, "sheet.tungsten"},
                           Item{"transfer", Form::text, "sheet.transfer"},
                           Item{"stick_out", Form::text, "sheet.stick-out"},
                           Item{"wire_feed", Form::text, "sheet.wire-feed"},
                           Item{"current", Form::text, "sheet.current"},
                           Item{"pulse", Form::text, "sheet.pulse"},
                           Item{"preheat_c", Form::number, "sheet.preheat"},
                           Item{"interpass_c", Form::number, "sheet.interpass"},
                           Item{"post_heating", Form::text, "sheet.after"}};

class TextStep : public QUndoCommand {
 public:
  TextStep(std::string& now, std::string after, std::function<void()> show)
      : now_(now), before_(now), after_(std::move(after)), show_(std::move(show)) {}
  void undo() override {
    now_ = before_;
    show_();
  }
  void redo() override {
    now_ = after_;
    show_();
  }

 private:
  std::string& now_;
  std::string before_, after_;
  std::function<void()> show_;
};

std::vector<Line> lines_of(const std::vector<files::WrittenTable>& tables) {
  std::vector<Line> lines;
  for (const Item& item : items) lines.push_back({item.key, item.form, {item.label, {}}});
  const files::WrittenTable* runs = files::table_named(tables, "run");
  for (std::size_t i = 0; runs && i < runs->rows.size(); ++i)
    for (const auto& [key, label] : {std::pair("amperes", MessageId("sheet.amperes")), std::pair("volts", MessageId("sheet.volts")),
                                     std::pair("speed_mm_s", MessageId("sheet.speed"))})
      lines.push_back({runs->rows[i].place + "." + key, Form::list, {label, {number("run", static_cast<double>(i + 1), "")}}});
  return lines;
}

files::WrittenValue value_at(const std::vector<files::WrittenTable>& tables, const std::string& place) {
  for (const files::WrittenTable& table : tables)
    for (const files::WrittenRow& row : table.rows)
      for (const files::WrittenValue& cell : row.cells)
        if (cell.place == place) return cell;
  return {place, "", Form::none, 0, false};
}

class Editor : public QDialog {
 public:
  Editor(QWidget* parent, const std::string& job, std::string path)
      : QDialog(parent), path_(std::move(path)), design_(files::read_design(files::design_path(job), published::catalog())),
        text_(files::read_text(path_)), as_read_(text_) {
    setObjectName(QStringLiteral("edit-procedure"));
    setWindowTitle(sentence_of("desk.edit-procedure"));
    resize(860, 640);
    auto* column = new QVBoxLayout(this);
    table_ = new QTableWidget(0, 2);
    table_->setHorizontalHeaderLabels({sentence_of("window.input"), sentence_of("window.value")});
    table_->horizontalHeader()->setStretchLastSection(true);
    table_->verticalHeader()->hide();
    table_->setTabKeyNavigation(false);
    table_->setAccessibleName(sentence_of("desk.edit-procedure"));
    make_large(table_);
    column->addWidget(table_, 2);
    told_ = new QPlainTextEdit;
    told_->setReadOnly(true);
    told_->setTabChangesFocus(true);
    told_->setAccessibleName(sentence_of("piece.told"));
    column->addWidget(told_, 1);
    auto* buttons = new QDialogButtonBox;
    QPushButton* undo = buttons->addButton(sentence_of("window.menu-undo"), QDialogButtonBox::ResetRole);
    QPushButton* redo = buttons->addButton(sentence_of("window.menu-redo"), QDialogButtonBox::ResetRole);
    save_ = buttons->addButton(sentence_of("start.write"), QDialogButtonBox::ActionRole);
    QPushButton* cancel = buttons->addButton(sentence_of("window.cancel"), QDialogButtonBox::RejectRole);
    undo->setShortcut(QKeySequence::Undo);
    redo->setShortcut(QKeySequence::Redo);
    for (QPushButton* b : {undo, redo, save_, cancel}) {
      make_large(b);
      b->setAutoDefault(false);
    }
    column->addWidget(buttons);
    connect(undo, &QPushButton::clicked, &steps_, &QUndoStack::undo);
    connect(redo, &QPushButton::clicked, &steps_, &QUndoStack::redo);
    connect(&steps_, &QUndoStack::canUndoChanged, undo, &QPushButton::setEnabled);
    connect(&steps_, &QUndoStack::canRedoChanged, redo, &QPushButton::setEnabled);
    undo->setEnabled(false);
    redo->setEnabled(false);
    connect(buttons, &QDialogButtonBox::rejected, this, &Editor::reject);
    connect(save_, &QPushButton::clicked, this, &Editor::write);
    connect(table_, &QTableWidget::cellChanged, this, &Editor::edit_item);
    show_text();
  }

  // Closing loses what was typed: asked first.
  void reject() override {
    if (text_ != as_read_ && QMessageBox::question(this, windowTitle(), sentence_of("piece.discard")) != QMessageBox::Yes) return;
    QDialog::reject();
  }

 private:
  void show_text() {
    const QSignalBlocker quiet(table_);
    const std::vector<files::WrittenTable> tables = files::written_tables(path_, text_);
    lines_ = lines_of(tables);
    table_->setRowCount(static_cast<int>(lines_.size()));
    for (std::size_t i = 0; i < lines_.size(); ++i) {
      const int row = static_cast<int>(i);
      auto* name = new QTableWidgetItem(sentence_of(lines_[i].label));
      name->setFlags(Qt::ItemIsEnabled);
      table_->setItem(row, 0, name);
      table_->setItem(row, 1, new QTableWidgetItem(visible_text(value_at(tables, lines_[i].place).shown)));
    }
    table_->resizeColumnToContents(0);
    show_worth();
  }

  void show_worth() {
    try {
      told_->setPlainText(procedure_words(path_, text_, design_, today()));
      save_->setEnabled(text_ != as_read_);
    } catch (const Fault& fault) {
      told_->setPlainText(QStringLiteral("▼ ") + sentence_with_place(fault));
      save_->setEnabled(false);  // what does not read is not written
    }
  }

  void edit_item(int row, int) {
    const Line& line = lines_[static_cast<std::size_t>(row)];
    const std::string typed = table_->item(row, 1)->text().trimmed().toStdString();
    try {
      const files::WrittenValue before = value_at(files::written_tables(path_, text_), line.place);
      if (typed == before.shown) return;
      std::string after = text_;
      if (!typed.empty())
        after = files::patched(path_, text_, line.place, files::typed_value(before, line.form, typed));
      else if (before.line > 0)
        after = files::without_value(path_, text_, line.place);
      if (after != text_) steps_.push(new TextStep(text_, std::move(after), [this] { show_text(); }));
    } catch (const Fault& fault) {
      show_text();
      told_->setPlainText(QStringLiteral("▼ ") + sentence_with_place(fault));
    }
  }

  void write() {
    try {
      write_procedure(path_, as_read_, text_);
      accept();
    } catch (const Fault& fault) {
      told_->setPlainText(QStringLiteral("▼ ") + sentence_with_place(fault));
    } catch (const std::exception& error) {
      told_->setPlainText(QStringLiteral("▼ ") + visible_text(error.what()));
    }
  }

  std::string path_;
  design::Design design_;
  std::string text_, as_read_;
  std::vector<Line> lines_;
  QUndoStack steps_;
  QTableWidget* table_ = nullptr;
  QPlainTextEdit* told_ = nullptr;
  QPushButton* save_ = nullptr;
};

}  // namespace

bool ask_edited_procedure(QWidget* parent, const std::string& job, const std::string& path) {
  Editor editor(parent, job, path);
  return editor.exec() == QDialog::Accepted;
}

}  // namespace seamwright::desktop

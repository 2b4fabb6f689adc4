// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/desktop/edit_table.h"

#include <QApplication>
#include <QClipboard>
#include <QComboBox>
#include <QHeaderView>
#include <QKeyEvent>
#include <QLineEdit>
#include <QStyledItemDelegate>
#include <QToolTip>
#include <algorithm>

#include "app/desktop/number_field.h"
#include "app/desktop/theme.h"

namespace seamwright::desktop {

namespace {

class Editors : public QStyledItemDelegate {
 public:
  using QStyledItemDelegate::QStyledItemDelegate;

  QWidget* createEditor(QWidget* parent, const QStyleOptionViewItem&,
                        const QModelIndex& index) const override {
    const auto* model = static_cast<const TableModel*>(index.model());
    const QStringList words = model->choices(index);
    const QString name = index.data(Qt::AccessibleTextRole).toString();
    if (words.isEmpty()) {
      auto* line = new QLineEdit(parent);
      line->setAccessibleName(name);
      if (model->takes_number(index))
        connect(line, &QLineEdit::textEdited, line, [line, model, index](const QString& typed) {
          QToolTip::showText(line->mapToGlobal(QPoint(0, line->height())),
                             reading_of_text(typed, model->unit_of(index)), line);
        });
      return line;
    }
    auto* box = new QComboBox(parent);
    box->setAccessibleName(name);
    box->setEditable(words.size() > 12);  // long lists are typed into; what is unknown stays to be seen
    box->addItems(words);
    return box;
  }
  void setEditorData(QWidget* editor, const QModelIndex& index) const override {
    const QString text = index.data(Qt::EditRole).toString();
    if (auto* line = qobject_cast<QLineEdit*>(editor)) return line->setText(text);
    auto* box = static_cast<QComboBox*>(editor);
    int at = box->findText(text);
    if (at < 0 && !text.isEmpty()) {  // a word that the reader refuses is still what stands there
      box->insertItem(0, text);
      at = 0;
    }
    box->setCurrentIndex(at);
  }
  void setModelData(QWidget* editor, QAbstractItemModel* model, const QModelIndex& index) const override {
    const auto* line = qobject_cast<QLineEdit*>(editor);
    model->setData(index, line ? line->text() : static_cast<QComboBox*>(editor)->currentText(), Qt::EditRole);
  }
};

}  // namespace

EditTable::EditTable(TableModel* model, const QString& name, QWidget* parent)
    : QTableView(parent), model_(model) {
  model->setParent(this);
  setModel(model);
  setItemDelegate(new Editors(this));
  setAccessibleName(name);
  setAlternatingRowColors(true);
  setShowGrid(false);
  setWordWrap(false);
  setEditTriggers(QAbstractItemView::DoubleClicked | QAbstractItemView::EditKeyPressed |
                  QAbstractItemView::AnyKeyPressed);
  setSelectionMode(QAbstractItemView::ContiguousSelection);
  setHorizontalScrollMode(QAbstractItemView::ScrollPerPixel);
  setMinimumHeight(64);        // low screens
  setTabKeyNavigation(false);  // Tab leaves the table, arrows move within
  verticalHeader()->hide();
  verticalHeader()->setDefaultSectionSize(std::max(24, fontMetrics().height() + 8));
  horizontalHeader()->setDefaultAlignment(Qt::AlignLeft | Qt::AlignVCenter);
  horizontalHeader()->setHighlightSections(false);
  fit();
  connect(model, &QAbstractItemModel::modelReset, this, &EditTable::fit);
  connect(selectionModel(), &QItemSelectionModel::currentChanged, this, [this](const QModelIndex& now) {
    if (const files::WrittenRow* row = model_->row_at(now.row()); row && hasFocus())
      emit row_chosen(QString::fromStdString(row->id));
    emit field_entered(model_->about(now));
  });
}

void EditTable::fit() {
  resizeColumnsToContents();
  const int most = 26 * fontMetrics().averageCharWidth();
  for (int k = 0; k < model_->columnCount(); ++k) setColumnWidth(k, std::clamp(columnWidth(k) + 6, 48, most));
  if (!model_->is_many() && model_->columnCount() == 3)
    horizontalHeader()->setSectionResizeMode(0, QHeaderView::Stretch);
}

void EditTable::show_cell(const std::string& place) {
  if (const QModelIndex index = model_->index_of(place); index.isValid()) {
    setCurrentIndex(index);
    scrollTo(index);
  }
}

void EditTable::keyPressEvent(QKeyEvent* event) {
  if (event->matches(QKeySequence::Copy)) {
    QApplication::clipboard()->setText(model_->copied_text(selectedIndexes()));
  } else if (event->matches(QKeySequence::Paste)) {
    if (currentIndex().isValid()) {
      QModelIndex from = currentIndex();
      for (const QModelIndex& i : selectedIndexes())
        from = model_->index(std::min(from.row(), i.row()), std::min(from.column(), i.column()));
      model_->paste(from, QApplication::clipboard()->text());
    }
  } else if (event->key() == Qt::Key_Delete) {
    model_->clear(selectedIndexes());
  } else if ((event->key() == Qt::Key_Return || event->key() == Qt::Key_Enter) &&
             state() != QAbstractItemView::EditingState) {
    edit(currentIndex());
  } else {
    QTableView::keyPressEvent(event);
  }
}

}  // namespace seamwright::desktop

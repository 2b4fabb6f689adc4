// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/desktop/table_model.h"

#include <QFont>
#include <algorithm>
#include <map>

#include "app/desktop/theme.h"
#include "app/desktop/window_words.h"
#include "engine/evidence/typed.h"
#include "reports/content/field_labels.h"

namespace seamwright::desktop {

namespace {

enum Column { label_column, value_column, unit_column, single_columns };

bool is_numeric(const QString& text) { return typed_number(text.toStdString()).has_value(); }

}  // namespace

TableModel::TableModel(JobSession& session, File file, std::string table, QObject* parent)
    : QAbstractTableModel(parent), session_(session), file_(file), name_(std::move(table)) {
  refresh();
  connect(&session, &JobSession::changed, this, &TableModel::refresh);
}

const files::WrittenTable* TableModel::written_table() const {
  return files::table_named(session_.tables(file_), name_);
}

// Only rows or keys that came or went shake the views; a changed value leaves selection and scrolling alone.
void TableModel::refresh() {
  const files::WrittenTable* table = written_table();
  const std::size_t rows = table ? table->rows.size() : 0;
  const std::vector<std::string> keys = table ? table->keys : std::vector<std::string>{};
  if (rows != rows_ || keys != keys_) {
    beginResetModel();
    rows_ = rows;
    keys_ = keys;
    many_ = table && table->many;
    endResetModel();
  } else if (rowCount() > 0) {
    emit dataChanged(index(0, 0), index(rowCount() - 1, columnCount() - 1));
  }
}

int TableModel::rowCount(const QModelIndex& parent) const {
  if (parent.isValid() || rows_ == 0) return 0;
  return static_cast<int>(many_ ? rows_ : keys_.size());
}

int TableModel::columnCount(const QModelIndex& parent) const {
  if (parent.isValid()) return 0;
  return many_ ? static_cast<int>(keys_.size()) : single_columns;
}

const files::WrittenValue* TableModel::cell(const QModelIndex& index) const {
  const files::WrittenTable* table = written_table();
  if (!table || !index.isValid() || (!many_ && index.column() != value_column)) return nullptr;
  const auto row = static_cast<std::size_t>(many_ ? index.row() : 0),
             key = static_cast<std::size_t>(many_ ? index.column() : index.row());
  if (row >= table->rows.size() || key >= table->rows[row].cells.size()) return nullptr;
  return &table->rows[row].cells[key];
}

std::string TableModel::key_of(const QModelIndex& index) const {
  const auto key = static_cast<std::size_t>(many_ ? index.column() : index.row());
  return key < keys_.size() ? keys_[key] : std::string();
}

// A cell that is not there yet takes the form that its column has elsewhere.
files::Form TableModel::form_of_column(const QModelIndex& index) const {
  const files::WrittenTable* table = written_table();
  std::map<files::Form, int> counts;
  if (table && many_)
    for (const files::WrittenRow& row : table->rows)
      if (const auto key = static_cast<std::size_t>(index.column()); key < row.cells.size())
        if (row.cells[key].form != files::Form::none) ++counts[row.cells[key].form];
  files::Form best = files::Form::none;
  int most = 0;
  for (const auto& [form, count] : counts)
    if (count > most) {
      most = count;
      best = form;
    }
  return best;
}

bool TableModel::takes_number(const QModelIndex& index) const {
  const files::WrittenValue* c = cell(index);
  return c && (c->form == files::Form::none ? form_of_column(index) : c->form) == files::Form::number;
}

QString TableModel::unit_of(const QModelIndex& index) const {
  return QString::fromStdString(reports::field_of(name_, key_of(index)).unit);
}

QString TableModel::display_text(const files::WrittenValue& cell) const {
  if (cell.form == files::Form::flag)
    return sentence_of(cell.shown == "true" ? MessageId("word.yes") : "word.no");
  QString text = visible_text(cell.shown);
  if (cell.form == files::Form::number)
    text.replace(QLatin1Char('.'), QLatin1Char(language().file->decimal_mark));
  return text;
}

QVariant TableModel::data(const QModelIndex& index, int role) const {
  if (!many_ && index.column() != value_column) {
    const reports::Field field = reports::field_of(name_, key_of(index));
    if (role == Qt::DisplayRole)
      return index.column() == label_column ? sentence_of(field.label) : QString::fromStdString(field.unit);
    if (role == Qt::ForegroundRole) return colours().faint;
    if (role == Qt::ToolTipRole) return about(index).toHtmlEscaped();
    if (role == Qt::WhatsThisRole) return about(index);
    return {};
  }
  const files::WrittenValue* c = cell(index);
  if (!c) return {};
  const bool faulty = session_.fault() && session_.fault()->file == file_ &&
                      session_.fault()->place == c->place && !c->place.empty();
  switch (role) {
    case Qt::DisplayRole:
      return faulty ? QStringLiteral("▼ ") + display_text(*c) : display_text(*c);
    case Qt::EditRole:
      return display_text(*c);
    case Qt::ForegroundRole:
      return faulty ? QVariant(colours().arc) : QVariant();
    case Qt::ToolTipRole:
      return (faulty ? sentence_with_place(session_.fault()->fault) : about(index)).toHtmlEscaped();
    case Qt::WhatsThisRole:
      return about(index);
    case Qt::TextAlignmentRole:
      return c->form == files::Form::number ? QVariant(Qt::AlignRight | Qt::AlignVCenter)
                                            : QVariant(Qt::AlignLeft | Qt::AlignVCenter);
    case Qt::AccessibleTextRole: {
      const reports::Field field = reports::field_of(name_, key_of(index));
      return sentence_of(field.label) + QStringLiteral(" ") + display_text(*c) + QStringLiteral(" ") +
             QString::fromStdString(field.unit);
    }
    default:
      return {};
  }
}

QString TableModel::about(const QModelIndex& index) const {
  const std::string key = key_of(index);
  if (key.empty()) return {};
  const reports::Field field = reports::field_of(name_, key);
  QString head = sentence_of(field.label);
  if (!field.unit.empty()) head += QStringLiteral(", ") + QString::fromStdString(field.unit);
  QStringList parts{head + QLatin1Char(':')};
  for (const Message& m : reports::about_field(file_ == File::design ? "design" : "duty", name_, key))
    parts << sentence_of(m);
  return parts.join(QLatin1Char(' '));
}

QVariant TableModel::headerData(int section, Qt::Orientation orientation, int role) const {
  if (orientation != Qt::Horizontal) return {};
  if (!many_) {
    static constexpr MessageId names[] = {"window.input", "window.value", "window.unit"};
    if (role == Qt::DisplayRole && section < single_columns) return sentence_of(names[section]);
    return {};
  }
  if (section < 0 || static_cast<std::size_t>(section) >= keys_.size()) return {};
  const reports::Field field = reports::field_of(name_, keys_[static_cast<std::size_t>(section)]);
  if (role == Qt::DisplayRole)
    return field.unit.empty()
               ? sentence_of(field.label)
               : sentence_of(field.label) + QStringLiteral("\n") + QString::fromStdString(field.unit);
  if (role == Qt::ToolTipRole || role == Qt::WhatsThisRole) return about(index(0, section)).toHtmlEscaped();
  if (role == Qt::UserRole) return visible_text(keys_[static_cast<std::size_t>(section)]);
  return {};
}

Qt::ItemFlags TableModel::flags(const QModelIndex& index) const {
  if (!cell(index)) return Qt::ItemIsEnabled | Qt::ItemIsSelectable;
  return Qt::ItemIsEnabled | Qt::ItemIsSelectable | Qt::ItemIsEditable;
}

QStringList TableModel::choices(const QModelIndex& index) const {
  const files::WrittenValue* c = cell(index);
  QStringList words;
  if (!c) return words;
  if (c->form == files::Form::flag ||
      (c->form == files::Form::none && form_of_column(index) == files::Form::flag))
    return {sentence_of("word.yes"), sentence_of("word.no")};
  for (const std::string& word : files::choices(session_.tables(file_), name_, key_of(index)))
    words << visible_text(word);
  return words;
}

bool TableModel::setData(const QModelIndex& index, const QVariant& value, int role) {
  const files::WrittenValue* c = cell(index);
  if (role != Qt::EditRole || !c) return false;
  const QString typed = value.toString();
  if (typed == display_text(*c)) return true;
  const files::Form form = c->form == files::Form::none ? form_of_column(index) : c->form;
  std::string text = typed.toStdString();
  if (form == files::Form::flag) text = typed == sentence_of("word.yes") ? "true" : "false";
  try {
    session_.edit(file_, *c, form, text);
  } catch (const Fault& fault) {
    emit refused(sentence_of(fault.message));
    return false;
  }
  return true;
}

QString TableModel::copied_text(const QModelIndexList& indexes) const {
  if (indexes.isEmpty()) return {};
  int top = rowCount(), left = columnCount(), bottom = 0, right = 0;
  for (const QModelIndex& i : indexes) {
    top = std::min(top, i.row());
    bottom = std::max(bottom, i.row());
    left = std::min(left, i.column());
    right = std::max(right, i.column());
  }
  QString out;
  for (int row = top; row <= bottom; ++row)
    for (int column = left; column <= right; ++column) {
      const QModelIndex i = index(row, column);
      QString text =
          indexes.contains(i) ? i.data(cell(i) ? Qt::EditRole : Qt::DisplayRole).toString() : QString();
      // A spreadsheet must not take a text for a formula.
      if (!text.isEmpty() && QStringLiteral("=+-@").contains(text[0]) && !is_numeric(text))
        text.prepend(QLatin1Char('\''));
      out += text + (column == right ? QLatin1Char('\n') : QLatin1Char('\t'));
    }
  return out;
}

void TableModel::paste(const QModelIndex& from, const QString& text) {
  std::vector<JobSession::Entry> entries;
  QStringList lines = text.split(QLatin1Char('\n'));
  if (!lines.isEmpty() && lines.last().isEmpty()) lines.removeLast();
  for (int r = 0; r < lines.size(); ++r) {
    const QStringList parts = lines[r].split(QLatin1Char('\t'));
    for (int k = 0; k < parts.size(); ++k) {
      const QModelIndex i = index(from.row() + r, from.column() + k);
      const files::WrittenValue* c = cell(i);
      if (!c) continue;
      QString part = parts[k].trimmed();
      if (part.startsWith(QLatin1Char('\''))) part.remove(0, 1);
      if (part == display_text(*c)) continue;
      const files::Form form = c->form == files::Form::none ? form_of_column(i) : c->form;
      if (form == files::Form::flag)
        part = part == sentence_of("word.yes") || part == QLatin1String("true") ? QStringLiteral("true")
                                                                                : QStringLiteral("false");
      entries.push_back({*c, form, part.toStdString()});
    }
  }
  try {
    session_.edit_all(file_, entries);
  } catch (const Fault& fault) {
    emit refused(sentence_of(fault.message));
  }
}

void TableModel::clear(const QModelIndexList& indexes) {
  std::vector<JobSession::Entry> entries;
  for (const QModelIndex& i : indexes)
    if (const files::WrittenValue* c = cell(i); c && c->line > 0 && c->form != files::Form::list)
      entries.push_back({*c, c->form, ""});
  try {
    session_.edit_all(file_, entries);
  } catch (const Fault& fault) {
    emit refused(sentence_of(fault.message));
  }
}

const files::WrittenRow* TableModel::row_at(int row) const {
  const files::WrittenTable* table = written_table();
  const auto at = static_cast<std::size_t>(row);
  return table && many_ && row >= 0 && at < table->rows.size() ? &table->rows[at] : nullptr;
}

int TableModel::row_of(const std::string& id) const {
  const files::WrittenTable* table = written_table();
  if (!table || !many_) return -1;
  for (std::size_t i = 0; i < table->rows.size(); ++i)
    if (table->rows[i].id == id) return static_cast<int>(i);
  return -1;
}

QModelIndex TableModel::index_of(const std::string& place) const {
  const files::WrittenTable* table = written_table();
  if (!table) return {};
  for (std::size_t r = 0; r < table->rows.size(); ++r)
    for (std::size_t k = 0; k < table->rows[r].cells.size(); ++k)
      if (table->rows[r].cells[k].place == place)
        return many_ ? index(static_cast<int>(r), static_cast<int>(k))
                     : index(static_cast<int>(k), value_column);
  return {};
}

}  // namespace seamwright::desktop

// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/desktop/form_panel.h"

#include <QFontDatabase>
#include <QHBoxLayout>
#include <QKeyEvent>
#include <QLabel>
#include <QLineEdit>
#include <QPushButton>
#include <QScrollBar>
#include <QStackedWidget>
#include <QTabBar>
#include <QTabWidget>
#include <QVBoxLayout>
#include <algorithm>

#include "app/desktop/theme.h"
#include "app/desktop/window_words.h"
#include "engine/design/design.h"
#include "engine/design/sides.h"
#include "reports/content/field_labels.h"

namespace seamwright::desktop {

namespace {

constexpr int typing_pause_ms = 800;
constexpr int long_table = 20;  // rows from which a filter helps

}  // namespace

TextPage::TextPage(JobSession& session, File file, QWidget* parent)
    : QPlainTextEdit(parent), session_(session), file_(file) {
  setAccessibleName(QString::fromLatin1(name_of(file)));
  setFont(QFontDatabase::systemFont(QFontDatabase::FixedFont));
  setLineWrapMode(QPlainTextEdit::NoWrap);
  setUndoRedoEnabled(false);  // the window's undo goes over all changes, here and in the forms
  setTabChangesFocus(true);
  pause_.setSingleShot(true);
  pause_.setInterval(typing_pause_ms);
  show_session_text();
  connect(&session, &JobSession::changed, this, &TextPage::show_session_text);
  connect(this, &QPlainTextEdit::textChanged, &pause_, qOverload<>(&QTimer::start));
  connect(&pause_, &QTimer::timeout, this, &TextPage::commit);
}

void TextPage::show_session_text() {
  const QString text = QString::fromStdString(session_.text(file_));
  QString plain = text;
  plain.replace(QLatin1String("\r\n"), QLatin1String("\n"));
  if (plain == toPlainText()) return;
  const int at = textCursor().position(), scrolled = verticalScrollBar()->value();
  const QSignalBlocker quiet(this);
  setPlainText(text);
  QTextCursor cursor = textCursor();
  cursor.setPosition(std::min(at, static_cast<int>(plain.size())));
  setTextCursor(cursor);
  verticalScrollBar()->setValue(scrolled);
}

void TextPage::commit() {
  pause_.stop();
  QString text = toPlainText();
  const std::string& before = session_.text(file_);
  if (before.find("\r\n") != std::string::npos) text.replace(QLatin1Char('\n'), QLatin1String("\r\n"));
  if (text.toStdString() != before) session_.set_text(file_, text.toStdString());
}

bool TextPage::event(QEvent* event) {
  if (event->type() == QEvent::ShortcutOverride) {
    const auto* key = static_cast<QKeyEvent*>(event);
    if (key->matches(QKeySequence::Undo) || key->matches(QKeySequence::Redo)) {
      commit();
      return false;
    }
  }
  return QPlainTextEdit::event(event);
}

void TextPage::focusOutEvent(QFocusEvent* event) {
  commit();
  QPlainTextEdit::focusOutEvent(event);
}

FormSection::FormSection(JobSession& session, const QString& title, std::vector<Part> parts, QWidget* parent)
    : QWidget(parent), session_(session), parts_(std::move(parts)) {
  auto* layout = new QVBoxLayout(this);
  layout->setContentsMargins(0, 0, 0, 0);
  layout->setSpacing(0);
  title_ = new QPushButton(title);
  title_->setObjectName(QStringLiteral("section"));
  title_->setCheckable(true);
  layout->addWidget(title_);
  body_ = new QWidget;
  body_layout_ = new QVBoxLayout(body_);
  body_layout_->setContentsMargins(0, 0, 0, 8);
  body_layout_->setSpacing(4);
  tabs_ = new QTabBar;
  tabs_->setDrawBase(false);
  tabs_->setUsesScrollButtons(true);
  tabs_->setExpanding(false);
  tabs_->setElideMode(Qt::ElideNone);
  tabs_->setAccessibleName(QString(title).remove(QLatin1Char('&')));
  pages_ = new QStackedWidget;
  body_layout_->addWidget(tabs_);
  body_layout_->addWidget(pages_, 1);
  make_row_tools(body_layout_);
  fault_ = new QLabel;
  fault_->setWordWrap(true);
  fault_->setTextInteractionFlags(Qt::TextSelectableByMouse);
  body_layout_->addWidget(fault_);
  about_ = new QLabel;
  about_->setWordWrap(true);
  about_->setTextFormat(Qt::PlainText);
  about_->setFont(hint_font());
  about_->setContentsMargins(4, 0, 4, 0);
  body_layout_->addWidget(about_);
  layout->addWidget(body_, 1);
  connect(title_, &QPushButton::clicked, this, &FormSection::opened);
  connect(tabs_, &QTabBar::currentChanged, this, &FormSection::show_tab);
  connect(&session_, &JobSession::changed, this, [this] {
    list_tabs();
    show_fault();
  });
  list_tabs();
  show_fault();
}

void FormSection::make_row_tools(QVBoxLayout* layout) {
  tools_ = new QWidget;
  auto* row = new QHBoxLayout(tools_);
  row->setContentsMargins(0, 0, 0, 0);
  filter_ = new QLineEdit;
  filter_->setPlaceholderText(sentence_of("window.filter"));
  filter_->setAccessibleName(sentence_of("window.filter"));
  filter_->setClearButtonEnabled(true);
  copy_ = new QPushButton(sentence_of("window.copy-row"));
  remove_ = new QPushButton(sentence_of("window.remove-row"));
  row->addWidget(filter_, 1);
  row->addWidget(copy_);
  row->addWidget(remove_);
  layout->addWidget(tools_);
  connect(filter_, &QLineEdit::textChanged, this, &FormSection::filter);
  const auto on_row = [this](void (JobSession::*change)(File, const std::string&)) {
    EditTable* view = current();
    const files::WrittenRow* r = view ? view->table().row_at(view->currentIndex().row()) : nullptr;
    if (!r) return;
    try {
      (session_.*change)(view->table().file(), std::string(r->place));
    } catch (const Fault& fault) {
      fault_->setText(QStringLiteral("▼ ") + sentence_of(fault.message));
      fault_->show();
    }
  };
  connect(copy_, &QPushButton::clicked, this, [on_row] { on_row(&JobSession::copy_row); });
  connect(remove_, &QPushButton::clicked, this, [on_row] { on_row(&JobSession::remove_row); });
}

void FormSection::put_above(QWidget* widget) { body_layout_->insertWidget(0, widget); }

// Tabs for the tables that the text has, in the order of the parts.
void FormSection::list_tabs() {
  std::vector<Part> there;
  for (const Part& p : parts_)
    if (const auto* t = files::table_named(session_.tables(p.file), p.table); t && !t->keys.empty())
      there.push_back(p);
  const auto same = [](const Part& a, const Part& b) { return a.file == b.file && a.table == b.table; };
  if (there.empty() || std::equal(there.begin(), there.end(), shown_.begin(), shown_.end(), same)) return;
  const std::string before = tabs_->currentIndex() >= 0
                                 ? shown_[static_cast<std::size_t>(tabs_->currentIndex())].table
                                 : there.front().table;
  const QSignalBlocker quiet(tabs_);
  while (tabs_->count() > 0) tabs_->removeTab(0);
  shown_ = there;
  int index = 0;
  for (std::size_t i = 0; i < shown_.size(); ++i) {
    tabs_->addTab(sentence_of(reports::table_title(shown_[i].table)));
    if (shown_[i].table == before) index = static_cast<int>(i);
  }
  tabs_->setVisible(shown_.size() > 1);
  tabs_->setCurrentIndex(index);
  show_tab(index);
}

EditTable* FormSection::table(File file, const std::string& name) {
  for (const auto& [part, view] : tables_)
    if (part.file == file && part.table == name) return view;
  auto* view = new EditTable(new TableModel(session_, file, name), sentence_of(reports::table_title(name)));
  connect(&view->table(), &TableModel::refused, this, [this](const QString& why) {
    fault_->setText(QStringLiteral("▼ ") + why);
    fault_->show();
  });
  connect(view, &EditTable::row_chosen, this,
          [this, name](const QString& id) { emit row_chosen(QString::fromStdString(name), id); });
  connect(view, &EditTable::field_entered, about_, &QLabel::setText);
  connect(&view->table(), &QAbstractItemModel::modelReset, this, &FormSection::filter);
  tables_.push_back({{file, name}, view});
  pages_->addWidget(view);
  return view;
}

EditTable* FormSection::current() { return qobject_cast<EditTable*>(pages_->currentWidget()); }

void FormSection::show_tab(int index) {
  if (index < 0 || static_cast<std::size_t>(index) >= shown_.size()) return;
  const Part& part = shown_[static_cast<std::size_t>(index)];
  EditTable* view = table(part.file, part.table);
  pages_->setCurrentWidget(view);
  setFocusProxy(view);
  tools_->setVisible(view->table().is_many());
  filter_->setVisible(view->table().rowCount() > long_table);
  filter();
}

void FormSection::filter() {
  EditTable* view = current();
  if (!view || !view->table().is_many()) return;
  const QString wanted = filter_->isVisibleTo(tools_) ? filter_->text() : QString();
  for (int r = 0; r < view->table().rowCount(); ++r) {
    bool match = wanted.isEmpty();
    for (int k = 0; k < view->table().columnCount() && !match; ++k)
      match = view->table().index(r, k).data().toString().contains(wanted, Qt::CaseInsensitive);
    view->setRowHidden(r, !match);
  }
}

void FormSection::show_fault() {
  const auto& fault = session_.fault();
  const bool ours =
      fault && fault->file && std::any_of(parts_.begin(), parts_.end(), [&](const Part& p) {
        return p.file == *fault->file && table(p.file, p.table)->table().index_of(fault->place).isValid();
      });
  fault_->setVisible(ours);
  if (!ours) return;
  fault_->setText(QStringLiteral("▼ ") + sentence_with_place(fault->fault));
  QPalette p = fault_->palette();
  p.setColor(QPalette::WindowText, colours().arc);
  fault_->setPalette(p);
}

void FormSection::set_open(bool open) {
  title_->setChecked(open);
  body_->setVisible(open);
  setSizePolicy(QSizePolicy::Preferred, open ? QSizePolicy::Expanding : QSizePolicy::Fixed);
}

bool FormSection::show_cell(File file, const std::string& name, const std::string& place) {
  for (std::size_t i = 0; i < shown_.size(); ++i) {
    if (shown_[i].file != file || (!name.empty() && shown_[i].table != name)) continue;
    EditTable* view = table(file, shown_[i].table);
    if (!view->table().index_of(place).isValid()) continue;
    tabs_->setCurrentIndex(static_cast<int>(i));
    view->show_cell(place);
    return true;
  }
  return false;
}

FormPanel::FormPanel(JobSession& session, QWidget* parent) : QWidget(parent), session_(session) {
  auto* layout = new QVBoxLayout(this);
  layout->setContentsMargins(0, 0, 0, 0);
  layout->setSpacing(0);
  using Parts = std::vector<FormSection::Part>;
  const auto parts = [](File file, std::initializer_list<const char*> names) {
    Parts all;
    for (const char* name : names) all.push_back({file, name});
    return all;
  };
  sections_.push_back(new FormSection(
      session, sentence_of("window.form-frame"),
      parts(File::design, {"parameters", "tube", "member", "node", "weld", "joint", "end", "notch", "bolts",
                           "steel", "hinge", "steering", "support", "case", "case.load", ""})));
  sections_.push_back(new FormSection(session, sentence_of("window.form-masses"),
                                      parts(File::design, {"mass", "wheel", "damper", "rider", "box"})));
  sections_.push_back(new FormSection(session, sentence_of("window.form-duty"),
                                      parts(File::duty, {"trip.leg", "trip", "road", "manoeuvre", "obstacle",
                                                         "rider", "drive", "peaks", "dynamics", ""})));
  sections_.push_back(
      new FormSection(session, sentence_of("window.form-rules"), parts(File::duty, {"rules"})));
  for (std::size_t i = 0; i < sections_.size(); ++i) {
    layout->addWidget(sections_[i]);
    connect(sections_[i], &FormSection::opened, this, [this, i] { open(static_cast<int>(i)); });
    connect(sections_[i], &FormSection::row_chosen, this, &FormPanel::row_chosen);
  }
  text_title_ = new QPushButton(sentence_of("window.form-text"));
  text_title_->setObjectName(QStringLiteral("section"));
  text_title_->setCheckable(true);
  layout->addWidget(text_title_);
  auto* pages = new QTabWidget;
  pages->setAccessibleName(sentence_of("window.form-text").remove(QLatin1Char('&')));
  pages->setDocumentMode(true);
  for (const File file : both_files)
    pages->addTab(new TextPage(session, file), QString::fromLatin1(name_of(file)));
  text_body_ = pages;
  layout->addWidget(text_body_, 1);
  connect(text_title_, &QPushButton::clicked, this, [this] { open(static_cast<int>(sections_.size())); });
  // A text that is no TOML can only be mended as a text.
  open(session.tables(File::design).empty() || session.tables(File::duty).empty()
           ? static_cast<int>(sections_.size())
           : 0);
}

void FormPanel::open(int index) {
  for (std::size_t i = 0; i < sections_.size(); ++i) sections_[i]->set_open(static_cast<int>(i) == index);
  const bool text = index == static_cast<int>(sections_.size());
  text_title_->setChecked(text);
  text_body_->setVisible(text);
}

void FormPanel::show_fault() {
  const auto& fault = session_.fault();
  if (!fault || !fault->file) return;
  for (std::size_t i = 0; i < sections_.size(); ++i)
    if (!fault->place.empty() && sections_[i]->show_cell(*fault->file, "", fault->place))
      return open(static_cast<int>(i));
  open(static_cast<int>(sections_.size()));
}

void FormPanel::choose_weld(const QString& id) {
  EditTable* welds = sections_[0]->table(File::design, "weld");
  int row = welds->table().row_of(id.toStdString());
  if (row < 0)  // the twin of a mirrored one
    row = welds->table().row_of(design::left_side(id.toStdString()));
  if (row < 0 || welds->hasFocus()) return;
  welds->setCurrentIndex(welds->table().index(row, 0));
}

}  // namespace seamwright::desktop

// SPDX-License-Identifier: GPL-3.0-or-later
// These stand around the desks: menus, the rail of desks, the line above and the line below.
#include <QButtonGroup>
#include <QFrame>
#include <QHBoxLayout>
#include <QLabel>
#include <QMenu>
#include <QMenuBar>
#include <QProgressBar>
#include <QPushButton>
#include <QToolButton>
#include <QVBoxLayout>

#include "app/desktop/dialogs.h"
#include "app/desktop/main_window.h"
#include "app/desktop/studies.h"
#include "app/desktop/theme.h"
#include "app/desktop/window_words.h"

namespace seamwright::desktop {

namespace {

QLabel* plain_label() {
  auto* label = new QLabel;
  label->setTextFormat(Qt::PlainText);
  return label;
}

}  // namespace

void MainWindow::make_file_menu() {
  QMenu* file = menuBar()->addMenu(sentence_of("window.menu-file"));
  file->addAction(sentence_of("window.menu-new"), QKeySequence::New, this, &MainWindow::begin_job);
  file->addAction(sentence_of("window.menu-open"), QKeySequence::Open, this, &MainWindow::ask_open);
  file->addAction(sentence_of("window.menu-open-book"), this, &MainWindow::ask_open_book);
  QMenu* recent = file->addMenu(sentence_of("window.menu-recent"));
  for (const QString& path : recent_files())
    recent->addAction(QString(path).replace(QLatin1Char('&'), QLatin1String("&&")), this,
                      [this, path] { open(path); });
  recent->setEnabled(!recent->isEmpty());
  file->addAction(sentence_of("window.menu-demo"), this, &MainWindow::open_demo);
  file->addAction(sentence_of("window.menu-demo-book"), this, &MainWindow::open_demo_book);
  file->addSeparator();
  needs_job_ << file->addAction(sentence_of("window.menu-save"), QKeySequence::Save, this,
                                [this] { save(); });
  needs_job_ << file->addAction(sentence_of("window.menu-save-as"), QKeySequence::SaveAs, this,
                                [this] { save_as(); });
  needs_job_ << file->addAction(sentence_of("window.menu-report"), QKeySequence::Print, this,
                                &MainWindow::write_report);
  needs_job_ << file->addAction(sentence_of("window.menu-import"), this, &MainWindow::import_table);
  file->addSeparator();
  file->addAction(sentence_of("window.menu-new-book"), this, [this] {
    if (!make_book().isEmpty()) rebuild();
  });
  lock_ = file->addAction(sentence_of("window.menu-lock"), &shift_, &Shift::lock);
  file->addSeparator();
  file->addAction(sentence_of("window.menu-close"), QKeySequence::Close, this, &QWidget::close);
  file->addAction(sentence_of("window.menu-quit"), QKeySequence::Quit, this, &QWidget::close);
}

void MainWindow::make_menus() {
  needs_job_.clear();
  make_file_menu();
  QMenu* edit = menuBar()->addMenu(sentence_of("window.menu-edit"));
  needs_job_ << edit->addAction(sentence_of("window.menu-undo"), QKeySequence::Undo, this, [this] {
    if (session_) session_->undo_stack().undo();
  });
  needs_job_ << edit->addAction(sentence_of("window.menu-redo"), QKeySequence::Redo, this, [this] {
    if (session_) session_->undo_stack().redo();
  });
  edit->addSeparator();
  needs_job_ << edit->addAction(sentence_of("window.menu-find"), QKeySequence::Find, this, [this] {
    if (desk_) desk_->find();
  });
  edit->addSeparator();
  edit->addAction(sentence_of("window.menu-settings"), QKeySequence(Qt::CTRL | Qt::Key_Comma), this,
                  &MainWindow::settings)
      ->setMenuRole(QAction::PreferencesRole);
  QMenu* rate = menuBar()->addMenu(sentence_of("window.menu-rate"));
  needs_job_ << rate->addAction(sentence_of("window.menu-count"), QKeySequence(Qt::Key_F5), this, [this] {
    if (desk_) desk_->count_cycles();
  });
  needs_job_ << rate->addAction(sentence_of("window.menu-stop"), QKeySequence(Qt::SHIFT | Qt::Key_F5), this,
                                [this] { rater_.cancel(); });
  needs_job_ << rate->addAction(sentence_of("window.menu-fault"), QKeySequence(Qt::Key_F8), this, [this] {
    if (desk_) desk_->show_fault();
  });
  rate->addSeparator();
  for (const Study& study : studies_)
    needs_job_ << rate->addAction(sentence_of(study.name), this, [this, &study] { show_study(study.id); });
  QMenu* help = menuBar()->addMenu(sentence_of("window.menu-help"));
  help->addAction(sentence_of("window.menu-keys"), QKeySequence::HelpContents, this,
                  [this] { show_help(this); });
  help->addAction(sentence_of("window.menu-about"), this, [this] { show_about(this); })
      ->setMenuRole(QAction::AboutRole);
}

QFrame* MainWindow::make_rail() {
  auto* rail = new QFrame;
  rail->setObjectName(QStringLiteral("rail"));
  auto* layout = new QVBoxLayout(rail);
  layout->setContentsMargins(4, 8, 4, 8);
  auto* group = new QButtonGroup(rail);
  rail_.clear();
  for (const DeskKind& kind : desk_kinds_) {
    auto* button = new QToolButton;
    button->setText(sentence_of(kind.name));
    button->setIcon(kind.icon());
    button->setIconSize(QSize(48, 36));
    button->setToolButtonStyle(Qt::ToolButtonTextUnderIcon);
    button->setCheckable(true);
    button->setFocusPolicy(Qt::StrongFocus);
    button->setSizePolicy(QSizePolicy::Expanding, QSizePolicy::Preferred);
    button->setObjectName(QLatin1String(kind.id));
    group->addButton(button);
    layout->addWidget(button);
    rail_ << button;
    const QKeySequence keys(Qt::CTRL | static_cast<Qt::Key>(Qt::Key_0 + rail_.size()));
    button->setShortcut(keys);
    button->setToolTip(keys.toString(QKeySequence::NativeText));
    connect(button, &QToolButton::clicked, this, [this, &kind] { show_desk(QLatin1String(kind.id)); });
  }
  layout->addStretch(1);
  return rail;
}

QFrame* MainWindow::make_top() {
  auto* top = new QFrame;
  top->setObjectName(QStringLiteral("bar"));
  auto* layout = new QHBoxLayout(top);
  layout->setContentsMargins(16, 6, 16, 6);
  layout->setSpacing(24);
  job_ = plain_label();
  job_->setFont(number_font());
  for (QLabel** label : {&saved_, &rules_, &book_label_, &shift_label_}) *label = plain_label();
  layout->addWidget(job_);
  layout->addWidget(saved_);
  layout->addStretch(1);
  layout->addWidget(rules_);
  layout->addWidget(book_label_);
  layout->addWidget(shift_label_);
  return top;
}

QFrame* MainWindow::make_bottom() {
  auto* bottom = new QFrame;
  auto* layout = new QHBoxLayout(bottom);
  layout->setContentsMargins(16, 2, 16, 4);
  message_ = plain_label();
  message_->setSizePolicy(QSizePolicy::Ignored, QSizePolicy::Preferred);
  message_->setMinimumHeight(26);
  progress_ = new QProgressBar;
  progress_->setMaximumWidth(240);
  progress_->setTextVisible(false);
  progress_->setAccessibleName(sentence_of("window.progress"));
  progress_->hide();
  cancel_ = new QPushButton(sentence_of("window.stop"));
  cancel_->hide();
  to_fault_ = new QPushButton(sentence_of("window.to-fault"));
  to_fault_->hide();
  layout->addWidget(message_, 1);
  layout->addWidget(to_fault_);
  layout->addWidget(progress_);
  layout->addWidget(cancel_);
  connect(cancel_, &QPushButton::clicked, this, [this] { rater_.cancel(); });
  connect(to_fault_, &QPushButton::clicked, this, [this] {
    if (desk_) desk_->show_fault();
  });
  return bottom;
}

}  // namespace seamwright::desktop

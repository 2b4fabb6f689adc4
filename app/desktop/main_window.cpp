// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/desktop/main_window.h"

#include <QApplication>
#include <QCloseEvent>
#include <QDir>
#include <QFileDialog>
#include <QHBoxLayout>
#include <QLabel>
#include <QMenu>
#include <QMenuBar>
#include <QMimeData>
#include <QProgressBar>
#include <QPushButton>
#include <QSettings>
#include <QStackedWidget>
#include <QToolButton>
#include <QVBoxLayout>

#include "app/desktop/dialogs.h"
#include "app/desktop/message_bar.h"
#include "app/desktop/paper_output.h"
#include "app/desktop/record_dialog.h"
#include "app/desktop/start_page.h"
#include "app/desktop/studies.h"
#include "app/desktop/theme.h"
#include "app/desktop/window_words.h"
#include "catalog/book/book.h"
#include "catalog/book/demo_book.h"
#include "catalog/book/store/stores.h"
#include "catalog/files/import_table.h"
#include "catalog/files/demonstration.h"
#include "catalog/files/source.h"
#include "reports/pages/pages.h"
#include "reports/render/render.h"
#include "reports/sheets/sheets.h"

namespace seamwright::desktop {

namespace {

constexpr int most_recent = 8;
constexpr const char *recent_key = "recent", *place_key = "window/place", *state_key = "window/state";

// "12:ab34cd56": number and first eight figures.
QString short_head(const QString& head) { return head.left(head.indexOf(QLatin1Char(':')) + 9); }

}  // namespace

MainWindow::MainWindow(const std::vector<DeskKind>& desks, const std::vector<Study>& studies,
                       Modellers modellers)
    : desk_kinds_(desks), studies_(studies), modellers_(modellers), joints_(modellers.joints), rater_(joints_) {
  setAcceptDrops(true);
  connect(&rater_, &Rater::started, this, [this](bool counting) {
    progress_->setRange(0, counting ? 1000 : 0);
    progress_->setValue(0);
    progress_->setVisible(counting);
    cancel_->setVisible(counting);
    if (counting) show_message(sentence_of("window.counting"));
  });
  connect(&rater_, &Rater::progress, this,
          [this](double share) { progress_->setValue(static_cast<int>(1000 * share)); });
  const auto ended = [this] {
    progress_->hide();
    cancel_->hide();
  };
  connect(&rater_, &Rater::finished, this, [this, ended](const std::shared_ptr<const RatedJob>& rated) {
    ended();
    rated_ = rated;
    if (rated->method == rating::Method::time) show_message(sentence_of("window.counted"));
    std::vector<std::string> worst_first;
    for (const rating::WeldRating& w : rated->rating.welds) worst_first.push_back(w.id);
    joints_.request(rated->job, worst_first);
    show_state();
  });
  connect(&rater_, &Rater::failed, this, [this, ended](const Message& message) {
    ended();
    if (session_) session_->set_model_fault(Fault{message});
    show_state();
  });
  connect(&rater_, &Rater::stopped, this, [this, ended] {
    ended();
    show_message(sentence_of("window.stopped"));
  });
  connect(&joints_, &JointMaker::came, this, [this] {
    show_message(joints_.left() > 0 ? sentence_of("window.joints-left", {number("count", joints_.left(), "")}) : sentence_of("window.joints-done"));
    if (session_ && session_->job() && !rater_.is_counting()) rater_.request(session_->job(), rated_ ? rated_->explained : std::string());
  });
  connect(&joints_, &JointMaker::failed, this, [this](const Message& m) { show_message(sentence_of(m)); });
  connect(&shift_, &Shift::changed, this, &MainWindow::show_state);
  for (Task* task : {&report_, &book_task_})
    connect(task, &Task::failed, this, [this](const Message& m) { show_message(sentence_of(m)); });
  rebuild();
  QSettings settings;
  resize(1440, 900);
  restoreGeometry(settings.value(QLatin1String(place_key)).toByteArray());
  offer_drafts();
}

MainWindow::~MainWindow() {
  rater_.cancel();
  drafts_.follow(nullptr);
  delete centralWidget();  // the desk goes before the session that it looks at
}

void MainWindow::rebuild() {
  const QString message = message_ ? message_->text() : QString();
  menuBar()->clear();
  for (QMenu* menu : menuBar()->findChildren<QMenu*>(QString(), Qt::FindDirectChildrenOnly))
    menu->deleteLater();  // one of them may be what called
  make_menus();
  desk_ = nullptr;
  auto* centre = new QWidget;
  auto* outer = new QVBoxLayout(centre);
  outer->setContentsMargins(0, 0, 0, 0);
  outer->setSpacing(0);
  outer->addWidget(make_top());
  // Bars outlive what stands around them: the answer to one may be what makes the window anew.
  QList<QWidget*> bars;
  while (bars_ && bars_->count() > 0) {
    QLayoutItem* item = bars_->takeAt(0);
    if (item->widget()) bars << item->widget();
    delete item;
  }
  bars_ = new QVBoxLayout;
  outer->addLayout(bars_);
  for (QWidget* bar : bars) bars_->addWidget(bar);
  auto* row = new QHBoxLayout;
  row->setSpacing(0);
  row->addWidget(make_rail());
  pages_ = new QStackedWidget;
  row->addWidget(pages_, 1);
  outer->addLayout(row, 1);
  outer->addWidget(make_bottom());
  setCentralWidget(centre);
  if (session_ || (desk_id_ == QLatin1String("trace") && !book_.isEmpty())) {
    show_desk(desk_id_);
  } else {
    auto* start = new StartPage(recent_files());
    pages_->addWidget(start);
    connect(start, &StartPage::demo_wanted, this, &MainWindow::open_demo);
    connect(start, &StartPage::open_wanted, this, &MainWindow::ask_open);
    connect(start, &StartPage::job_wanted, this, &MainWindow::open);
    start->setFocus();
  }
  show_message(message);
  show_state();  // a fault of the job comes before what was said last
}

void MainWindow::show_desk(const QString& id) {
  for (const DeskKind& kind : desk_kinds_) {
    if (id != QLatin1String(kind.id)) continue;
    if (kind.needs_job && !session_) {
      show_message(sentence_of("window.desk-needs-job"));
      break;
    }
    Context context{session_.get(),
                    &rater_,
                    rated_,
                    book_,
                    [this](const QString& text) { show_message(text); },
                    &shift_,
                    [this] { return make_book(); },
                    [this] { read_head(); },
                    &studies_,
                    modellers_.solids,
                    &joints_};
    Desk* desk = kind.make(context);
    desk->setObjectName(id + QStringLiteral("-desk"));
    pages_->addWidget(desk);
    pages_->setCurrentWidget(desk);
    if (desk_) desk_->deleteLater();
    desk_ = desk;
    desk_id_ = id;
  }
  for (QToolButton* button : rail_) button->setChecked(desk_ && button->objectName() == desk_id_);
}

void MainWindow::show_study(const char* id) {
  if (desk_id_ != QLatin1String("rate")) show_desk(QStringLiteral("rate"));
  if (desk_) desk_->show_study(QLatin1String(id));
}

QString MainWindow::message() const { return message_->text(); }

void MainWindow::show_message(const QString& text) {
  message_->setText(text);
  message_->setToolTip(text.toHtmlEscaped());
}

void MainWindow::show_state() {
  for (QAction* action : needs_job_) action->setEnabled(session_ != nullptr);
  book_label_->setText(
      book_.isEmpty() ? sentence_of("window.no-book")
                      : sentence_of("window.book", {text("book", QFileInfo(book_).fileName().toStdString()),
                                                    text("head", book_head_.toStdString())}));
  const bool signing = !shift_.person().empty();
  shift_label_->setText(signing ? sentence_of("window.signs", {text("person", shift_.person())}) : QString());
  shift_label_->setVisible(signing);
  lock_->setEnabled(signing);
  if (!session_) {
    setWindowTitle(sentence_of("window.name"));
    job_->setText(sentence_of("window.no-job"));
    saved_->clear();
    rules_->clear();
    return;
  }
  const bool is_saved = session_->is_saved();
  setWindowTitle(session_->name() + QStringLiteral("[*] – ") + sentence_of("window.name"));
  setWindowModified(!is_saved);
  job_->setText(session_->name());
  job_->setToolTip(visible_text(session_->folder()).toHtmlEscaped());
  saved_->setText(sentence_of(is_saved ? MessageId("window.saved") : "window.not-saved"));
  if (session_->job())
    rules_->setText(sentence_of("window.rules", {term_argument("set", "rule-set.", name_of(session_->job()->rules.set))}));
  to_fault_->setVisible(session_->fault().has_value());
  if (session_->fault()) show_message(QStringLiteral("▼ ") + sentence_with_place(session_->fault()->fault));
}

void MainWindow::set_session(std::unique_ptr<JobSession> session) {
  delete desk_;
  desk_ = nullptr;
  rater_.cancel();
  rated_.reset();
  session_ = std::move(session);
  if (desk_id_ == QLatin1String("trace")) desk_id_ = QStringLiteral("rate");
  drafts_.follow(session_.get());
  connect(session_.get(), &JobSession::changed, this, [this] {
    if (!session_->fault()) show_message({});
    show_state();
  });
  remember(QString::fromStdString(session_->folder()));
  rebuild();
  if (session_->fault()) desk_->show_fault();
}

void MainWindow::open(const QString& path) {
  if (book::is_book(path.toStdString())) return open_book(path);
  if (!may_close_job()) return;
  try {
    set_session(JobSession::open(path.toStdString()));
    if (!session_->fault()) show_message(sentence_of("window.opened", {text("folder", session_->folder())}));
  } catch (const Fault& fault) {
    show_message(QStringLiteral("▼ ") + sentence_of(fault.message));
  }
}

void MainWindow::open_book(const QString& path) {
  book_task_.start([this, path](const rating::Progress&) -> Task::Then {
    const QString head = QString::fromStdString(book::Book::open_read(path.toStdString()).head());
    return [this, path, head] {
      book_ = path;
      book_head_ = short_head(head);
      if (!session_) desk_id_ = QStringLiteral("trace");
      rebuild();
      show_message(sentence_of("window.book-opened", {text("book", path.toStdString())}));
    };
  });
}

QString MainWindow::make_book() {
  const QString path = ask_new_book(this);
  if (path.isEmpty()) return {};
  book_ = path;
  read_head();
  show_message(sentence_of("window.book-opened", {text("book", path.toStdString())}));
  return path;
}

void MainWindow::read_head() {
  try {
    book_head_ = short_head(QString::fromStdString(book::Book::open_read(book_.toStdString()).head()));
  } catch (const Fault& fault) {
    show_message(QStringLiteral("▼ ") + sentence_of(fault.message));
  }
  show_state();
}

void MainWindow::begin_job() {
  if (!may_close_job()) return;
  if (const QString folder = ask_new_job(this); !folder.isEmpty()) open(folder);
}

void MainWindow::import_table() {
  const QString path = QFileDialog::getOpenFileName(this, sentence_of("window.import-title"));
  if (!path.isEmpty()) import_from(path);
}

void MainWindow::import_from(const QString& path) {
  try {
    const files::Imported rows =
        files::import_table(session_->path(File::design), session_->text(File::design), path.toStdString());
    session_->set_text(File::design, rows.text);
    if (!session_->fault())
      show_message(
          sentence_of("window.imported", {number("added", static_cast<double>(rows.added), ""),
                                          number("changed", static_cast<double>(rows.changed), "")}));
  } catch (const Fault& fault) {
    show_message(QStringLiteral("▼ ") + sentence_with_place(fault));
  }
}

void MainWindow::open_demo() {
  if (!may_close_job()) return;
  // A copy of its own each time, so that nothing of the last visit stands in the way.
  const QString base = QDir::tempPath() + QStringLiteral("/seamwright-demo");
  QString folder;
  for (int n = 1; folder.isEmpty() || QFileInfo::exists(folder); ++n)
    folder = QStringLiteral("%1-%2/orchard-trike").arg(base).arg(n);
  try {
    files::write_demonstration_job(folder.toStdString(), files::Wording(language().file->code));
    set_session(JobSession::open(folder.toStdString()));
    show_message(sentence_of("window.demo-opened", {text("folder", folder.toStdString())}));
  } catch (const Fault& fault) {
    show_message(QStringLiteral("▼ ") + sentence_of(fault.message));
  } catch (const std::exception& error) {
    show_message(sentence_of("window.failed", {text("what", error.what())}));
  }
}

void MainWindow::open_demo_book() {
  const QString base = QDir::tempPath() + QStringLiteral("/seamwright-demo");
  QString path;
  for (int n = 1; path.isEmpty() || QFileInfo::exists(path); ++n)
    path = QStringLiteral("%1-%2.book").arg(base).arg(n);
  const bool started = book_task_.start([this, path](const rating::Progress&) -> Task::Then {
    book::write_demo(path.toStdString(), "seamwright-desktop " SEAMWRIGHT_VERSION, files::Wording(language().file->code));
    return [this, path] { open_book(path); };
  });
  show_message(sentence_of(started ? MessageId("window.demo-book-making") : "window.busy"));
}

void MainWindow::ask_open_book() {
  const QString path = QFileDialog::getOpenFileName(this, sentence_of("window.open-book-title"));
  if (!path.isEmpty()) open(path);
}

void MainWindow::ask_open() {
  const QString folder = QFileDialog::getExistingDirectory(this, sentence_of("window.open-title"));
  if (!folder.isEmpty()) open(folder);
}

bool MainWindow::save() {
  if (!session_) return false;
  try {
    if (session_->changed_on_disk() && !ask_overwrite(this)) return false;
    session_->save();
    show_message(sentence_of("window.saved-to", {text("folder", session_->folder())}));
  } catch (const std::exception& error) {
    show_message(sentence_of("window.failed", {text("what", error.what())}));
    return false;
  }
  return true;
}

bool MainWindow::save_as() {
  const QString folder = QFileDialog::getExistingDirectory(this, sentence_of("window.save-as-title"));
  if (!session_ || folder.isEmpty()) return false;
  try {
    drafts_.remove();
    session_->save_as(folder.toStdString());
    drafts_.follow(session_.get());
    remember(folder);
    show_message(sentence_of("window.saved-to", {text("folder", session_->folder())}));
  } catch (const Fault& fault) {
    show_message(QStringLiteral("▼ ") + sentence_of(fault.message));
    return false;
  } catch (const std::exception& error) {
    show_message(sentence_of("window.failed", {text("what", error.what())}));
    return false;
  }
  return true;
}

void MainWindow::write_report() {
  if (!rated_) return show_message(sentence_of("window.not-rated"));
  const QString path = QFileDialog::getSaveFileName(this, sentence_of("window.report-title"), QString(),
                                                    QStringLiteral("PDF (*.pdf);;HTML (*.html)"));
  if (!path.isEmpty()) write_report_to(path);
}

void MainWindow::write_report_to(const QString& path) {
  report_.start([this, path, rated = rated_, in = language()](const rating::Progress&) -> Task::Then {
    const reports::Document document = reports::rating_sheet({rated->job.get(), &rated->rating, {}, {}}, {});
    files::write_text(path.toStdString(), path.endsWith(QLatin1String(".html"))
                                              ? reports::to_html(document, in)
                                              : reports::to_pdf(document, in, paper()));
    return [this, path] {
      show_message(sentence_of("window.report-written", {text("file", path.toStdString())}));
    };
  });
}

void MainWindow::settings() {
  if (!ask_settings(this)) return;
  QSettings settings;
  set_language_code(settings.value(QStringLiteral("language")).toString());
  const QString wanted = settings.value(QStringLiteral("style")).toString();
  if (!wanted.isEmpty()) apply_style(*qApp, wanted == QLatin1String("dark") ? Style::dark : Style::light);
  rebuild();
}

QStringList MainWindow::recent_files() { return QSettings().value(QLatin1String(recent_key)).toStringList(); }

void MainWindow::remember(const QString& path) {
  QSettings settings;
  QStringList recent = recent_files();
  recent.removeAll(path);
  recent.prepend(path);
  while (recent.size() > most_recent) recent.removeLast();
  settings.setValue(QLatin1String(recent_key), recent);
}

void MainWindow::offer_drafts() {
  for (const Draft& draft : Drafts::kept_drafts()) {
    const QString text_of = sentence_of(
        "window.draft-found",
        {text("folder", draft.folder),
         text("time", QLocale().toString(draft.time.toLocalTime(), QLocale::ShortFormat).toStdString())});
    bars_->addWidget(new MessageBar(
        text_of, {{sentence_of("window.draft-view"),
                   [this, draft] {
                     show_draft(this, draft);
                     return false;
                   }},
                  {sentence_of("window.draft-restore"), [this, draft] { return restore(draft); }},
                  {sentence_of("window.draft-discard"), [draft] {
                     Drafts::discard(draft);
                     return true;
                   }}}));
  }
}

bool MainWindow::restore(const Draft& draft) {
  if (!may_close_job()) return false;
  try {
    auto session = JobSession::open(draft.folder);
    JobSession* opened = session.get();
    set_session(std::move(session));
    for (const File file : both_files) opened->set_text(file, draft.texts[static_cast<std::size_t>(file)]);
    drafts_.write_now();
    show_message(sentence_of("window.draft-restored"));
  } catch (const Fault& fault) {
    show_message(QStringLiteral("▼ ") + sentence_of(fault.message));
    return false;
  }
  return true;
}

bool MainWindow::may_close_job() {
  if (!session_ || session_->is_saved()) return true;
  switch (ask_close(this, session_->name())) {
    case CloseChoice::save:
      return save();
    case CloseChoice::discard:
      drafts_.remove();
      return true;
    default:
      return false;
  }
}

void MainWindow::closeEvent(QCloseEvent* event) {
  if (!may_close_job()) return event->ignore();
  QSettings settings;
  settings.setValue(QLatin1String(place_key), saveGeometry());
  rater_.cancel();
  event->accept();
}

void MainWindow::changeEvent(QEvent* event) {
  if (event->type() == QEvent::ActivationChange && !isActiveWindow()) drafts_.write_now();
  QMainWindow::changeEvent(event);
}

void MainWindow::dragEnterEvent(QDragEnterEvent* event) {
  const QList<QUrl> urls = event->mimeData()->urls();
  if (urls.size() == 1 && urls[0].isLocalFile()) event->acceptProposedAction();
}

void MainWindow::dropEvent(QDropEvent* event) {
  const QList<QUrl> urls = event->mimeData()->urls();
  if (urls.size() == 1) open(urls[0].toLocalFile());
}

}  // namespace seamwright::desktop

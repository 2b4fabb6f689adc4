// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/desktop/dialogs.h"

#include <QApplication>
#include <QClipboard>
#include <QComboBox>
#include <QDialog>
#include <QDialogButtonBox>
#include <QFormLayout>
#include <QLabel>
#include <QMessageBox>
#include <QPushButton>
#include <QSettings>
#include <QTextBrowser>
#include <QVBoxLayout>
#include <filesystem>

#include "app/desktop/document_view.h"
#include "app/desktop/theme.h"
#include "app/desktop/window_words.h"
#include "catalog/files/difference.h"
#include "catalog/files/source.h"
#include "catalog/published/published_data.h"
#include "engine/frame/frame.h"
#include "reports/content/evidence_blocks.h"
#include "reports/render/render.h"

namespace seamwright::desktop {

namespace {

QDialog* page_dialog(QWidget* parent, const QString& title, QTextBrowser* browser) {
  auto* dialog = new QDialog(parent);
  dialog->setAttribute(Qt::WA_DeleteOnClose);
  dialog->setWindowTitle(title);
  auto* layout = new QVBoxLayout(dialog);
  browser->setAccessibleName(title);
  browser->setOpenLinks(false);
  layout->addWidget(browser);
  auto* close = new QPushButton(sentence_of("window.close"));
  close->setDefault(true);
  QObject::connect(close, &QPushButton::clicked, dialog, &QDialog::close);
  layout->addWidget(close, 0, Qt::AlignRight);
  dialog->resize(860, 620);
  return dialog;
}

// Titles and what the keys do, for the window and for print.
reports::Document help_document() {
  reports::Document d;
  d.title = {"window.help-title", {}};
  struct Row {
    const char* key;
    MessageId does;
  };
  const auto keys = [&](MessageId heading, std::initializer_list<Row> rows) {
    d.blocks.push_back(reports::Heading{2, {heading, {}}});
    reports::Table t;
    t.columns = {{"window.help-key", {}}, {"window.help-does", {}}};
    for (const auto& [key, does] : rows) t.rows.push_back({reports::Verbatim{key}, Message{does, {}}});
    d.blocks.push_back(std::move(t));
  };
  d.blocks.push_back(reports::Paragraph{{"window.help-rate", {}}});
  d.blocks.push_back(reports::Paragraph{{"window.help-forms", {}}});
  d.blocks.push_back(reports::Paragraph{{"window.help-drafts", {}}});
  keys("window.help-window", {{"Ctrl+O", "window.help-open"},
                              {"Ctrl+S, Ctrl+Shift+S", "window.help-save"},
                              {"Ctrl+Z, Ctrl+Shift+Z", "window.help-undo"},
                              {"Ctrl+F", "window.help-find"},
                              {"F5", "window.help-count"},
                              {"F8", "window.help-fault"},
                              {"Ctrl+,", "window.help-settings"},
                              {"F1", "window.help-help"}});
  keys("window.frame-view", {{"← → ↑ ↓", "window.help-turn"},
                             {"Shift+← → ↑ ↓", "window.help-move"},
                             {"+ −", "window.help-zoom"},
                             {"Home", "window.help-fit"},
                             {"Page Up, Page Down", "window.help-step"}});
  keys("window.help-tables", {{"Enter, F2", "window.help-edit"},
                              {"Delete", "window.help-clear"},
                              {"Ctrl+C, Ctrl+V", "window.help-paste"}});
  d.blocks.push_back(reports::cautions());
  return d;
}

QMessageBox* question(QWidget* parent, const QString& what) {
  auto* box =
      new QMessageBox(QMessageBox::NoIcon, sentence_of("window.name"), what, QMessageBox::NoButton, parent);
  box->setTextFormat(Qt::PlainText);
  return box;
}

}  // namespace

void show_document(QWidget* parent, const reports::Document& document) {
  auto* browser = new DocumentView;
  browser->set_document(document);
  page_dialog(parent, sentence_of(document.title), browser)->show();
}

void show_help(QWidget* parent) { show_document(parent, help_document()); }

QString version_block() {
  return QStringLiteral("seamwright-desktop " SEAMWRIGHT_VERSION "\nQt %1\ncatalog %2\n%3 %4\n")
      .arg(QString::fromLatin1(qVersion()), QString::fromStdString(published::catalog().sha256.substr(0, 12)),
           QSysInfo::prettyProductName(), QSysInfo::currentCpuArchitecture());
}

void show_about(QWidget* parent) {
  auto* browser = new QTextBrowser;
  browser->setPlainText(version_block() + QLatin1Char('\n') + sentence_of("window.licences"));
  QDialog* dialog = page_dialog(parent, sentence_of("window.about-title"), browser);
  auto* copy = new QPushButton(sentence_of("window.copy-block"));
  QObject::connect(copy, &QPushButton::clicked, dialog,
                   [] { QApplication::clipboard()->setText(version_block()); });
  static_cast<QVBoxLayout*>(dialog->layout())->insertWidget(1, copy, 0, Qt::AlignLeft);
  dialog->resize(560, 420);
  dialog->show();
}

void show_draft(QWidget* parent, const Draft& draft) {
  reports::Document d;
  d.title = {"window.draft-title", {text("folder", draft.folder)}};
  for (const File file : both_files) {
    const std::string path = (std::filesystem::path(draft.folder) / name_of(file)).string();
    const std::string& drafted = draft.texts[static_cast<std::size_t>(file)];
    d.blocks.push_back(reports::Heading{2, {"column.source", {text("source", name_of(file))}}});
    try {
      reports::Table t;
      t.columns = {{"column.place", {}}, {"window.draft-saved", {}}, {"window.draft-drafted", {}}};
      for (const files::Difference& c : files::differences_of(path, files::read_text(path), drafted))
        t.rows.push_back(
            {reports::Verbatim{c.place}, reports::Verbatim{c.first}, reports::Verbatim{c.second}});
      d.blocks.push_back(std::move(t));
    } catch (const Fault& fault) {
      d.blocks.push_back(reports::Paragraph{fault.message});
    }
  }
  show_document(parent, d);
}

bool ask_settings(QWidget* parent) {
  QDialog dialog(parent);
  dialog.setWindowTitle(sentence_of("window.settings-title"));
  auto* form = new QFormLayout(&dialog);
  auto* languages = new QComboBox;
  for (const reports::Language& offered : reports::languages()) {
    languages->addItem(visible_text(std::string(offered.file->name)),
                       visible_text(std::string(offered.file->code)));
    if (offered == language()) languages->setCurrentIndex(languages->count() - 1);
  }
  auto* styles = new QComboBox;
  styles->addItem(sentence_of("window.style-desktop"), QString());
  styles->addItem(sentence_of("window.style-light"), QStringLiteral("light"));
  styles->addItem(sentence_of("window.style-dark"), QStringLiteral("dark"));
  QSettings settings;
  styles->setCurrentIndex(std::max(0, styles->findData(settings.value(QStringLiteral("style")).toString())));
  form->addRow(sentence_of("window.settings-language"), languages);
  form->addRow(sentence_of("window.settings-style"), styles);
  languages->setAccessibleName(sentence_of("window.settings-language").remove(QLatin1Char('&')));
  styles->setAccessibleName(sentence_of("window.settings-style").remove(QLatin1Char('&')));
  auto* buttons = new QDialogButtonBox;
  buttons->addButton(sentence_of("window.apply"), QDialogButtonBox::AcceptRole);
  buttons->addButton(sentence_of("window.cancel"), QDialogButtonBox::RejectRole);
  auto* reset = buttons->addButton(sentence_of("window.settings-reset"), QDialogButtonBox::ResetRole);
  QObject::connect(reset, &QPushButton::clicked, &dialog, [&] {
    settings.clear();
    styles->setCurrentIndex(0);
  });
  form->addRow(buttons);
  QObject::connect(buttons, &QDialogButtonBox::accepted, &dialog, &QDialog::accept);
  QObject::connect(buttons, &QDialogButtonBox::rejected, &dialog, &QDialog::reject);
  if (dialog.exec() != QDialog::Accepted) return false;
  settings.setValue(QStringLiteral("language"), languages->currentData());
  settings.setValue(QStringLiteral("style"), styles->currentData());
  return true;
}

CloseChoice ask_close(QWidget* parent, const QString& job) {
  const std::unique_ptr<QMessageBox> box(
      question(parent, sentence_of("window.close-question", {text("job", job.toStdString())})));
  auto* save = box->addButton(sentence_of("window.close-save"), QMessageBox::AcceptRole);
  auto* discard = box->addButton(sentence_of("window.close-discard"), QMessageBox::DestructiveRole);
  auto* cancel = box->addButton(sentence_of("window.cancel"), QMessageBox::RejectRole);
  box->setDefaultButton(save);
  box->setEscapeButton(cancel);
  box->exec();
  return box->clickedButton() == save      ? CloseChoice::save
         : box->clickedButton() == discard ? CloseChoice::discard
                                           : CloseChoice::cancel;
}

bool ask_overwrite(QWidget* parent) {
  const std::unique_ptr<QMessageBox> box(question(parent, sentence_of("window.overwrite-question")));
  auto* overwrite = box->addButton(sentence_of("window.overwrite"), QMessageBox::DestructiveRole);
  auto* cancel = box->addButton(sentence_of("window.cancel"), QMessageBox::RejectRole);
  box->setDefaultButton(cancel);
  box->setEscapeButton(cancel);
  box->exec();
  return box->clickedButton() == overwrite;
}

}  // namespace seamwright::desktop

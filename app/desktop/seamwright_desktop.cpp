// SPDX-License-Identifier: GPL-3.0-or-later
// seamwright-desktop [JOB|BOOK]
#include <QApplication>
#include <QCommandLineParser>
#include <QLibraryInfo>
#include <QLocale>
#include <QSettings>
#include <QTranslator>
#include <cstdio>
#include <thread>

#include "app/desktop/main_window.h"
#include "app/desktop/theme.h"
#include "app/desktop/window_words.h"
#include "catalog/models/user_modeller.h"
#include "catalog/published/published_data.h"
#include "engine/machine/parallel.h"

namespace {

using namespace seamwright;
using namespace seamwright::desktop;

struct Options {
  QString language, style, path;
};

// Words of Qt's own, such as those of its dialogs for files.
void translate_qt(QApplication& application) {
  static QTranslator translator;
  if (translator.load(QStringLiteral("qtbase_") + visible_text(std::string(language().file->code)),
                      QLibraryInfo::path(QLibraryInfo::TranslationsPath)))
    application.installTranslator(&translator);
}

void set_up(QApplication& application, const Options& options) {
  QSettings settings;
  QString wanted = options.language;
  if (wanted.isEmpty()) wanted = settings.value(QStringLiteral("language")).toString();
  if (wanted.isEmpty()) wanted = QLocale::system().name().left(2);
  set_language_code(wanted);
  QLocale::setDefault(QLocale(visible_text(std::string(language().file->code))));
  translate_qt(application);
  QString style = options.style;
  if (style.isEmpty()) style = settings.value(QStringLiteral("style")).toString();
  apply_style(application, style.isEmpty()                  ? desktop_style(application)
                           : style == QLatin1String("dark") ? Style::dark
                                                            : Style::light);
}

int refuse(const QString& what) {
  std::fprintf(stderr, "%s\n", qPrintable(what));
  return 2;
}

}  // namespace

int main(int argc, char** argv) {
  machine::keep_freed_memory();
  QApplication application(argc, argv);
  QApplication::setOrganizationName(QStringLiteral("seamwright"));
  QApplication::setApplicationName(QStringLiteral("desktop"));
  QApplication::setApplicationVersion(QStringLiteral(SEAMWRIGHT_VERSION));
  QSettings::setDefaultFormat(QSettings::IniFormat);

  QCommandLineParser parser;
  parser.setApplicationDescription(sentence_of("window.about-program"));
  parser.addPositionalArgument(QStringLiteral("path"), sentence_of("window.option-path"),
                               QStringLiteral("[JOB|BOOK]"));
  const QString codes = language_codes().join(QLatin1Char('|'));
  const QCommandLineOption help({QStringLiteral("h"), QStringLiteral("help")},
                                sentence_of("window.option-help")),
      version(QStringLiteral("version"), sentence_of("window.option-version")),
      language_option(QStringLiteral("language"),
                      sentence_of("window.option-language", {text("codes", codes.toStdString())}), codes),
      style_option(QStringLiteral("style"), sentence_of("window.option-style"), QStringLiteral("light|dark")),
      reset(QStringLiteral("reset-settings"), sentence_of("window.option-reset"));
  parser.addOptions({help, version, language_option, style_option, reset});
  if (!parser.parse(QApplication::arguments())) return refuse(parser.errorText());
  if (parser.isSet(help)) {
    std::fputs(qPrintable(parser.helpText()), stdout);
    return 0;
  }
  if (parser.isSet(version)) {
    std::puts("seamwright-desktop " SEAMWRIGHT_VERSION);
    return 0;
  }
  const Options options{parser.value(language_option), parser.value(style_option),
                        parser.positionalArguments().value(0)};
  if (parser.isSet(language_option) && !language_codes().contains(options.language))
    return refuse(sentence_of("window.option-language", {text("codes", codes.toStdString())}));
  if (parser.isSet(style_option) && options.style != QLatin1String("light") &&
      options.style != QLatin1String("dark"))
    return refuse(sentence_of("window.option-style"));
  if (parser.positionalArguments().size() > 1) return refuse(parser.helpText());
  if (parser.isSet(reset)) QSettings().clear();

  set_up(application, options);
  // The published data is read while the window comes up.
  const std::jthread warm([] { published::catalog(); });
  models::UserModeller solids;
  models::UserJoints joints;
  MainWindow window(desks(), studies(), {&solids, &joints});
  window.show();
  if (!options.path.isEmpty()) window.open(options.path);
  return QApplication::exec();
}

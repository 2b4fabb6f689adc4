// SPDX-License-Identifier: GPL-3.0-or-later
// published_pdf IN.md OUT.pdf: a document of the docs folder as pages.
#include <QFile>
#include <QGuiApplication>
#include <QPdfWriter>
#include <QTextDocument>
#include <QTextTable>
#include <cstdio>

int main(int argc, char** argv) {
  qputenv("QT_QPA_PLATFORM", "offscreen");
  QGuiApplication app(argc, argv);
  QFile in(argc == 3 ? argv[1] : "");
  if (!in.open(QIODevice::ReadOnly)) {
    std::fputs("usage: published_pdf IN.md OUT.pdf\n", stderr);
    return 2;
  }
  QTextDocument document;
  document.setDefaultFont(QFont("Liberation Sans", 8));
  document.setMarkdown(QString::fromUtf8(in.readAll()));
  for (QTextFrame* frame : document.rootFrame()->childFrames())
    if (auto* table = qobject_cast<QTextTable*>(frame)) {
      QTextTableFormat format = table->format();
      format.setWidth(QTextLength(QTextLength::PercentageLength, 100));
      format.setHeaderRowCount(1);
      format.setBorder(0.5);
      format.setBorderCollapse(true);
      format.setCellPadding(2);
      table->setFormat(format);
    }
  QPdfWriter pdf(argv[2]);
  pdf.setPageSize(QPageSize::A4);
  pdf.setPageMargins(QMarginsF(15, 15, 15, 15), QPageLayout::Millimeter);
  pdf.setTitle("Seamwright: validation");
  document.print(&pdf);
  return 0;
}

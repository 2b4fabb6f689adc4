// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/desktop/theme.h"

#include <QApplication>
#include <QFontDatabase>
#include <QStyleFactory>
#include <algorithm>
#include <cmath>

namespace seamwright::desktop {

namespace {

Style current = Style::light;

const Colours light{QColor(0xF6, 0xF5, 0xF2), QColor(0xFF, 0xFF, 0xFF), QColor(0x22, 0x26, 0x2A),
                    QColor(0x62, 0x69, 0x70), QColor(0x33, 0x62, 0x7E), QColor(0xB8, 0x5C, 0x00),
                    QColor(0xD9, 0xD7, 0xD1), QColor(0xB9, 0xD3, 0xE0), QColor(0x12, 0x36, 0x4B),
                    QColor(0xEF, 0xED, 0xE8)};
const Colours dark{QColor(0x1E, 0x21, 0x24), QColor(0x26, 0x2A, 0x2E), QColor(0xE8, 0xE6, 0xE1),
                   QColor(0x9A, 0xA1, 0xA7), QColor(0x7F, 0xB2, 0xCE), QColor(0xFF, 0xB2, 0x59),
                   QColor(0x3C, 0x42, 0x47), QColor(0x3A, 0x55, 0x64), QColor(0xC9, 0xE8, 0xF8),
                   QColor(0x2D, 0x32, 0x37)};

QPalette palette_of(const Colours& c) {
  QPalette p;
  p.setColor(QPalette::Window, c.ground);
  p.setColor(QPalette::Base, c.sheet);
  p.setColor(QPalette::AlternateBase, c.band);
  p.setColor(QPalette::Button, c.ground);
  p.setColor(QPalette::ToolTipBase, c.sheet);
  for (const auto role : {QPalette::WindowText, QPalette::Text, QPalette::ButtonText, QPalette::ToolTipText,
                          QPalette::BrightText})
    p.setColor(role, c.ink);
  p.setColor(QPalette::PlaceholderText, c.faint);
  p.setColor(QPalette::Highlight, c.steel);
  p.setColor(QPalette::HighlightedText, c.sheet);
  p.setColor(QPalette::Link, c.steel);
  p.setColor(QPalette::LinkVisited, c.steel);
  p.setColor(QPalette::Light, c.sheet);
  p.setColor(QPalette::Midlight, c.hairline);
  p.setColor(QPalette::Mid, c.hairline);
  p.setColor(QPalette::Dark, c.faint);
  p.setColor(QPalette::Shadow, c.hairline);
  for (const auto role : {QPalette::WindowText, QPalette::Text, QPalette::ButtonText})
    p.setColor(QPalette::Disabled, role, c.faint);
  return p;
}

// Hairlines in place of bevels; nothing else that the palette does not already say.
QString sheet_of(const Colours& c) {
  return QStringLiteral(
             "QToolTip{background:%2;color:%3;border:1px solid %4;padding:4px}"
             "QTableView,QTreeView,QListView,QPlainTextEdit,QTextBrowser,QScrollArea#sheet{border:1px solid "
             "%1;"
             "background:%2;gridline-color:%1;selection-background-color:%5;selection-color:%2}"
             "QTableView:focus,QTreeView:focus,QListView:focus,QPlainTextEdit:focus,QTextBrowser:focus"
             "{border:1px solid %5}"
             "QHeaderView::section{background:%6;color:%4;border:0;border-bottom:1px solid %1;padding:4px "
             "8px}"
             "QPushButton,QFrame#rail QToolButton{background:%2;color:%3;border:1px solid %1;padding:5px "
             "12px;min-height:16px}"
             "QPushButton:hover,QFrame#rail QToolButton:hover{border-color:%5}"
             "QPushButton:focus,QFrame#rail QToolButton:focus{border:2px solid %5;padding:4px 11px}"
             "QPushButton:pressed,QFrame#rail QToolButton:pressed,QFrame#rail "
             "QToolButton:checked{background:%6}"
             "QPushButton:disabled,QFrame#rail QToolButton:disabled{color:%4}"
             "QPushButton[large=true],QLineEdit[large=true],QComboBox[large=true]{min-height:40px}"
             "QListWidget[large=true]::item{min-height:48px}"
             "QPushButton#first{background:%5;color:%2;border-color:%5}"
             "QPushButton#first:disabled{background:%2;color:%4;border-color:%1}"
             "QPushButton#first:focus{border:2px solid %3}"
             "QPushButton#section{text-align:left;border:0;border-top:1px solid %1;background:transparent;"
             "padding:8px 8px;font-weight:bold}"
             "QPushButton#section:focus{border:2px solid %5;padding:7px 6px}"
             "QTabBar::tab{background:transparent;color:%4;padding:5px 8px;border:0;"
             "border-bottom:2px solid transparent}"
             "QTabBar::tab:selected{color:%3;border-bottom:2px solid %5}"
             "QTabBar::tab:focus{color:%5}"
             "QTabBar{qproperty-drawBase:0}"
             "QSplitter::handle{background:%1}"
             "QSplitter::handle:horizontal{width:1px;margin:0 4px}"
             "QSplitter::handle:vertical{height:1px;margin:4px 0}"
             "QMenuBar{background:transparent}"
             "QFrame#bar{background:%2;border:0;border-bottom:1px solid %1}"
             "QFrame#rail{background:%6;border:0;border-right:1px solid %1}"
             "QLineEdit,QComboBox,QAbstractSpinBox{background:%2;color:%3;border:1px solid %4;padding:3px "
             "6px;"
             "min-height:18px}"
             "QLineEdit:focus,QComboBox:focus,QAbstractSpinBox:focus{border:2px solid %5;padding:2px 5px}"
             "QProgressBar{border:1px solid %1;background:%2;color:%3;text-align:center;max-height:16px}"
             "QProgressBar::chunk{background:%5}")
      .arg(c.hairline.name(), c.sheet.name(), c.ink.name(), c.faint.name(), c.steel.name(), c.band.name());
}

QFont scaled(double by) {
  QFont font = QApplication::font();
  font.setPointSizeF(font.pointSizeF() * by);
  return font;
}

}  // namespace

const Colours& colours() { return current == Style::dark ? dark : light; }
Style style() { return current; }

Style desktop_style(const QApplication& application) {
  return application.palette().color(QPalette::Window).lightnessF() < 0.5F ? Style::dark : Style::light;
}

void apply_style(QApplication& application, Style style) {
  current = style;
  application.setStyle(QStyleFactory::create(QStringLiteral("Fusion")));
  QFont font = QApplication::font();
  font.setPointSizeF(std::max(10.5, font.pointSizeF()));
  QApplication::setFont(font);
  QApplication::setPalette(palette_of(colours()));
  application.setStyleSheet(sheet_of(colours()));
}

QColor used_colour(double place) {
  const double share = std::clamp(place, 0.0, 1.0);
  const QColor &pale = colours().pale, &deep = colours().deep;
  const auto mix = [&](int from, int to) {
    return static_cast<int>(std::lround(from + share * (to - from)));
  };
  return {mix(pale.red(), deep.red()), mix(pale.green(), deep.green()), mix(pale.blue(), deep.blue())};
}

QColor picture_colour(const reports::Colour& colour) {
  const Colours& c = colours();
  switch (colour.ink) {
    case reports::Ink::faint:
      return c.faint;
    case reports::Ink::grid:
      return c.hairline;
    case reports::Ink::steel:
      return c.steel;
    case reports::Ink::arc:
      return c.arc;
    case reports::Ink::sheet:
      return c.sheet;
    case reports::Ink::scale:
      return used_colour(colour.level);
    case reports::Ink::none:
    case reports::Ink::ink:
      break;
  }
  return c.ink;
}

QFont body_font() { return scaled(1); }
QFont number_font() { return scaled(12 / 10.5); }
QFont answer_font() { return scaled(26 / 10.5); }
QFont hint_font() { return scaled(0.9); }

}  // namespace seamwright::desktop

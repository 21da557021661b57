// SPDX-License-Identifier: GPL-3.0-or-later
#include "theme.hpp"

#include <QApplication>
#include <QFile>
#include <QPainter>
#include <QPalette>
#include <QPixmap>
#include <QProxyStyle>
#include <QStyleFactory>
#include <QStyleOption>
#include <QSvgRenderer>

#include <array>

namespace bellmouth::ui {

namespace {

Theme light_theme() {
  return {.look = Look::light,
          .background = QColor(0xf1f3f5),
          .panel = QColor(0xffffff),
          .raised = QColor(0xe6e9ed),
          .line = QColor(0xc5ccd4),
          .selected = QColor(0xd3e4f8),
          .text = QColor(0x1a2027),
          .muted_text = QColor(0x525d69),
          .accent = QColor(0x1b5ea6),
          .on_accent = QColor(0xffffff),
          .rigid = QColor(0xc6ced7),
          .rigid_edge = QColor(0x5b6875),
          .hose = QColor(0x9fbfe3),
          .hose_edge = QColor(0x2d5d92),
          .machine = QColor(0xe3d9c3),
          .machine_edge = QColor(0x7a6638),
          .fitting = QColor(0xd9c9e6),
          .fitting_edge = QColor(0x6b4a86),
          .on_piece = QColor(0x1a2027),
          .good = QColor(0x1a6e3a),
          .caution = QColor(0x855100),
          .stop = QColor(0xb0231b),
          .pressure = QColor(0x1b5ea6),
          .velocity = QColor(0x9a4c00),
          .temperature = QColor(0xa3245f),
          .rival = QColor(0x5f6770)};
}

Theme dark_theme() {
  return {.look = Look::dark,
          .background = QColor(0x1a1d21),
          .panel = QColor(0x23272d),
          .raised = QColor(0x2e333b),
          .line = QColor(0x444c57),
          .selected = QColor(0x2b4466),
          .text = QColor(0xe7eaee),
          .muted_text = QColor(0xa9b2bd),
          .accent = QColor(0x74b0f4),
          .on_accent = QColor(0x0f151c),
          .rigid = QColor(0x4f5a66),
          .rigid_edge = QColor(0xa3afbc),
          .hose = QColor(0x2f5480),
          .hose_edge = QColor(0x86b5e8),
          .machine = QColor(0x5a4d30),
          .machine_edge = QColor(0xcbb682),
          .fitting = QColor(0x553f69),
          .fitting_edge = QColor(0xc3a3df),
          .on_piece = QColor(0xf4f6f8),
          .good = QColor(0x63cd90),
          .caution = QColor(0xe9b551),
          .stop = QColor(0xff8f85),
          .pressure = QColor(0x74b0f4),
          .velocity = QColor(0xf0a662),
          .temperature = QColor(0xf291bd),
          .rival = QColor(0xa6aeb8)};
}

QPalette palette_of(const Theme& colours) {
  QPalette palette;
  palette.setColor(QPalette::Window, colours.background);
  palette.setColor(QPalette::WindowText, colours.text);
  palette.setColor(QPalette::Base, colours.panel);
  palette.setColor(QPalette::AlternateBase, colours.background);
  palette.setColor(QPalette::Text, colours.text);
  palette.setColor(QPalette::PlaceholderText, colours.muted_text);
  palette.setColor(QPalette::Button, colours.raised);
  palette.setColor(QPalette::ButtonText, colours.text);
  palette.setColor(QPalette::BrightText, colours.stop);
  palette.setColor(QPalette::ToolTipBase, colours.panel);
  palette.setColor(QPalette::ToolTipText, colours.text);
  palette.setColor(QPalette::Highlight, colours.accent);
  palette.setColor(QPalette::HighlightedText, colours.on_accent);
  palette.setColor(QPalette::Link, colours.accent);
  palette.setColor(QPalette::LinkVisited, colours.accent);
  palette.setColor(QPalette::Light, colours.look == Look::light ? colours.panel : colours.raised);
  palette.setColor(QPalette::Midlight, colours.raised);
  palette.setColor(QPalette::Mid, colours.line);
  palette.setColor(QPalette::Dark, colours.line.darker(130));
  palette.setColor(QPalette::Shadow, QColor(0, 0, 0, 120));
  for (const auto role :
       {QPalette::WindowText, QPalette::Text, QPalette::ButtonText, QPalette::HighlightedText}) {
    QColor faded = colours.muted_text;
    faded.setAlphaF(0.6F);
    palette.setColor(QPalette::Disabled, role, faded);
  }
  return palette;
}

/// The class of the lists and tables, whose picked rows have a quiet colour: what is drawn in them, icons as
/// well, keeps its own.
constexpr const char* row_view = "QAbstractItemView";

QPalette with_picked_rows(QPalette palette, const Theme& colours) {
  palette.setColor(QPalette::Highlight, colours.selected);
  palette.setColor(QPalette::HighlightedText, colours.text);
  return palette;
}

/// Fusion with fields and boxes whose border can be seen on a dark window.
class FieldStyle : public QProxyStyle {
public:
  FieldStyle() : QProxyStyle(QStyleFactory::create("Fusion")) { setObjectName(style_name); }
  static constexpr auto style_name = "bellmouth";

  int styleHint(StyleHint hint, const QStyleOption* option, const QWidget* widget,
                QStyleHintReturn* data) const override {
    return hint == SH_DialogButtonBox_ButtonsHaveIcons ? 0
                                                       : QProxyStyle::styleHint(hint, option, widget, data);
  }

  void drawPrimitive(PrimitiveElement element, const QStyleOption* option, QPainter* painter,
                     const QWidget* widget) const override {
    if (element == PE_IndicatorCheckBox) {
      QProxyStyle::drawPrimitive(element, option, painter, widget);
      painter->save();
      painter->setRenderHint(QPainter::Antialiasing);
      painter->setBrush(Qt::NoBrush);
      painter->setPen(QPen(option->state.testFlag(State_Enabled) ? theme().muted_text : theme().line, 1.0));
      painter->drawRoundedRect(QRectF(option->rect).adjusted(0.5, 0.5, -0.5, -0.5), 2, 2);
      painter->restore();
      return;
    }
    const auto* frame = qstyleoption_cast<const QStyleOptionFrame*>(option);
    if (element != PE_PanelLineEdit || frame == nullptr || frame->lineWidth <= 0) {
      QProxyStyle::drawPrimitive(element, option, painter, widget);
      return;
    }
    const bool focused = option->state.testFlag(State_HasFocus),
               enabled = option->state.testFlag(State_Enabled);
    painter->save();
    painter->setRenderHint(QPainter::Antialiasing);
    painter->setBrush(enabled ? theme().panel : theme().background);
    const bool wrong = widget != nullptr && widget->property(wrong_property).toBool();
    const QColor edge = wrong ? theme().stop : focused ? theme().accent : theme().line;
    painter->setPen(QPen(edge, focused || wrong ? 1.6 : 1.0));
    painter->drawRoundedRect(QRectF(option->rect).adjusted(1, 1, -1, -1), 3, 3);
    painter->restore();
  }
};

QFont scaled(double factor, QFont::Weight weight) {
  QFont font = QApplication::font();
  font.setPointSizeF(font.pointSizeF() * factor);
  font.setWeight(weight);
  return font;
}

} // namespace

const Theme& theme(Look look) {
  static const Theme light = light_theme();
  static const Theme dark = dark_theme();
  return look == Look::light ? light : dark;
}

const Theme& theme() {
  const bool dark = QApplication::palette().color(QPalette::Window).lightness() < 128;
  return theme(dark ? Look::dark : Look::light);
}

void use_look(Look look) {
  if (QApplication::style()->objectName() != FieldStyle::style_name)
    QApplication::setStyle(new FieldStyle);
  const QPalette palette = palette_of(theme(look));
  QApplication::setPalette(palette);
  QApplication::setPalette(with_picked_rows(palette, theme(look)), row_view);
}

QFont small_font() {
  return scaled(0.9, QFont::Normal);
}
QFont heading_font() {
  return scaled(1.1, QFont::DemiBold);
}
QFont figure_font() {
  return scaled(1.5, QFont::DemiBold);
}

QIcon icon(const QString& name) {
  QFile file(":/icons/" + name + ".svg");
  if (!file.open(QIODevice::ReadOnly))
    return {};
  const QByteArray drawing = file.readAll();
  QIcon result;
  for (const auto& [mode, colour] :
       {std::pair{QIcon::Normal, theme().text}, std::pair{QIcon::Disabled, theme().line}}) {
    QByteArray coloured = drawing;
    coloured.replace("currentColor", colour.name().toLatin1());
    QSvgRenderer renderer(coloured);
    for (const int size : {16, 20, 24, 32, 48, 64}) {
      QPixmap pixmap(size, size);
      pixmap.fill(Qt::transparent);
      QPainter painter(&pixmap);
      renderer.render(&painter);
      painter.end();
      result.addPixmap(pixmap, mode);
    }
  }
  return result;
}

} // namespace bellmouth::ui

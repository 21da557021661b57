// SPDX-License-Identifier: GPL-3.0-or-later
// The look shared by everything on screen: colours by role for a light and a dark window, spacing, type
// sizes, icons.
#pragma once

#include <QColor>
#include <QFont>
#include <QIcon>
#include <QString>

namespace bellmouth::ui {

enum class Look { light, dark };

/// Colours by what they mean. Every text role (text, muted_text, accent, good, caution, stop, and the series)
/// keeps a contrast of at least 4.5 : 1 (WCAG 2.1, 1.4.3) on `background` as well as on `panel`; `on_accent`
/// keeps it on `accent`, `on_piece` on the fills of the pieces.
struct Theme {
  Look look;
  /// \name Surfaces and lines
  ///@{
  QColor background; ///< of the window
  QColor panel;      ///< of cards, lists, charts, fields
  QColor raised;     ///< of buttons and heads of tables
  QColor line;       ///< borders and grid
  QColor selected;   ///< behind a selected row; `text` stays readable on it
  ///@}
  /// \name Text
  ///@{
  QColor text;
  QColor muted_text;
  QColor accent; ///< links, focus, what is selected
  QColor on_accent;
  ///@}
  /// \name Pieces and machines: fill and outline
  ///@{
  QColor rigid, rigid_edge;
  QColor hose, hose_edge;
  QColor machine, machine_edge;
  QColor fitting, fitting_edge;
  QColor on_piece; ///< text on any of the fills
  ///@}
  /// \name Judgement
  ///@{
  QColor good, caution, stop;
  ///@}
  /// \name Lines of charts
  ///@{
  QColor pressure, velocity, temperature;
  QColor rival; ///< the option compared with
  ///@}
};

/// The theme of the look that the application's palette has now. Widgets that keep colours take them anew on
/// QEvent::PaletteChange.
[[nodiscard]] const Theme& theme();
[[nodiscard]] const Theme& theme(Look look);
/// Gives the whole application another look: style, palette; every widget gets a QEvent::PaletteChange.
void use_look(Look look);

/// \name Spacing [device-independent pixels]
///@{
inline constexpr int gap = 6;       ///< between things that belong together
inline constexpr int wide_gap = 12; ///< between groups, and inside a card
inline constexpr int corner = 6;    ///< radius of a card
///@}

/// \name Type sizes, derived from the application's font
///@{
[[nodiscard]] QFont small_font();
[[nodiscard]] QFont heading_font();
[[nodiscard]] QFont figure_font(); ///< the large figures of the band
///@}

/// The dynamic property of a line edit, true while what is typed in it is refused: its frame shows it.
inline constexpr const char* wrong_property = "wrong";

/// One of our icons (resources/icons/NAME.svg) in the text colour of the look. Made anew after the look
/// changes.
[[nodiscard]] QIcon icon(const QString& name);

} // namespace bellmouth::ui

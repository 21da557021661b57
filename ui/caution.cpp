// SPDX-License-Identifier: GPL-3.0-or-later
#include "caution.hpp"

#include <QCoreApplication>

namespace bellmouth::ui {

QString caution_html() {
  return QCoreApplication::translate(
      "Help",
      "<p><b>This program advises. It does not certify anything.</b></p>"
      "<ul>"
      "<li>Air under pressure stores energy. Test for leaks at a low pressure from a regulator, stay out "
      "of the line of "
      "joints and end caps, and let the pressure off before you touch a clamp.</li>"
      "<li>Find leaks ahead of the blower with smoke at a few kilopascals.</li>"
      "<li>More air needs more fuel and other spark timing. Have both matched before the engine is "
      "loaded.</li>"
      "<li>Keep clear of belts and hot parts while the engine runs.</li>"
      "<li>Weld only clean, dry metal, with air to breathe; coatings give off poisonous fumes.</li>"
      "<li>Rules for road use and inspection differ from place to place: ask those who inspect, and leave "
      "licensed work to "
      "those who hold the licence.</li>"
      "</ul>");
}

} // namespace bellmouth::ui

// SPDX-License-Identifier: GPL-3.0-or-later
// What to mind with air under pressure.
#pragma once

#include <QString>

namespace bellmouth::ui {

/// As HTML, for the screen and for paper.
[[nodiscard]] QString caution_html();

} // namespace bellmouth::ui

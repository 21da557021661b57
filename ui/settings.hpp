// SPDX-License-Identifier: GPL-3.0-or-later
// What the program remembers from one start to the next.
#pragma once

#include "theme.hpp"
#include "units.hpp"

#include <QByteArray>
#include <QSettings>
#include <QStringList>

namespace bellmouth::ui {

class Settings {
public:
  /// Remembers in an ini file.
  explicit Settings(const QString& file);
  /// Remembers where the system keeps such things.
  Settings();

  [[nodiscard]] Look look() const;
  void set_look(Look look);
  [[nodiscard]] UnitChoice units() const;
  void set_units(const UnitChoice& choice);

  /// Files opened and saved last, the latest first, at most `recent_limit`.
  [[nodiscard]] QStringList recent_files() const;
  void add_recent_file(const QString& file);
  void remove_recent_file(const QString& file);
  static constexpr int recent_limit = 8;

  [[nodiscard]] QByteArray window_geometry() const;
  void set_window_geometry(const QByteArray& geometry);
  /// Where the splitters of the window stand, by name.
  [[nodiscard]] QByteArray splitter(const QString& name) const;
  void set_splitter(const QString& name, const QByteArray& state);

private:
  QSettings store_;
};

} // namespace bellmouth::ui

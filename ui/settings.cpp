// SPDX-License-Identifier: GPL-3.0-or-later
#include "settings.hpp"

#include <QFileInfo>

#include <array>

namespace bellmouth::ui {

namespace {

// The words in the settings file, in the order of the enumerators.
constexpr std::array lengths{"millimetres", "inches"};
constexpr std::array pressures{"kilopascals", "bars", "psi"};
constexpr std::array temperatures{"celsius", "fahrenheit"};
constexpr std::array flows{"metric", "imperial"};

/// The enumerator behind a remembered word; the first one for a word that is none, as a settings file may be
/// edited by anybody.
template <class E, std::size_t n>
E read(const QSettings& store, const char* key, const std::array<const char*, n>& words) {
  const QString word = store.value(key).toString();
  for (std::size_t i = 0; i < n; ++i)
    if (word == words[i])
      return static_cast<E>(i);
  return E{};
}
template <class E, std::size_t n>
void write(QSettings& store, const char* key, const std::array<const char*, n>& words, E value) {
  store.setValue(key, words[static_cast<std::size_t>(value)]);
}

} // namespace

Settings::Settings(const QString& file) : store_(file, QSettings::IniFormat) {}
Settings::Settings() = default;

Look Settings::look() const {
  return store_.value("look").toString() == "dark" ? Look::dark : Look::light;
}
void Settings::set_look(Look look) {
  store_.setValue("look", look == Look::dark ? "dark" : "light");
}

UnitChoice Settings::units() const {
  return {.length = read<UnitChoice::Length>(store_, "units/length", lengths),
          .pressure = read<UnitChoice::Pressure>(store_, "units/pressure", pressures),
          .temperature = read<UnitChoice::Temperature>(store_, "units/temperature", temperatures),
          .flow = read<UnitChoice::Flow>(store_, "units/flow", flows)};
}
void Settings::set_units(const UnitChoice& choice) {
  write(store_, "units/length", lengths, choice.length);
  write(store_, "units/pressure", pressures, choice.pressure);
  write(store_, "units/temperature", temperatures, choice.temperature);
  write(store_, "units/flow", flows, choice.flow);
}

QStringList Settings::recent_files() const {
  return store_.value("recent_files").toStringList();
}
void Settings::add_recent_file(const QString& file) {
  const QString absolute = QFileInfo(file).absoluteFilePath();
  QStringList files = recent_files();
  files.removeAll(absolute);
  files.prepend(absolute);
  store_.setValue("recent_files", files.mid(0, recent_limit));
}
void Settings::remove_recent_file(const QString& file) {
  QStringList files = recent_files();
  files.removeAll(file);
  store_.setValue("recent_files", files);
}

QByteArray Settings::window_geometry() const {
  return store_.value("window/geometry").toByteArray();
}
void Settings::set_window_geometry(const QByteArray& geometry) {
  store_.setValue("window/geometry", geometry);
}
QByteArray Settings::splitter(const QString& name) const {
  return store_.value("window/splitter_" + name).toByteArray();
}
void Settings::set_splitter(const QString& name, const QByteArray& state) {
  store_.setValue("window/splitter_" + name, state);
}

} // namespace bellmouth::ui

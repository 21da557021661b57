// SPDX-License-Identifier: GPL-3.0-or-later
// The bay in words, as tables and forms write and read it: in the units the user has chosen.
#pragma once

#include <bellmouth/bay/offset.hpp>
#include <bellmouth/build.hpp>

#include <QString>
#include <QStringList>

#include <optional>

namespace bellmouth::ui {

/// How places are typed now: unit shown, decimal sign of the locale.
[[nodiscard]] bay::Wording wording(const std::optional<build::Vector>& here = std::nullopt);
/// A length without its unit, exact enough to be read back: "57.15".
[[nodiscard]] QString plain_length(double length_m);
/// The unit that such a length is in.
[[nodiscard]] QString length_unit();
/// "300; -150; 350 mm".
[[nodiscard]] QString place_text(const build::Vector& place_m);
[[nodiscard]] QString direction_text(const build::Vector& direction);

/// \name Words to choose from, in the order of the enumerators
///@{
[[nodiscard]] QStringList mounting_words();  ///< engine, body
[[nodiscard]] QStringList class_words();     ///< fixed, moving, hot
[[nodiscard]] QStringList knowledge_words(); ///< not said, assumed, measured
[[nodiscard]] QStringList unit_words();      ///< of a scan
///@}
/// Which of knowledge_words() it is, and the other way; a tolerance and a note are kept.
[[nodiscard]] int knowledge(const std::optional<build::Survey>& survey);
void set_knowledge(std::optional<build::Survey>& survey, int index);

/// A port as people say it: "blower out".
[[nodiscard]] QString port_title(const build::PortId& port);
/// Its name, or the word for its shape and its number.
[[nodiscard]] QString keep_out_title(const build::Build& build, std::size_t index);
[[nodiscard]] QString keep_out_kind(const build::KeepOut& keep_out);
/// The machine it belongs to, or "none".
[[nodiscard]] QString owner_word(const build::Build& build, const std::optional<build::MachineId>& machine);
[[nodiscard]] QStringList owner_words(const build::Build& build);
/// Which of owner_words() a machine is, and the machine that one of them means.
[[nodiscard]] int owner_index(const build::Build& build, const std::optional<build::MachineId>& machine);
[[nodiscard]] std::optional<build::MachineId> owner_at(const build::Build& build, int index);

/// The sizes of a keep-out that its table row shows: "400 × 200 × 150", "⌀60 × 300", "⌀120", "beyond, up".
[[nodiscard]] QString size_text(const build::KeepOut& keep_out);
/// The keep-out in the sizes that were typed. Scans have none to type (an assertion).
[[nodiscard]] Result<build::KeepOut> with_size(const build::Build& build, const build::KeepOut& keep_out,
                                               const QString& typed);
/// Where it is measured to: centre, first point, or the origin of a scan.
[[nodiscard]] const build::Vector& place_of_shape(const build::KeepOut& keep_out);
/// The whole thing moved there, as it is.
[[nodiscard]] build::KeepOut with_place(const build::KeepOut& keep_out, const build::Vector& place_m);

/// The states that a keep-out is there in: "always", or their names.
[[nodiscard]] QString states_text(const build::KeepOut& keep_out);
[[nodiscard]] Result<std::vector<build::StateId>> states_of(const build::Build& build, const QString& typed);

} // namespace bellmouth::ui

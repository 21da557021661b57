// SPDX-License-Identifier: GPL-3.0-or-later
#include "stock_text.hpp"

#include "units.hpp"

#include <bellmouth/stock.hpp>

#include <QCoreApplication>

#include <cmath>

namespace bellmouth::ui {

namespace {

using quantity::Dimension;

QString tr(const char* text) {
  return QCoreApplication::translate("StockText", text);
}

/// A length as a bare number in the unit shown.
QString bare(double length_m) {
  constexpr int digits = 5;
  const QString text = show(Dimension::length, length_m, digits);
  return text.left(text.lastIndexOf(' '));
}

QString legs(const build::StockItem& item) {
  const auto text = [](const std::optional<double>& leg) { return leg ? bare(*leg) : QString("?"); };
  return tr("legs %1 + %2").arg(text(item.leg_in_m), text(item.leg_out_m));
}

} // namespace

QString stock_kind_word(build::StockKind kind) {
  const std::string_view word = stock::kind_name(kind);
  return QString::fromUtf8(word.data(), static_cast<qsizetype>(word.size()));
}

QStringList stock_kind_words() {
  QStringList words;
  for (int i = 0; i < stock_kind_count; ++i)
    words << stock_kind_word(static_cast<build::StockKind>(i));
  return words;
}

QStringList stock_material_words() {
  QStringList words;
  for (int i = 0; i <= static_cast<int>(build::Material::plastic); ++i) {
    const std::string_view word = build::material_name(static_cast<build::Material>(i));
    words << QString::fromUtf8(word.data(), static_cast<qsizetype>(word.size()));
  }
  return words;
}

QStringList clamp_type_words() {
  return {tr("worm"), tr("lined worm"), tr("lug"), tr("round bolt"), tr("spring"), tr("constant tension")};
}

QString stock_title(const build::StockItem& item) {
  return QString::fromStdString(item.name.empty() ? item.id.text : item.name);
}

QString stock_sizes(const build::StockItem& item) {
  QStringList parts;
  if (item.outer_diameter_m)
    parts << "⌀" + bare(*item.outer_diameter_m) + (item.wall_m ? " × " + bare(*item.wall_m) : QString());
  if (item.bore_m)
    parts << (item.bore_out_m ? tr("bore %1 to %2").arg(bare(*item.bore_m), bare(*item.bore_out_m))
                              : tr("bore %1").arg(bare(*item.bore_m)));
  else if (item.bore_out_m)
    parts << tr("bore ? to %1").arg(bare(*item.bore_out_m));
  if (item.wall_m && !item.outer_diameter_m)
    parts << tr("wall %1").arg(bare(*item.wall_m));
  if (item.angle_rad)
    parts << show_angle(*item.angle_rad);
  if (item.radius_m)
    parts << tr("R %1").arg(bare(*item.radius_m));
  if (item.leg_in_m || item.leg_out_m)
    parts << legs(item);
  if (item.length_m)
    parts << tr("length %1").arg(bare(*item.length_m));
  if (item.clamp_min_m && item.clamp_max_m)
    parts << tr("%1 to %2").arg(bare(*item.clamp_min_m), bare(*item.clamp_max_m));
  if (item.band_width_m)
    parts << tr("band %1").arg(bare(*item.band_width_m));
  if (item.thread)
    parts << QString::fromStdString(*item.thread);
  return parts.join(", ");
}

QString stock_rating(const build::StockItem& item) {
  QStringList parts;
  if (item.max_temperature_K)
    parts << show(Dimension::temperature, *item.max_temperature_K, 4);
  if (item.max_gauge_Pa)
    parts << show(Dimension::pressure, *item.max_gauge_Pa, 4);
  if (item.plies)
    parts << (*item.plies == 1 ? tr("1 ply") : tr("%1 plies").arg(*item.plies));
  if (item.oil_proof)
    parts << tr("oil-proof");
  if (item.wire)
    parts << tr("wire");
  if (item.clamp_type)
    parts << clamp_type_words().at(static_cast<int>(*item.clamp_type));
  if (item.torque_Nm)
    parts << show(Dimension::torque, *item.torque_Nm, 3);
  return parts.join(", ");
}

QString owned_text(build::Per per, double quantity) {
  if (quantity == 0)
    return {};
  constexpr int digits = 6;
  if (per == build::Per::metre)
    return QString::fromStdString(quantity::write(Dimension::length, quantity, "m", digits, decimal_sign()));
  return QString::fromStdString(quantity::write(Dimension::ratio, quantity, "", digits, decimal_sign()));
}

Result<double> read_owned(build::Per per, const QString& typed) {
  if (typed.trimmed().isEmpty())
    return 0.0;
  const bool metres = per == build::Per::metre;
  auto read =
      quantity::read(metres ? Dimension::length : Dimension::ratio, typed.trimmed().toStdString(),
                     {.default_unit = metres ? "m" : "", .decimal = decimal_sign(), .ambient_Pa = {}});
  const bool good = read && *read >= 0 && (metres || (*read == std::round(*read) && !typed.contains('%')));
  if (good)
    return *read;
  Error error;
  error.found = '"' + typed.trimmed().toStdString() + '"';
  error.accepted =
      (metres ? tr("a length from 0; without a unit it is metres") : tr("a whole number of pieces from 0"))
          .toStdString();
  return fail(std::move(error));
}

QString searchable(const QString& text) {
  return text.toCaseFolded().replace(QChar(0x00d7), 'x');
}

} // namespace bellmouth::ui

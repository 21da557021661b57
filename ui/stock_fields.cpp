// SPDX-License-Identifier: GPL-3.0-or-later
#include "stock_fields.hpp"

#include "stock_edits.hpp"
#include "stock_text.hpp"
#include "units.hpp"

#include <QCoreApplication>

#include <algorithm>
#include <initializer_list>

namespace bellmouth::ui {

namespace {

using build::Per;
using build::StockItem;
using build::StockKind;
using quantity::Dimension;
using Row = FormRow<StockEntry>;
using Rows = std::vector<Row>;

QString tr(const char* text) {
  return QCoreApplication::translate("StockFields", text);
}

Row::Applies of_kinds(std::vector<StockKind> kinds) {
  return [kinds = std::move(kinds)](const StockEntry& entry) {
    return std::ranges::find(kinds, entry.item.kind) != kinds.end();
  };
}

const std::vector<StockKind> tubes{StockKind::tube, StockKind::tube_bend, StockKind::mitred_bend},
    tapers{StockKind::cone, StockKind::adapter},
    hoses{StockKind::hose, StockKind::hump_hose, StockKind::hose_elbow, StockKind::hose_reducer},
    bends{StockKind::tube_bend, StockKind::mitred_bend, StockKind::hose_elbow},
    straights{StockKind::tube, StockKind::cone,      StockKind::adapter,
              StockKind::hose, StockKind::hump_hose, StockKind::hose_reducer},
    two_bores{StockKind::cone, StockKind::adapter, StockKind::hose_elbow, StockKind::hose_reducer},
    clamps{StockKind::clamp};

std::vector<StockKind> all_of(std::initializer_list<std::vector<StockKind>> groups) {
  std::vector<StockKind> all;
  for (const auto& group : groups)
    all.insert(all.end(), group.begin(), group.end());
  return all;
}

Row number(const char* key, const char* label, const char* tip, std::optional<double> StockItem::*member,
           QuantityKind kind) {
  kind.optional = true;
  kind.when_empty = tr("not said").toStdString();
  return quantity_row<StockEntry>(
      key, tr(label), tr(tip), std::move(kind),
      [member](const StockEntry& entry) { return entry.item.*member; },
      [member](StockEntry& entry, std::optional<double> value) { entry.item.*member = value; });
}
Row length(const char* key, const char* label, const char* tip, std::optional<double> StockItem::*member) {
  return number(key, label, tip, member, QuantityKind{});
}

Row text(const char* key, const char* label, const char* tip, std::string StockItem::*member) {
  return text_row<StockEntry>(
      key, tr(label), tr(tip),
      [member](const StockEntry& entry) { return QString::fromStdString(entry.item.*member); },
      [member](StockEntry& entry, const QString& typed) -> std::optional<QString> {
        entry.item.*member = typed.trimmed().toStdString();
        return std::nullopt;
      });
}

Row flag(const char* key, const char* label, const char* tip, bool StockItem::*member) {
  return check_row<StockEntry>(
      key, tr(label), tr(tip), [member](const StockEntry& entry) { return entry.item.*member; },
      [member](StockEntry& entry, bool on) { entry.item.*member = on; });
}

std::optional<QString> read_amount(const QString& typed, quantity::Currency currency, quantity::Money& into) {
  const auto read = quantity::read_money(typed.trimmed().toStdString(), currency, decimal_sign());
  if (!read)
    return complaint(read.error());
  into = *read;
  return std::nullopt;
}

Rows what_rows() {
  Rows rows{
      choice_row<StockEntry>(
          "kind", tr("Kind"), tr("What it is; sizes that another kind has not are forgotten"),
          stock_kind_words(), [](const StockEntry& entry) { return static_cast<int>(entry.item.kind); },
          [](StockEntry& entry, int index) {
            entry.item = of_kind(entry.item, static_cast<StockKind>(index));
          }),
      text("name", "Name", "As you call it", &StockItem::name),
      choice_row<StockEntry>(
          "material", tr("Material"), tr("What it is made of"), stock_material_words(),
          [](const StockEntry& entry) { return static_cast<int>(entry.item.material); },
          [](StockEntry& entry, int index) { entry.item.material = static_cast<build::Material>(index); })};
  return rows;
}

Rows size_rows() {
  const auto legs = of_kinds(bends);
  return {
      shown_if<StockEntry>(of_kinds(all_of({tubes, tapers})),
                           length("outer_diameter", "Outside diameter", "Over the metal; of the larger end",
                                  &StockItem::outer_diameter_m)),
      shown_if<StockEntry>(of_kinds(all_of({tapers, hoses, {StockKind::valve_flange}})),
                           length("bore", "Bore", "Inside diameter", &StockItem::bore_m)),
      shown_if<StockEntry>(
          of_kinds(two_bores),
          length("bore_out", "Bore, other end", "Inside diameter at the other end", &StockItem::bore_out_m)),
      shown_if<StockEntry>(of_kinds(all_of({tubes, tapers, hoses})),
                           length("wall", "Wall", "Thickness", &StockItem::wall_m)),
      shown_if<StockEntry>(of_kinds(straights),
                           length("length", "Length", "Of one piece; empty where it is sold by the metre",
                                  &StockItem::length_m)),
      shown_if<StockEntry>(legs, number("angle", "Angle", "How far it turns", &StockItem::angle_rad,
                                        quantity_of(Dimension::angle))),
      shown_if<StockEntry>(
          legs, length("radius", "Centreline radius", "To the middle of the bore", &StockItem::radius_m)),
      shown_if<StockEntry>(legs, length("leg_in", "Leg", "Straight at one end", &StockItem::leg_in_m)),
      shown_if<StockEntry>(
          legs, length("leg_out", "Leg, other end", "Straight at the other end", &StockItem::leg_out_m)),
      shown_if<StockEntry>(of_kinds(clamps), length("clamp_min", "Least diameter", "Installed, over the hose",
                                                    &StockItem::clamp_min_m)),
      shown_if<StockEntry>(of_kinds(clamps), length("clamp_max", "Greatest diameter",
                                                    "Installed, over the hose", &StockItem::clamp_max_m)),
      shown_if<StockEntry>(of_kinds(clamps),
                           length("band_width", "Band width", "Along the hose", &StockItem::band_width_m)),
      shown_if<StockEntry>(of_kinds({StockKind::sensor_boss}),
                           text_row<StockEntry>(
                               "thread", tr("Thread"), tr("As its standard writes it: M12x1.5"),
                               [](const StockEntry& entry) {
                                 return QString::fromStdString(entry.item.thread.value_or(std::string()));
                               },
                               [](StockEntry& entry, const QString& typed) -> std::optional<QString> {
                                 entry.item.thread = typed.trimmed().isEmpty()
                                                         ? std::nullopt
                                                         : std::optional(typed.trimmed().toStdString());
                                 return std::nullopt;
                               })),
  };
}

Rows rating_rows() {
  return {
      number("max_temperature", "Greatest temperature", "That it is rated for", &StockItem::max_temperature_K,
             quantity_of(Dimension::temperature)),
      number("max_gauge", "Working pressure", "That it is rated for, above ambient", &StockItem::max_gauge_Pa,
             QuantityKind{.dimension = Dimension::pressure, .reference = quantity::Reference::gauge}),
      shown_if<StockEntry>(
          of_kinds(hoses),
          quantity_row<StockEntry>(
              "plies", tr("Plies"), tr("Layers of cloth in the wall"),
              QuantityKind{.dimension = Dimension::ratio,
                           .optional = true,
                           .whole = true,
                           .when_empty = tr("not said").toStdString()},
              [](const StockEntry& entry) -> std::optional<double> { return entry.item.plies; },
              [](StockEntry& entry, std::optional<double> value) {
                entry.item.plies = value ? std::optional(whole_number(*value)) : std::nullopt;
              })),
      shown_if<StockEntry>(of_kinds(hoses), flag("oil_proof", "Oil-proof", "Lined against oil and fuel",
                                                 &StockItem::oil_proof)),
      shown_if<StockEntry>(of_kinds(hoses), flag("wire", "Wire", "Stiffened by bonded wire against suction",
                                                 &StockItem::wire)),
      shown_if<StockEntry>(
          of_kinds(clamps),
          choice_row<StockEntry>(
              "clamp_type", tr("Type"), tr("How it closes"), QStringList{tr("not said")} + clamp_type_words(),
              [](const StockEntry& entry) {
                return entry.item.clamp_type ? static_cast<int>(*entry.item.clamp_type) + 1 : 0;
              },
              [](StockEntry& entry, int index) {
                entry.item.clamp_type =
                    index == 0 ? std::nullopt : std::optional(static_cast<build::ClampType>(index - 1));
              })),
      shown_if<StockEntry>(of_kinds(clamps), number("torque", "Torque", "That the maker asks for",
                                                    &StockItem::torque_Nm, quantity_of(Dimension::torque))),
  };
}

Rows money_rows() {
  Rows rows{
      text_row<StockEntry>(
          "price", tr("Price"), tr("Of a pack, a piece or a metre, in the currency of the budget"),
          [](const StockEntry& entry) { return show_money(entry.item.price); },
          [](StockEntry& entry, const QString& typed) {
            return read_amount(typed, entry.item.price.currency, entry.item.price);
          }),
      choice_row<StockEntry>(
          "per", tr("Price for"), tr("One pack of pieces, or a metre"),
          QStringList{tr("a piece or a pack"), tr("a metre")},
          [](const StockEntry& entry) { return static_cast<int>(entry.item.per); },
          [](StockEntry& entry, int index) {
            entry.item.per = static_cast<Per>(index);
            if (entry.item.per == Per::metre)
              entry.item.pack = 1; // a metre is no pack; the field goes away
          }),
      only_if<StockEntry>([](const StockEntry& entry) { return entry.item.per == Per::each; },
                          quantity_row<StockEntry>(
                              "pack", tr("Pieces in it"), tr("How many pieces the price is for"),
                              QuantityKind{.dimension = Dimension::ratio, .whole = true},
                              [](const StockEntry& entry) { return std::optional<double>(entry.item.pack); },
                              [](StockEntry& entry, std::optional<double> value) {
                                entry.item.pack = whole_number(*value);
                              })),
      text("supplier", "Supplier", "Your own label of who sells it; empty: not said", &StockItem::supplier)};
  return rows;
}

Rows owned_rows() {
  return {text_row<StockEntry>(
              "owned", tr("Owned"), tr("Pieces that you have, or metres in one length; empty: none"),
              [](const StockEntry& entry) { return owned_text(entry.item.per, entry.owned); },
              [](StockEntry& entry, const QString& typed) -> std::optional<QString> {
                const auto read = read_owned(entry.item.per, typed);
                if (!read)
                  return complaint(read.error());
                entry.owned = *read;
                return std::nullopt;
              }),
          only_if<StockEntry>(
              [](const StockEntry& entry) { return entry.owned > 0; },
              text_row<StockEntry>(
                  "paid", tr("Paid"), tr("For all that is owned; empty: not counted as spent"),
                  [](const StockEntry& entry) { return entry.paid ? show_money(*entry.paid) : QString(); },
                  [](StockEntry& entry, const QString& typed) -> std::optional<QString> {
                    if (typed.trimmed().isEmpty()) {
                      entry.paid.reset();
                      return std::nullopt;
                    }
                    quantity::Money amount;
                    if (auto why = read_amount(typed, entry.item.price.currency, amount))
                      return why;
                    entry.paid = amount;
                    return std::nullopt;
                  }))};
}

} // namespace

std::vector<FormRow<StockEntry>> stock_fields() {
  Rows rows = what_rows();
  append(rows, size_rows());
  append(rows, rating_rows());
  append(rows, money_rows());
  append(rows, owned_rows());
  rows.push_back(text_row<StockEntry>(
      "id", tr("Id"), tr("By which pieces and files name it; what uses it follows"),
      [](const StockEntry& entry) { return QString::fromStdString(entry.item.id.text); },
      [](StockEntry& entry, const QString& typed) -> std::optional<QString> {
        entry.item.id.text = typed.trimmed().toStdString();
        return std::nullopt;
      }));
  return rows;
}

} // namespace bellmouth::ui

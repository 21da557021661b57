// SPDX-License-Identifier: GPL-3.0-or-later
// A stock list that somebody else laid out: its cells, and what its columns mean.
//
//   read_table(text)  ->  RawTable          cells as they stand, row by row
//   propose(table)    ->  Mapping           what each column holds, from its heading; may be changed by hand
//   preview(...)      ->  Preview           see <bellmouth/stock/import.hpp>
#pragma once

#include <bellmouth/build.hpp>
#include <bellmouth/quantity.hpp>

#include <cstddef>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace bellmouth::stock {

/// \name Cells
///@{
/// One record of the text behind the heading.
struct RawRow {
  std::size_t number = 0;         ///< counted from 1, the heading not counted, empty rows counted
  int line = 0;                   ///< of the text, where it begins, counted from 1
  std::vector<std::string> cells; ///< one for each heading, without spaces round them
  std::optional<Error> fault;     ///< why it could not be taken apart; then there are no cells
};
/// A text taken apart into cells. Rows in which no cell holds anything are left out.
struct RawTable {
  std::string file;                  ///< for messages
  char delimiter = ',';              ///< as recognised or asked for
  std::vector<std::string> headings; ///< at least one; may be empty or say the same as another
  std::vector<RawRow> rows;
};
/// How a text is to be taken apart.
struct TableReading {
  std::optional<char> delimiter; ///< ',', ';' or '\t' (an assertion); unset: recognised by the headings
};
inline constexpr std::size_t max_table_rows = 200'000;
inline constexpr std::size_t max_table_columns = 200;

/// Takes a text apart by RFC 4180: records ended by CRLF, LF or CR, cells divided by the delimiter, cells in
/// double quotes may hold delimiters, line breaks and doubled quotes. UTF-8, with or without byte-order mark.
/// The first record that is not empty holds the headings.
///
/// A row with more or fewer cells than there are headings (empty ones at its end do not count), with a
/// quotation mark out of place (behind a digit it means inches and is in place), or with bytes that are no
/// text, is kept with its `fault`; the rows behind it are read all the same. A quoted cell of more than 4000
/// bytes was never closed.
///
/// Errors of the whole text: nothing in it, no text in UTF-8 in the headings (or UTF-16), a broken heading,
/// more than `max_table_columns` headings or `max_table_rows` rows.
[[nodiscard]] Result<RawTable> read_table(std::string_view text, std::string file = {},
                                          const TableReading& reading = {});
/// Whether a text is JSON rather than a table: its first character that is no space is '{' or '['.
[[nodiscard]] bool is_json(std::string_view text);
///@}

/// \name Fields
///@{
/// What a column can hold.
enum class Field {
  id,
  kind,
  name,
  material,
  outer_diameter,
  bore,
  bore_out,
  wall,
  angle,
  radius,
  legs, ///< both legs alike
  leg_in,
  leg_out,
  length,
  plies,
  thread,
  clamp_range, ///< both ends in one cell: "60-80 mm"
  clamp_min,
  clamp_max,
  clamp_type,
  band_width,
  torque,
  max_temperature,
  max_gauge,
  oil_proof,
  wire,
  price,
  currency,
  per,
  pack,
  supplier,
  owned, ///< quantity owned: pieces, or metres where the price is per metre
  paid,  ///< for all that is owned
};
/// What is known of a field.
struct FieldInfo {
  Field field;
  std::string_view key;     ///< "outer_diameter": as the prompt spells it
  std::string_view name;    ///< "outer diameter": as people read it
  std::string_view heading; ///< "outer diameter [mm]": as we write it into CSV; empty: we write two others
  std::optional<quantity::Dimension> dimension; ///< of what is measured; max_gauge counts from ambient
  std::string_view unit;                        ///< in which we write it; empty where there is no dimension
  std::string_view accepted;                    ///< what a cell may hold, in words
  bool is_money;                                ///< a price: its column may have a currency
};
/// All fields, in the order of Field.
[[nodiscard]] std::span<const FieldInfo> fields();
[[nodiscard]] const FieldInfo& info(Field field);
/// The field of a key or name ("outer_diameter", "outer diameter"); nullopt if there is none.
[[nodiscard]] std::optional<Field> find_field(std::string_view key);
///@}

/// \name What the columns mean
///@{
/// What one column holds.
struct ColumnMapping {
  std::optional<Field> field; ///< unset: not used
  /// Unit of numbers that stand alone, by symbol ("mm", "in", "°", "bar", "°C", "N m"). Empty: none was said,
  /// and a number that stands alone is refused. A unit in a cell goes before it.
  std::string unit;
  /// Prices: currency of numbers that stand alone; unset: the row's own, else the build's.
  std::optional<quantity::Currency> currency;
  char decimal = '.'; ///< '.' or ','
  friend bool operator==(const ColumnMapping&, const ColumnMapping&) = default;
};
/// A field that is the same in every row, as a cell would hold it: {Field::kind, "clamp"}.
struct FixedField {
  Field field;
  std::string text;
  friend bool operator==(const FixedField&, const FixedField&) = default;
};
/// A plain value: propose one, change it, hand it to preview().
struct Mapping {
  std::vector<ColumnMapping> columns; ///< one for each heading
  std::vector<FixedField> fixed;      ///< for rows in which no column says it
  friend bool operator==(const Mapping&, const Mapping&) = default;
};

/// What the headings say: our own headings, the keys of our JSON ("outer_diameter_mm"), and the words of the
/// trade ("OD", "hose ID", "wall thickness", "CLR", "price"), each with a unit or currency in brackets,
/// behind a comma or at the end ("wall [mm]", "OD in", "price EUR"). Of two columns for one field the first
/// counts. Angles without a unit are taken in degrees; no other unit is guessed. The decimal sign is that
/// which the numbers of a column have, else that of the other columns.
[[nodiscard]] Mapping propose(const RawTable& table);
/// Puts a unit of a dimension into every column of that dimension in which none was said.
[[nodiscard]] Mapping with_unit(Mapping mapping, quantity::Dimension dimension, std::string_view unit);
/// What is wrong with a mapping: a field twice, `legs` beside one leg or a clamp's range beside one end, a
/// unit of another dimension, a fixed text that its field does not accept; nullopt when all is well. There
/// must be a column for each heading (an assertion).
[[nodiscard]] std::optional<Error> validate(const RawTable& table, const Mapping& mapping);
///@}

} // namespace bellmouth::stock

// SPDX-License-Identifier: GPL-3.0-or-later
// The stock of the build as a table model, and the order and choice in which it is shown.
#pragma once

#include "session.hpp"
#include "stock_edits.hpp"
#include "units.hpp"

#include <QAbstractTableModel>
#include <QSortFilterProxyModel>
#include <QStringList>

#include <map>
#include <optional>
#include <utility>
#include <vector>

namespace bellmouth::ui {

/// One row for each item, in the order of the build. What is owned and what was paid for it is typed here;
/// what is refused stays in its cell, with the complaint, until it is mended.
class StockModel : public QAbstractTableModel {
  Q_OBJECT

public:
  enum Column { kind, name, sizes, price, per, pack, owned, paid, used, material, rating, supplier };
  static constexpr int columns = supplier + 1;

  explicit StockModel(Session& session, QObject* parent = nullptr);
  /// Reads the build anew; rows that stay the same stay where they are. The strings to search in are made for
  /// the rows alone that differ.
  void refresh();

  [[nodiscard]] const build::StockItem& item(int row) const;
  [[nodiscard]] std::optional<int> row_of(const build::StockId& id) const;
  [[nodiscard]] double owned_of(int row) const;
  /// Where the option shown uses the item of a row.
  [[nodiscard]] const StockUse& use_of(int row) const;
  /// The text of a row as it is searched, see searchable().
  [[nodiscard]] const QString& haystack(int row) const;
  /// Whether what a cell shows comes before what another row shows there: sizes and money by their value.
  [[nodiscard]] bool comes_before(int column, int left, int right) const;
  /// The complaint about a cell, or nothing; and how to show again what holds.
  [[nodiscard]] QString complaint(const QModelIndex& index) const;
  void revert(const QModelIndex& index);

  [[nodiscard]] int rowCount(const QModelIndex& parent = {}) const override;
  [[nodiscard]] int columnCount(const QModelIndex& parent = {}) const override;
  [[nodiscard]] QVariant data(const QModelIndex& index, int role = Qt::DisplayRole) const override;
  [[nodiscard]] QVariant headerData(int section, Qt::Orientation orientation, int role) const override;
  [[nodiscard]] Qt::ItemFlags flags(const QModelIndex& index) const override;
  bool setData(const QModelIndex& index, const QVariant& value, int role = Qt::EditRole) override;

signals:
  void refused_changed();

private:
  /// What is kept of a row beside its item.
  struct Row {
    QString haystack, name, supplier; ///< as they are searched and sorted
    double owned = 0;
    std::optional<quantity::Money> paid;
    StockUse use;
  };
  struct Refused {
    QString text, why;
  };
  using Cell = std::pair<std::string, int>; ///< id and column
  [[nodiscard]] static Row make_row(const build::StockItem& item);
  void take_stock(const build::Shared<std::vector<build::StockItem>>& next, bool anew);
  void take_facts();
  void forget_refused_rows();
  [[nodiscard]] QString text(int row, int column) const;
  [[nodiscard]] QString tip(int row, int column) const;
  [[nodiscard]] Cell cell(const QModelIndex& index) const;
  [[nodiscard]] const Refused* refused(const QModelIndex& index) const;
  [[nodiscard]] std::optional<QString> set_owned(int row, const QString& typed);
  [[nodiscard]] std::optional<QString> set_paid(int row, const QString& typed);

  Session& session_;
  build::Shared<std::vector<build::StockItem>> stock_;
  std::vector<Row> rows_;
  std::map<Cell, Refused> refused_;
  UnitChoice units_;
  char decimal_sign_;
};

/// Which items are shown. Several conditions must hold together.
struct StockChoice {
  QStringList words{}; ///< each must stand somewhere in the row; as searchable() gives it
  std::optional<build::StockKind> kind{};
  std::optional<std::string> supplier{}; ///< empty: items that name none
  bool owned = false, used = false;
  friend bool operator==(const StockChoice&, const StockChoice&) = default;
};

/// Sorts by what the cells mean, and leaves out what is not chosen.
class StockOrder : public QSortFilterProxyModel {
  Q_OBJECT

public:
  explicit StockOrder(StockModel& model, QObject* parent = nullptr);
  void choose(StockChoice choice);
  [[nodiscard]] const StockChoice& choice() const { return choice_; }

protected:
  [[nodiscard]] bool lessThan(const QModelIndex& left, const QModelIndex& right) const override;
  [[nodiscard]] bool filterAcceptsRow(int row, const QModelIndex& parent) const override;

private:
  StockModel& model_;
  StockChoice choice_;
};

} // namespace bellmouth::ui

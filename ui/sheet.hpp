// SPDX-License-Identifier: GPL-3.0-or-later
// A table whose cells are typed: what is refused stays in its cell, with the complaint, until it is mended.
#pragma once

#include <QAbstractTableModel>
#include <QStyledItemDelegate>
#include <QWidget>

#include <functional>
#include <map>
#include <optional>
#include <utility>
#include <vector>

class QLabel;
class QStackedWidget;
class QTableView;

namespace bellmouth::ui {

class WrappedLabel;

/// One column: what its cells say, and what becomes of what is typed there. Rows count from 0.
struct SheetColumn {
  QString title;
  QString tip;
  std::function<QString(int row)> text;
  /// Takes what was typed; a complaint means that nothing has changed. Unset: the column is only read.
  std::function<std::optional<QString>(int row, const QString& typed)> set{};
  /// The words to choose from; none, or unset: text is typed.
  std::function<QStringList(int row)> choices{};
  /// Whether the cell shows what holds where nothing was said.
  std::function<bool(int row)> muted{};
  bool number = false;
  /// Whether the cell's box is ticked, and what becomes of a change; unset: there is no box.
  std::function<bool(int row)> ticked{};
  std::function<void(int row, bool on)> tick{};
  /// Whether the cell stands out.
  std::function<bool(int row)> strong{};
  /// How wide the column may become for what it says [px].
  int widest_px = 260;
};

class SheetModel : public QAbstractTableModel {
  Q_OBJECT

public:
  using Columns = std::function<std::vector<SheetColumn>()>;
  using Keys = std::function<QStringList()>;
  /// `keys` names the rows there are; what was refused in a row whose name is gone is forgotten.
  SheetModel(Columns columns, Keys keys, QObject* parent = nullptr);
  /// Reads everything anew.
  void refresh();

  /// The complaint about a cell, or nothing.
  [[nodiscard]] QString complaint(const QModelIndex& index) const;
  /// The first cell that was refused; invalid: none.
  [[nodiscard]] QModelIndex first_refused() const;
  /// Shows again what holds.
  void revert(const QModelIndex& index);
  [[nodiscard]] QStringList choices(const QModelIndex& index) const;
  /// How wide a column may become [px].
  [[nodiscard]] int widest_px(int column) const;

  [[nodiscard]] int rowCount(const QModelIndex& parent = {}) const override;
  [[nodiscard]] int columnCount(const QModelIndex& parent = {}) const override;
  [[nodiscard]] QVariant data(const QModelIndex& index, int role = Qt::DisplayRole) const override;
  [[nodiscard]] QVariant headerData(int section, Qt::Orientation orientation, int role) const override;
  [[nodiscard]] Qt::ItemFlags flags(const QModelIndex& index) const override;
  bool setData(const QModelIndex& index, const QVariant& value, int role = Qt::EditRole) override;

signals:
  void refused_changed();

private:
  struct Refused {
    QString text, why;
  };
  [[nodiscard]] const SheetColumn& column(const QModelIndex& index) const;
  [[nodiscard]] std::pair<QString, int> key(const QModelIndex& index) const;
  [[nodiscard]] const Refused* refused(const QModelIndex& index) const;

  Columns make_columns_;
  std::vector<SheetColumn> columns_;
  Keys make_keys_;
  QStringList keys_;
  std::map<std::pair<QString, int>, Refused> refused_;
};

/// The role of a model's data that says whether what is typed in the cell was refused.
inline constexpr int refused_role = Qt::UserRole + 1;
/// Keeps a number off the words of the next column.
inline constexpr QChar behind_number(0x2002);

/// A line to type in or a choice; cells that were refused have a frame.
class SheetDelegate : public QStyledItemDelegate {
  Q_OBJECT

public:
  using QStyledItemDelegate::QStyledItemDelegate;
  QWidget* createEditor(QWidget* parent, const QStyleOptionViewItem& option,
                        const QModelIndex& index) const override;
  void setEditorData(QWidget* editor, const QModelIndex& index) const override;
  void setModelData(QWidget* editor, QAbstractItemModel* model, const QModelIndex& index) const override;
  void paint(QPainter* painter, const QStyleOptionViewItem& option, const QModelIndex& index) const override;

protected:
  void initStyleOption(QStyleOptionViewItem* option, const QModelIndex& index) const override;
};

/// The table with the complaint below it. Enter or typing edits a cell, Escape brings back what holds.
class Sheet : public QWidget {
  Q_OBJECT

public:
  /// `empty` is shown in place of a table without rows.
  Sheet(const QString& name, const QString& title, const QString& empty, SheetModel::Columns columns,
        SheetModel::Keys keys, QWidget* parent = nullptr);
  /// Reads everything anew; `fit`: columns are made as wide as what they say.
  void refresh(bool fit = true);
  /// Shows a row as picked, or none; says nothing of it.
  void show_picked(std::optional<int> row);
  [[nodiscard]] std::optional<int> picked_row() const;
  [[nodiscard]] SheetModel& model() { return *model_; }

signals:
  void picked(int row);
  void unpicked(); ///< the user has picked no row

protected:
  bool eventFilter(QObject* watched, QEvent* event) override;

private:
  void fit_columns();
  void show_complaint_of_cell();

  SheetModel* model_;
  QTableView* view_;
  QLabel* empty_;
  QStackedWidget* stack_;
  WrappedLabel* error_;
  bool showing_ = false;    ///< what is picked comes from outside
  std::vector<int> fitted_; ///< widths, until the user draws a column wider
};

} // namespace bellmouth::ui

// SPDX-License-Identifier: GPL-3.0-or-later
// Takes a stock list in: shows what would come of each row, and takes the good ones when asked to.
#pragma once

#include "session.hpp"
#include "stock_view.hpp"

#include <bellmouth/stock/import.hpp>

#include <QDialog>

#include <functional>
#include <optional>
#include <string>

class QCheckBox;
class QComboBox;
class QLabel;
class QPushButton;
class QTableView;

namespace bellmouth::ui {

class StockMapping;
class StockPreviewModel;
class WrappedLabel;

class StockImportDialog : public QDialog {
  Q_OBJECT

public:
  /// Asks for a file; an empty answer means that the user thought better of it.
  using AskFile = std::function<QString(QWidget* parent)>;
  /// The file of a list that ships with the program.
  using ShippedFile = std::function<QString(StockView::Shipped which)>;
  StockImportDialog(Session& session, AskFile ask_file, ShippedFile shipped_file, QWidget* parent = nullptr);
  /// Reads a file, or says what is wrong with it.
  void load(const QString& file);
  void load_shipped(StockView::Shipped which);

signals:
  void taken(const QString& what); ///< what has come in, in words

protected:
  void resizeEvent(QResizeEvent* event) override;

private:
  [[nodiscard]] QWidget* file_row();
  [[nodiscard]] QWidget* reading_row();
  [[nodiscard]] QWidget* foot();
  void make_table();
  void read();
  void read_items();
  void show_preview();
  void fit_columns();
  void show_result();
  void refresh();
  /// How many rows pressing the button would take.
  [[nodiscard]] std::size_t takes() const;
  [[nodiscard]] stock::OnClash on_clash() const;
  void take();

  Session& session_;
  AskFile ask_file_;
  ShippedFile shipped_file_;
  QString file_;
  std::string text_;
  build::Build build_;                        ///< into which the rows are to be taken
  std::optional<stock::RawTable> table_list_; ///< unset: a list in our own format, or none
  bool good_list_ = false;

  QPushButton *choose_, *metric_, *inch_, *take_, *close_;
  QLabel *file_name_, *counts_;
  WrappedLabel *error_, *remarks_;
  QWidget* reading_ = nullptr;
  QComboBox *delimiter_, *decimal_, *lengths_, *kind_, *material_, *per_, *clash_;
  QCheckBox* only_bad_;
  StockMapping* mapping_;
  StockPreviewModel* model_;
  QTableView* rows_;
};

} // namespace bellmouth::ui

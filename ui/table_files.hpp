// SPDX-License-Identifier: GPL-3.0-or-later
// Tables out of files and into them.
#pragma once

#include <bellmouth/quantity/result.hpp>

#include <QString>
#include <QWidget>

#include <functional>
#include <optional>
#include <string>

class QToolButton;

namespace bellmouth::ui {

class WrappedLabel;

/// Asks for the file of a table. Empty answers mean that the user thought better of it.
struct TableFiles {
  std::function<QString(QWidget* parent)> to_open;
  std::function<QString(QWidget* parent, const QString& proposed)>
      to_save; ///< asks before it writes over one
};
/// The dialogs of the desktop.
[[nodiscard]] TableFiles desktop_table_files();

/// Two buttons: read a table from a CSV file, write one to a CSV file. What is wrong with a file is said
/// below them, with its row and column.
class TableFileBar : public QWidget {
  Q_OBJECT

public:
  /// Takes the text of a file, by whose name it speaks of it.
  using Take = std::function<std::optional<Error>(const std::string& text, const std::string& file)>;
  using Give = std::function<std::string()>; ///< the text of a file
  /// `proposed`: what a new file is called.
  TableFileBar(TableFiles files, QString proposed, Take take, Give give, QWidget* parent = nullptr);
  /// The buttons are called `object_name`_read and _write, the complaint `object_name`_file_error.
  void set_names(const QString& object_name, const QString& accessible_name);
  void set_can_write(bool can);
  /// Says what was wrong; empty: nothing.
  void complain(const QString& why);

private:
  void read();
  void write();

  TableFiles files_;
  QString proposed_;
  Take take_;
  Give give_;
  QToolButton *read_, *write_;
  WrappedLabel* error_;
};

} // namespace bellmouth::ui

// SPDX-License-Identifier: GPL-3.0-or-later
// What the window asks its user. Each question is a function, so that a test can answer in the user's place.
#pragma once

#include "new_build.hpp"

#include <QString>
#include <QStringList>

#include <functional>
#include <memory>
#include <optional>

class QPagedPaintDevice;
class QWidget;

namespace bellmouth::ui {

struct Dialogs {
  enum class Unsaved { save, discard, cancel };
  enum class LeftBehind { restore, throw_away, later };
  enum class Changed { overwrite, save_as, cancel };

  /// \name Empty answers mean that the user thought better of it.
  ///@{
  std::function<QString(QWidget* parent, const QString& folder)> file_to_open;
  std::function<QString(QWidget* parent, const QString& proposed)> file_to_save;
  std::function<QString(QWidget* parent, const QString& folder)> folder_for_lists;
  std::function<QString(QWidget* parent, const QString& folder)> log_to_open; ///< of measurements
  std::function<QString(QWidget* parent, const QString& folder)> scan_to_open;
  std::function<QString(QWidget* parent, const QString& folder)> picture_to_open;
  std::function<QString(QWidget* parent, const QString& folder)> stock_to_open;
  std::function<QString(QWidget* parent, const QString& proposed)> stock_to_save;
  std::function<std::optional<QString>(QWidget* parent, const QString& title, const QString& label,
                                       const QString& proposed)>
      line_of_text;
  std::function<std::optional<Recipe>(QWidget* parent)> recipe; ///< of a new build
  /// What lists are printed on: a printer or a file, landscape; nothing when the user thought better of it.
  std::function<std::unique_ptr<QPagedPaintDevice>(QWidget* parent)> paper;
  ///@}
  /// Whether files of a folder, which exist, may be written over.
  std::function<bool(QWidget* parent, const QString& folder, const QStringList& files)> overwrite;
  /// Whether an item of the stock may be removed though it is used; `what` says by how much.
  std::function<bool(QWidget* parent, const QString& what)> remove_used;
  std::function<Unsaved(QWidget* parent, const QString& name)> unsaved_changes;
  std::function<Changed(QWidget* parent, const QString& file)> changed_on_disk;
  std::function<LeftBehind(QWidget* parent, const QString& what)> left_behind;
  std::function<void(QWidget* parent, const QString& title, const QString& text)> error;
};

/// The dialogs of the desktop.
[[nodiscard]] Dialogs desktop_dialogs();

} // namespace bellmouth::ui

// SPDX-License-Identifier: GPL-3.0-or-later
// Brings a scan of the bay in: which file, in which unit, and how it lies.
#pragma once

#include "scan_job.hpp"
#include "session.hpp"

#include <QDialog>

#include <array>
#include <functional>
#include <memory>
#include <optional>

class QButtonGroup;
class QComboBox;
class QLabel;
class QLineEdit;
class QProgressBar;
class QPushButton;
class QStackedWidget;

namespace bellmouth::ui {

class QuantityEdit;
class WrappedLabel;

class ScanDialog : public QDialog {
  Q_OBJECT

public:
  /// Asks for a file; an empty answer means that the user thought better of it.
  using AskFile = std::function<QString(QWidget* parent)>;
  ScanDialog(Session& session, AskFile ask_file, QWidget* parent = nullptr);
  /// Reads a file, or says what is wrong with it; what was read before stays until then.
  void load(const QString& file);

signals:
  void loaded(); ///< a reading has ended, well or not

private:
  /// A point of the file and where it lies in the bay.
  struct Mark {
    QLineEdit *name, *in_file, *in_bay;
  };
  /// How the scan lies, or what is still wrong with that.
  struct Lie {
    mesh::Placement placement;
    std::optional<double> miss_m; ///< of three points
  };
  [[nodiscard]] QWidget* file_row();
  [[nodiscard]] QWidget* unit_box();
  [[nodiscard]] QWidget* points_page();
  [[nodiscard]] QWidget* origin_page();
  [[nodiscard]] QLineEdit* line(const QString& name, const QString& spoken, const QString& placeholder);
  void take(const ScanOutcome& outcome);
  void show_sizes();
  [[nodiscard]] std::optional<mesh::Unit> unit() const;
  [[nodiscard]] Result<mesh::Point> point_in_file(const QString& typed) const;
  /// The complaint names the field.
  [[nodiscard]] std::optional<Lie> lie(QString& wrong) const;
  void refresh();
  void add();

  Session& session_;
  AskFile ask_file_;
  QString file_;
  std::shared_ptr<const mesh::Scan> scan_;

  QPushButton *choose_, *cancel_, *add_, *close_;
  QLabel *file_name_, *facts_;
  QProgressBar* progress_;
  WrappedLabel *error_, *state_;
  QWidget* rest_; ///< all that needs a file
  QButtonGroup* units_;
  QComboBox *way_, *class_;
  QStackedWidget* pages_;
  QLineEdit *name_, *origin_;
  std::array<Mark, 3> marks_;
  std::array<QuantityEdit*, 3> turns_;
  ScanJob job_;
};

} // namespace bellmouth::ui

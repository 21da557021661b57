// SPDX-License-Identifier: GPL-3.0-or-later
// Adds a photograph that lies under a view, scaled by two of its points whose places are known.
#pragma once

#include "session.hpp"

#include <QDialog>
#include <QPixmap>

#include <array>
#include <functional>
#include <optional>

class QComboBox;
class QLabel;
class QLineEdit;
class QPushButton;
class QRadioButton;

namespace bellmouth::ui {

class WrappedLabel;

/// A picture, as large as there is room, in which points are clicked.
class PictureView : public QWidget {
  Q_OBJECT

public:
  explicit PictureView(QWidget* parent = nullptr);
  void set_picture(QPixmap picture);
  [[nodiscard]] const QPixmap& picture() const { return picture_; }
  /// Shows a mark at a point of the picture [px], or none.
  void set_mark(std::size_t which, std::optional<QPointF> at_px);
  /// Where a point of the picture is on the widget.
  [[nodiscard]] QPointF on_widget(const QPointF& at_px) const;
  [[nodiscard]] QSize sizeHint() const override;

signals:
  void clicked(const QPointF& at_px);

protected:
  void paintEvent(QPaintEvent* event) override;
  void mousePressEvent(QMouseEvent* event) override;

private:
  [[nodiscard]] QRectF place() const;

  QPixmap picture_;
  std::array<std::optional<QPointF>, 2> marks_;
};

class PhotographDialog : public QDialog {
  Q_OBJECT

public:
  /// Asks for a file; an empty answer means that the user thought better of it.
  using AskFile = std::function<QString(QWidget* parent)>;
  PhotographDialog(Session& session, AskFile ask_file, QWidget* parent = nullptr);
  /// Shows a picture, or says what is wrong with it.
  void load(const QString& file);

private:
  struct Mark {
    QRadioButton* next; ///< the next click in the picture is this point
    QLineEdit *in_picture, *in_bay;
  };
  [[nodiscard]] std::optional<QPointF> typed_point(const Mark& mark) const;
  /// The photograph as it is typed, or what is still wrong.
  [[nodiscard]] std::optional<build::Photograph> photograph(QString& wrong) const;
  void take_click(const QPointF& at_px);
  void refresh();
  void add();

  Session& session_;
  AskFile ask_file_;
  QString file_;
  QPushButton *choose_, *add_, *close_;
  QLabel* file_name_;
  QComboBox* view_;
  PictureView* picture_;
  std::array<Mark, 2> marks_;
  WrappedLabel *error_, *state_;
};

} // namespace bellmouth::ui

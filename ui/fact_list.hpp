// SPDX-License-Identifier: GPL-3.0-or-later
// Computed figures beside their names: to be read, not changed.
#pragma once

#include <QString>
#include <QWidget>

#include <vector>

class QGridLayout;
class QLabel;

namespace bellmouth::ui {

class WrappedLabel;

struct Fact {
  QString name, value;
  QString tip{};
};

class FactList : public QWidget {
  Q_OBJECT

public:
  explicit FactList(QWidget* parent = nullptr);
  void show_facts(const std::vector<Fact>& facts);
  /// The value shown beside a name, empty if there is none.
  [[nodiscard]] QString value(const QString& name) const;

private:
  struct Row {
    QLabel* name;
    WrappedLabel* value;
  };
  QGridLayout* grid_;
  std::vector<Row> rows_;
};

/// A heading within the editor.
[[nodiscard]] QLabel* heading(const QString& text, QWidget* parent = nullptr);

} // namespace bellmouth::ui

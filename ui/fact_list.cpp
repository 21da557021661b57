// SPDX-License-Identifier: GPL-3.0-or-later
#include "fact_list.hpp"

#include "theme.hpp"
#include "wrapped_label.hpp"

#include <QGridLayout>
#include <QLabel>

#include <algorithm>

namespace bellmouth::ui {

FactList::FactList(QWidget* parent) : QWidget(parent), grid_(new QGridLayout(this)) {
  grid_->setContentsMargins(0, 0, 0, 0);
  grid_->setHorizontalSpacing(wide_gap);
  grid_->setVerticalSpacing(3);
  grid_->setColumnStretch(1, 1);
}

void FactList::show_facts(const std::vector<Fact>& facts) {
  while (rows_.size() < facts.size()) {
    Row row{new QLabel(this), new WrappedLabel(this)};
    row.name->setForegroundRole(QPalette::PlaceholderText);
    row.value->setAlignment(Qt::AlignRight | Qt::AlignTop);
    const int at = static_cast<int>(rows_.size());
    grid_->addWidget(row.name, at, 0, Qt::AlignTop);
    grid_->addWidget(row.value, at, 1);
    rows_.push_back(row);
  }
  for (std::size_t i = 0; i < rows_.size(); ++i) {
    const bool used = i < facts.size();
    rows_[i].name->setVisible(used);
    rows_[i].value->setVisible(used);
    const Fact fact = used ? facts[i] : Fact{};
    rows_[i].name->setText(fact.name);
    rows_[i].value->set_text(fact.value);
    rows_[i].name->setToolTip(fact.tip);
    rows_[i].value->setToolTip(fact.tip);
  }
}

QString FactList::value(const QString& name) const {
  const auto found = std::ranges::find_if(rows_, [&](const Row& row) { return row.name->text() == name; });
  return found == rows_.end() ? QString() : found->value->text();
}

QLabel* heading(const QString& text, QWidget* parent) {
  auto* label = new QLabel(text, parent);
  label->setFont(heading_font());
  label->setWordWrap(true);
  return label;
}

} // namespace bellmouth::ui

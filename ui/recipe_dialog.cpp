// SPDX-License-Identifier: GPL-3.0-or-later
#include "recipe_dialog.hpp"

#include "form.hpp"
#include "theme.hpp"
#include "units.hpp"

#include <QCheckBox>
#include <QCoreApplication>
#include <QDialog>
#include <QDialogButtonBox>
#include <QFormLayout>
#include <QLabel>
#include <QPushButton>

namespace bellmouth::ui {

namespace {

QString tr(const char* text) {
  return QCoreApplication::translate("RecipeDialog", text);
}

} // namespace

std::optional<Recipe> ask_recipe(QWidget* parent) {
  QDialog dialog(parent);
  dialog.setWindowTitle(tr("New build"));
  auto* form = new QFormLayout(&dialog);
  auto* words = new QLabel(tr("Which machines stand between the open air and the engine? Each starts with "
                              "ordinary sizes, which you "
                              "then change to those of your own."),
                           &dialog);
  words->setWordWrap(true);
  words->setMinimumWidth(380);
  auto* blower = new ComboBox(&dialog);
  blower->addItems({tr("none"), tr("displacement blower"), tr("compressor with a target pressure"),
                    tr("compressor geared to the engine, invented map")});
  blower->setCurrentIndex(static_cast<int>(Recipe{}.blower));
  blower->setAccessibleName(tr("Blower"));
  auto* cooler = new QCheckBox(tr("Charge cooler"), &dialog);
  cooler->setChecked(Recipe{}.charge_cooler);
  auto* meter = new QCheckBox(tr("Meter body for the air flow"), &dialog);
  meter->setChecked(Recipe{}.meter_body);
  auto* stock = new ComboBox(&dialog);
  stock->addItems({tr("metric sizes, invented prices in EUR"), tr("inch sizes, invented prices in USD")});
  stock->setCurrentIndex(units().length == UnitChoice::Length::inches ? 1 : 0);
  stock->setAccessibleName(tr("Parts"));
  auto* buttons = new QDialogButtonBox(QDialogButtonBox::Ok | QDialogButtonBox::Cancel, &dialog);
  buttons->button(QDialogButtonBox::Ok)->setText(tr("Start"));
  QObject::connect(buttons, &QDialogButtonBox::accepted, &dialog, &QDialog::accept);
  QObject::connect(buttons, &QDialogButtonBox::rejected, &dialog, &QDialog::reject);
  form->addRow(words);
  form->addRow(tr("Blower"), blower);
  form->addRow(cooler);
  form->addRow(meter);
  form->addRow(tr("Parts"), stock);
  form->addRow(buttons);
  form->setVerticalSpacing(wide_gap);
  if (dialog.exec() != QDialog::Accepted)
    return std::nullopt;
  return Recipe{static_cast<Recipe::Blower>(blower->currentIndex()), cooler->isChecked(), meter->isChecked(),
                static_cast<Recipe::Stock>(stock->currentIndex())};
}

} // namespace bellmouth::ui

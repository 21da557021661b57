// SPDX-License-Identifier: GPL-3.0-or-later
#include "photograph_list.hpp"

#include "bay_text.hpp"
#include "quantity_edit.hpp"
#include "theme.hpp"

#include <QHBoxLayout>
#include <QPushButton>

namespace bellmouth::ui {

namespace {

using build::Photograph;

const Photograph& photograph_at(const Session& session, int row) {
  return session.build().photographs.at(static_cast<std::size_t>(row));
}

} // namespace

QStringList photograph_views() {
  return {PhotographList::tr("above"), PhotographList::tr("left"), PhotographList::tr("right"),
          PhotographList::tr("front")};
}

PhotographList::PhotographList(Session& session, QWidget* parent)
    : QWidget(parent), session_(session),
      sheet_(new Sheet(
          "photographs", tr("Photographs"),
          tr("No photographs yet. One taken square from above, from a side or from the front can lie "
             "under the view, scaled by two points whose places you know."),
          [this] { return columns(); },
          [this] {
            QStringList keys;
            for (std::size_t i = 0; i < session_.build().photographs.size(); ++i)
              keys << QString("%1/%2").arg(session_.build().photographs.size()).arg(i);
            return keys;
          },
          this)),
      add_(new QPushButton(tr("Add a photograph…"), this)), remove_(new QPushButton(tr("Remove"), this)) {
  setObjectName("photograph_list");
  add_->setObjectName("add_photograph");
  remove_->setObjectName("remove_photograph");
  remove_->setAccessibleName(tr("Remove the picked photograph"));
  auto* buttons = new QHBoxLayout;
  buttons->addWidget(add_);
  buttons->addWidget(remove_);
  buttons->addStretch(1);
  auto* column = new QVBoxLayout(this);
  column->setContentsMargins(0, gap, 0, 0);
  column->setSpacing(gap);
  column->addLayout(buttons);
  column->addWidget(sheet_, 1);
  connect(add_, &QPushButton::clicked, this, &PhotographList::add_requested);
  connect(remove_, &QPushButton::clicked, this, &PhotographList::remove);
}

std::vector<SheetColumn> PhotographList::columns() {
  const auto place = [this](const QString& title, build::Vector Photograph::*member) {
    return SheetColumn{
        .title = title,
        .tip = tr("Its place in the bay, as three lengths or in words"),
        .text = [this, member](int row) { return place_text(photograph_at(session_, row).*member); },
        .set = [this, member](int row, const QString& typed) -> std::optional<QString> {
          std::vector<Photograph> all = session_.build().photographs;
          build::Vector& point = all.at(static_cast<std::size_t>(row)).*member;
          const auto read = bay::place_of(session_.build(), typed.toStdString(), wording(point));
          if (!read)
            return complaint(read.error());
          point = *read;
          const auto error = session_.apply(build::with_photographs(session_.build(), std::move(all)),
                                            tr("Change a known point of a photograph"));
          return error ? std::optional(complaint(*error)) : std::nullopt;
        }};
  };
  return {{.title = tr("File"),
           .tip = tr("Of the picture"),
           .text = [this](int row) { return QString::fromStdString(photograph_at(session_, row).file); }},
          {.title = tr("Taken from"),
           .tip = tr("Which of the views it lies under"),
           .text =
               [this](int row) {
                 return photograph_views()[static_cast<int>(photograph_at(session_, row).view)];
               },
           .set = [this](int row, const QString& typed) -> std::optional<QString> {
             std::vector<Photograph> all = session_.build().photographs;
             all.at(static_cast<std::size_t>(row)).view =
                 static_cast<Photograph::View>(photograph_views().indexOf(typed));
             const auto error = session_.apply(build::with_photographs(session_.build(), std::move(all)),
                                               tr("Change the view of a photograph"));
             return error ? std::optional(complaint(*error)) : std::nullopt;
           },
           .choices = [](int) { return photograph_views(); }},
          place(tr("First known point"), &Photograph::first_m),
          place(tr("Second known point"), &Photograph::second_m)};
}

void PhotographList::refresh(bool fit) {
  sheet_->refresh(fit);
  remove_->setEnabled(!session_.build().photographs.empty());
}

void PhotographList::remove() {
  std::vector<Photograph> all = session_.build().photographs;
  if (all.empty())
    return;
  all.erase(all.begin() + sheet_->picked_row().value_or(static_cast<int>(all.size()) - 1));
  // Nothing that is taken away can make a build wrong.
  [[maybe_unused]] const auto error =
      session_.apply(build::with_photographs(session_.build(), std::move(all)), tr("Remove a photograph"));
}

} // namespace bellmouth::ui

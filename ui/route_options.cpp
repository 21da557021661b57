// SPDX-License-Identifier: GPL-3.0-or-later
#include "route_options.hpp"

#include "bay_text.hpp"
#include "fact_list.hpp"
#include "piece_text.hpp"
#include "route_passing.hpp"
#include "units.hpp"

#include <bellmouth/bay/offset.hpp>
#include <bellmouth/stock.hpp>

#include <QHBoxLayout>
#include <QPushButton>

#include <algorithm>
#include <array>
#include <cassert>
#include <utility>

namespace bellmouth::ui {

namespace {

constexpr std::array seconds_offered{5.0, 15.0, 60.0};
constexpr std::size_t most_bends_offered = 5;
constexpr double usual_radius_m = 50e-3;

QString tube_words(const stock::TubeSize& size) {
  const std::string_view material = build::material_name(size.material);
  return QString("%1 × %2 %3, %4")
      .arg(plain_length(size.outer_diameter_m), plain_length(size.wall_m), length_unit(),
           QString::fromUtf8(material.data(), static_cast<qsizetype>(material.size())));
}

/// "none", "1 hose", "1 to 3 tube" or, from the end, "3 tube", "2 to 3 tube".
QStringList kept_words(const std::vector<build::Piece>& pieces, bool from_end) {
  QStringList words{RouteOptions::tr("none")};
  for (std::size_t count = 1; count <= pieces.size(); ++count) {
    const std::size_t first = from_end ? pieces.size() - count : 0,
                      last = from_end ? pieces.size() - 1 : count - 1;
    const QString name = piece_title(pieces[from_end ? first : last]);
    words << (first == last ? QString("%1 %2").arg(first + 1).arg(name)
              : from_end    ? RouteOptions::tr("from %1 %2 on").arg(first + 1).arg(name)
                            : RouteOptions::tr("up to %1 %2").arg(last + 1).arg(name));
  }
  return words;
}

const std::vector<build::Piece>& pieces_of(const build::Build& build, const find::Ask& ask) {
  static const std::vector<build::Piece> none;
  const build::Option* option = build.find(ask.option);
  const build::Run* run = option ? option->find(ask.run) : nullptr;
  return run ? run->pieces : none;
}

/// All that a question about this run can be chosen from.
QStringList choices(const build::Build& build, const find::Ask& ask) {
  QStringList words;
  for (const stock::TubeSize& size : stock::tube_sizes(build))
    words << tube_words(size);
  return words + kept_words(pieces_of(build, ask), false);
}

} // namespace

bool operator==(const RouteWish& a, const RouteWish& b) {
  const auto places = [](const way::Waypoint& x, const way::Waypoint& y) {
    return x.name == y.name && x.shape == y.shape;
  };
  return a.seconds == b.seconds && a.ask.option == b.ask.option && a.ask.run == b.ask.run &&
         a.ask.keep_first == b.ask.keep_first && a.ask.keep_last == b.ask.keep_last &&
         a.ask.tube == b.ask.tube && a.ask.cut_bends == b.ask.cut_bends &&
         a.ask.use_owned == b.ask.use_owned && a.ask.most_bends == b.ask.most_bends &&
         a.ask.matters == b.ask.matters && std::ranges::equal(a.ask.through, b.ask.through, places);
}

RouteOptions::RouteOptions(Session& session, QWidget* parent)
    : QWidget(parent), session_(session), form_place_(new QVBoxLayout), places_(new QVBoxLayout),
      side_(new ComboBox(this)), keep_out_(new ComboBox(this)), past_(new QPushButton(tr("Add"), this)),
      at_(new QPushButton(tr("Add"), this)), point_(new QLineEdit(this)),
      radius_(new QuantityEdit(quantity_of(quantity::Dimension::length), this)),
      error_(new WrappedLabel(this)) {
  setObjectName("route_options");
  auto* column = new QVBoxLayout(this);
  column->setContentsMargins(0, 0, 0, 0);
  column->setSpacing(gap);
  column->addLayout(form_place_);
  make_places(*column);
  column->addStretch(1);
  connect(past_, &QPushButton::clicked, this, &RouteOptions::add_past);
  connect(at_, &QPushButton::clicked, this, &RouteOptions::add_point);
  connect(point_, &QLineEdit::returnPressed, this, &RouteOptions::add_point);
  connect(&session_, &Session::changed, this, [this](Changes changes) {
    if (changes & Change::document)
      refresh_keep_outs();
  });
}

void RouteOptions::make_places(QVBoxLayout& column) {
  column.addSpacing(gap);
  column.addWidget(heading(tr("Places to pass"), this));
  places_->setSpacing(2);
  column.addLayout(places_);
  side_->setObjectName("route_pass_side");
  side_->setAccessibleName(tr("On which side to pass"));
  for (const Passing passing : all_passings)
    side_->addItem(passing_word(passing));
  keep_out_->setObjectName("route_pass_keep_out");
  keep_out_->setAccessibleName(tr("What to pass"));
  keep_out_->setSizeAdjustPolicy(QComboBox::AdjustToMinimumContentsLengthWithIcon);
  past_->setObjectName("route_pass_add");
  past_->setAccessibleName(tr("Add: pass a keep-out on this side"));
  past_->setToolTip(
      tr("Somewhere on its way the route goes further out than the outermost point of the keep-out"));
  auto* row = new QHBoxLayout;
  row->setSpacing(gap);
  row->addWidget(side_);
  row->addWidget(keep_out_, 1);
  row->addWidget(past_);
  column.addLayout(row);
  point_->setObjectName("route_point");
  point_->setAccessibleName(tr("A point to pass"));
  point_->setPlaceholderText(tr("300; -150; 350 mm"));
  point_->setToolTip(tr("Forward, left, up; or as in: 120 mm below blower out"));
  radius_->set_names("route_point_radius", tr("How near to the point"));
  radius_->set_compact(tr("How near to the point the centreline comes"));
  radius_->set_value(usual_radius_m);
  radius_->setFixedWidth(86);
  at_->setObjectName("route_point_add");
  at_->setAccessibleName(tr("Add: pass near this point"));
  row = new QHBoxLayout;
  row->setSpacing(gap);
  row->addWidget(point_, 1);
  row->addWidget(radius_);
  row->addWidget(at_);
  column.addLayout(row);
  error_->setObjectName("route_point_error");
  error_->hide();
  column.addWidget(error_);
}

void RouteOptions::show_ask(const find::Ask& ask) {
  wish_.ask = ask;
  show_form();
  refresh_places();
  refresh_keep_outs();
}

void RouteOptions::show_form() {
  // Made anew only where there is something else to choose from.
  if (QStringList words = choices(session_.build(), wish_.ask); !form_ || words != words_) {
    words_ = std::move(words);
    make_form();
  }
  form_->show(wish_);
}

void RouteOptions::make_form() {
  if (form_)
    form_->retire();
  form_ = std::make_unique<Form<RouteWish>>(
      "route", rows(), [this](RouteWish next, const QString&, const QString&) -> std::optional<Error> {
        wish_ = std::move(next);
        form_->show(wish_);
        emit changed();
        return std::nullopt;
      });
  form_place_->addWidget(form_->widget());
}

std::vector<FormRow<RouteWish>> RouteOptions::rows() const {
  using W = RouteWish;
  const std::vector<stock::TubeSize> sizes = stock::tube_sizes(session_.build());
  QStringList size_words;
  for (const stock::TubeSize& size : sizes)
    size_words << tube_words(size);
  QStringList bend_words;
  for (std::size_t bends = 1; bends <= most_bends_offered; ++bends)
    bend_words << QString::number(bends);
  QStringList second_words;
  for (const double seconds : seconds_offered)
    second_words << tr("%1 s").arg(seconds);
  const std::vector<build::Piece>& pieces = pieces_of(session_.build(), wish_.ask);
  std::vector<FormRow<W>> rows{
      choice_row<W>(
          "tube", tr("Tube"), tr("Outside diameter and wall of the tube that the route is made of"),
          size_words,
          [sizes](const W& wish) {
            const auto found = std::ranges::find(sizes, wish.ask.tube);
            return found == sizes.end() ? -1 : static_cast<int>(found - sizes.begin());
          },
          [sizes](W& wish, int index) { wish.ask.tube = sizes.at(static_cast<std::size_t>(index)); }),
      choice_row<W>(
          "most_bends", tr("Bends at most"), tr("How many bends a route may have"), bend_words,
          [](const W& wish) {
            return static_cast<int>(std::min(wish.ask.most_bends, most_bends_offered)) - 1;
          },
          [](W& wish, int index) { wish.ask.most_bends = static_cast<std::size_t>(index) + 1; }),
      check_row<W>(
          "cut_bends", tr("Bends may be cut"), tr("Tube bends may be cut down to smaller angles"),
          [](const W& wish) { return wish.ask.cut_bends; },
          [](W& wish, bool on) { wish.ask.cut_bends = on; }),
      check_row<W>(
          "use_owned", tr("Use what I own"), tr("What you own already counts as free"),
          [](const W& wish) { return wish.ask.use_owned; },
          [](W& wish, bool on) { wish.ask.use_owned = on; })};
  const auto kept = [&](const QString& key, const QString& label, const QString& tip, bool from_end,
                        std::size_t find::Ask::*own, std::size_t find::Ask::*other) {
    return choice_row<W>(
        key, label, tip, kept_words(pieces, from_end),
        [own](const W& wish) { return static_cast<int>(wish.ask.*own); },
        [own, other, count = pieces.size()](W& wish, int index) {
          wish.ask.*own = static_cast<std::size_t>(index);
          wish.ask.*other = std::min(wish.ask.*other, count - wish.ask.*own);
        });
  };
  if (!pieces.empty()) {
    rows.push_back(kept("keep_first", tr("Keep at the start"),
                        tr("Pieces at the start of the run that stay as they are"), false,
                        &find::Ask::keep_first, &find::Ask::keep_last));
    rows.push_back(kept("keep_last", tr("Keep at the end"),
                        tr("Pieces at the end of the run that stay as they are"), true, &find::Ask::keep_last,
                        &find::Ask::keep_first));
  }
  rows.push_back(choice_row<W>(
      "seconds", tr("Search for"), tr("Routes come at once; better ones may come as long as it searches"),
      second_words,
      [](const W& wish) {
        return static_cast<int>(std::ranges::find(seconds_offered, wish.seconds) - seconds_offered.begin());
      },
      [](W& wish, int index) { wish.seconds = seconds_offered.at(static_cast<std::size_t>(index)); }));
  return rows;
}

void RouteOptions::refresh_places() {
  while (QLayoutItem* item = places_->takeAt(0)) {
    if (item->widget() != nullptr) {
      item->widget()->hide();
      item->widget()->deleteLater(); // it may be that of the button that was pressed
    }
    delete item;
  }
  for (std::size_t i = 0; i < wish_.ask.through.size(); ++i) {
    const QString name = QString::fromStdString(wish_.ask.through[i].name);
    auto* row = new QWidget(this);
    auto* line = new QHBoxLayout(row);
    line->setContentsMargins(0, 0, 0, 0);
    auto* label = new WrappedLabel(row);
    label->setObjectName(QString("route_place_%1").arg(i));
    label->set_text(name);
    auto* remove = new QPushButton(tr("Remove"), row);
    remove->setObjectName(QString("route_place_remove_%1").arg(i));
    remove->setAccessibleName(tr("Remove: %1").arg(name));
    connect(remove, &QPushButton::clicked, this, [this, i] {
      wish_.ask.through.erase(wish_.ask.through.begin() + static_cast<std::ptrdiff_t>(i));
      refresh_places();
      emit changed();
    });
    line->addWidget(label, 1);
    line->addWidget(remove);
    places_->addWidget(row);
  }
}

void RouteOptions::refresh_keep_outs() {
  const QVariant before = keep_out_->currentData();
  keep_out_->clear();
  const build::Build& build = session_.build();
  for (std::size_t i = 0; i < build.keep_outs.size(); ++i)
    if (waypoint_past(build, i, Passing::over))
      keep_out_->addItem(keep_out_title(build, i), static_cast<qulonglong>(i));
  keep_out_->setCurrentIndex(std::max(0, keep_out_->findData(before)));
  const bool any = keep_out_->count() > 0;
  for (QWidget* each : std::initializer_list<QWidget*>{side_, keep_out_, past_})
    each->setEnabled(any);
}

void RouteOptions::pass(way::Waypoint waypoint) {
  wish_.ask.through.push_back(std::move(waypoint));
  refresh_places();
  emit changed();
}

void RouteOptions::add_past() {
  const auto index = static_cast<std::size_t>(keep_out_->currentData().toULongLong());
  const Passing passing = all_passings.at(static_cast<std::size_t>(side_->currentIndex()));
  if (auto waypoint = waypoint_past(session_.build(), index, passing))
    pass(std::move(*waypoint));
}

void RouteOptions::add_point() {
  const auto point = bay::place_of(session_.build(), point_->text().toStdString(), wording());
  const auto radius = radius_->value();
  show_complaint(*error_, !point                    ? complaint(point.error())
                          : !radius || *radius <= 0 ? tr("the radius must be more than nothing")
                                                    : QString());
  if (!point || !radius || *radius <= 0)
    return;
  point_->clear();
  pass(waypoint_at(*point, *radius));
}

} // namespace bellmouth::ui

// SPDX-License-Identifier: GPL-3.0-or-later
#include "piece_editor.hpp"

#include "bay_states.hpp"
#include "part_edits.hpp"
#include "piece_fields.hpp"
#include "piece_text.hpp"
#include "theme.hpp"
#include "units.hpp"

#include <bellmouth/stock.hpp>

#include <QPushButton>
#include <QScrollArea>
#include <QTimer>
#include <QVBoxLayout>

#include <algorithm>

namespace bellmouth::ui {

namespace {

/// Scrolls the area around a widget, if there is one, until the widget can be seen.
void bring_into_view(QWidget& widget) {
  for (QWidget* around = widget.parentWidget(); around != nullptr; around = around->parentWidget())
    if (auto* area = qobject_cast<QScrollArea*>(around)) {
      // It has its place only when the layout has made room for it.
      QTimer::singleShot(0, &widget, [area, &widget] { area->ensureWidgetVisible(&widget); });
      return;
    }
}

} // namespace

PieceEditor::PieceEditor(Session& session, QWidget* parent)
    : QWidget(parent), session_(session), title_(heading({}, this)), where_(new WrappedLabel(this)),
      form_place_(new QVBoxLayout), lag_run_(new QPushButton(this)), stock_(new ComboBox(this)),
      stock_error_(new WrappedLabel(this)), facts_(new FactList(this)) {
  setObjectName("piece_editor");
  title_->setObjectName("piece_title");
  where_->setForegroundRole(QPalette::PlaceholderText);
  stock_->setObjectName("piece_stock");
  stock_->setAccessibleName(tr("Bought as"));
  stock_->setSizeAdjustPolicy(QComboBox::AdjustToMinimumContentsLengthWithIcon);
  stock_->setMinimumContentsLength(12);
  stock_error_->setObjectName("piece_stock_error");
  stock_error_->hide();
  auto* column = new QVBoxLayout(this);
  column->setContentsMargins(0, 0, 0, 0);
  column->setSpacing(gap);
  column->addWidget(title_);
  column->addWidget(where_);
  column->addLayout(form_place_);
  lag_run_->setObjectName("lag_run");
  lag_run_->setToolTip(tr("Every piece of the run but its fittings"));
  column->addWidget(lag_run_, 0, Qt::AlignLeft);
  connect(lag_run_, &QPushButton::clicked, this, &PieceEditor::lag_run);
  column->addSpacing(gap);
  column->addWidget(heading(tr("Bought as"), this));
  column->addWidget(stock_);
  column->addWidget(stock_error_);
  column->addSpacing(gap);
  column->addWidget(heading(tr("Figures"), this));
  column->addWidget(facts_);
  column->addStretch(1);
  connect(stock_, &QComboBox::activated, this, &PieceEditor::choose_stock);
}

void PieceEditor::build_form(const build::Piece& piece) {
  if (form_)
    form_->retire();
  form_ = std::make_unique<Form<build::Piece>>(
      "piece", piece_fields(piece), [this](build::Piece next, const QString& key, const QString& label) {
        return apply(std::move(next), key, label);
      });
  form_place_->addWidget(form_->widget());
  form_->widget()->show();
}

void PieceEditor::refresh() {
  const build::Piece& piece = *session_.picked_piece();
  const auto& picked = std::get<PickedPiece>(session_.selection());
  const build::PieceRef at{session_.option(), picked.run, picked.row};
  shown_ = at;
  const Subject subject{session_.document_number(), at, piece.shape.index()};
  if (form_for_ != subject) {
    build_form(piece);
    form_for_ = subject;
  }
  form_->show(piece);
  title_->setText(piece_title(piece));
  where_->set_text(tr("%1, row %2 of %3")
                       .arg(QString::fromStdString(std::string(build::kind_name(piece.shape))))
                       .arg(at.row + 1)
                       .arg(run_name(at.run)));
  refresh_stock(piece);
  refresh_lagging(piece);
  const RunResult* result = find_run(session_.evaluation(), at.run);
  const bool known = result != nullptr && at.row < result->fit.rows.size();
  std::vector<Fact> facts;
  if (known) {
    facts = piece_facts(piece, *result, at.row, session_.evaluation().path.point.usable());
    for (Fact& fact : clearance_facts(session_, at.run, at.row))
      facts.push_back(std::move(fact));
  }
  facts_->show_facts(facts);
}

void PieceEditor::refresh_lagging(const build::Piece& piece) {
  const build::Run& run = *session_.build().find(shown_.option)->find(shown_.run);
  const bool differs = std::ranges::any_of(run.pieces, [&](const build::Piece& other) {
    return !build::is_fitting(other.shape) && other.lagging != piece.lagging;
  });
  lag_run_->setVisible(differs && !build::is_fitting(piece.shape));
  lag_run_->setText(piece.lagging ? tr("Lag the whole run like this") : tr("Strip the whole run of lagging"));
}

void PieceEditor::lag_run() {
  const build::Build& build = session_.build();
  // What is good for one piece is good for all.
  [[maybe_unused]] const auto error = session_.apply(
      build::with_lagging_on_run(build, shown_.option, shown_.run, build::find(build, shown_)->lagging),
      tr("Change lagging of %1").arg(run_name(shown_.run)));
}

void PieceEditor::refresh_stock(const build::Piece& piece) {
  stock_->clear();
  stock_->addItem(tr("not chosen yet"), QString());
  const auto add = [&](const build::StockItem& item, const QString& note) {
    const QString price =
        show_money(item.price) + (item.per == build::Per::metre ? tr(" a metre") : QString());
    stock_->addItem(QString("%1, %2%3").arg(QString::fromStdString(item.name), price, note),
                    QString::fromStdString(item.id.text));
  };
  const auto fitting = stock::choices(session_.build(), piece);
  for (const build::StockItem* item : fitting)
    add(*item, {});
  for (const build::StockItem& item : *session_.build().stock)
    if (item.kind == stock::kind_of(piece.shape) && std::ranges::find(fitting, &item) == fitting.end())
      add(item, tr(" (other size)"));
  show_chosen_stock(piece);
  show_complaint(*stock_error_, {});
}

void PieceEditor::show_chosen_stock(const build::Piece& piece) {
  const int index = stock_->findData(QString::fromStdString(piece.stock.text));
  stock_->setCurrentIndex(std::max(index, 0));
  stock_->setToolTip(stock_->currentText());
}

void PieceEditor::choose_stock(int index) {
  const build::StockId id{stock_->itemData(index).toString().toStdString()};
  build::Piece next = *build::find(session_.build(), shown_);
  const build::StockItem* item = session_.build().find(id);
  if (item == nullptr)
    next.stock = {};
  else
    next = bought_as(next, *item);
  const auto error = apply(std::move(next), "stock", tr("Bought as"));
  if (!error)
    return;
  const QString refused = stock_->itemText(index);
  show_chosen_stock(*build::find(session_.build(), shown_));
  show_complaint(*stock_error_, tr("%1 does not go here: %2").arg(refused, complaint(*error)));
  bring_into_view(*stock_error_);
}

std::optional<Error> PieceEditor::apply(build::Piece next, const QString& key, const QString& what) {
  // The piece that is shown, even where another has just been picked and this field is only now left.
  const build::PieceRef at = shown_;
  const build::Piece* now = build::find(session_.build(), at);
  if (now == nullptr || now->shape.index() != next.shape.index())
    return std::nullopt;
  const QString text = tr("Change %1 of %2, row %3").arg(what.toLower(), piece_title(next)).arg(at.row + 1);
  const QString merge_key =
      key.isEmpty() ? QString()
                    : QString("piece/%1/%2/%3/%4")
                          .arg(QString::fromStdString(at.option.text), QString::fromStdString(at.run.text))
                          .arg(at.row)
                          .arg(key);
  return session_.apply(build::with_piece_replaced(session_.build(), at, std::move(next)), text, merge_key);
}

std::vector<Fact> piece_facts(const build::Piece& piece, const RunResult& result, std::size_t row,
                              bool usable) {
  const auto text = [](const char* words) { return PieceEditor::tr(words); };
  std::vector<Fact> facts;
  const joint::Row& fit = result.fit.rows[row];
  if (!build::is_fitting(piece.shape)) {
    facts.push_back({text("Cut length"), show_length(build::full_length_m(piece.shape)),
                     text("What is cut or bought, along the centreline, covered ends included")});
    facts.push_back({text("On the centreline"), show_length(fit.centreline_length_m),
                     text("What the piece adds to the run")});
  }
  if (!usable || row >= result.flow.rows.size())
    return facts;
  const flow::PieceFlow& flow = result.flow.rows[row];
  if (!build::is_fitting(piece.shape)) {
    facts.push_back({text("Drop"), show_drop_with_band(flow.drop_Pa, flow.drop_low_Pa, flow.drop_high_Pa),
                     text("Total pressure lost, its joints included, with the band of uncertainty")});
    facts.push_back({text("Loss coefficient"), show_ratio(flow.loss_coefficient, 3),
                     text("Drop over the dynamic pressure of the smaller bore")});
    facts.push_back({text("Volume"), show_volume(flow.volume_m3), {}});
  }
  facts.push_back({text("Velocity"), show_velocity(flow.inlet.station.velocity_m_s), text("At the inlet")});
  facts.push_back({text("Mach number"), show_ratio(flow.inlet.station.mach, 3), text("At the inlet")});
  facts.push_back({text("Reynolds number"), show_count(flow.inlet.reynolds), text("At the inlet")});
  facts.push_back({text("Static pressure"), show_pressure_abs(flow.outlet.station.static_pressure_Pa),
                   text("At the outlet")});
  facts.push_back({text("Total temperature"), show_temperature(flow.outlet.station.total_temperature_K),
                   text("At the outlet")});
  if (flow.outside_range)
    facts.push_back({text("Band"), text("wider than usual"),
                     text("A correlation was used outside the range it was made for")});
  return facts;
}

} // namespace bellmouth::ui

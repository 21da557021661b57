// SPDX-License-Identifier: GPL-3.0-or-later
#include "run_editor.hpp"

#include "bay_states.hpp"
#include "form.hpp"
#include "piece_text.hpp"
#include "theme.hpp"
#include "units.hpp"

#include <QHeaderView>
#include <QLabel>
#include <QPushButton>
#include <QTableWidget>
#include <QVBoxLayout>

namespace bellmouth::ui {

namespace {

QString port_text(const build::Port& port) {
  return RunEditor::tr("%1 (outside %2, bore %3)")
      .arg(QString::fromStdString(port.id.text).replace('_', ' '), show_length(port.outer_diameter_m),
           show_length(port.bore_m));
}

std::vector<Fact> run_facts(const RunResult& result, bool usable) {
  const auto text = [](const char* words) { return RunEditor::tr(words); };
  std::vector<Fact> facts{{text("Length"), show_length(result.length_m), text("Of the centreline")},
                          {text("Joints"), QString::number(result.joints), text("Hose joints and welds")}};
  if (usable) {
    facts.push_back(
        {text("Drop"),
         show_drop_with_band(result.flow.drop_Pa, result.flow.drop_low_Pa, result.flow.drop_high_Pa),
         text("Total pressure lost, with the band of uncertainty")});
    facts.push_back({text("Volume"), show_volume(result.flow.volume_m3)});
    facts.push_back({text("Greatest velocity"), show_velocity(result.flow.peak_velocity_m_s)});
    facts.push_back({text("Greatest Mach number"), show_ratio(result.flow.peak_mach, 3)});
  }
  if (result.meeting) {
    facts.push_back({text("Gap at the end"), show_length(result.meeting->gap_m),
                     text("Between the end of the run and the port it should meet")});
    facts.push_back({text("Angle at the end"), show_angle(result.meeting->angle_rad),
                     text("Between the end of the run and the axis of the port")});
  } else {
    facts.push_back({text("Gap at the end"), text("a port is not measured")});
  }
  return facts;
}

} // namespace

RunEditor::RunEditor(Session& session, QWidget* parent)
    : QWidget(parent), session_(session), title_(heading({}, this)), ends_(new WrappedLabel(this)),
      facts_(new FactList(this)), meet_(new QPushButton(this)), routes_(new QPushButton(this)),
      join_(new QPushButton(this)), sizes_(new QTableWidget(this)), take_(new QPushButton(this)),
      error_(new WrappedLabel(this)) {
  setObjectName("run_editor");
  title_->setObjectName("run_title");
  ends_->setForegroundRole(QPalette::PlaceholderText);
  sizes_->setObjectName("run_sizes");
  sizes_->setAccessibleName(tr("Tube sizes for the run"));
  sizes_->setColumnCount(4);
  sizes_->verticalHeader()->hide();
  sizes_->setSelectionBehavior(QAbstractItemView::SelectRows);
  sizes_->setSelectionMode(QAbstractItemView::SingleSelection);
  sizes_->setEditTriggers(QAbstractItemView::NoEditTriggers);
  sizes_->setTabKeyNavigation(false);
  sizes_->horizontalHeader()->setSectionResizeMode(QHeaderView::ResizeToContents);
  sizes_->horizontalHeader()->setStretchLastSection(true);
  sizes_->verticalHeader()->setDefaultSectionSize(22);
  sizes_->setMinimumHeight(240);
  sizes_->setFont(small_font());
  meet_->setObjectName("run_meet");
  meet_->setText(tr("Meet the port…"));
  meet_->setToolTip(tr("Let lengths, clockings and angles move until the end of the run is on its port"));
  routes_->setObjectName("run_find_routes");
  routes_->setText(tr("Find routes"));
  routes_->setToolTip(tr("Find ways from port to port with pieces from stock, clear of everything"));
  join_->setObjectName("run_join");
  join_->setText(tr("Join…"));
  join_->setToolTip(
      tr("Put in the couplers, reducers, clamps and beads that are missing; shown before it is done"));
  take_->setObjectName("take_size");
  take_->setText(tr("Give the run this size"));
  take_->setToolTip(tr("Every piece of one bore takes the tube size; hoses follow"));
  error_->hide();
  auto* column = new QVBoxLayout(this);
  column->setContentsMargins(0, 0, 0, 0);
  column->setSpacing(gap);
  column->addWidget(title_);
  column->addWidget(ends_);
  column->addWidget(facts_);
  auto* ways = new QHBoxLayout;
  ways->setSpacing(gap);
  ways->addWidget(meet_);
  ways->addWidget(routes_);
  ways->addWidget(join_);
  ways->addStretch(1);
  column->addLayout(ways);
  column->addSpacing(gap);
  column->addWidget(heading(tr("Tube sizes in stock"), this));
  column->addWidget(sizes_);
  column->addWidget(take_);
  column->addWidget(error_);
  column->addStretch(1);
  connect(meet_, &QPushButton::clicked, this, &RunEditor::meet_requested);
  connect(routes_, &QPushButton::clicked, this, &RunEditor::routes_requested);
  constexpr int pause_ms = 200;
  sizes_timer_.setSingleShot(true);
  sizes_timer_.setInterval(pause_ms);
  connect(&sizes_timer_, &QTimer::timeout, this, [this] {
    if (const auto* picked = std::get_if<PickedRun>(&session_.selection()))
      refresh_sizes(picked->run);
  });
  connect(join_, &QPushButton::clicked, this, &RunEditor::join_requested);
  connect(take_, &QPushButton::clicked, this, &RunEditor::take_size);
  connect(sizes_, &QTableWidget::itemSelectionChanged, this,
          [this] { take_->setEnabled(sizes_->currentRow() >= 0); });
  connect(sizes_, &QTableWidget::itemDoubleClicked, this, &RunEditor::take_size);
}

void RunEditor::refresh() {
  const build::RunId id = std::get<PickedRun>(session_.selection()).run;
  const build::Build& build = session_.build();
  const build::Run& run = *build.find(session_.option())->find(id);
  title_->setText(run_name(id));
  ends_->set_text(tr("from %1 to %2").arg(port_text(*build.find(run.from)), port_text(*build.find(run.to))));
  const RunResult* result = find_run(session_.evaluation(), id);
  std::vector<Fact> facts;
  if (result != nullptr) {
    facts = run_facts(*result, session_.evaluation().path.point.usable());
    for (Fact& fact : clearance_facts(session_, id))
      facts.push_back(std::move(fact));
  }
  facts_->show_facts(facts);
  if (rows_of_ == id)
    sizes_timer_.start();
  else
    refresh_sizes(id);
  show_complaint(*error_, {});
}

void RunEditor::refresh_sizes(const build::RunId& run) {
  sizes_timer_.stop();
  rows_of_ = run;
  const double speed = session_.engine_speed_rev_s();
  rows_ = bellmouth::size(session_.build(), session_.option(), run,
                          speed > 0 ? std::optional(speed) : std::nullopt);
  const auto unit = [](quantity::Dimension dimension) {
    const std::string_view symbol = shown_unit(dimension);
    return QString::fromUtf8(symbol.data(), static_cast<qsizetype>(symbol.size()));
  };
  using quantity::Dimension;
  const std::string_view currency = session_.build().budget.currency.text();
  sizes_->setHorizontalHeaderLabels(
      {tr("Size, %1").arg(unit(Dimension::length)), unit(Dimension::velocity),
       tr("Drop, %1").arg(unit(Dimension::pressure)),
       tr("Total, %1").arg(QString::fromLatin1(currency.data(), static_cast<qsizetype>(currency.size())))});
  sizes_->horizontalHeaderItem(0)->setToolTip(tr("Outside diameter × wall"));
  sizes_->horizontalHeaderItem(1)->setToolTip(tr("Greatest velocity in the run"));
  sizes_->horizontalHeaderItem(2)->setToolTip(tr("Total pressure lost in the run"));
  sizes_->horizontalHeaderItem(3)->setToolTip(tr("Price of the whole option with the run in this size"));
  const int row_before = sizes_->currentRow();
  sizes_->setRowCount(static_cast<int>(rows_.size()));
  for (int row = 0; row < sizes_->rowCount(); ++row) {
    const SizeRow& size_row = rows_[static_cast<std::size_t>(row)];
    const std::string_view word = build::material_name(size_row.size.material);
    const QString material = QString::fromLatin1(word.data(), static_cast<qsizetype>(word.size()));
    const QString none = size_row.refused ? tr("–") : tr("chokes");
    const auto plain = [](const QString& shown) { return shown.left(shown.lastIndexOf(' ')); };
    const QStringList cells{
        QString("%1 × %2 %3")
            .arg(plain(show_length(size_row.size.outer_diameter_m)), plain(show_length(size_row.size.wall_m)),
                 size_row.size.material == build::Material::aluminium ? QString() : material),
        size_row.usable ? plain(show_velocity(size_row.peak_velocity_m_s)) : none,
        size_row.usable ? plain(show_pressure_difference(size_row.drop_Pa)) : none,
        size_row.refused ? tr("–") : plain(show_money(size_row.total)) + (size_row.unpriced > 0 ? "+" : "")};
    for (int cell = 0; cell < cells.size(); ++cell) {
      auto* item = new QTableWidgetItem(cells[cell]);
      if (cell == 0)
        item->setToolTip(size_row.as_it_is ? tr("%1; the run is in this size now").arg(material) : material);
      if (cell == 3 && size_row.unpriced > 0)
        item->setToolTip(tr("%1 things have no price").arg(size_row.unpriced));
      QFont font = sizes_->font();
      font.setBold(size_row.as_it_is);
      item->setFont(font);
      item->setTextAlignment(Qt::AlignVCenter | (cell == 0 ? Qt::AlignLeft : Qt::AlignRight));
      sizes_->setItem(row, cell, item);
    }
  }
  if (row_before < sizes_->rowCount())
    sizes_->setCurrentCell(row_before, 0);
  take_->setEnabled(sizes_->currentRow() >= 0);
}

void RunEditor::take_size() {
  const int row = sizes_->currentRow();
  if (row < 0)
    return;
  const build::RunId id = std::get<PickedRun>(session_.selection()).run;
  const stock::TubeSize tube = rows_[static_cast<std::size_t>(row)].size;
  const auto error = session_.apply(with_run_in_size(session_.build(), session_.option(), id, tube),
                                    tr("Change size of %1").arg(run_name(id)));
  if (error)
    show_complaint(*error_, complaint(*error));
}

} // namespace bellmouth::ui

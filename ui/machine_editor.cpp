// SPDX-License-Identifier: GPL-3.0-or-later
#include "machine_editor.hpp"

#include "machine_fields.hpp"
#include "part_edits.hpp"
#include "piece_text.hpp"
#include "theme.hpp"
#include "units.hpp"

#include <QVBoxLayout>

#include <algorithm>

namespace bellmouth::ui {

namespace {

QString text_of(std::string_view text) {
  return QString::fromUtf8(text.data(), static_cast<qsizetype>(text.size()));
}
QString text_of(const std::string& text) {
  return QString::fromStdString(text);
}

/// The step of the path at which a machine stands.
std::optional<std::size_t> step_of(const build::Build& build, const build::MachineId& id) {
  const auto found = std::ranges::find(build.path, build::PathStep(id).what(), &build::PathStep::what);
  if (found == build.path.end())
    return std::nullopt;
  return static_cast<std::size_t>(found - build.path.begin());
}

std::vector<Fact> machine_facts(const build::Machine& machine, const flow::MachineFlow& flow) {
  const auto text = [](const char* words) { return MachineEditor::tr(words); };
  const bool blower = build::is_blower(machine.kind);
  std::vector<Fact> facts{{text("Air flow"), show_mass_flow(flow.inlet.mass_flow_kg_s)},
                          {blower ? text("Rise") : text("Drop"),
                           show_pressure_difference(blower ? -flow.drop_Pa : flow.drop_Pa),
                           text("Of the total pressure")}};
  if (blower) {
    facts.push_back(
        {text("Pressure ratio"), show_ratio(flow.pressure_ratio, 3), text("Total, outlet over inlet")});
    facts.push_back(
        {text("Drive power"), show_power(flow.shaft_power_W), text("At the shaft, losses included")});
    facts.push_back({text("Adiabatic efficiency"), show_percent(flow.adiabatic_efficiency)});
    if (flow.speed_rev_s > 0)
      facts.push_back({text("Blower speed"), show_engine_speed(flow.speed_rev_s), text("Of its own shaft")});
    if (flow.bypass_kg_s != 0)
      facts.push_back({text("Through the bypass"), show_mass_flow(flow.bypass_kg_s),
                       text("Back or out; negative: forwards, past the blower")});
  }
  if (std::holds_alternative<machine::DisplacementBlower>(machine.kind))
    facts.push_back({text("Volumetric efficiency"), show_percent(flow.volumetric_efficiency),
                     text("Delivered over swept, leakage taken off")});
  if (std::holds_alternative<machine::ChargeCooler>(machine.kind)) {
    facts.push_back({text("Heat taken"), show_power(flow.heat_W), text("From the air")});
    facts.push_back({text("Effectiveness"), show_percent(flow.effectiveness),
                     text("Of the temperature difference to the coolant's inlet")});
    if (flow.water_in_K > 0)
      facts.push_back(
          {text("Water"),
           text("%1 to %2").arg(show_temperature(flow.water_in_K), show_temperature(flow.water_out_K)),
           text("Into the core and out of it")});
  }
  if (flow.outside_map)
    facts.push_back({text("Outside its table"), text("held at the edge"),
                     text("A map or table was read outside its points")});
  facts.push_back({text("Inlet pressure"), show_pressure_abs(flow.inlet.total_pressure_Pa), text("Total")});
  facts.push_back({text("Outlet pressure"), show_pressure_abs(flow.outlet.total_pressure_Pa), text("Total")});
  facts.push_back(
      {text("Inlet temperature"), show_temperature(flow.inlet.total_temperature_K), text("Total")});
  facts.push_back(
      {text("Outlet temperature"), show_temperature(flow.outlet.total_temperature_K), text("Total")});
  return facts;
}

} // namespace

PortForm::PortForm(Session& session, const build::Port& port, QWidget* parent)
    : QWidget(parent), session_(session), port_(port.id), measured_(port.pose.has_value()) {
  const QString name = text_of(port.id.text);
  setObjectName("port_" + name);
  auto* column = new QVBoxLayout(this);
  column->setContentsMargins(0, wide_gap, 0, 0);
  column->addWidget(heading(tr("Port: %1").arg(QString(name).replace('_', ' ')), this));
  form_ = std::make_unique<Form<build::Port>>(
      "port_" + name, port_fields(port, [this]() -> const build::Build& { return session_.build(); }),
      [this](build::Port next, const QString& key, const QString& label) {
        const QString id = text_of(next.id.text);
        return session_.apply(build::with_port(session_.build(), std::move(next)),
                              tr("Change %1 of port %2").arg(label.toLower(), id),
                              key.isEmpty() ? QString() : "port/" + id + "/" + key);
      });
  column->addWidget(form_->widget());
}

bool PortForm::suits(const build::Port& port) const {
  return port.id == port_ && port.pose.has_value() == measured_;
}

void PortForm::retire() {
  form_->retire();
  hide();
  setParent(nullptr);
  deleteLater();
}

void PortForm::refresh() {
  form_->show(*session_.build().find(port_));
}

PortForms::PortForms(Session& session, QWidget* parent)
    : QWidget(parent), session_(session), column_(new QVBoxLayout(this)) {
  column_->setContentsMargins(0, 0, 0, 0);
}

void PortForms::refresh(const std::optional<build::MachineId>& machine) {
  std::vector<const build::Port*> ports;
  for (const build::Port& port : session_.build().ports)
    if (port.machine == machine)
      ports.push_back(&port);
  const bool same = std::ranges::equal(
      forms_, ports, [](const PortForm* form, const build::Port* port) { return form->suits(*port); });
  if (!same) {
    for (PortForm* form : forms_)
      form->retire();
    forms_.clear();
    for (const build::Port* port : ports) {
      forms_.push_back(new PortForm(session_, *port, this));
      column_->addWidget(forms_.back());
      forms_.back()->show();
    }
  }
  for (PortForm* form : forms_)
    form->refresh();
}

MachineEditor::MachineEditor(Session& session, TableFiles files, QWidget* parent)
    : QWidget(parent), session_(session), files_(std::move(files)), title_(heading({}, this)),
      kind_(new QLabel(this)), form_place_(new QVBoxLayout), facts_(new FactList(this)),
      ports_(new PortForms(session, this)) {
  setObjectName("machine_editor");
  title_->setObjectName("machine_title");
  kind_->setForegroundRole(QPalette::PlaceholderText);
  auto* column = new QVBoxLayout(this);
  column->setContentsMargins(0, 0, 0, 0);
  column->setSpacing(gap);
  column->addWidget(title_);
  column->addWidget(kind_);
  column->addLayout(form_place_);
  column->addSpacing(gap);
  column->addWidget(heading(tr("Figures"), this));
  column->addWidget(facts_);
  column->addWidget(ports_);
  column->addStretch(1);
}

void MachineEditor::build_form(const build::Machine& machine, double ambient_Pa) {
  if (form_)
    form_->retire();
  const MachineContext context{ambient_Pa, files_, [this] { return flow(); }};
  form_ = std::make_unique<Form<build::Machine>>(
      "machine", machine_fields(machine, context),
      [this](build::Machine next, const QString& key, const QString& label) {
        const QString merge_key = key.isEmpty() ? QString() : "machine/" + text_of(next.id.text) + "/" + key;
        const QString what = tr("Change %1 of %2").arg(label.toLower(), text_of(next.name));
        return session_.apply(with_machine_replaced(session_.build(), std::move(next)), what, merge_key);
      });
  form_place_->addWidget(form_->widget());
  form_->widget()->show();
}

const flow::MachineFlow* MachineEditor::flow() const {
  const auto* picked = std::get_if<PickedMachine>(&session_.selection());
  const auto step = picked == nullptr ? std::nullopt : step_of(session_.build(), picked->machine);
  return step ? find_machine(session_.build(), session_.evaluation(), *step) : nullptr;
}

void MachineEditor::refresh() {
  const build::Build& build = session_.build();
  const build::MachineId id = std::get<PickedMachine>(session_.selection()).machine;
  const build::Machine& machine = *build.find(id);
  const double ambient_Pa = build::ambient_air(build.ambient).pressure_Pa;
  const Subject subject{session_.document_number(), id, machine.kind.index(), ambient_Pa};
  if (form_for_ != subject) {
    build_form(machine, ambient_Pa);
    form_for_ = subject;
  }
  form_->show(machine);
  title_->setText(machine.name.empty() ? text_of(build::kind_name(machine.kind)) : text_of(machine.name));
  kind_->setText(text_of(build::kind_name(machine.kind)));
  const flow::MachineFlow* now = flow();
  facts_->show_facts(now == nullptr ? std::vector<Fact>{{tr("Not known"), tr("no flow gets through")}}
                                    : machine_facts(machine, *now));
  ports_->refresh(id);
}

} // namespace bellmouth::ui

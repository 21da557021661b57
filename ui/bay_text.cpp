// SPDX-License-Identifier: GPL-3.0-or-later
#include "bay_text.hpp"

#include "units.hpp"

#include <QCoreApplication>

#include <algorithm>
#include <cassert>
#include <cmath>

namespace bellmouth::ui {

namespace {

using quantity::Dimension;

QString tr(const char* text) {
  return QCoreApplication::translate("BayText", text);
}
template <class... F> struct Overloaded : F... { using F::operator()...; };
template <class... F> Overloaded(F...) -> Overloaded<F...>;

double length_of(const build::Cylinder& cylinder) {
  const auto& [a, b] = std::pair(cylinder.from_m, cylinder.to_m);
  return std::hypot(b[0] - a[0], b[1] - a[1], b[2] - a[2]);
}
build::Vector difference(const build::Vector& a, const build::Vector& b) {
  return {a[0] - b[0], a[1] - b[1], a[2] - b[2]};
}
build::Vector sum(const build::Vector& a, const build::Vector& b, double times = 1) {
  return {a[0] + times * b[0], a[1] + times * b[1], a[2] + times * b[2]};
}

} // namespace

bay::Wording wording(const std::optional<build::Vector>& here) {
  return {.length_unit = shown_unit(Dimension::length), .decimal = decimal_sign(), .here = here};
}

QString plain_length(double length_m) {
  constexpr int exact = 7;
  const QString text = QString::fromStdString(
      quantity::write(Dimension::length, length_m, shown_unit(Dimension::length), exact, decimal_sign()));
  return text.left(text.lastIndexOf(' '));
}

QString length_unit() {
  const std::string_view unit = shown_unit(Dimension::length);
  return QString::fromLatin1(unit.data(), static_cast<qsizetype>(unit.size()));
}

QString place_text(const build::Vector& place_m) {
  return QString("%1; %2; %3 %4")
      .arg(plain_length(place_m[0]), plain_length(place_m[1]), plain_length(place_m[2]), length_unit());
}

QString direction_text(const build::Vector& direction) {
  return QString::fromStdString(bay::direction_words(direction, decimal_sign()));
}

QStringList mounting_words() {
  return {tr("engine"), tr("body")};
}
QStringList class_words() {
  return {tr("fixed"), tr("moving"), tr("hot")};
}
QStringList knowledge_words() {
  return {tr("not said"), tr("assumed"), tr("measured")};
}
QStringList unit_words() {
  return {tr("millimetres"), tr("centimetres"), tr("metres"), tr("inches")};
}

int knowledge(const std::optional<build::Survey>& survey) {
  return !survey ? 0 : survey->measured ? 2 : 1;
}
void set_knowledge(std::optional<build::Survey>& survey, int index) {
  if (index == 0) {
    survey.reset();
    return;
  }
  if (!survey)
    survey.emplace();
  survey->measured = index == 2;
}

QString port_title(const build::PortId& port) {
  return QString::fromStdString(port.text).replace('_', ' ');
}

QString keep_out_kind(const build::KeepOut& keep_out) {
  static constexpr const char* names[] = {
      QT_TRANSLATE_NOOP("BayText", "box"), QT_TRANSLATE_NOOP("BayText", "cylinder"),
      QT_TRANSLATE_NOOP("BayText", "sphere"), QT_TRANSLATE_NOOP("BayText", "half-space"),
      QT_TRANSLATE_NOOP("BayText", "scan")};
  return tr(names[keep_out.shape.index()]);
}

QString keep_out_title(const build::Build& build, std::size_t index) {
  const build::KeepOut& keep_out = build.keep_outs.at(index);
  return keep_out.name.empty() ? tr("%1, row %2").arg(keep_out_kind(keep_out)).arg(index + 1)
                               : QString::fromStdString(keep_out.name);
}

QString owner_word(const build::Build& build, const std::optional<build::MachineId>& machine) {
  if (!machine)
    return tr("none");
  const std::string title = build::title(*build.find(*machine));
  const bool shared = std::ranges::count(build.machines, title,
                                         [](const build::Machine& other) { return build::title(other); }) > 1;
  return shared ? QString("%1 (%2)").arg(QString::fromStdString(title), QString::fromStdString(machine->text))
                : QString::fromStdString(title);
}
QStringList owner_words(const build::Build& build) {
  QStringList words{owner_word(build, std::nullopt)};
  for (const build::Machine& machine : build.machines)
    words << owner_word(build, machine.id);
  return words;
}
int owner_index(const build::Build& build, const std::optional<build::MachineId>& machine) {
  if (!machine)
    return 0;
  const auto found = std::ranges::find(build.machines, *machine, &build::Machine::id);
  return found == build.machines.end() ? 0 : static_cast<int>(found - build.machines.begin()) + 1;
}
std::optional<build::MachineId> owner_at(const build::Build& build, int index) {
  return index <= 0 ? std::nullopt : std::optional(build.machines.at(static_cast<std::size_t>(index) - 1).id);
}

QString size_text(const build::KeepOut& keep_out) {
  return std::visit(
      Overloaded{
          [](const build::Box& box) {
            const auto size = [&](std::size_t i) { return plain_length(2 * box.half_size_m[i]); };
            return QString("%1 × %2 × %3").arg(size(0), size(1), size(2));
          },
          [](const build::Cylinder& cylinder) {
            return QString("⌀%1 × %2")
                .arg(plain_length(2 * cylinder.radius_m), plain_length(length_of(cylinder)));
          },
          [](const build::Sphere& sphere) { return QString("⌀%1").arg(plain_length(2 * sphere.radius_m)); },
          [](const build::HalfSpace& half) { return tr("beyond, %1").arg(direction_text(half.normal)); },
          [](const build::Scan& scan) {
            return scan.loaded
                       ? tr("%1, %2 triangles")
                             .arg(QString::fromStdString(scan.file),
                                  show_count(static_cast<double>(scan.loaded->surface.triangles.size())))
                       : tr("%1, not read").arg(QString::fromStdString(scan.file));
          }},
      keep_out.shape);
}

Result<build::KeepOut> with_size(const build::Build& build, const build::KeepOut& keep_out,
                                 const QString& typed) {
  build::KeepOut next = keep_out;
  if (auto* half = std::get_if<build::HalfSpace>(&next.shape)) {
    QString words = typed.trimmed();
    if (words.startsWith(tr("beyond")))
      words = words.mid(tr("beyond").size()).remove(0, words.contains(',') ? 1 : 0);
    const auto normal = bay::direction_of(build, words.toStdString(), wording());
    if (!normal)
      return fail(normal.error());
    half->normal = *normal;
    return next;
  }
  const std::string text = QString(typed).remove(QChar(0x2300)).toStdString();
  const std::size_t count = std::holds_alternative<build::Box>(next.shape)        ? 3
                            : std::holds_alternative<build::Cylinder>(next.shape) ? 2
                                                                                  : 1;
  const auto sizes = bay::lengths_of(text, count, wording());
  if (!sizes)
    return fail(sizes.error());
  if (const auto wrong = std::ranges::find_if(*sizes, [](double size) { return size <= 0; });
      wrong != sizes->end())
    return fail(Error{.place = {},
                      .found = plain_length(*wrong).toStdString(),
                      .accepted = tr("a size above zero").toStdString(),
                      .line = {}});
  std::visit(Overloaded{[&](build::Box& box) {
                          for (std::size_t i = 0; i < 3; ++i)
                            box.half_size_m[i] = (*sizes)[i] / 2;
                        },
                        [&](build::Cylinder& cylinder) {
                          cylinder.radius_m = (*sizes)[0] / 2;
                          const build::Vector way = difference(cylinder.to_m, cylinder.from_m);
                          cylinder.to_m = sum(cylinder.from_m, way, (*sizes)[1] / length_of(cylinder));
                        },
                        [&](build::Sphere& sphere) { sphere.radius_m = (*sizes)[0] / 2; },
                        [](build::HalfSpace&) {}, [](build::Scan&) { assert(false); }},
             next.shape);
  return next;
}

const build::Vector& place_of_shape(const build::KeepOut& keep_out) {
  return std::visit(
      Overloaded{[](const build::Box& box) -> const build::Vector& { return box.centre_m; },
                 [](const build::Cylinder& cylinder) -> const build::Vector& { return cylinder.from_m; },
                 [](const build::Sphere& sphere) -> const build::Vector& { return sphere.centre_m; },
                 [](const build::HalfSpace& half) -> const build::Vector& { return half.point_m; },
                 [](const build::Scan& scan) -> const build::Vector& { return scan.origin_m; }},
      keep_out.shape);
}

build::KeepOut with_place(const build::KeepOut& keep_out, const build::Vector& place_m) {
  build::KeepOut next = keep_out;
  const build::Vector way = difference(place_m, place_of_shape(keep_out));
  std::visit(Overloaded{[&](build::Box& box) { box.centre_m = place_m; },
                        [&](build::Cylinder& cylinder) {
                          cylinder.from_m = place_m;
                          cylinder.to_m = sum(cylinder.to_m, way);
                        },
                        [&](build::Sphere& sphere) { sphere.centre_m = place_m; },
                        [&](build::HalfSpace& half) { half.point_m = place_m; },
                        [&](build::Scan& scan) { scan.origin_m = place_m; }},
             next.shape);
  return next;
}

QString states_text(const build::KeepOut& keep_out) {
  QStringList names;
  for (const build::StateId& id : keep_out.states)
    names << QString::fromStdString(id.text);
  return names.isEmpty() ? tr("always") : names.join(", ");
}

Result<std::vector<build::StateId>> states_of(const build::Build& build, const QString& typed) {
  std::vector<build::StateId> states;
  if (typed.trimmed().isEmpty() || typed.trimmed() == tr("always"))
    return states;
  QStringList known;
  for (const build::BayState& state : build.states)
    known << QString::fromStdString(state.id.text);
  for (const QString& part : typed.split(',')) {
    const QString name = part.trimmed();
    if (!known.contains(name))
      return fail(Error{
          .place = {},
          .found = '"' + name.toStdString() + '"',
          .accepted =
              (known.isEmpty()
                   ? tr("always, as the bay has no states yet")
                   : tr("always, or names of states with commas between them: %1").arg(known.join(", ")))
                  .toStdString(),
          .line = {}});
    const build::StateId id{name.toStdString()};
    if (std::ranges::find(states, id) == states.end())
      states.push_back(id);
  }
  return states;
}

} // namespace bellmouth::ui

// SPDX-License-Identifier: GPL-3.0-or-later
#include "phrase.hpp"

#include <bellmouth/bay/offset.hpp>

#include <algorithm>

namespace bellmouth::bay {

namespace {

using detail::plain;

/// In plain words, with "in" for "inlet" and "out" for "outlet" at the end.
std::string short_name(std::string_view text) {
  std::string name = plain(text);
  if (name.ends_with("inlet") || name.ends_with("outlet"))
    name.resize(name.size() - 3);
  return name;
}

struct Ends {
  bool from = false, to = false;
};
/// How the runs use a port.
Ends ends_of(const build::Build& build, const build::PortId& id) {
  Ends ends;
  for (const build::Option& option : build.options)
    for (const auto& run : option.runs) {
      ends.from |= run->from == id;
      ends.to |= run->to == id;
    }
  return ends;
}

bool is_called(const build::Build& build, const build::Port& port, const std::string& name) {
  if (!port.machine)
    return false;
  const build::Machine& machine = *build.find(*port.machine);
  const Ends ends = ends_of(build, port.id);
  const bool alone = std::ranges::count(build.ports, port.machine, &build::Port::machine) == 1;
  for (const std::string& owner : {plain(build::title(machine)), plain(machine.id.text)}) {
    if (!name.starts_with(owner))
      continue;
    std::string_view rest = std::string_view(name).substr(owner.size());
    if (!rest.empty() && !rest.starts_with(' '))
      continue;
    rest.remove_prefix(rest.empty() ? 0 : 1);
    if ((rest.empty() && alone) || rest == short_name(port.id.text) || (ends.from && rest == "out") ||
        (ends.to && rest == "in"))
      return true;
  }
  return false;
}

std::string port_list(const build::Build& build) {
  if (build.ports.empty())
    return "none, as the build has no ports";
  constexpr std::size_t most = 12;
  std::string list = "a port: ";
  for (std::size_t i = 0; i < std::min(build.ports.size(), most); ++i)
    list.append(i > 0 ? ", " : "").append(plain(build.ports[i].id.text));
  return list + (build.ports.size() > most ? ", ..." : "");
}

} // namespace

Result<const build::Port*> port_named(const build::Build& build, std::string_view name) {
  if (const build::Port* exact = build.find(build::PortId{std::string(name)}))
    return exact;
  const std::string wanted = short_name(name);
  std::vector<const build::Port*> called;
  for (const auto& same : {plain, short_name}) {
    for (const build::Port& port : build.ports)
      if (same(port.id.text) == same(name))
        called.push_back(&port);
    if (called.size() == 1)
      return called.front();
    if (called.size() > 1)
      break;
  }
  if (called.empty())
    for (const build::Port& port : build.ports)
      if (is_called(build, port, wanted))
        called.push_back(&port);
  if (called.size() == 1)
    return called.front();
  std::string found = wanted.empty() ? "nothing" : detail::quoted(name);
  if (called.size() > 1)
    found += ", which may be " + called[0]->id.text + " or " + called[1]->id.text;
  return detail::complaint(name, 0, std::move(found), port_list(build));
}

} // namespace bellmouth::bay

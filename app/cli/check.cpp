// SPDX-License-Identifier: GPL-3.0-or-later
#include "build_arguments.hpp"
#include "command.hpp"
#include "evaluation_json.hpp"
#include "findings_text.hpp"

#include <CLI/App.hpp>
#include <spdlog/fmt/fmt.h>

#include <algorithm>
#include <ostream>

namespace bellmouth::cli {

namespace {

using check::Severity;

class Check : public Command {
public:
  explicit Check(CLI::App& app) {
    state_file(app, arguments_);
    state_option(app, arguments_);
    state_speed(app, arguments_);
  }

protected:
  tl::expected<Exit, Refusal> work(std::ostream& out, std::ostream& err) override {
    const auto chosen = choose(arguments_, err);
    if (!chosen)
      return tl::unexpected(chosen.error());
    const auto findings =
        bellmouth::findings(chosen->build, evaluate(chosen->build, chosen->option, chosen->speed_rev_s),
                            buy::purchase(chosen->build, chosen->option));
    if (arguments_.as_json) {
      Json json;
      json["option"] = chosen->option.text;
      for (const Severity severity : severities)
        json["counts"][std::string(check::text(severity))] = count(findings, severity);
      json["counts"]["waived"] = check::count_waived(findings);
      json["findings"] = json_of(findings);
      print(out, json);
    } else {
      print_findings(out, findings);
      out << "option " << chosen->option.text << ": " << count_text(findings) << '\n';
    }
    return count(findings, Severity::stop) > 0 ? stop_finding : done;
  }

private:
  BuildArguments arguments_;
};

} // namespace

std::string count_text(const std::vector<check::Finding>& findings) {
  std::string text;
  for (const Severity severity : severities) {
    const std::size_t found = count(findings, severity);
    text += fmt::format("{}{} {}{}", text.empty() ? "" : ", ", found == 0 ? "no" : std::to_string(found),
                        check::text(severity), found == 1 ? "" : "s");
  }
  if (const std::size_t waived = check::count_waived(findings); waived > 0)
    text += fmt::format("; {} waived", waived);
  return text;
}

void print_findings(std::ostream& out, const std::vector<check::Finding>& findings) {
  for (const check::Finding& finding : findings) {
    out << fmt::format("{}: {}\n    {}\n", check::text(finding.severity), finding.where.text,
                       finding.message);
    if (!finding.reason.empty())
      out << fmt::format("    {}\n", finding.reason);
    if (finding.waived)
      out << fmt::format("    waived: {}\n", *finding.waived);
    out << fmt::format("    ({})\n\n", finding.rule);
  }
}

std::unique_ptr<Command> make_check(CLI::App& app) {
  return std::make_unique<Check>(app);
}

} // namespace bellmouth::cli

// SPDX-License-Identifier: GPL-3.0-or-later
// What is in a mesh file: how much, how large in each unit, and what was left out.
#include "command.hpp"
#include "json.hpp"
#include "table.hpp"

#include <bellmouth/mesh.hpp>

#include <CLI/App.hpp>
#include <spdlog/fmt/fmt.h>

#include <array>
#include <ostream>

namespace bellmouth::cli {

namespace {

struct UnitWord {
  mesh::Unit unit;
  const char* word;
};
constexpr std::array<UnitWord, 4> units{{{mesh::Unit::millimetre, "mm"},
                                         {mesh::Unit::centimetre, "cm"},
                                         {mesh::Unit::metre, "m"},
                                         {mesh::Unit::inch, "in"}}};

class Scan : public Command {
public:
  explicit Scan(CLI::App& app) {
    app.add_option("MESH", file_, "mesh file: STL, OBJ, PLY, glTF")->required()->type_name("");
    app.add_flag("--json", as_json_, "for machines");
  }

protected:
  tl::expected<Exit, Refusal> work(std::ostream& out, std::ostream&) override {
    const auto scan = mesh::load_scan(file_);
    if (!scan)
      return file_trouble(scan.error());
    const mesh::Extent extent = mesh::extent((*scan)->surface);
    if (as_json_)
      print_json(out, **scan, extent);
    else
      print_text(out, **scan, extent);
    return done;
  }

private:
  std::string file_;
  bool as_json_ = false;

  static void print_json(std::ostream& out, const mesh::Scan& scan, const mesh::Extent& extent) {
    Json json;
    json["points"] = scan.surface.points.size();
    json["triangles"] = scan.surface.triangles.size();
    json["display_triangles"] = scan.for_display.triangles.size();
    json["low"] = extent.low;
    json["high"] = extent.high;
    json["digest"] = scan.digest;
    json["remarks"] = scan.remarks;
    print(out, json);
  }

  static void print_text(std::ostream& out, const mesh::Scan& scan, const mesh::Extent& extent) {
    const std::size_t triangles = scan.surface.triangles.size();
    out << fmt::format("{} triangle{} between {} points; {} drawn\n", triangles, triangles == 1 ? "" : "s",
                       scan.surface.points.size(), scan.for_display.triangles.size());
    for (const std::string& remark : scan.remarks)
      out << "left out: " << remark << '\n';
    std::vector<Cells> rows;
    for (const auto& [unit, word] : units) {
      Cells row{word};
      for (std::size_t axis = 0; axis < 3; ++axis)
        row.push_back(fixed((extent.high[axis] - extent.low[axis]) * mesh::metres(unit) * 1e3, 1));
      rows.push_back(std::move(row));
    }
    out << "\nSize, if the file counts in\n";
    print_table(out, {"unit", "x [mm]", "y [mm]", "z [mm]"}, rows);
  }
};

} // namespace

std::unique_ptr<Command> make_scan(CLI::App& app) {
  return std::make_unique<Scan>(app);
}

} // namespace bellmouth::cli

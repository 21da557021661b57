// SPDX-License-Identifier: GPL-3.0-or-later
// The sums of `calc` against figures from outside, through the arguments a person would type.
#include "prompt.hpp"
#include "support/close.hpp"
#include "support/reference.hpp"

namespace bellmouth::cli::test {
namespace {

using bellmouth::test::close;
using bellmouth::test::input;
using bellmouth::test::reference;
using bellmouth::test::Row;

/// The rows of a reference table in which a column reads so.
std::vector<Row> rows_with(const std::string& table, const std::string& column, const std::string& text) {
  std::vector<Row> rows = reference(table);
  std::erase_if(rows, [&](const Row& row) { return row.text(column) != text; });
  EXPECT_FALSE(rows.empty()) << table << ": no row with " << column << " " << text;
  return rows;
}

struct Wanted {
  const char* key;
  double value, relative;
};
struct Case {
  const char* name;
  Arguments arguments;
  std::vector<Wanted> wanted;
};

void PrintTo(const Case& each, std::ostream* out) {
  *out << each.name;
}

class CalcCase : public ::testing::TestWithParam<Case> {};

TEST_P(CalcCase, GivesTheFigureFromOutside) {
  const nlohmann::json found = calc(GetParam().arguments);
  for (const auto& [key, value, relative] : GetParam().wanted) {
    ASSERT_TRUE(found.contains(key)) << found.dump();
    EXPECT_TRUE(close(found[key].get<double>(), value, relative)) << key;
  }
}

// Published values: worked examples of tests/reference/worked_examples.csv (W..), their tolerance from there.
INSTANTIATE_TEST_SUITE_P(
    WorkedExample, CalcCase,
    ::testing::Values(
        // Murugaperumal Ex. 3.9: 8.25 kg/s in D = 0.226 m at 345 kPa, 311 K is Mach 0.15
        Case{"W09",
             {"velocity", "--flow", "8.25", "--bore", "226.4 mm", "--pressure", "345 kPa", "--temperature",
              "311 K"},
             {{"mach", 0.15, 0.005}}},
        // Fox & McDonald Ex. 12.2: 0.001 m2 at 1000 kPa, 333 K, Mach 0.9: 2.2 kg/s
        Case{"W21",
             {"mass-flow", "--mach", "0.9", "--bore", "35.682", "--pressure", "1000", "--temperature",
              "333 K"},
             {{"mass_flow_kg_s", 2.2, 0.004}}},
        Case{"W21 back",
             {"mass-flow", "--flow", "2.195619", "--bore", "35.682", "--pressure", "1 MPa", "--temperature",
              "333 K"},
             {{"mach", 0.9004057, 1e-3}}}, // recomputed with more digits; R = 287 there
        // Cengel & Boles Ex. 7-15: 285 K, pressure ratio 8, efficiency 0.80: 569.5 K
        Case{"W31",
             {"blower-outlet", "--temperature", "285 K", "--pressure-ratio", "8", "--efficiency", "80 %"},
             {{"temperature_K", 569.5, 0.01}}},
        // Borgnakke & Sonntag Ex. 9.12: 300 K, 1.5, 0.70: 352.6 K and 53 kJ/kg
        Case{"W32",
             {"blower-outlet", "--temperature", "300 K", "--pressure-ratio", "1.5", "--efficiency", "0.70"},
             {{"temperature_K", 352.6, 0.0003}, {"work_J_kg", 53e3, 0.005}}},
        // Onkar Singh Ex. 16.15: pressure ratio 2: 76.65 %
        Case{"W35", {"lobe-blower", "--pressure-ratio", "2"}, {{"adiabatic_efficiency", 0.7665, 0.0003}}},
        // Incropera Ex. 11.3: NTU 2.1, 0.75 by its chart
        Case{"W45",
             {"cooler", "--ntu", "2.1", "--capacity-ratio", "0.444", "--arrangement", "cross-flow-unmixed"},
             {{"effectiveness", 0.75, 0.02}}}));

// Closed forms worked by hand to the printed digits (statics, geometry).
INSTANTIATE_TEST_SUITE_P(
    ByHand, CalcCase,
    ::testing::Values(
        Case{"a joint of 63.5 mm at 1 bar",
             {"joint-thrust", "--bore", "2 1/2 in", "--pressure", "1 bar"},
             {{"force_N", 317, 0.002}}},
        Case{"a 90 degree bend",
             {"joint-thrust", "--bore", "63.5", "--pressure", "1 bar", "--angle", "90"},
             {{"force_N", 448, 0.001}, {"parting_force_N", 317, 0.002}}},
        Case{"a belt",
             {"belt", "--large", "150", "--small", "65", "--centres", "300"},
             {{"belt_length_mm", 944, 0.0005}, {"wrap_small_deg", 163.7, 0.0003}}},
        Case{"a bend in five joints",
             {"wedge", "--od", "63.5", "--radius", "95.3", "--angle", "90", "--joints", "5"},
             {{"cut_angle_deg", 9, 1e-12},
              {"long_side_mm", 40.2, 0.0015},
              {"short_side_mm", 20.1, 0.002},
              {"centre_length_mm", 30.2, 0.0005},
              {"full_wedges", 4, 0}}},
        Case{"a bend in six joints",
             {"wedge", "--od", "63.5", "--radius", "63.5", "--angle", "90", "--joints", "6"},
             {{"cut_angle_deg", 7.5, 1e-12}, {"long_side_mm", 25.1, 0.002}, {"short_side_mm", 8.4, 0.006}}},
        Case{"a clamp",
             {"clamp", "--od", "63.5", "--wall", "4.5", "--bead", "2"},
             {{"installed_diameter_mm", 72.5, 1e-12}, {"opening_mm", 76.5, 1e-12}}},
        // A vane of the entry table and sharp edges: Idelchik as in tests/reference/entrances_exits.csv.
        Case{"a flush entry", {"entry-loss", "--kind", "flush"}, {{"loss_coefficient", 0.5, 1e-12}}},
        Case{"a bellmouth",
             {"entry-loss", "--kind", "bellmouth", "--radius-ratio", "0.1"},
             {{"loss_coefficient", 0.15, 1e-12}}},
        Case{"a bellmouth in a wall",
             {"entry-loss", "--kind", "bellmouth", "--radius-ratio", "0.08", "--in-wall"},
             {{"loss_coefficient", 0.15, 1e-12}}},
        // Volume flow over area: 0.1 m3/s through 100 mm
        Case{"a volume flow",
             {"velocity", "--flow", "0.1 m3/s", "--bore", "100", "--pressure", "100", "--temperature", "20"},
             {{"velocity_m_s", 12.7324, 1e-5}, {"mass_flow_kg_s", 0.11883, 2e-4}}}));

// Published value (closed form of NACA Report 1135; printed tables to their five digits): isentropic.csv.
TEST(Calc, GivesTheIsentropicTable) {
  for (const Row& row : reference("isentropic.csv")) {
    SCOPED_TRACE(row.text("row_id"));
    const auto found = calc({"isentropic", "--mach", row.text("M"), "--gamma", row.text("gamma")});
    const bool printed = row.text("class") == "a"; // five digits
    const std::pair<const char*, const char*> columns[] = {{"temperature_ratio", "T_T0"},
                                                           {"pressure_ratio", "p_p0"},
                                                           {"density_ratio", "rho_rho0"},
                                                           {"area_ratio", "A_Astar"},
                                                           {"mass_flow_function", "mfp_total"}};
    for (const auto& [key, column] : columns)
      if (row.has(column)) {
        EXPECT_TRUE(
            close(found[key].get<double>(), row.number(column), printed ? 5e-5 : 5e-7, printed ? 6e-5 : 0))
            << key; // seven printed digits
      }
  }
}

// Published value (closed form, Shapiro 1953; printed tables at the tolerance of their rows): fanno.csv.
TEST(Calc, GivesTheFannoTable) {
  for (const Row& row : rows_with("fanno.csv", "class", "c")) {
    SCOPED_TRACE(row.text("row_id"));
    const auto found = calc({"fanno", "--mach", row.text("M"), "--gamma", row.text("gamma")});
    const std::pair<const char*, const char*> columns[] = {{"fanno_parameter", "fLD"},
                                                           {"pressure_ratio", "p_pstar"},
                                                           {"temperature_ratio", "T_Tstar"},
                                                           {"density_ratio", "rho_rhostar"},
                                                           {"total_pressure_ratio", "p0_p0star"}};
    for (const auto& [key, column] : columns)
      if (row.has(column)) {
        EXPECT_TRUE(close(found[key].get<double>(), row.number(column), 5e-7)) << key;
      }
  }
}

// Other method: Colebrook & White solved by the library fluids; printed to seven digits.
TEST(Calc, GivesTheFrictionFactor) {
  for (const Row& row : reference("friction_factor.csv")) {
    if (row.text("source").find("Colebrook-White solved exactly") == std::string::npos ||
        row.number("eD") > 0.05)
      continue;
    SCOPED_TRACE(row.text("row_id"));
    const auto found =
        calc({"friction-factor", "--reynolds", row.text("Re"), "--relative-roughness", row.text("eD")});
    EXPECT_TRUE(close(found["darcy_friction_factor"].get<double>(), row.number("f_darcy"), 1e-6));
  }
}

// Other method: the same correlation (Rennels & Hudson) in the library fluids.
TEST(Calc, GivesTheLossOfBendsMitresConesAndSteps) {
  const auto expect = [](const nlohmann::json& found, double wanted) {
    EXPECT_TRUE(close(found["loss_coefficient"].get<double>(), wanted, 1e-4));
    EXPECT_LE(found["band_low"].get<double>(), found["loss_coefficient"].get<double>());
    EXPECT_GE(found["band_high"].get<double>(), found["loss_coefficient"].get<double>());
  };
  for (const Row& row : reference("bends.csv")) {
    SCOPED_TRACE(row.text("row_id"));
    const double relative_roughness = row.number("eps_m") / row.number("D_m");
    std::ostringstream roughness;
    roughness << relative_roughness;
    expect(
        calc({"bend-loss", "--angle", row.text("angle_deg") + " deg", "--radius-ratio", row.text("r_over_D"),
              "--reynolds", row.text("Re"), "--relative-roughness", roughness.str()}),
        row.number("K_Rennels"));
  }
  for (const Row& row : rows_with("mitre_bends.csv", "n_joints", "1")) {
    SCOPED_TRACE(row.text("row_id"));
    expect(calc({"mitre-loss", "--angle", row.text("joint_angle_deg")}), row.number("K_Rennels"));
  }
  for (const Row& row : rows_with("contractions.csv", "kind", "conical")) {
    SCOPED_TRACE(row.text("row_id"));
    std::ostringstream from;
    from.precision(17);
    from << 50 / row.number("beta");
    expect(calc({"cone-loss", "--from", from.str(), "--to", "50", "--length", row.text("l_m") + " m",
                 "--reynolds", row.text("Re2")}),
           row.number("K_Rennels"));
  }
  for (const Row& row : reference("step_joints.csv")) {
    if (!row.text("kind").starts_with("step"))
      continue;
    SCOPED_TRACE(row.text("row_id"));
    expect(calc({"step-loss", "--from", row.text("d1_mm"), "--to", row.text("d2_mm")}), row.number("K"));
  }
}

// Closed form (ISO 2533) and published table (US Standard Atmosphere 1976): air.csv.
TEST(Calc, GivesTheStandardAtmosphere) {
  const std::tuple<const char*, const char*, double> quantities[] = {
      {"ISA_T_geopotential", "temperature_K", 1e-6},
      {"ISA_p_geopotential", "pressure_Pa", 1e-6},
      {"ISA_rho_geopotential", "density_kg_m3", 1e-6},
      {"USSA76_p_geometric_table", "pressure_Pa", 1e-4},
      {"USSA76_T_geometric_table", "temperature_K", 1e-4}};
  for (const auto& [quantity, key, relative] : quantities)
    for (const Row& row : rows_with("air.csv", "quantity", quantity)) {
      if (row.number("altitude_m") < -2000 || row.number("altitude_m") > 11000)
        continue;
      SCOPED_TRACE(row.text("row_id"));
      Arguments arguments{"atmosphere", "--altitude", row.text("altitude_m") + " m"};
      if (std::string(quantity).find("geopotential") != std::string::npos)
        arguments.emplace_back("--geopotential");
      EXPECT_TRUE(close(calc(arguments)[key].get<double>(), row.number("value"), relative));
    }
}

// Other method: moist air by psychrolib, viscosity by Lemmon & Jacobsen with the density; air.csv.
TEST(Calc, GivesThePropertiesOfAir) {
  for (const Row& row : rows_with("air.csv", "quantity", "rho_moist_psychrolib")) {
    SCOPED_TRACE(row.text("row_id"));
    const auto found = calc({"air", "--temperature", row.text("T_K") + " K", "--pressure",
                             row.text("p_Pa") + " Pa", "--relative-humidity", row.text("RH")});
    EXPECT_TRUE(close(found["density_kg_m3"].get<double>(), row.number("value"), 2e-4));
  }
  for (const Row& row : rows_with("air.csv", "quantity", "mu_LemmonJacobsen2004")) {
    SCOPED_TRACE(row.text("row_id"));
    const auto found = calc({"air", "--temperature", row.text("T_K") + " K", "--pressure", "1 atm"});
    EXPECT_TRUE(close(found["viscosity_Pa_s"].get<double>(), row.number("value"), 1.1e-3)); // dilute gas here
  }
  for (const Row& row : rows_with("air.csv", "quantity", "speed_of_sound_iapws")) {
    SCOPED_TRACE(row.text("row_id"));
    const auto found = calc({"air", "--temperature", row.text("T_K") + " K", "--pressure", "1 atm"});
    EXPECT_TRUE(close(found["sound_speed_m_s"].get<double>(), row.number("value"), 1e-3)); // a real gas there
  }
}

// Closed forms of Kays & London and the ideal lobe blower: heat_exchanger.csv, compressor.csv.
TEST(Calc, GivesCoolersAndLobeBlowers) {
  const std::pair<const char*, const char*> arrangements[] = {
      {"counterflow", "counterflow"},
      {"crossflow both unmixed (exact series)", "cross-flow-unmixed"},
      {"crossflow Cmin mixed, Cmax unmixed", "cross-flow-min-mixed"},
      {"crossflow Cmax mixed, Cmin unmixed", "cross-flow-max-mixed"}};
  for (const auto& [name, word] : arrangements)
    for (const Row& row : rows_with("heat_exchanger.csv", "arrangement", name)) {
      if (row.text("class") != "c")
        continue;
      SCOPED_TRACE(row.text("row_id"));
      const auto found = calc(
          {"cooler", "--ntu", row.text("NTU"), "--capacity-ratio", row.text("Cr"), "--arrangement", word});
      EXPECT_TRUE(close(found["effectiveness"].get<double>(), row.number("effectiveness"), 1e-6));
    }
  for (const Row& row : rows_with("compressor.csv", "quantity", "Roots_isentropic_efficiency_limit")) {
    SCOPED_TRACE(row.text("row_id"));
    std::ostringstream ratio;
    ratio << input(row.text("inputs"), "PR");
    const auto found = calc({"lobe-blower", "--pressure-ratio", ratio.str()});
    const double relative = row.text("class") == "a" ? 0.016 : 1e-6; // a printed table of two figures, coarse
    EXPECT_TRUE(close(found["adiabatic_efficiency"].get<double>(), row.number("value"), relative));
  }
}

// Published value: threads.csv; drills are trade practice.
TEST(Calc, GivesThreads) {
  for (const Row& row : reference("threads.csv")) {
    SCOPED_TRACE(row.text("designation"));
    const auto found = calc({"thread", "--name", row.text("designation")});
    EXPECT_TRUE(close(found["major_diameter_mm"].get<double>(), row.number("major_d_mm"), 0, 2e-3));
    EXPECT_TRUE(close(found["minor_diameter_mm"].get<double>(), row.number("minor_d_mm"), 0, 2e-3));
    EXPECT_EQ(found["tap_drill_mm"].is_null(), !row.has("tap_drill_mm"));
  }
}

// Identity: what is typed in another unit is the same sum.
TEST(Calc, ReadsEveryUnit) {
  const auto metric = calc(
      {"velocity", "--flow", "0.1 kg/s", "--bore", "50.8", "--pressure", "1.5 bar", "--temperature", "80"});
  const auto inches = calc({"velocity", "--flow", "360 kg/h", "--bore", "2 in", "--pressure", "150 kPa abs",
                            "--temperature", "176 F"});
  for (const char* key : {"velocity_m_s", "mach", "density_kg_m3", "reynolds"})
    EXPECT_TRUE(close(metric[key].get<double>(), inches[key].get<double>(), 1e-12)) << key;
}

TEST(Calc, TellsPeopleTheUnitAndWhatWasTaken) {
  const Said said = say({"calc", "air", "--temperature", "20", "--pressure", "100"});
  EXPECT_EQ(said.exit, 0);
  EXPECT_EQ(said.err, "");
  EXPECT_TRUE(holds(said.out, "kg/m3")) << said.out;
  EXPECT_TRUE(holds(said.out, "µPa s")) << said.out;
  EXPECT_TRUE(holds(said.out, "taken: --relative-humidity 0\n")) << said.out;
  EXPECT_FALSE(holds(said.out, "\x1b"));
}

} // namespace
} // namespace bellmouth::cli::test

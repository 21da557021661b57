// SPDX-License-Identifier: GPL-3.0-or-later
// Other method: gauze, plates, entries, tees and meters against Debian's python3-fluids, asked at the time of
// the test, on shapes that no table holds.
#include "library.hpp"

#include <bellmouth/loss.hpp>
#include <bellmouth/loss/orifice.hpp>
#include <bellmouth/loss/tee.hpp>

#include <cmath>
#include <numbers>
#include <random>

namespace bellmouth::loss {
namespace {

constexpr double degree = std::numbers::pi / 180;

class Shapes {
public:
  double between(double low, double high) {
    return std::uniform_real_distribution<double>(low, high)(random_);
  }

private:
  std::mt19937_64 random_{11};
};

TEST(LibraryInserts, ScreensAndEntries) {
  Shapes shapes;
  std::vector<Question> all;
  for (int i = 0; i < 100; ++i) {
    const double open = shapes.between(0.06, 0.8);
    all.push_back({call("fluids.filters.round_edge_screen(alpha=%.17g,Re=1e9)", open),
                   law(Gauze{0.06, 0.002 * (1 - std::sqrt(open)), 0.002}).at(0)});
    const double holes = shapes.between(0.1, 1);
    all.push_back(
        {call("fluids.filters.square_edge_screen(alpha=%.17g)", holes), law(PerforatedPlate{holes}).at(0)});
    Entry bevelled{EntryKind::bevelled};
    const double angle_deg = shapes.between(1, 89), length = shapes.between(0.025, 0.6);
    bevelled.bevel_angle_rad = angle_deg * degree;
    bevelled.bevel_length_ratio = length;
    all.push_back({call("F.entrance_beveled(Di=1,l=%.17g,angle=%.17g,method='Idelchik')", length, angle_deg),
                   law(bevelled).at(0)});
    Entry projecting{EntryKind::projecting};
    projecting.wall_ratio = shapes.between(0, 0.05);
    all.push_back({call("F.entrance_distance(Di=1,t=%.17g,l=2,method='Idelchik')", projecting.wall_ratio),
                   law(projecting).at(0)});
  }
  expect_agreement(all, 1e-6);
}

// Crane's tees are the same family where both have the same factors: a square branch that joins or leaves, a
// run that is joined.
TEST(LibraryInserts, TeesOfOneFamily) {
  Shapes shapes;
  std::vector<Question> all;
  for (int i = 0; i < 100; ++i) {
    const double branch = shapes.between(0.7, 1), q = shapes.between(0.05, 0.39);
    const Tee square{90 * degree, 1, branch, 1};
    all.push_back({call("F.K_branch_converging_Crane(D_run=1,D_branch=%.17g,Q_run=%.17g,Q_branch=%.17g)",
                        branch, 1 - q, q),
                   combining_branch(square, q).value});
    all.push_back({call("F.K_run_converging_Crane(D_run=1,D_branch=%.17g,Q_run=%.17g,Q_branch=%.17g)", branch,
                        1 - q, q),
                   combining_run(square, q).value});
    const Tee slanted{45 * degree, 1, branch, 1};
    all.push_back(
        {call("F.K_branch_diverging_Crane(D_run=1,D_branch=%.17g,Q_run=%.17g,Q_branch=%.17g,angle=45)",
              branch, 1 - q, q),
         dividing_branch(slanted, q).value});
    all.push_back({call("F.K_run_diverging_Crane(D_run=1,D_branch=%.17g,Q_run=%.17g,Q_branch=%.17g,angle=45)",
                        branch, 1 - q, q),
                   dividing_run(slanted, q).value});
  }
  expect_agreement(all, 1e-9);
}

TEST(LibraryInserts, Meters) {
  Shapes shapes;
  std::vector<Question> all;
  for (int i = 0; i < 60; ++i) {
    const double bore_m = shapes.between(0.04, 0.2), throat_m = bore_m * shapes.between(0.3, 0.75);
    const double reynolds = std::exp(shapes.between(std::log(7e4), std::log(1e6)));
    const double mass_flow = std::numbers::pi / 4 * bore_m * 1.8e-5 * reynolds;
    const auto coefficient = [&](MeterKind kind, Taps taps = Taps::corner) {
      return discharge_coefficient({kind, bore_m, throat_m, taps}, reynolds);
    };
    for (const auto& [name, taps] :
         {std::pair{"corner", Taps::corner}, {"flange", Taps::flange}, {"D", Taps::d_and_half_d}})
      all.push_back({call("M.C_Reader_Harris_Gallagher(D=%.17g,Do=%.17g,rho=1.2,mu=1.8e-5,m=%.17g,taps='",
                          bore_m, throat_m, mass_flow) +
                         name + "')",
                     coefficient(MeterKind::orifice_plate, taps)});
    all.push_back({call("M.C_long_radius_nozzle(D=%.17g,Do=%.17g,rho=1.2,mu=1.8e-5,m=%.17g)", bore_m,
                        throat_m, mass_flow),
                   coefficient(MeterKind::long_radius_nozzle)});
    all.push_back(
        {call("M.C_ISA_1932_nozzle(D=%.17g,Do=%.17g,rho=1.2,mu=1.8e-5,m=%.17g)", bore_m, throat_m, mass_flow),
         coefficient(MeterKind::isa_nozzle)});
    const double k = shapes.between(1.2, 1.6), ratio = shapes.between(0.6, 0.999), beta = throat_m / bore_m;
    all.push_back({call("M.orifice_expansibility(D=1,Do=%.17g,P1=1,P2=%.17g,k=%.17g)", beta, ratio, k),
                   plate_expansibility(beta, ratio, k)});
    all.push_back({call("M.nozzle_expansibility(D=1,Do=%.17g,P1=1,P2=%.17g,k=%.17g)", beta, ratio, k),
                   nozzle_expansibility(beta, ratio, k)});
    const double c = shapes.between(0.55, 1);
    const Meter plate{MeterKind::orifice_plate, 1, beta};
    all.push_back(
        {call("M.discharge_coefficient_to_K(D=1,Do=%.17g,C=%.17g)", beta, c), loss_coefficient(plate, c)});
    all.push_back(
        {call("M.dP_orifice(D=1,Do=%.17g,P1=2,P2=1,C=%.17g)", beta, c), permanent_loss_share(plate, c)});
  }
  expect_agreement(all, 1e-8);
}

// The share that a Venturi tube does not give back is read at seven points of the library's figure: 1 % of
// it.
TEST(LibraryInserts, VenturiFigure) {
  std::vector<Question> all;
  for (double beta = 0.3; beta < 0.75; beta += 0.01)
    all.push_back({call("M.dP_venturi_tube(D=0.065,Do=0.065*%.17g,P1=2,P2=1)", beta),
                   permanent_loss_share({MeterKind::venturi_tube, 0.065, 0.065 * beta}, 0.995)});
  expect_agreement(all, 0.015);
}

} // namespace
} // namespace bellmouth::loss

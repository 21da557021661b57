// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/check/purchase_cases.hpp"

#include "support/sample_parts.hpp"

#include <limits>

namespace bellmouth::test {

namespace {

using namespace build;
using enum check::Severity;

void change(Build& b, const char* id, const std::function<void(StockItem&)>& how) {
  std::vector<StockItem> stock = *b.stock;
  for (StockItem& item : stock)
    if (item.id.text == id)
      how(item);
  b.stock = std::move(stock);
}
void change(Build& b, std::size_t row, const std::function<void(Piece&)>& how) {
  Run run = *b.options.front().runs.front();
  how(run.pieces[row]);
  b.options.front().runs = {run};
}
void unchoose(Build& b, std::size_t row) {
  change(b, row, [](Piece& piece) { piece.stock = {}; });
}
void bend_alone(Build& b, double angle_deg) {
  change(b, 2, [&](Piece& piece) {
    auto& bend = std::get<TubeBend>(piece.shape);
    bend.leg_out_m = 0;
    bend.angle_rad = deg(angle_deg);
  });
}

} // namespace

// The small build costs 67.08 EUR: see tests/core/buy/shopping_test.cpp.
std::vector<PurchaseCase> purchase_cases() {
  const double proven = std::numeric_limits<double>::infinity();
  const auto postage = [](std::int64_t free_from) {
    return [free_from](Build& b) {
      change(b, "bend-63-90", [](StockItem& item) { item.supplier = "supplier A"; }); // 19.90 EUR
      b.budget.postage = {{"supplier A", euros(5, 0), euros(free_from, 0)}};
    };
  };
  return {
      {"over-budget", caution, "7.08 EUR over the budget of 60.00 EUR",
       [](Build& b) { b.budget.limit = euros(60, 0); }, [](Build& b) { b.budget.limit = euros(67, 8); },
       proven},
      {"unpriced", caution, "400 long: neither tube-63 serves it",
       [](Build& b) {
         change(b, "tube-63", [](StockItem& item) {
           item.per = Per::each;
           item.length_m = mm(350);
         });
         change(b, 1, [](Piece& piece) { std::get<Tube>(piece.shape).length_m = mm(400); });
       },
       [](Build& b) {
         change(b, "tube-63", [](StockItem& item) {
           item.per = Per::each;
           item.length_m = mm(450);
         });
         change(b, 1, [](Piece& piece) { std::get<Tube>(piece.shape).length_m = mm(400); });
       },
       proven},
      {"stock-does-not-serve", caution, "tube-63",
       [](Build& b) { change(b, 1, [](Piece& piece) { std::get<Tube>(piece.shape).wall_m = mm(2); }); },
       [](Build& b) { change(b, 1, [](Piece& piece) { std::get<Tube>(piece.shape).wall_m = mm(1.7); }); },
       proven},
      {"stock-not-chosen", note, "2 pieces name no stock item",
       [](Build& b) {
         unchoose(b, 0);
         unchoose(b, 1);
       },
       [](Build&) {}, proven},
      // Two of 45 degrees out of one of 90: each loses half of 2.5 mm / 95 mm, 0.75 degrees.
      {"bend-falls-short", note, "0.8° less",
       [](Build& b) {
         bend_alone(b, 45);
         Run run = *b.options.front().runs.front();
         run.pieces[3] = run.pieces[2];
         std::swap(std::get<TubeBend>(run.pieces[3].shape).leg_in_m,
                   std::get<TubeBend>(run.pieces[3].shape).leg_out_m);
         b.options.front().runs = {run};
       },
       [](Build& b) { bend_alone(b, 45); }, proven},
      {"price-of-nothing", note, "Bend 63.5, 90 degrees",
       [](Build& b) { change(b, "bend-63-90", [](StockItem& item) { item.price = euros(0, 0); }); },
       [](Build& b) { change(b, "bend-63-90", [](StockItem& item) { item.price = euros(0, 1); }); }, proven},
      {"near-free-postage", note, "4.10 EUR more from supplier A would save 5.00 EUR", postage(24),
       postage(25), proven},
      {"plan-not-proven", note, "nothing below", [](Build&) {}, [](Build&) {}, 0},
  };
}

} // namespace bellmouth::test

// SPDX-License-Identifier: GPL-3.0-or-later
// The budget of the build: limit, tax, postage, spares. Identities of the contract.
#include "editor_fixture.hpp"

#include <QTableView>

#include <budget_tables.hpp>

namespace bellmouth::ui {
namespace {

/// Two suppliers.
build::Build with_suppliers() {
  build::Build build = test::sample_build();
  std::vector<build::StockItem> stock = *build.stock;
  for (build::StockItem& item : stock)
    item.supplier = item.kind == build::StockKind::tube ? "Tube trader" : "Hose trader";
  build.stock = std::move(stock);
  return build;
}

class Budgets : public test::EditorFixture {
protected:
  Budgets() : EditorFixture(with_suppliers()) {}
  const build::Budget& budget() const { return session.build().budget; }
  SheetModel& sheet(const char* name) const { return find<Sheet>(name)->model(); }
  bool type_in(const char* name, int row, int column, const char* text) const {
    return sheet(name).setData(sheet(name).index(row, column), text);
  }
  static quantity::Money euros(std::int64_t cents) { return {cents, {{'E', 'U', 'R'}}}; }
};

TEST_F(Budgets, TaxIsInHundredthsOfAPercent) {
  EXPECT_FALSE(shown("build_tax_included"));
  type("build_tax_line", "7.75");
  ASSERT_TRUE(budget().tax);
  EXPECT_EQ(budget().tax->rate_basis_points, 775);
  EXPECT_EQ(find<QLineEdit>("build_tax_line")->text(), "7.75 %");
  click("build_tax_included");
  EXPECT_TRUE(budget().tax->prices_include);
  for (const char* wrong : {"7.755", "-1", "101 %", "much"}) {
    type("build_tax_line", wrong);
    EXPECT_FALSE(complaint_of("build_tax").isEmpty()) << wrong;
    EXPECT_EQ(budget().tax->rate_basis_points, 775);
  }
  type("build_tax_line", "");
  EXPECT_FALSE(budget().tax);
}

TEST_F(Budgets, PostageOfEachSupplierOfTheStock) {
  ASSERT_EQ(sheet("postage").rowCount(), 2);
  EXPECT_EQ(sheet("postage").index(0, 0).data().toString(), "Hose trader");
  EXPECT_FALSE(type_in("postage", 0, 2, "100")) << "free from where, but what does it cost below?";
  EXPECT_TRUE(type_in("postage", 0, 1, "6.90"));
  EXPECT_TRUE(type_in("postage", 0, 2, "100"));
  ASSERT_EQ(budget().postage.size(), 1U);
  EXPECT_EQ(budget().postage.front(), (build::Postage{"Hose trader", euros(690), euros(10000)}));
  EXPECT_FALSE(type_in("postage", 1, 1, "-3"));
  EXPECT_FALSE(type_in("postage", 1, 1, "3 USD"));
  EXPECT_TRUE(type_in("postage", 0, 2, ""));
  EXPECT_FALSE(budget().postage.front().free_from);
  EXPECT_TRUE(type_in("postage", 0, 1, ""));
  EXPECT_TRUE(budget().postage.empty());
}

TEST_F(Budgets, AnotherCurrencyHoldsForAllOfIt) {
  ASSERT_TRUE(type_in("postage", 0, 1, "6.90"));
  ASSERT_TRUE(type_in("postage", 0, 2, "100"));
  type("build_limit_line", "500");
  type("build_currency_line", "chf");
  EXPECT_EQ(complaint_of("build_currency").isEmpty(), budget().currency.text() == "CHF")
      << "taken, or refused with the reason";
  for (const build::Postage& each : budget().postage) {
    EXPECT_EQ(each.price.currency, budget().currency);
    EXPECT_EQ(each.free_from->currency, budget().currency);
  }
}

TEST_F(Budgets, SparesOfEachKindInStock) {
  ASSERT_EQ(sheet("spares").rowCount(), 2) << "tubes and hoses";
  EXPECT_TRUE(type_in("spares", 1, 1, "10 %"));
  ASSERT_EQ(budget().spares.size(), 1U);
  EXPECT_EQ(budget().spares.front(), (build::Spare{build::StockKind::hose, 10}));
  for (const char* wrong : {"-5", "2.5", "2000", "two"})
    EXPECT_FALSE(type_in("spares", 1, 1, wrong)) << wrong;
  EXPECT_EQ(budget().spares.front().percent, 10);
  EXPECT_TRUE(type_in("spares", 1, 1, ""));
  EXPECT_TRUE(budget().spares.empty());
  EXPECT_EQ(session.undo_text(), "Change spares: hose");
}

} // namespace
} // namespace bellmouth::ui

// SPDX-License-Identifier: GPL-3.0-or-later
// The table of a stock of 20 000 items, as many as a build holds, without a display: a letter typed into the
// search, a column sorted, an item edited, until the table is painted again. Wanted: under 100 ms each.
#include "desktop.hpp"
#include "support/sample_builds.hpp"

#include <QLineEdit>
#include <benchmark/benchmark.h>

#include <stock_view.hpp>
#include <string>

namespace bellmouth::ui {
namespace {

build::Build large_stock() {
  constexpr int items = 20'000;
  const build::Build sample = bellmouth::test::sample_build();
  std::vector<build::StockItem> stock = *sample.stock;
  const std::size_t kinds = stock.size();
  for (std::size_t i = kinds; i < items; ++i) {
    build::StockItem item = stock[i % kinds];
    item.id.text += "-" + std::to_string(i);
    item.supplier = "supplier " + std::to_string(i % 17);
    item.price.minor += static_cast<std::int64_t>(i * 7919 % 5003);
    stock.push_back(item);
  }
  return build::with_stock(sample, stock);
}

struct Shown {
  QApplication& app = application();
  Session session{large_stock()};
  StockView view{session, [](QWidget*, const QString&) { return true; }};
  QTableView* table = view.findChild<QTableView*>("stock_table");
  Shown() {
    view.resize(930, 500);
    view.show();
    QApplication::processEvents();
  }
};

void search_20000_items(benchmark::State& state) {
  Shown shown;
  auto* line = shown.view.findChild<QLineEdit*>("stock_search");
  bool narrow = false;
  for (auto _ : state) {
    line->setText((narrow = !narrow) ? "hose 1" : "hose 12");
    benchmark::DoNotOptimize(shown.view.grab());
  }
}
BENCHMARK(search_20000_items)->Unit(benchmark::kMillisecond);

void sort_20000_items(benchmark::State& state) {
  Shown shown;
  bool up = false;
  for (auto _ : state) {
    shown.table->sortByColumn(StockModel::price, (up = !up) ? Qt::AscendingOrder : Qt::DescendingOrder);
    benchmark::DoNotOptimize(shown.view.grab());
  }
}
BENCHMARK(sort_20000_items)->Unit(benchmark::kMillisecond);

/// What the table itself takes: the evaluation of the build is not in it.
void show_an_edit_of_20000_items(benchmark::State& state) {
  Shown shown;
  StockModel model(shown.session);
  const build::StockId id = shown.session.build().stock->at(10'000).id;
  std::int64_t cents = 1;
  for (auto _ : state) {
    state.PauseTiming();
    build::StockItem item = *shown.session.build().find(id);
    item.price.minor = ++cents;
    const auto refused =
        shown.session.apply(with_item_replaced(shown.session.build(), id, item), "change", "same");
    benchmark::DoNotOptimize(refused);
    state.ResumeTiming();
    model.refresh();
  }
}
BENCHMARK(show_an_edit_of_20000_items)->Unit(benchmark::kMillisecond);

/// The whole edit: checks, evaluation and table.
void edit_one_of_20000_items(benchmark::State& state) {
  Shown shown;
  const build::StockId id = shown.session.build().stock->at(10'000).id;
  std::int64_t cents = 1;
  for (auto _ : state) {
    build::StockItem item = *shown.session.build().find(id);
    item.price.minor = ++cents;
    const auto refused =
        shown.session.apply(with_item_replaced(shown.session.build(), id, item), "change", "same");
    benchmark::DoNotOptimize(refused);
    benchmark::DoNotOptimize(shown.view.grab());
  }
}
BENCHMARK(edit_one_of_20000_items)->Unit(benchmark::kMillisecond);

} // namespace
} // namespace bellmouth::ui

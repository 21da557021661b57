// SPDX-License-Identifier: GPL-3.0-or-later
// What stands in the view of the stock: what is chosen, the buttons, the table, and what stands in its place
// where there is nothing.
#include "form.hpp"
#include "sheet.hpp"
#include "stock_text.hpp"
#include "stock_view.hpp"
#include "theme.hpp"

#include <QHeaderView>
#include <QMenu>
#include <QPushButton>
#include <QToolButton>

namespace bellmouth::ui {

namespace {

constexpr int row_room_px = 8;
/// How many rows are measured for the width of a column.
constexpr int measured_rows = 200;

} // namespace

QWidget* StockView::choice_row() {
  auto* box = new QWidget(this);
  search_->setObjectName("stock_search");
  search_->setAccessibleName(tr("Search the stock"));
  search_->setPlaceholderText(tr("Search: name, size, supplier"));
  search_->setToolTip(tr("Items in which all of these words stand: name, id, sizes, material, supplier (%1)")
                          .arg(QKeySequence(QKeySequence::Find).toString(QKeySequence::NativeText)));
  search_->setClearButtonEnabled(true);
  search_->installEventFilter(this);
  kinds_->setObjectName("stock_kind");
  kinds_->setAccessibleName(tr("Kind"));
  kinds_->setToolTip(tr("Items of this kind only"));
  kinds_->addItem(tr("all kinds"));
  kinds_->addItems(stock_kind_words());
  suppliers_->setObjectName("stock_supplier");
  suppliers_->setAccessibleName(tr("Supplier"));
  suppliers_->setToolTip(tr("Items of this supplier only"));
  suppliers_->setSizeAdjustPolicy(QComboBox::AdjustToMinimumContentsLengthWithIcon);
  constexpr int supplier_letters = 14;
  suppliers_->setMinimumContentsLength(supplier_letters);
  owned_->setObjectName("stock_owned_only");
  owned_->setToolTip(tr("Only what you have already"));
  used_->setObjectName("stock_used_only");
  used_->setToolTip(tr("Only what the option shown uses"));
  count_->setObjectName("stock_count");
  count_->setForegroundRole(QPalette::PlaceholderText);
  auto* row = new QHBoxLayout(box);
  row->setContentsMargins(0, 0, 0, 0);
  row->setSpacing(gap);
  row->addWidget(search_, 1);
  for (QWidget* each : std::initializer_list<QWidget*>{kinds_, suppliers_, owned_, used_, count_})
    row->addWidget(each);
  connect(search_, &QLineEdit::textChanged, this, &StockView::choose);
  connect(kinds_, &QComboBox::currentIndexChanged, this, &StockView::choose);
  connect(suppliers_, &QComboBox::currentIndexChanged, this, &StockView::choose);
  connect(owned_, &QCheckBox::toggled, this, &StockView::choose);
  connect(used_, &QCheckBox::toggled, this, &StockView::choose);
  return box;
}

QWidget* StockView::button_row() {
  auto* box = new QWidget(this);
  add_->setObjectName("stock_add");
  add_->setText(tr("Add"));
  add_->setAccessibleName(tr("Add an item"));
  add_->setToolTip(tr("Add an item of a kind, behind the picked one"));
  add_->setToolButtonStyle(Qt::ToolButtonTextOnly);
  add_->setPopupMode(QToolButton::InstantPopup);
  add_->setFocusPolicy(Qt::StrongFocus);
  auto* menu = new QMenu(add_);
  menu->setObjectName("stock_add_menu");
  const QStringList words = stock_kind_words();
  for (int i = 0; i < words.size(); ++i) {
    QString word = words[i];
    word[0] = word[0].toUpper();
    QAction* action = menu->addAction(word);
    action->setObjectName(QString("stock_add_%1").arg(i));
    connect(action, &QAction::triggered, this, [this, i] { add(static_cast<build::StockKind>(i)); });
  }
  add_->setMenu(menu);
  const auto name = [](QPushButton* button, const char* object_name, const QString& tip) {
    button->setObjectName(object_name);
    button->setToolTip(tip);
    button->setAccessibleDescription(tip);
  };
  name(duplicate_, "stock_duplicate", tr("Put a copy behind the picked item"));
  name(remove_, "stock_remove", tr("Remove the picked item (Del)"));
  name(where_used_, "stock_where_used", tr("Pick the pieces that are bought as this, one after the other"));
  name(import_, "stock_import", tr("Take items from a file, or from a list that comes with the program"));
  auto* row = new QHBoxLayout(box);
  row->setContentsMargins(0, 0, 0, 0);
  row->setSpacing(gap);
  for (QWidget* each : std::initializer_list<QWidget*>{add_, duplicate_, remove_, where_used_})
    row->addWidget(each);
  row->addStretch(1);
  row->addWidget(import_);
  connect(duplicate_, &QPushButton::clicked, this, &StockView::duplicate);
  connect(remove_, &QPushButton::clicked, this, &StockView::remove);
  connect(where_used_, &QPushButton::clicked, this, &StockView::show_where_used);
  connect(import_, &QPushButton::clicked, this, &StockView::import_requested);
  return box;
}

QWidget* StockView::table_page() {
  table_->setObjectName("stock_table");
  table_->setAccessibleName(tr("Stock"));
  table_->setModel(order_);
  table_->setItemDelegate(new SheetDelegate(table_));
  table_->setSelectionBehavior(QAbstractItemView::SelectRows);
  table_->setSelectionMode(QAbstractItemView::SingleSelection);
  table_->setEditTriggers(QAbstractItemView::DoubleClicked | QAbstractItemView::AnyKeyPressed);
  table_->setTabKeyNavigation(false);
  table_->setAlternatingRowColors(true);
  table_->setShowGrid(false);
  table_->setWordWrap(false);
  table_->setFrameShape(QFrame::NoFrame);
  table_->setHorizontalScrollMode(QAbstractItemView::ScrollPerPixel);
  table_->verticalHeader()->hide();
  table_->verticalHeader()->setDefaultSectionSize(QFontMetrics(font()).height() + row_room_px);
  table_->horizontalHeader()->setHighlightSections(false);
  table_->horizontalHeader()->setStretchLastSection(true);
  table_->horizontalHeader()->setResizeContentsPrecision(measured_rows);
  table_->horizontalHeader()->setSortIndicatorClearable(true);
  table_->setSortingEnabled(true);
  // Until a column is chosen: as the build has them.
  table_->horizontalHeader()->setSortIndicator(-1, Qt::AscendingOrder);
  order_->sort(-1);
  table_->installEventFilter(this);
  connect(table_->selectionModel(), &QItemSelectionModel::currentChanged, this, [this] {
    refresh_state();
    show_complaint_of_cell();
  });
  connect(table_, &QTableView::doubleClicked, this, [this](const QModelIndex& index) {
    if (!(index.flags() & Qt::ItemIsEditable))
      open_picked();
  });
  return table_;
}

QWidget* StockView::empty_page() {
  auto* page = new QWidget(this);
  page->setObjectName("stock_empty");
  auto* words =
      new QLabel(tr("The stock of this build is empty: nothing can be bought.\n"
                    "Start from a list that comes with the program, from a file of your own, or add "
                    "an item."),
                 page);
  words->setAlignment(Qt::AlignCenter);
  words->setWordWrap(true);
  const auto button = [&](const char* name, const QString& text) {
    auto* made = new QPushButton(text, page);
    made->setObjectName(name);
    return made;
  };
  auto* metric = button("stock_take_metric", tr("Metric list…"));
  auto* inch = button("stock_take_inch", tr("Inch list…"));
  auto* file = button("stock_take_file", tr("File…"));
  auto* row = new QHBoxLayout;
  row->setSpacing(gap);
  row->addStretch(1);
  for (QWidget* each : std::initializer_list<QWidget*>{metric, inch, file})
    row->addWidget(each);
  row->addStretch(1);
  auto* column = new QVBoxLayout(page);
  column->addStretch(1);
  column->addWidget(words);
  column->addLayout(row);
  column->addStretch(1);
  connect(metric, &QPushButton::clicked, this, [this] { emit shipped_requested(Shipped::metric); });
  connect(inch, &QPushButton::clicked, this, [this] { emit shipped_requested(Shipped::inch); });
  connect(file, &QPushButton::clicked, this, &StockView::import_requested);
  return page;
}

QWidget* StockView::nothing_found_page() {
  auto* page = new QWidget(this);
  page->setObjectName("stock_nothing_found");
  auto* words = new QLabel(tr("No item is like that."), page);
  words->setAlignment(Qt::AlignCenter);
  auto* all = new QPushButton(tr("Show all items"), page);
  all->setObjectName("stock_show_all");
  connect(all, &QPushButton::clicked, this, [this] {
    show_all();
    search_->setFocus();
  });
  auto* column = new QVBoxLayout(page);
  column->addStretch(1);
  column->addWidget(words);
  column->addWidget(all, 0, Qt::AlignCenter);
  column->addStretch(1);
  return page;
}

} // namespace bellmouth::ui

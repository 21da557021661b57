// SPDX-License-Identifier: GPL-3.0-or-later
#include "stock_import_dialog.hpp"

#include "form.hpp"
#include "stock_mapping.hpp"
#include "stock_preview_model.hpp"
#include "stock_text.hpp"
#include "theme.hpp"

#include <QApplication>
#include <QFileInfo>
#include <QGridLayout>
#include <QHeaderView>
#include <QPushButton>
#include <QScrollBar>

#include <algorithm>
#include <array>

namespace bellmouth::ui {

namespace {

constexpr std::array delimiters{',', ';', '\t'};
constexpr std::array decimals{'.', ','};
const std::array<std::string, 4> length_units{"mm", "cm", "m", "in"};
constexpr int result_px = 380, number_px = 46, narrowest_cell_px = 118, widest_cell_px = 180,
              measured_rows = 100;

template <class T, std::size_t N> int index_of(const std::array<T, N>& all, const T& one) {
  const auto found = std::ranges::find(all, one);
  return found == all.end() ? -1 : static_cast<int>(found - all.begin());
}

bool is_length(const stock::ColumnMapping& column) {
  return column.field && stock::info(*column.field).dimension == quantity::Dimension::length;
}

/// What all columns of lengths count in, or nothing where they differ.
std::optional<std::string> common_length_unit(const stock::Mapping& mapping) {
  std::optional<std::string> unit;
  for (const stock::ColumnMapping& column : mapping.columns) {
    if (!is_length(column))
      continue;
    if (unit && *unit != column.unit)
      return std::nullopt;
    unit = column.unit;
  }
  return unit;
}

/// Says in every row in which no column does what a field is; empty: it is not said.
void fix(stock::Mapping& mapping, stock::Field field, const std::string& text) {
  std::erase_if(mapping.fixed, [&](const stock::FixedField& each) { return each.field == field; });
  if (!text.empty())
    mapping.fixed.push_back({field, text});
}

bool holds(const stock::Mapping& mapping, stock::Field field) {
  return std::ranges::any_of(mapping.columns, [&](const auto& column) { return column.field == field; });
}

QString rows(std::size_t count) {
  return count == 1 ? StockImportDialog::tr("1 row") : StockImportDialog::tr("%1 rows").arg(count);
}

/// The build in the currency of a list, where the build has no money in it yet.
build::Build in_currency_of(const build::Build& build, const std::string& list) {
  if (!build.stock->empty() || build.budget.limit || !build.budget.postage.empty() || !build.owned.empty())
    return build;
  const auto items = build::read_stock(list);
  if (!items || items->empty())
    return build;
  build::Build changed = build;
  changed.budget.currency = items->front().price.currency;
  return changed;
}

} // namespace

StockImportDialog::StockImportDialog(Session& session, AskFile ask_file, ShippedFile shipped_file,
                                     QWidget* parent)
    : QDialog(parent), session_(session), ask_file_(std::move(ask_file)),
      shipped_file_(std::move(shipped_file)), build_(session.build()),
      choose_(new QPushButton(tr("Choose a &file…"), this)),
      metric_(new QPushButton(tr("&Metric list"), this)), inch_(new QPushButton(tr("&Inch list"), this)),
      take_(new QPushButton(this)), close_(new QPushButton(tr("&Close"), this)), file_name_(new QLabel(this)),
      counts_(new QLabel(this)), error_(new WrappedLabel(this)), remarks_(new WrappedLabel(this)),
      delimiter_(new ComboBox(this)), decimal_(new ComboBox(this)), lengths_(new ComboBox(this)),
      kind_(new ComboBox(this)), material_(new ComboBox(this)), per_(new ComboBox(this)),
      clash_(new ComboBox(this)), only_bad_(new QCheckBox(this)),
      mapping_(new StockMapping(StockPreviewModel::cells, this)), model_(new StockPreviewModel(this)),
      rows_(new QTableView(this)) {
  setObjectName("stock_import_dialog");
  setWindowTitle(tr("Import stock"));
  error_->setObjectName("import_error");
  error_->hide();
  remarks_->setObjectName("import_remarks");
  remarks_->setForegroundRole(QPalette::PlaceholderText);
  make_table();
  auto* column = new QVBoxLayout(this);
  column->setContentsMargins(wide_gap, wide_gap, wide_gap, wide_gap);
  column->setSpacing(gap);
  column->addWidget(file_row());
  column->addWidget(error_);
  reading_ = reading_row();
  column->addWidget(reading_);
  auto* list = new QVBoxLayout;
  list->setSpacing(0); // the headings stand on the rows
  list->addWidget(mapping_);
  list->addWidget(rows_, 1);
  column->addLayout(list, 1);
  column->addWidget(remarks_);
  column->addWidget(foot());
  constexpr QSize comfortable(1120, 620);
  resize(comfortable);
  refresh();
}

QWidget* StockImportDialog::file_row() {
  auto* box = new QWidget(this);
  choose_->setObjectName("import_choose");
  metric_->setObjectName("import_metric");
  metric_->setToolTip(tr("The invented metric list that comes with the program"));
  inch_->setObjectName("import_inch");
  inch_->setToolTip(tr("The invented inch list that comes with the program"));
  file_name_->setObjectName("import_file");
  file_name_->setSizePolicy(QSizePolicy::Ignored, QSizePolicy::Preferred);
  file_name_->setText(tr("A table (CSV) or a list of this program (JSON)"));
  auto* row = new QHBoxLayout(box);
  row->setContentsMargins(0, 0, 0, 0);
  row->setSpacing(gap);
  row->addWidget(choose_);
  row->addWidget(metric_);
  row->addWidget(inch_);
  row->addWidget(file_name_, 1);
  connect(choose_, &QPushButton::clicked, this, [this] {
    if (const QString file = ask_file_(this); !file.isEmpty())
      load(file);
  });
  connect(metric_, &QPushButton::clicked, this, [this] { load_shipped(StockView::Shipped::metric); });
  connect(inch_, &QPushButton::clicked, this, [this] { load_shipped(StockView::Shipped::inch); });
  return box;
}

QWidget* StockImportDialog::reading_row() {
  auto* box = new QWidget(this);
  box->setObjectName("import_reading");
  auto* row = new QHBoxLayout(box);
  row->setContentsMargins(0, 0, 0, 0);
  row->setSpacing(gap);
  const auto add = [&](QComboBox* choice, const char* name, const QString& label, const QString& tip,
                       const QStringList& words) {
    choice->setObjectName(name);
    choice->setAccessibleName(label);
    choice->setToolTip(tip);
    choice->addItems(words);
    auto* text = new QLabel(label, box);
    text->setObjectName(QString(name) + "_label");
    text->setBuddy(choice);
    row->addWidget(text);
    row->addWidget(choice);
  };
  add(delimiter_, "import_delimiter", tr("Divided by"), tr("What stands between two cells"),
      {tr("comma"), tr("semicolon"), tr("tab")});
  add(decimal_, "import_decimal", tr("Decimal sign"), tr("Of the numbers in all columns"),
      {tr("point"), tr("comma")});
  QStringList units{tr("as each column says")};
  for (const std::string& unit : length_units)
    units << QString::fromStdString(unit);
  add(lengths_, "import_lengths", tr("Lengths in"), tr("The unit of all columns that hold a length"), units);
  add(kind_, "import_kind", tr("Kind"), tr("Of all rows, where no column says it"),
      QStringList{tr("not said")} + stock_kind_words());
  add(material_, "import_material", tr("Material"), tr("Of all rows, where no column says it"),
      QStringList{tr("not said")} + stock_material_words());
  add(per_, "import_per", tr("Price for"), tr("Of all rows, where no column says it"),
      {tr("not said"), tr("each"), tr("metre")});
  row->addStretch(1);
  connect(delimiter_, &QComboBox::activated, this, [this] { read(); });
  connect(decimal_, &QComboBox::activated, this, [this](int index) {
    stock::Mapping mapping = mapping_->mapping();
    for (stock::ColumnMapping& column : mapping.columns)
      column.decimal = decimals.at(static_cast<std::size_t>(index));
    mapping_->set_mapping(std::move(mapping));
    show_preview();
  });
  connect(lengths_, &QComboBox::activated, this, [this](int index) {
    if (index == 0)
      return;
    stock::Mapping mapping = mapping_->mapping();
    for (stock::ColumnMapping& column : mapping.columns)
      if (is_length(column))
        column.unit = length_units.at(static_cast<std::size_t>(index) - 1);
    mapping_->set_mapping(std::move(mapping));
    show_preview();
  });
  const auto fix_as = [this](QComboBox* choice, stock::Field field) {
    connect(choice, &QComboBox::activated, this, [this, choice, field](int index) {
      stock::Mapping mapping = mapping_->mapping();
      fix(mapping, field, index == 0 ? std::string() : choice->itemText(index).toStdString());
      mapping_->set_mapping(std::move(mapping));
      show_preview();
    });
  };
  fix_as(kind_, stock::Field::kind);
  fix_as(material_, stock::Field::material);
  fix_as(per_, stock::Field::per);
  connect(mapping_, &StockMapping::edited, this, &StockImportDialog::show_preview);
  return box;
}

void StockImportDialog::make_table() {
  rows_->setObjectName("import_rows");
  rows_->setAccessibleName(tr("Rows of the list"));
  rows_->setModel(model_);
  rows_->setSelectionBehavior(QAbstractItemView::SelectRows);
  rows_->setSelectionMode(QAbstractItemView::SingleSelection);
  rows_->setEditTriggers(QAbstractItemView::NoEditTriggers);
  rows_->setTabKeyNavigation(false);
  rows_->setAlternatingRowColors(true);
  rows_->setShowGrid(false);
  rows_->setWordWrap(false);
  rows_->setFrameShape(QFrame::NoFrame);
  rows_->setHorizontalScrollMode(QAbstractItemView::ScrollPerPixel);
  rows_->verticalHeader()->hide();
  constexpr int row_room_px = 8;
  rows_->verticalHeader()->setDefaultSectionSize(QFontMetrics(font()).height() + row_room_px);
  rows_->horizontalHeader()->hide(); // the mapping stands above, with the headings
  rows_->horizontalHeader()->setResizeContentsPrecision(measured_rows);
  QStringList before;
  for (int i = 0; i < StockPreviewModel::cells; ++i)
    before << model_->headerData(i, Qt::Horizontal, Qt::DisplayRole).toString();
  mapping_->show_headings(before);
  connect(rows_->horizontalScrollBar(), &QScrollBar::valueChanged, mapping_->horizontalScrollBar(),
          &QScrollBar::setValue);
  connect(mapping_->horizontalScrollBar(), &QScrollBar::valueChanged, rows_->horizontalScrollBar(),
          &QScrollBar::setValue);
  connect(mapping_->horizontalHeader(), &QHeaderView::sectionResized, rows_,
          [this](int column, int, int width) { rows_->setColumnWidth(column, width); });
  connect(rows_->selectionModel(), &QItemSelectionModel::currentRowChanged, this,
          &StockImportDialog::show_result);
}

QWidget* StockImportDialog::foot() {
  auto* box = new QWidget(this);
  counts_->setObjectName("import_counts");
  only_bad_->setObjectName("import_only_bad");
  only_bad_->setText(tr("Bad rows only"));
  clash_->setObjectName("import_clash");
  clash_->setAccessibleName(tr("Items that the build has already"));
  clash_->setToolTip(tr("What becomes of a row whose id the build has for something else"));
  clash_->addItems({tr("replace them"), tr("keep both"), tr("keep the build's")});
  auto* clash_label = new QLabel(tr("Items that differ from the build's:"), box);
  clash_label->setObjectName("import_clash_label");
  clash_label->setBuddy(clash_);
  take_->setObjectName("import_take");
  close_->setObjectName("import_close");
  for (QPushButton* button : {choose_, metric_, inch_, close_, take_})
    button->setAutoDefault(false); // nothing is taken by a stray Enter
  auto* row = new QHBoxLayout(box);
  row->setContentsMargins(0, 0, 0, 0);
  row->setSpacing(gap);
  row->addWidget(counts_);
  row->addWidget(only_bad_);
  row->addStretch(1);
  row->addWidget(clash_label);
  row->addWidget(clash_);
  row->addSpacing(wide_gap);
  row->addWidget(take_);
  row->addWidget(close_);
  connect(only_bad_, &QCheckBox::toggled, this, [this](bool on) { model_->set_only_bad(on); });
  connect(clash_, &QComboBox::currentIndexChanged, this, &StockImportDialog::refresh);
  connect(take_, &QPushButton::clicked, this, &StockImportDialog::take);
  connect(close_, &QPushButton::clicked, this, &QDialog::reject);
  return box;
}

void StockImportDialog::load_shipped(StockView::Shipped which) {
  load(shipped_file_(which));
}

void StockImportDialog::load(const QString& file) {
  file_ = file;
  file_name_->setText(QFileInfo(file).fileName());
  file_name_->setToolTip(file);
  auto text = build::load_text(file.toStdString());
  table_list_.reset();
  good_list_ = false;
  show_complaint(*error_, {});
  if (!text) {
    model_->clear();
    show_complaint(*error_, QString::fromStdString(text.error().text()));
    refresh();
    return;
  }
  text_ = *std::move(text);
  delimiter_->setCurrentIndex(-1); // as it is recognised
  if (stock::is_json(text_))
    read_items();
  else
    read();
}

void StockImportDialog::read_items() {
  build_ = in_currency_of(session_.build(), text_);
  auto preview = stock::preview_json(text_, QFileInfo(file_).fileName().toStdString(), build_);
  QStringList before;
  for (int i = 0; i < StockPreviewModel::cells; ++i)
    before << model_->headerData(i, Qt::Horizontal, Qt::DisplayRole).toString();
  mapping_->show_headings(before);
  good_list_ = preview.has_value();
  if (preview) {
    if (build_.budget.currency != session_.build().budget.currency)
      preview->taken_as.push_back(tr("the build has no prices yet: its currency becomes %1")
                                      .arg(QString::fromStdString(std::string(build_.budget.currency.text())))
                                      .toStdString());
    model_->show_items(*std::move(preview));
  } else {
    model_->clear();
    show_complaint(*error_, QString::fromStdString(preview.error().text()));
  }
  fit_columns();
  refresh();
}

/// Takes the text apart, and proposes what its columns hold.
void StockImportDialog::read() {
  build_ = session_.build();
  const int chosen = delimiter_->currentIndex();
  const std::optional<char> delimiter =
      chosen < 0 ? std::nullopt : std::optional(delimiters.at(static_cast<std::size_t>(chosen)));
  auto table = stock::read_table(text_, QFileInfo(file_).fileName().toStdString(), {.delimiter = delimiter});
  if (!table) {
    table_list_.reset();
    good_list_ = false;
    model_->clear();
    show_complaint(*error_, QString::fromStdString(table.error().text()));
    refresh();
    return;
  }
  table_list_ = *std::move(table);
  delimiter_->setCurrentIndex(index_of(delimiters, table_list_->delimiter));
  for (QComboBox* fixed : {kind_, material_, per_})
    fixed->setCurrentIndex(0);
  stock::Mapping proposed = stock::propose(*table_list_);
  mapping_->show_mapping(*table_list_, std::move(proposed));
  show_preview();
  fit_columns();
}

void StockImportDialog::show_preview() {
  if (!table_list_)
    return;
  QApplication::setOverrideCursor(Qt::WaitCursor);
  const stock::Mapping& mapping = mapping_->mapping();
  auto preview = stock::preview(*table_list_, mapping, build_);
  good_list_ = preview.has_value();
  show_complaint(*error_, preview ? QString() : QString::fromStdString(preview.error().text()));
  model_->show_table(*table_list_, preview ? *std::move(preview) : stock::Preview{});
  QApplication::restoreOverrideCursor();
  const auto unit = common_length_unit(mapping);
  lengths_->setCurrentIndex(unit ? index_of(length_units, *unit) + 1 : 0);
  if (!mapping.columns.empty())
    decimal_->setCurrentIndex(index_of(decimals, mapping.columns.front().decimal));
  for (const auto& [choice, field] : {std::pair{kind_, stock::Field::kind},
                                      {material_, stock::Field::material},
                                      {per_, stock::Field::per}}) {
    const bool open = !holds(mapping, field);
    choice->setVisible(open);
    findChild<QLabel*>(choice->objectName() + "_label")->setVisible(open);
  }
  refresh();
}

/// Columns as wide as what is in them, the mapping's and the rows' alike.
void StockImportDialog::fit_columns() {
  for (int column = 0; column < model_->columnCount(); ++column) {
    int width = column == StockPreviewModel::number ? number_px
                : table_list_                       ? result_px
                              : std::max(result_px, rows_->viewport()->width() - number_px);
    if (column >= StockPreviewModel::cells) {
      rows_->resizeColumnToContents(column);
      width = std::clamp(rows_->columnWidth(column) + gap, narrowest_cell_px, widest_cell_px);
    }
    mapping_->setColumnWidth(column, width);
    rows_->setColumnWidth(column, width);
  }
}

void StockImportDialog::resizeEvent(QResizeEvent* event) {
  QDialog::resizeEvent(event);
  if (!table_list_)
    fit_columns();
}

void StockImportDialog::show_result() {
  const QModelIndex index = rows_->currentIndex();
  const QString why = index.isValid() ? model_->reason(index.row()) : QString();
  QStringList words;
  if (!why.isEmpty())
    words << why;
  for (const std::string& sentence : model_->preview().taken_as) {
    words << QString::fromStdString(sentence) + '.';
    words.back()[0] = words.back()[0].toUpper();
  }
  if (const auto& unused = model_->preview().unused; !unused.empty()) {
    QStringList names;
    for (const std::string& column : unused)
      names << QString::fromStdString(column);
    words << tr("Not used: %1.").arg(names.join(", "));
  }
  remarks_->set_text(words.join('\n'));
  remarks_->setVisible(!words.isEmpty());
}

stock::OnClash StockImportDialog::on_clash() const {
  return static_cast<stock::OnClash>(std::max(clash_->currentIndex(), 0));
}

std::size_t StockImportDialog::takes() const {
  const stock::Preview& preview = model_->preview();
  return preview.count(stock::Against::fresh) +
         (on_clash() == stock::OnClash::skip ? 0 : preview.count(stock::Against::changed));
}

void StockImportDialog::refresh() {
  const stock::Preview& preview = model_->preview();
  reading_->setVisible(table_list_.has_value());
  const bool any = good_list_ && preview.good.size() + preview.bad.size() > 0;
  const std::size_t changed = preview.count(stock::Against::changed), bad = preview.bad.size();
  QStringList words;
  if (any) {
    words << tr("%1 new").arg(preview.count(stock::Against::fresh));
    if (changed > 0)
      words << tr("%1 changed").arg(changed);
    if (const std::size_t same = preview.count(stock::Against::same); same > 0)
      words << tr("%1 as the build has them").arg(same);
    words << (bad == 0   ? tr("none bad")
              : bad == 1 ? tr("1 bad row stays out")
                         : tr("%1 bad rows stay out").arg(bad));
  }
  counts_->setText(words.join(", "));
  for (QWidget* each : std::initializer_list<QWidget*>{clash_, findChild<QLabel*>("import_clash_label")})
    if (each != nullptr)
      each->setVisible(changed > 0);
  only_bad_->setVisible(bad > 0);
  const std::size_t count = any ? takes() : 0;
  take_->setEnabled(count > 0);
  take_->setText(count == 0   ? tr("&Take the good rows")
                 : count == 1 ? tr("&Take the one good row")
                              : tr("&Take the %1 good rows").arg(count));
  take_->setToolTip(bad == 0 ? tr("Nothing changes until this is pressed")
                             : tr("Nothing changes until this is pressed; %1 stay out").arg(rows(bad)));
  show_result();
}

void StockImportDialog::take() {
  const stock::Preview& preview = model_->preview();
  const std::size_t count = takes(), bad = preview.bad.size();
  auto next = stock::take(build_, preview, on_clash());
  const QString name = QFileInfo(file_).fileName();
  const auto error = next ? session_.apply(*std::move(next), tr("Import stock from %1").arg(name))
                          : std::optional(next.error());
  if (error) {
    show_complaint(*error_, QString::fromStdString(error->text()));
    return;
  }
  emit taken(bad == 0 ? tr("%1 taken from %2").arg(rows(count), name)
                      : tr("%1 taken from %2; %3 stayed out").arg(rows(count), name, rows(bad)));
  accept();
}

} // namespace bellmouth::ui

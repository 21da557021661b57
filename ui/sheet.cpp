// SPDX-License-Identifier: GPL-3.0-or-later
#include "sheet.hpp"

#include "form.hpp"
#include "theme.hpp"

#include <QHeaderView>
#include <QKeyEvent>
#include <QPainter>
#include <QScopedValueRollback>
#include <QScrollBar>
#include <QStackedWidget>
#include <QTableView>

#include <algorithm>

namespace bellmouth::ui {

namespace {

constexpr int row_room_px = 8;

class Table : public QTableView {
public:
  using QTableView::QTableView;
  [[nodiscard]] bool is_editing() const { return state() == EditingState; }
};

} // namespace

SheetModel::SheetModel(Columns columns, Keys keys, QObject* parent)
    : QAbstractTableModel(parent), make_columns_(std::move(columns)), columns_(make_columns_()),
      make_keys_(std::move(keys)), keys_(make_keys_()) {}

void SheetModel::refresh() {
  QStringList keys = make_keys_();
  std::erase_if(refused_, [&](const auto& entry) { return !keys.contains(entry.first.first); });
  if (keys != keys_) {
    beginResetModel();
    columns_ = make_columns_();
    keys_ = std::move(keys);
    endResetModel();
  } else {
    columns_ = make_columns_();
    emit headerDataChanged(Qt::Horizontal, 0, columnCount() - 1);
    if (rowCount() > 0)
      emit dataChanged(index(0, 0), index(rowCount() - 1, columnCount() - 1));
  }
  emit refused_changed();
}

const SheetColumn& SheetModel::column(const QModelIndex& index) const {
  return columns_.at(static_cast<std::size_t>(index.column()));
}
std::pair<QString, int> SheetModel::key(const QModelIndex& index) const {
  return {keys_[index.row()], index.column()};
}
const SheetModel::Refused* SheetModel::refused(const QModelIndex& index) const {
  const auto found = index.isValid() ? refused_.find(key(index)) : refused_.end();
  return found == refused_.end() ? nullptr : &found->second;
}

QString SheetModel::complaint(const QModelIndex& index) const {
  const Refused* here = refused(index);
  return here == nullptr ? QString() : here->why;
}

QModelIndex SheetModel::first_refused() const {
  for (int row = 0; row < rowCount(); ++row)
    for (int at = 0; at < columnCount(); ++at)
      if (refused(index(row, at)) != nullptr)
        return index(row, at);
  return {};
}

void SheetModel::revert(const QModelIndex& index) {
  if (refused(index) == nullptr)
    return;
  refused_.erase(key(index));
  emit dataChanged(index, index);
  emit refused_changed();
}

QStringList SheetModel::choices(const QModelIndex& index) const {
  const SheetColumn& of = column(index);
  return of.choices ? of.choices(index.row()) : QStringList();
}

int SheetModel::widest_px(int column) const {
  return columns_.at(static_cast<std::size_t>(column)).widest_px;
}

int SheetModel::rowCount(const QModelIndex& parent) const {
  return parent.isValid() ? 0 : static_cast<int>(keys_.size());
}
int SheetModel::columnCount(const QModelIndex& parent) const {
  return parent.isValid() ? 0 : static_cast<int>(columns_.size());
}

QVariant SheetModel::data(const QModelIndex& index, int role) const {
  if (!index.isValid())
    return {};
  const SheetColumn& of = column(index);
  const Refused* wrong = refused(index);
  switch (role) {
  case Qt::DisplayRole:
  case Qt::EditRole:
    return wrong != nullptr ? wrong->text : of.text(index.row());
  case Qt::ToolTipRole:
    return wrong != nullptr ? wrong->why : of.tip;
  case Qt::AccessibleTextRole:
    return QString("%1, %2: %3").arg(columns_.front().text(index.row()), of.title, of.text(index.row()));
  case Qt::AccessibleDescriptionRole:
    return wrong != nullptr ? wrong->why : of.tip;
  case Qt::ForegroundRole:
    return wrong != nullptr                                 ? QVariant(theme().stop)
           : !of.set || (of.muted && of.muted(index.row())) ? QVariant(theme().muted_text)
                                                            : QVariant();
  case Qt::FontRole: {
    if (!of.strong || !of.strong(index.row()))
      return {};
    QFont font;
    font.setBold(true);
    return font;
  }
  case Qt::TextAlignmentRole:
    return QVariant::fromValue(
        Qt::Alignment((of.number ? Qt::AlignRight : Qt::AlignLeft) | Qt::AlignVCenter));
  case Qt::CheckStateRole:
    return of.ticked ? QVariant(of.ticked(index.row()) ? Qt::Checked : Qt::Unchecked) : QVariant();
  case refused_role:
    return wrong != nullptr;
  default:
    return {};
  }
}

QVariant SheetModel::headerData(int section, Qt::Orientation orientation, int role) const {
  if (orientation != Qt::Horizontal || section < 0 || section >= columnCount())
    return QAbstractTableModel::headerData(section, orientation, role);
  const SheetColumn& of = columns_[static_cast<std::size_t>(section)];
  switch (role) {
  case Qt::DisplayRole:
    return of.number ? of.title + behind_number : of.title;
  case Qt::ToolTipRole:
    return of.tip;
  case Qt::TextAlignmentRole:
    return QVariant::fromValue(
        Qt::Alignment((of.number ? Qt::AlignRight : Qt::AlignLeft) | Qt::AlignVCenter));
  default:
    return {};
  }
}

Qt::ItemFlags SheetModel::flags(const QModelIndex& index) const {
  Qt::ItemFlags plain = QAbstractTableModel::flags(index);
  plain.setFlag(Qt::ItemIsUserCheckable, index.isValid() && column(index).tick);
  return index.isValid() && column(index).set ? plain | Qt::ItemIsEditable : plain;
}

bool SheetModel::setData(const QModelIndex& index, const QVariant& value, int role) {
  if (role == Qt::CheckStateRole && index.isValid() && column(index).tick) {
    const auto tick = column(index).tick; // the change may make the columns anew
    tick(index.row(), value.toInt() == Qt::Checked);
    return true;
  }
  if (role != Qt::EditRole || !index.isValid() || !column(index).set)
    return false;
  const QString typed = value.toString().trimmed();
  const auto at = key(index);
  const QPersistentModelIndex cell(index);
  std::optional<QString> why;
  if (typed != column(index).text(index.row())) {
    const auto set = column(index).set; // the change may make the columns anew
    why = set(index.row(), typed);
  }
  if (why)
    refused_[at] = {typed, *why};
  else
    refused_.erase(at);
  if (cell.isValid())
    emit dataChanged(cell, cell);
  emit refused_changed();
  return !why;
}

QWidget* SheetDelegate::createEditor(QWidget* parent, const QStyleOptionViewItem& option,
                                     const QModelIndex& index) const {
  const auto* model = qobject_cast<const SheetModel*>(index.model());
  const QStringList words = model == nullptr ? QStringList() : model->choices(index);
  const QString name = index.data(Qt::AccessibleTextRole).toString();
  if (words.isEmpty()) {
    QWidget* line = QStyledItemDelegate::createEditor(parent, option, index);
    line->setObjectName("sheet_line");
    line->setAccessibleName(name);
    return line;
  }
  auto* box = new ComboBox(parent);
  box->addItems(words);
  box->setObjectName("sheet_choice");
  box->setAccessibleName(name);
  connect(box, &QComboBox::activated, this, [this, box] {
    auto* self = const_cast<SheetDelegate*>(this);
    emit self->commitData(box);
    emit self->closeEditor(box);
  });
  return box;
}

void SheetDelegate::setEditorData(QWidget* editor, const QModelIndex& index) const {
  if (auto* box = qobject_cast<QComboBox*>(editor))
    box->setCurrentIndex(std::max(box->findText(index.data(Qt::EditRole).toString()), 0));
  else
    QStyledItemDelegate::setEditorData(editor, index);
}

void SheetDelegate::setModelData(QWidget* editor, QAbstractItemModel* model, const QModelIndex& index) const {
  if (const auto* box = qobject_cast<QComboBox*>(editor))
    model->setData(index, box->currentText());
  else
    QStyledItemDelegate::setModelData(editor, model, index);
}

void SheetDelegate::initStyleOption(QStyleOptionViewItem* option, const QModelIndex& index) const {
  QStyledItemDelegate::initStyleOption(option, index);
  if (option->displayAlignment & Qt::AlignRight)
    option->text += behind_number;
}

void SheetDelegate::paint(QPainter* painter, const QStyleOptionViewItem& option,
                          const QModelIndex& index) const {
  QStyledItemDelegate::paint(painter, option, index);
  if (!index.data(refused_role).toBool())
    return;
  painter->save();
  painter->setPen(QPen(theme().stop, 1));
  painter->drawRect(option.rect.adjusted(1, 1, -2, -2));
  painter->restore();
}

Sheet::Sheet(const QString& name, const QString& title, const QString& empty, SheetModel::Columns columns,
             SheetModel::Keys keys, QWidget* parent)
    : QWidget(parent), model_(new SheetModel(std::move(columns), std::move(keys), this)),
      view_(new Table(this)), empty_(new QLabel(empty, this)), stack_(new QStackedWidget(this)),
      error_(new WrappedLabel(this)) {
  setObjectName(name);
  view_->setObjectName(name + "_table");
  view_->setAccessibleName(title);
  view_->setModel(model_);
  view_->setItemDelegate(new SheetDelegate(view_));
  view_->setSelectionMode(QAbstractItemView::SingleSelection);
  view_->setSelectionBehavior(QAbstractItemView::SelectRows);
  view_->setEditTriggers(QAbstractItemView::DoubleClicked | QAbstractItemView::AnyKeyPressed);
  view_->setTabKeyNavigation(false);
  view_->setAlternatingRowColors(true);
  view_->setWordWrap(false);
  view_->setFrameShape(QFrame::NoFrame);
  view_->setHorizontalScrollMode(QAbstractItemView::ScrollPerPixel);
  view_->verticalHeader()->hide();
  view_->verticalHeader()->setDefaultSectionSize(QFontMetrics(font()).height() + row_room_px);
  view_->horizontalHeader()->setHighlightSections(false);
  view_->installEventFilter(this);
  empty_->setObjectName(name + "_empty");
  empty_->setAlignment(Qt::AlignCenter);
  empty_->setWordWrap(true);
  empty_->setMargin(wide_gap);
  error_->setObjectName(name + "_error");
  error_->hide();
  stack_->addWidget(view_);
  stack_->addWidget(empty_);
  auto* column = new QVBoxLayout(this);
  column->setContentsMargins(0, 0, 0, 0);
  column->setSpacing(gap);
  column->addWidget(stack_, 1);
  column->addWidget(error_);
  connect(view_->selectionModel(), &QItemSelectionModel::currentChanged, this,
          [this](const QModelIndex& now, const QModelIndex& before) {
            show_complaint_of_cell();
            if (now.isValid() && now.row() != before.row())
              emit picked(now.row());
          });
  connect(view_->selectionModel(), &QItemSelectionModel::selectionChanged, this, [this] {
    if (!showing_ && !picked_row())
      emit unpicked();
  });
  connect(view_, &QTableView::clicked, this, [this](const QModelIndex& index) { emit picked(index.row()); });
  connect(model_, &SheetModel::refused_changed, this, &Sheet::show_complaint_of_cell);
  refresh();
}

void Sheet::refresh(bool fit) {
  model_->refresh();
  stack_->setCurrentWidget(model_->rowCount() == 0 ? static_cast<QWidget*>(empty_) : view_);
  if (fit)
    fit_columns();
}

void Sheet::fit_columns() {
  QHeaderView& header = *view_->horizontalHeader();
  for (int i = 0; i < model_->columnCount(); ++i) {
    const auto at = static_cast<std::size_t>(i);
    const bool drawn = at < fitted_.size() && fitted_[at] != header.sectionSize(i);
    if (drawn) // by the user, who wants it so
      continue;
    view_->resizeColumnToContents(i);
    const int width = std::min(header.sectionSize(i) + gap, model_->widest_px(i));
    header.resizeSection(i, width);
    fitted_.resize(std::max(fitted_.size(), at + 1));
    fitted_[at] = width;
  }
}

void Sheet::show_picked(std::optional<int> row) {
  const QSignalBlocker quiet(this);
  const QScopedValueRollback showing(showing_, true);
  if (!row || *row >= model_->rowCount()) {
    view_->clearSelection();
    view_->setCurrentIndex({});
    return;
  }
  if (view_->currentIndex().row() != *row)
    view_->setCurrentIndex(model_->index(*row, std::max(view_->currentIndex().column(), 0)));
  view_->selectionModel()->select(model_->index(*row, 0),
                                  QItemSelectionModel::ClearAndSelect | QItemSelectionModel::Rows);
}

std::optional<int> Sheet::picked_row() const {
  const QModelIndexList rows = view_->selectionModel()->selectedRows();
  return rows.isEmpty() ? std::nullopt : std::optional(rows.front().row());
}

void Sheet::show_complaint_of_cell() {
  QModelIndex cell = view_->currentIndex();
  if (model_->complaint(cell).isEmpty())
    cell = model_->first_refused();
  const QString why = model_->complaint(cell);
  show_complaint(
      *error_,
      why.isEmpty()
          ? QString()
          : tr("%1, %2: %3")
                .arg(model_->index(cell.row(), 0).data().toString(),
                     model_->headerData(cell.column(), Qt::Horizontal, Qt::DisplayRole).toString().trimmed(),
                     why));
}

bool Sheet::eventFilter(QObject* watched, QEvent* event) {
  if (watched == view_ && event->type() == QEvent::KeyPress) {
    const QModelIndex cell = view_->currentIndex();
    // A key that the editor of a cell has no use for comes here too.
    if (static_cast<Table*>(view_)->is_editing())
      return QWidget::eventFilter(watched, event);
    switch (static_cast<QKeyEvent*>(event)->key()) {
    case Qt::Key_Return:
    case Qt::Key_Enter:
      if (cell.isValid() && (cell.flags() & Qt::ItemIsEditable))
        view_->edit(cell);
      return true;
    case Qt::Key_Escape:
      model_->revert(cell);
      return true;
    default:
      break;
    }
  }
  return QWidget::eventFilter(watched, event);
}

} // namespace bellmouth::ui

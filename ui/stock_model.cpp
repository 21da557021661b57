// SPDX-License-Identifier: GPL-3.0-or-later
#include "stock_model.hpp"

#include "quantity_edit.hpp"
#include "sheet.hpp"
#include "stock_text.hpp"
#include "theme.hpp"

#include <algorithm>
#include <array>
#include <unordered_set>

namespace bellmouth::ui {

namespace {

using build::StockItem;

bool is_number(int column) {
  switch (column) {
  case StockModel::price:
  case StockModel::pack:
  case StockModel::owned:
  case StockModel::paid:
  case StockModel::used:
    return true;
  default:
    return false;
  }
}

Qt::Alignment alignment(int column) {
  return (is_number(column) ? Qt::AlignRight : Qt::AlignLeft) | Qt::AlignVCenter;
}

/// The sizes in the order in which one item is larger than another; what is not stated comes first.
std::array<double, 7> size_rank(const StockItem& item) {
  const auto main = item.outer_diameter_m ? item.outer_diameter_m
                    : item.bore_m         ? item.bore_m
                                          : item.clamp_min_m;
  const auto second = item.bore_out_m ? item.bore_out_m : item.clamp_max_m;
  const auto rank = [](const std::optional<double>& size) { return size.value_or(-1); };
  return {rank(main),          rank(second),        rank(item.wall_m),  rank(item.angle_rad),
          rank(item.radius_m), rank(item.leg_in_m), rank(item.length_m)};
}

std::array<double, 3> rating_rank(const StockItem& item) {
  return {item.max_temperature_K.value_or(-1), item.max_gauge_Pa.value_or(-1), item.torque_Nm.value_or(-1)};
}

std::int64_t minor(const std::optional<quantity::Money>& money) {
  return money ? money->minor : -1;
}

} // namespace

StockModel::StockModel(Session& session, QObject* parent)
    : QAbstractTableModel(parent), session_(session), units_(units()), decimal_sign_(decimal_sign()) {
  refresh();
}

StockModel::Row StockModel::make_row(const StockItem& item) {
  Row row;
  row.name = stock_title(item).toCaseFolded();
  row.supplier = QString::fromStdString(item.supplier).toCaseFolded();
  row.haystack = searchable(QStringList{stock_kind_word(item.kind), stock_title(item),
                                        QString::fromStdString(item.id.text), stock_sizes(item),
                                        stock_material_words().at(static_cast<int>(item.material)),
                                        stock_rating(item), QString::fromStdString(item.supplier)}
                                .join('\n'));
  return row;
}

void StockModel::refresh() {
  const bool other_words = units_ != units() || decimal_sign_ != decimal_sign();
  units_ = units();
  decimal_sign_ = decimal_sign();
  take_stock(session_.build().stock, other_words);
  take_facts();
  forget_refused_rows();
  if (other_words)
    emit headerDataChanged(Qt::Horizontal, 0, columns - 1);
}

/// Only what stands between that with which both begin and that with which both end has changed.
void StockModel::take_stock(const build::Shared<std::vector<StockItem>>& next, bool anew) {
  if (&*next == &*stock_ && !anew)
    return;
  const std::vector<StockItem>& before = *stock_;
  const auto [old_from, new_from] = std::ranges::mismatch(before, *next);
  auto old_to = before.end();
  auto new_to = next->end();
  while (old_to != old_from && new_to != new_from && *(old_to - 1) == *(new_to - 1)) {
    --old_to;
    --new_to;
  }
  const auto from = static_cast<int>(old_from - before.begin());
  const auto gone = static_cast<int>(old_to - old_from), come = static_cast<int>(new_to - new_from);
  std::vector<Row> made;
  made.reserve(static_cast<std::size_t>(come));
  std::transform(new_from, new_to, std::back_inserter(made), make_row);
  const auto at = rows_.begin() + from;
  if (gone == come) {
    std::ranges::move(made, at);
    stock_ = next;
    if (come > 0)
      emit dataChanged(index(from, 0), index(from + come - 1, columns - 1));
  } else if (come == 0) {
    beginRemoveRows({}, from, from + gone - 1);
    rows_.erase(at, at + gone);
    stock_ = next;
    endRemoveRows();
  } else if (gone == 0) {
    beginInsertRows({}, from, from + come - 1);
    rows_.insert(at, std::make_move_iterator(made.begin()), std::make_move_iterator(made.end()));
    stock_ = next;
    endInsertRows();
  } else {
    beginResetModel();
    const auto behind = rows_.erase(at, at + gone);
    rows_.insert(behind, std::make_move_iterator(made.begin()), std::make_move_iterator(made.end()));
    stock_ = next;
    endResetModel();
  }
  if (anew) {
    std::ranges::transform(*stock_, rows_.begin(), make_row);
    if (!rows_.empty())
      emit dataChanged(index(0, 0), index(rowCount() - 1, columns - 1));
  }
}

void StockModel::take_facts() {
  const build::Build& build = session_.build();
  std::unordered_map<std::string_view, const build::Owned*> owned_by_id;
  for (const build::Owned& each : build.owned)
    owned_by_id[each.stock.text] = &each;
  StockUses uses = stock_uses(*build.find(session_.option()), session_.evaluation().lists);
  int first = rowCount(), last = -1;
  for (int i = 0; i < rowCount(); ++i) {
    Row& row = rows_[static_cast<std::size_t>(i)];
    const std::string& id = item(i).id.text;
    const auto entry = owned_by_id.find(id);
    const double quantity = entry == owned_by_id.end() ? 0 : entry->second->quantity;
    const auto money = entry == owned_by_id.end() ? std::nullopt : entry->second->paid;
    const auto found = uses.find(id);
    StockUse use = found == uses.end() ? StockUse{} : std::move(found->second);
    const bool differs = row.owned != quantity || row.paid != money || row.use.count != use.count;
    row.owned = quantity;
    row.paid = money;
    row.use = std::move(use);
    if (!differs)
      continue;
    first = std::min(first, i);
    last = i;
  }
  if (last >= 0)
    emit dataChanged(index(first, owned), index(last, used));
}

void StockModel::forget_refused_rows() {
  if (refused_.empty())
    return;
  std::unordered_set<std::string_view> ids;
  for (const StockItem& each : *stock_)
    ids.insert(each.id.text);
  std::erase_if(refused_, [&](const auto& entry) { return !ids.contains(entry.first.first); });
  emit refused_changed();
}

const StockItem& StockModel::item(int row) const {
  return stock_->at(static_cast<std::size_t>(row));
}
std::optional<int> StockModel::row_of(const build::StockId& id) const {
  const auto found = std::ranges::find(*stock_, id, &StockItem::id);
  return found == stock_->end() ? std::nullopt : std::optional(static_cast<int>(found - stock_->begin()));
}
double StockModel::owned_of(int row) const {
  return rows_.at(static_cast<std::size_t>(row)).owned;
}
const StockUse& StockModel::use_of(int row) const {
  return rows_.at(static_cast<std::size_t>(row)).use;
}
const QString& StockModel::haystack(int row) const {
  return rows_.at(static_cast<std::size_t>(row)).haystack;
}

bool StockModel::comes_before(int column, int left, int right) const {
  const StockItem &one = item(left), &other = item(right);
  const Row &row = rows_[static_cast<std::size_t>(left)], &other_row = rows_[static_cast<std::size_t>(right)];
  switch (column) {
  case kind:
    return one.kind < other.kind;
  case name:
    return row.name < other_row.name;
  case sizes:
    return size_rank(one) < size_rank(other);
  case material:
    return build::material_name(one.material) < build::material_name(other.material);
  case rating:
    return rating_rank(one) < rating_rank(other);
  case price:
    return one.price.minor < other.price.minor;
  case per:
    return one.per < other.per;
  case pack:
    return one.pack < other.pack;
  case supplier:
    return row.supplier < other_row.supplier;
  case owned:
    return row.owned < other_row.owned;
  case paid:
    return minor(row.paid) < minor(other_row.paid);
  case used:
    return row.use.count < other_row.use.count;
  default:
    return false;
  }
}

int StockModel::rowCount(const QModelIndex& parent) const {
  return parent.isValid() ? 0 : static_cast<int>(rows_.size());
}
int StockModel::columnCount(const QModelIndex& parent) const {
  return parent.isValid() ? 0 : columns;
}

QString StockModel::text(int row, int column) const {
  const StockItem& of = item(row);
  const Row& kept = rows_[static_cast<std::size_t>(row)];
  switch (column) {
  case kind:
    return stock_kind_word(of.kind);
  case name:
    return stock_title(of);
  case sizes:
    return stock_sizes(of);
  case material:
    return stock_material_words().at(static_cast<int>(of.material));
  case rating:
    return stock_rating(of);
  case price:
    return show_money(of.price);
  case per:
    return of.per == build::Per::metre ? tr("metre") : of.pack > 1 ? tr("pack") : tr("piece");
  case pack:
    return of.per == build::Per::metre ? QString() : QString::number(of.pack);
  case supplier:
    return QString::fromStdString(of.supplier);
  case owned:
    return owned_text(of.per, kept.owned);
  case paid:
    return kept.paid ? show_money(*kept.paid) : QString();
  case used:
    return kept.use.count == 0 ? QString() : QString::number(kept.use.count);
  default:
    return {};
  }
}

QString StockModel::tip(int row, int column) const {
  const StockItem& of = item(row);
  switch (column) {
  case owned:
    return of.per == build::Per::metre ? tr("Type what you have, in one length: “1.2 m”")
                                       : tr("Type how many pieces you have");
  case paid:
    return tr("Type what you paid for all that is owned; empty: not counted as spent");
  case used:
    return of.kind == build::StockKind::clamp ? tr("Clamps of this size in the option shown")
                                              : tr("Pieces of the option shown that are bought as this");
  default:
    return QString("%1, %2 (%3)\n%4")
        .arg(stock_title(of), stock_kind_word(of.kind), QString::fromStdString(of.id.text), stock_sizes(of));
  }
}

StockModel::Cell StockModel::cell(const QModelIndex& index) const {
  return {item(index.row()).id.text, index.column()};
}
const StockModel::Refused* StockModel::refused(const QModelIndex& index) const {
  if (refused_.empty() || !index.isValid())
    return nullptr;
  const auto found = refused_.find(cell(index));
  return found == refused_.end() ? nullptr : &found->second;
}
QString StockModel::complaint(const QModelIndex& index) const {
  const Refused* here = refused(index);
  return here == nullptr ? QString() : here->why;
}
void StockModel::revert(const QModelIndex& index) {
  if (refused(index) == nullptr)
    return;
  refused_.erase(cell(index));
  emit dataChanged(index, index);
  emit refused_changed();
}

QVariant StockModel::data(const QModelIndex& index, int role) const {
  if (!index.isValid())
    return {};
  const Refused* wrong = refused(index);
  switch (role) {
  case Qt::DisplayRole:
  case Qt::EditRole:
    return wrong != nullptr ? wrong->text : text(index.row(), index.column());
  case Qt::ToolTipRole:
    return wrong != nullptr ? wrong->why : tip(index.row(), index.column());
  case Qt::AccessibleTextRole:
    return QString("%1, %2: %3")
        .arg(stock_title(item(index.row())),
             headerData(index.column(), Qt::Horizontal, Qt::DisplayRole).toString().trimmed(),
             text(index.row(), index.column()));
  case Qt::AccessibleDescriptionRole:
    return wrong != nullptr ? QVariant(wrong->why) : QVariant();
  case Qt::ForegroundRole:
    return wrong != nullptr ? QVariant(theme().stop) : QVariant();
  case Qt::BackgroundRole: {
    if (!(flags(index) & Qt::ItemIsEditable))
      return {};
    QColor tint = theme().accent;
    tint.setAlphaF(0.12F);
    return tint;
  }
  case Qt::TextAlignmentRole:
    return QVariant::fromValue(alignment(index.column()));
  case refused_role:
    return wrong != nullptr;
  default:
    return {};
  }
}

QVariant StockModel::headerData(int section, Qt::Orientation orientation, int role) const {
  if (orientation != Qt::Horizontal || section < 0 || section >= columns)
    return QAbstractTableModel::headerData(section, orientation, role);
  struct Head {
    QString title, tip;
  };
  const auto head = [&]() -> Head {
    const QString unit = QString::fromUtf8(shown_unit(quantity::Dimension::length).data());
    switch (section) {
    case kind:
      return {tr("Kind"), tr("What it is")};
    case name:
      return {tr("What"), tr("Its name, or its id where it has none")};
    case sizes:
      return {tr("Sizes, %1").arg(unit), tr("⌀ outside diameter × wall; R centre-line radius")};
    case material:
      return {tr("Material"), tr("What it is made of")};
    case rating:
      return {tr("Rating"),
              tr("Greatest temperature and pressure above ambient, plies, lining; of clamps the "
                 "type and the torque")};
    case price:
      return {tr("Price"), tr("Of a pack, a piece or a metre")};
    case per:
      return {tr("Per"), tr("What the price is for")};
    case pack:
      return {tr("Pack"), tr("Pieces for the price")};
    case supplier:
      return {tr("Supplier"), tr("Your own label of who sells it")};
    case owned:
      return {tr("Owned"), tr("What you have already; typed here")};
    case paid:
      return {tr("Paid"), tr("What you paid for all that is owned; typed here")};
    default:
      return {tr("Used"), tr("How often the option shown uses it")};
    }
  };
  switch (role) {
  case Qt::DisplayRole:
    return is_number(section) ? head().title + behind_number : head().title;
  case Qt::ToolTipRole:
    return head().tip;
  case Qt::TextAlignmentRole:
    return QVariant::fromValue(alignment(section));
  default:
    return {};
  }
}

Qt::ItemFlags StockModel::flags(const QModelIndex& index) const {
  Qt::ItemFlags plain = QAbstractTableModel::flags(index);
  if (index.isValid() && (index.column() == owned || index.column() == paid))
    plain |= Qt::ItemIsEditable;
  return plain;
}

bool StockModel::setData(const QModelIndex& index, const QVariant& value, int role) {
  if (role != Qt::EditRole || !(flags(index) & Qt::ItemIsEditable))
    return false;
  const QString typed = value.toString().trimmed();
  const Cell at = cell(index);
  const QPersistentModelIndex place(index);
  std::optional<QString> why;
  if (typed != text(index.row(), index.column()))
    why = index.column() == owned ? set_owned(index.row(), typed) : set_paid(index.row(), typed);
  if (why)
    refused_[at] = {typed, *why};
  else
    refused_.erase(at);
  if (place.isValid())
    emit dataChanged(place, place);
  emit refused_changed();
  return !why;
}

std::optional<QString> StockModel::set_owned(int row, const QString& typed) {
  const StockItem& of = item(row);
  const auto read = read_owned(of.per, typed);
  if (!read)
    return ui::complaint(read.error());
  const auto error = session_.apply(build::with_owned(session_.build(), of.id, *read),
                                    tr("Change how much is owned of %1").arg(stock_title(of)));
  return error ? std::optional(ui::complaint(*error)) : std::nullopt;
}

std::optional<QString> StockModel::set_paid(int row, const QString& typed) {
  const StockItem& of = item(row);
  build::Owned entry{of.id, owned_of(row), std::nullopt};
  if (entry.quantity == 0)
    return tr("found nothing owned; accepted: how much is owned first, then what was paid for it");
  if (!typed.isEmpty()) {
    const auto read =
        quantity::read_money(typed.toStdString(), session_.build().budget.currency, decimal_sign());
    if (!read)
      return ui::complaint(read.error());
    entry.paid = *read;
  }
  const auto error = session_.apply(build::with_owned(session_.build(), std::move(entry)),
                                    tr("Change what was paid for %1").arg(stock_title(of)));
  return error ? std::optional(ui::complaint(*error)) : std::nullopt;
}

StockOrder::StockOrder(StockModel& model, QObject* parent) : QSortFilterProxyModel(parent), model_(model) {
  setSourceModel(&model);
}

void StockOrder::choose(StockChoice choice) {
  if (choice == choice_)
    return;
  choice_ = std::move(choice);
  invalidateFilter();
}

bool StockOrder::lessThan(const QModelIndex& left, const QModelIndex& right) const {
  return model_.comes_before(left.column(), left.row(), right.row());
}

bool StockOrder::filterAcceptsRow(int row, const QModelIndex& /*parent*/) const {
  const StockItem& item = model_.item(row);
  return (!choice_.kind || item.kind == *choice_.kind) &&
         (!choice_.supplier || item.supplier == *choice_.supplier) &&
         (!choice_.owned || model_.owned_of(row) > 0) && (!choice_.used || model_.use_of(row).count > 0) &&
         std::ranges::all_of(choice_.words,
                             [&](const QString& word) { return model_.haystack(row).contains(word); });
}

} // namespace bellmouth::ui

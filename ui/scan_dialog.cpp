// SPDX-License-Identifier: GPL-3.0-or-later
#include "scan_dialog.hpp"

#include "bay_text.hpp"
#include "fact_list.hpp"
#include "form.hpp"
#include "theme.hpp"
#include "units.hpp"

#include <QButtonGroup>
#include <QFileInfo>
#include <QGridLayout>
#include <QProgressBar>
#include <QPushButton>
#include <QRadioButton>
#include <QScrollArea>
#include <QStackedWidget>

#include <array>

namespace bellmouth::ui {

namespace {

QVBoxLayout* column_in(QWidget* widget) {
  auto* column = new QVBoxLayout(widget);
  column->setContentsMargins(0, 0, 0, 0);
  column->setSpacing(gap);
  return column;
}

QString number_text(double number) {
  constexpr int digits = 6;
  return QString::fromStdString(
      quantity::write(quantity::Dimension::ratio, number, "", digits, decimal_sign()));
}

} // namespace

ScanDialog::ScanDialog(Session& session, AskFile ask_file, QWidget* parent)
    : QDialog(parent), session_(session), ask_file_(std::move(ask_file)),
      choose_(new QPushButton(tr("Choose a &file…"), this)), cancel_(new QPushButton(tr("&Stop"), this)),
      add_(new QPushButton(tr("&Add to the bay"), this)), close_(new QPushButton(tr("&Close"), this)),
      file_name_(new QLabel(this)), facts_(new QLabel(this)), progress_(new QProgressBar(this)),
      error_(new WrappedLabel(this)), state_(new WrappedLabel(this)), rest_(new QWidget(this)),
      units_(new QButtonGroup(this)), way_(new ComboBox(this)), class_(new ComboBox(this)),
      pages_(new QStackedWidget(this)), name_(line("scan_name", tr("Name of the scan"), tr("bay"))),
      origin_(nullptr), marks_{}, turns_{} {
  setObjectName("scan_dialog");
  setWindowTitle(tr("Scan of the bay"));
  error_->setObjectName("scan_error");
  error_->hide();
  state_->setObjectName("scan_state");
  facts_->setObjectName("scan_facts");
  facts_->setWordWrap(true);
  class_->addItems(class_words());
  class_->setObjectName("scan_class");
  class_->setAccessibleName(tr("Class of the scan"));
  way_->addItems({tr("by three points of it"), tr("by its origin and how it is turned")});
  way_->setObjectName("scan_way");
  way_->setAccessibleName(tr("How it is placed"));
  pages_->addWidget(points_page());
  pages_->addWidget(origin_page());
  auto* names = new QHBoxLayout;
  names->addWidget(new QLabel(tr("Name"), this));
  names->addWidget(name_, 1);
  names->addWidget(new QLabel(tr("Class"), this));
  names->addWidget(class_);
  auto* way_row = new QHBoxLayout;
  way_row->addWidget(new QLabel(tr("Placed"), this));
  way_row->addWidget(way_, 1);
  auto* rest = column_in(rest_);
  rest->addWidget(facts_);
  rest->addWidget(unit_box());
  rest->addWidget(heading(tr("Where it lies"), this));
  rest->addLayout(way_row);
  rest->addWidget(pages_);
  rest->addSpacing(gap);
  rest->addLayout(names);
  rest->addWidget(state_);
  add_->setObjectName("scan_add");
  close_->setObjectName("scan_close");
  for (QPushButton* button : {choose_, cancel_, close_})
    button->setAutoDefault(false);
  auto* foot = new QHBoxLayout;
  foot->addStretch(1);
  foot->addWidget(add_);
  foot->addWidget(close_);
  auto* all = new QVBoxLayout(this);
  all->setContentsMargins(wide_gap, wide_gap, wide_gap, wide_gap);
  all->setSpacing(gap);
  all->addWidget(file_row());
  all->addWidget(error_);
  all->addWidget(rest_);
  all->addStretch(1);
  all->addLayout(foot);
  constexpr QSize comfortable(800, 430);
  resize(comfortable);

  connect(choose_, &QPushButton::clicked, this, [this] {
    if (const QString file = ask_file_(this); !file.isEmpty())
      load(file);
  });
  connect(cancel_, &QPushButton::clicked, this, [this] { job_.cancel(); });
  connect(add_, &QPushButton::clicked, this, &ScanDialog::add);
  connect(close_, &QPushButton::clicked, this, &QDialog::reject);
  connect(way_, &QComboBox::currentIndexChanged, this, [this](int index) {
    pages_->setCurrentIndex(index);
    refresh();
  });
  connect(units_, &QButtonGroup::idToggled, this, [this] { refresh(); });
  connect(&job_, &ScanJob::progressed, this,
          [this](double share) { progress_->setValue(static_cast<int>(share * progress_->maximum())); });
  connect(&job_, &ScanJob::finished, this, &ScanDialog::take);
  refresh();
}

QLineEdit* ScanDialog::line(const QString& name, const QString& spoken, const QString& placeholder) {
  auto* made = new QLineEdit(this);
  made->setObjectName(name);
  made->setAccessibleName(spoken);
  made->setPlaceholderText(placeholder);
  connect(made, &QLineEdit::textChanged, this, [this] { refresh(); });
  return made;
}

QWidget* ScanDialog::file_row() {
  auto* box = new QWidget(this);
  choose_->setObjectName("scan_choose");
  cancel_->setObjectName("scan_cancel");
  cancel_->setToolTip(tr("Stop reading"));
  file_name_->setObjectName("scan_file");
  file_name_->setText(tr("A mesh that a scanner made: STL, OBJ, PLY or glTF"));
  progress_->setObjectName("scan_progress");
  progress_->setAccessibleName(tr("How much is read"));
  progress_->setRange(0, 100);
  progress_->setFixedWidth(160);
  auto* row = new QHBoxLayout(box);
  row->setContentsMargins(0, 0, 0, 0);
  row->setSpacing(gap);
  row->addWidget(choose_);
  row->addWidget(file_name_, 1);
  row->addWidget(progress_);
  row->addWidget(cancel_);
  return box;
}

QWidget* ScanDialog::unit_box() {
  auto* box = new QWidget(this);
  auto* grid = new QGridLayout(box);
  grid->setContentsMargins(0, 0, 0, 0);
  grid->setSpacing(gap);
  grid->addWidget(heading(tr("What its numbers count: which size is right?"), this), 0, 0, 1, 2);
  const QStringList words = unit_words();
  for (int i = 0; i < words.size(); ++i) {
    auto* button = new QRadioButton(box);
    button->setObjectName(QString("scan_unit_%1").arg(i));
    units_->addButton(button, i);
    grid->addWidget(button, 1 + i / 2, i % 2);
  }
  return box;
}

QWidget* ScanDialog::points_page() {
  auto* page = new QWidget(this);
  auto* grid = new QGridLayout(page);
  grid->setContentsMargins(0, 0, 0, 0);
  grid->setSpacing(gap);
  const QStringList titles{tr("Point"), tr("In the file: three numbers, or # and its number"),
                           tr("In the bay")};
  for (int i = 0; i < titles.size(); ++i)
    grid->addWidget(new QLabel(titles[i], page), 0, i);
  static constexpr const char* examples[] = {QT_TR_NOOP("strut top, left"), QT_TR_NOOP("strut top, right"),
                                             QT_TR_NOOP("bonnet latch")};
  for (int i = 0; i < 3; ++i) {
    const QString name = QString("scan_point_%1_").arg(i);
    Mark& mark = marks_[static_cast<std::size_t>(i)];
    mark.name = line(name + "name", tr("Name of point %1").arg(i + 1), tr(examples[i]));
    mark.in_file =
        line(name + "in_file", tr("Point %1 in the file").arg(i + 1), tr("such as 12.5 40 -3, or #17"));
    mark.in_bay =
        line(name + "in_bay", tr("Point %1 in the bay").arg(i + 1), tr("such as 300 -150 350, or in words"));
    grid->addWidget(mark.name, i + 1, 0);
    grid->addWidget(mark.in_file, i + 1, 1);
    grid->addWidget(mark.in_bay, i + 1, 2);
  }
  grid->setColumnStretch(0, 2);
  grid->setColumnStretch(1, 3);
  grid->setColumnStretch(2, 4);
  return page;
}

QWidget* ScanDialog::origin_page() {
  auto* page = new QWidget(this);
  auto* form = new QFormLayout(page);
  form->setContentsMargins(0, 0, 0, 0);
  origin_ = line("scan_origin", tr("Where the origin of the file lies in the bay"),
                 tr("such as 300 -150 350, or in words"));
  form->addRow(tr("Origin of the file"), origin_);
  const std::array<std::pair<const char*, QString>, 3> names{{{"scan_turned_left", tr("Turned left")},
                                                              {"scan_nose_up", tr("Nose up")},
                                                              {"scan_over_right", tr("Over to the right")}}};
  for (std::size_t i = 0; i < names.size(); ++i) {
    turns_[i] = new QuantityEdit(quantity_of(quantity::Dimension::angle), page);
    turns_[i]->set_names(names[i].first, names[i].second);
    turns_[i]->set_value(0.0);
    connect(turns_[i], &QuantityEdit::edited, this, [this] { refresh(); });
    form->addRow(names[i].second, turns_[i]);
  }
  return page;
}

void ScanDialog::load(const QString& file) {
  if (job_.running())
    return;
  file_ = file;
  show_complaint(*error_, {});
  progress_->setValue(0);
  job_.start(file);
  refresh();
}

void ScanDialog::take(const ScanOutcome& outcome) {
  if (*outcome) {
    scan_ = **outcome;
    show_sizes();
    if (name_->text().isEmpty())
      name_->setText(QFileInfo(file_).completeBaseName());
  } else if (!job_.cancelled()) {
    show_complaint(*error_, QString::fromStdString(outcome->error().text()));
  }
  refresh();
  emit loaded();
}

void ScanDialog::show_sizes() {
  QStringList words{tr("%1 triangles, %2 points.")
                        .arg(show_count(static_cast<double>(scan_->surface.triangles.size())),
                             show_count(static_cast<double>(scan_->surface.points.size())))};
  for (const std::string& remark : scan_->remarks)
    words << QString::fromStdString(remark) + '.';
  facts_->setText(words.join(' '));
  const mesh::Extent& extent = scan_->tree.extent();
  const QStringList names = unit_words();
  for (int i = 0; i < names.size(); ++i) {
    const double metres = mesh::metres(static_cast<mesh::Unit>(i));
    const auto size = [&](std::size_t axis) {
      constexpr double large_m = 20;
      const double size_m = (extent.high[axis] - extent.low[axis]) * metres;
      return size_m < large_m ? show_length(size_m)
                              : QString::fromStdString(quantity::write(quantity::Dimension::length, size_m,
                                                                       "m", 3, decimal_sign()));
    };
    units_->button(i)->setText(tr("%1: %2 × %3 × %4").arg(names[i], size(0), size(1), size(2)));
  }
}

std::optional<mesh::Unit> ScanDialog::unit() const {
  const int id = units_->checkedId();
  return id < 0 ? std::nullopt : std::optional(static_cast<mesh::Unit>(id));
}

Result<mesh::Point> ScanDialog::point_in_file(const QString& typed) const {
  const auto refused = [&](const QString& accepted) {
    Error error;
    error.found = '"' + typed.trimmed().toStdString() + '"';
    error.accepted = accepted.toStdString();
    return fail(std::move(error));
  };
  const QString text = typed.trimmed();
  if (text.startsWith('#')) {
    bool number = false;
    const qulonglong at = text.mid(1).trimmed().toULongLong(&number);
    const std::size_t count = scan_->surface.points.size();
    if (!number || at < 1 || at > count)
      return refused(tr("# and a number from 1 to %1").arg(count));
    return scan_->surface.points[at - 1];
  }
  mesh::Point point{};
  const QStringList parts = QString(text).replace(';', ' ').simplified().split(' ');
  bool good = parts.size() == 3;
  for (int i = 0; good && i < 3; ++i) {
    const auto read = quantity::read(quantity::Dimension::ratio, parts[i].toStdString(),
                                     {.default_unit = "", .decimal = decimal_sign(), .ambient_Pa = {}});
    good = read.has_value();
    point[static_cast<std::size_t>(i)] = read.value_or(0);
  }
  if (!good)
    return refused(tr("three numbers as the file counts, such as %1 40 -3, or # and the number of a point")
                       .arg(number_text(12.5)));
  return point;
}

std::optional<ScanDialog::Lie> ScanDialog::lie(QString& wrong) const {
  const auto unit_now = unit();
  if (!unit_now) {
    wrong = tr("Choose the unit first: a file does not say it.");
    return std::nullopt;
  }
  const auto place = [&](const QLineEdit& field) -> std::optional<build::Vector> {
    if (field.text().trimmed().isEmpty()) {
      wrong = tr("%1 is not said yet.").arg(field.accessibleName());
      return std::nullopt;
    }
    const auto read = bay::place_of(session_.build(), field.text().toStdString(), wording());
    if (!read) {
      wrong = QString("%1: %2").arg(field.accessibleName(), complaint(read.error()));
      return std::nullopt;
    }
    return *read;
  };
  if (way_->currentIndex() == 1) {
    const auto at = place(*origin_);
    if (!at)
      return std::nullopt;
    const bay::Attitude attitude{*turns_[0]->value(), *turns_[1]->value(), *turns_[2]->value()};
    return Lie{{mesh::metres(*unit_now), bay::axes_of(attitude), *at}, std::nullopt};
  }
  std::array<mesh::Point, 3> in_file{}, in_bay{};
  for (std::size_t i = 0; i < 3; ++i) {
    const QLineEdit& field = *marks_[i].in_file;
    if (field.text().trimmed().isEmpty()) {
      wrong = tr("%1 is not said yet.").arg(field.accessibleName());
      return std::nullopt;
    }
    const auto read = point_in_file(field.text());
    if (!read) {
      wrong = QString("%1: %2").arg(field.accessibleName(), complaint(read.error()));
      return std::nullopt;
    }
    const auto at = place(*marks_[i].in_bay);
    if (!at)
      return std::nullopt;
    in_file[i] = *read;
    in_bay[i] = *at;
  }
  const auto fitted = mesh::placed_by(in_file, in_bay, *unit_now);
  if (!fitted) {
    wrong = complaint(fitted.error());
    return std::nullopt;
  }
  return Lie{fitted->placement, fitted->largest_miss_m};
}

void ScanDialog::refresh() {
  if (turns_.back() == nullptr) // still being made
    return;
  const bool reading = job_.running();
  progress_->setVisible(reading);
  cancel_->setVisible(reading);
  choose_->setEnabled(!reading);
  if (!file_.isEmpty())
    file_name_->setText(QFileInfo(file_).fileName());
  rest_->setVisible(scan_ != nullptr);
  if (scan_ == nullptr || reading) {
    add_->setEnabled(false);
    return;
  }
  QString wrong;
  const auto lies = lie(wrong);
  add_->setEnabled(lies.has_value());
  add_->setDefault(lies.has_value());
  state_->set_text(!lies ? wrong
                   : !lies->miss_m
                       ? tr("Ready.")
                       : tr("The three points agree within %1: that is how far they miss at most.")
                             .arg(show_length(*lies->miss_m)));
}

void ScanDialog::add() {
  QString wrong;
  const auto lies = lie(wrong);
  if (!lies)
    return;
  const QString folder = session_.file().isEmpty() ? QString() : QFileInfo(session_.file()).absolutePath();
  build::KeepOut keep_out;
  keep_out.name = name_->text().trimmed().toStdString();
  keep_out.keep_out_class = static_cast<build::KeepOutClass>(class_->currentIndex());
  keep_out.shape = build::Scan{
      .file = build::file_name_from(folder.toStdString(), QFileInfo(file_).absoluteFilePath().toStdString()),
      .unit = *unit(),
      .origin_m = lies->placement.origin_m,
      .axes = lies->placement.axes,
      .digest = scan_->digest,
      .loaded = scan_,
      .problem = {}};
  if (lies->miss_m) {
    QStringList names;
    for (const Mark& mark : marks_)
      if (!mark.name->text().trimmed().isEmpty())
        names << mark.name->text().trimmed();
    keep_out.survey = build::Survey{
        .measured = true,
        .tolerance_m = *lies->miss_m,
        .note = names.isEmpty() ? std::string()
                                : tr("placed by %1").arg(names.join(", ")).left(200).toStdString()};
  }
  const std::size_t at = session_.build().keep_outs.size();
  const QString what = tr("Add scan %1").arg(QFileInfo(file_).fileName());
  if (const auto error =
          session_.apply(build::with_keep_out_inserted(session_.build(), at, std::move(keep_out)), what)) {
    state_->set_text(complaint(*error));
    return;
  }
  session_.select(PickedKeepOut{at});
  accept();
}

} // namespace bellmouth::ui

// SPDX-License-Identifier: GPL-3.0-or-later
#include "photograph_dialog.hpp"

#include "bay_text.hpp"
#include "form.hpp"
#include "photograph_list.hpp"
#include "theme.hpp"
#include "units.hpp"

#include <QFileInfo>
#include <QGridLayout>
#include <QImageReader>
#include <QMouseEvent>
#include <QPainter>
#include <QPushButton>
#include <QRadioButton>

namespace bellmouth::ui {

PictureView::PictureView(QWidget* parent) : QWidget(parent) {
  setSizePolicy(QSizePolicy::Expanding, QSizePolicy::Expanding);
  setMinimumSize(240, 160);
  setCursor(Qt::CrossCursor);
}

void PictureView::set_picture(QPixmap picture) {
  picture_ = std::move(picture);
  update();
}
void PictureView::set_mark(std::size_t which, std::optional<QPointF> at_px) {
  marks_.at(which) = at_px;
  update();
}
QSize PictureView::sizeHint() const {
  return {560, 380};
}

QRectF PictureView::place() const {
  const QSizeF size = QSizeF(picture_.size()).scaled(QSizeF(this->size()), Qt::KeepAspectRatio);
  return {QPointF((width() - size.width()) / 2, (height() - size.height()) / 2), size};
}
QPointF PictureView::on_widget(const QPointF& at_px) const {
  const QRectF at = place();
  return {at.left() + at_px.x() * at.width() / picture_.width(),
          at.top() + at_px.y() * at.height() / picture_.height()};
}

void PictureView::paintEvent(QPaintEvent*) {
  QPainter painter(this);
  painter.fillRect(rect(), theme().panel);
  if (picture_.isNull()) {
    painter.setPen(theme().muted_text);
    painter.drawText(
        rect().adjusted(wide_gap, 0, -wide_gap, 0), Qt::AlignCenter | Qt::TextWordWrap,
        tr("Take it from far away and square to the bay, with two things in it whose places you know."));
    return;
  }
  painter.setRenderHint(QPainter::SmoothPixmapTransform);
  painter.setRenderHint(QPainter::Antialiasing);
  painter.drawPixmap(place(), picture_, QRectF(picture_.rect()));
  constexpr double arm = 9;
  for (std::size_t i = 0; i < marks_.size(); ++i) {
    if (!marks_[i])
      continue;
    const QPointF at = on_widget(*marks_[i]);
    // A light line on a dark one shows on any picture.
    for (const auto& [colour, width] :
         {std::pair(QColor(Qt::black), 3.0), std::pair(QColor(Qt::white), 1.0)}) {
      painter.setPen(QPen(colour, width));
      painter.drawLine(at - QPointF(arm, 0), at + QPointF(arm, 0));
      painter.drawLine(at - QPointF(0, arm), at + QPointF(0, arm));
    }
    painter.setPen(Qt::white);
    const QRectF label(at + QPointF(4, 4), QSizeF(16, 16));
    painter.fillRect(label, QColor(0, 0, 0, 170));
    painter.drawText(label, Qt::AlignCenter, QString::number(i + 1));
  }
}

void PictureView::mousePressEvent(QMouseEvent* event) {
  const QRectF at = place();
  if (picture_.isNull() || event->button() != Qt::LeftButton || !at.contains(event->position()))
    return;
  emit clicked({(event->position().x() - at.left()) * picture_.width() / at.width(),
                (event->position().y() - at.top()) * picture_.height() / at.height()});
}

PhotographDialog::PhotographDialog(Session& session, AskFile ask_file, QWidget* parent)
    : QDialog(parent), session_(session), ask_file_(std::move(ask_file)),
      choose_(new QPushButton(tr("Choose a &picture…"), this)), add_(new QPushButton(tr("&Add"), this)),
      close_(new QPushButton(tr("&Close"), this)), file_name_(new QLabel(this)), view_(new ComboBox(this)),
      picture_(new PictureView(this)), marks_{}, error_(new WrappedLabel(this)),
      state_(new WrappedLabel(this)) {
  setObjectName("photograph_dialog");
  setWindowTitle(tr("Photograph under the view"));
  choose_->setObjectName("photograph_choose");
  add_->setObjectName("photograph_add");
  close_->setObjectName("photograph_close");
  choose_->setAutoDefault(false);
  close_->setAutoDefault(false);
  picture_->setObjectName("photograph_picture");
  picture_->setAccessibleName(tr("The picture; its points can be typed below"));
  error_->setObjectName("photograph_error");
  error_->hide();
  state_->setObjectName("photograph_state");
  view_->addItems(photograph_views());
  view_->setObjectName("photograph_view");
  view_->setAccessibleName(tr("Taken from"));
  auto* head = new QHBoxLayout;
  head->addWidget(choose_);
  head->addWidget(file_name_, 1);
  head->addWidget(new QLabel(tr("Taken from"), this));
  head->addWidget(view_);
  auto* grid = new QGridLayout;
  grid->addWidget(new QLabel(tr("In the picture: click it, or type it"), this), 0, 1);
  grid->addWidget(new QLabel(tr("Its place in the bay"), this), 0, 2);
  for (int i = 0; i < 2; ++i) {
    Mark& mark = marks_[static_cast<std::size_t>(i)];
    const QString name = QString("photograph_point_%1_").arg(i);
    mark.next = new QRadioButton(i == 0 ? tr("First point") : tr("Second point"), this);
    mark.next->setObjectName(name + "next");
    mark.in_picture = new QLineEdit(this);
    mark.in_picture->setObjectName(name + "in_picture");
    mark.in_picture->setAccessibleName(tr("Point %1 in the picture, in pixels").arg(i + 1));
    mark.in_picture->setPlaceholderText(tr("such as 412 230"));
    mark.in_bay = new QLineEdit(this);
    mark.in_bay->setObjectName(name + "in_bay");
    mark.in_bay->setAccessibleName(tr("Point %1 in the bay").arg(i + 1));
    mark.in_bay->setPlaceholderText(tr("such as 300 -150 350"));
    for (QLineEdit* line : {mark.in_picture, mark.in_bay})
      connect(line, &QLineEdit::textChanged, this, [this] { refresh(); });
    grid->addWidget(mark.next, i + 1, 0);
    grid->addWidget(mark.in_picture, i + 1, 1);
    grid->addWidget(mark.in_bay, i + 1, 2);
  }
  marks_[0].next->setChecked(true);
  grid->setColumnStretch(1, 2);
  grid->setColumnStretch(2, 3);
  auto* foot = new QHBoxLayout;
  foot->addWidget(state_, 1);
  foot->addWidget(add_);
  foot->addWidget(close_);
  auto* all = new QVBoxLayout(this);
  all->setContentsMargins(wide_gap, wide_gap, wide_gap, wide_gap);
  all->setSpacing(gap);
  all->addLayout(head);
  all->addWidget(error_);
  all->addWidget(picture_, 1);
  all->addLayout(grid);
  all->addLayout(foot);
  connect(choose_, &QPushButton::clicked, this, [this] {
    if (const QString file = ask_file_(this); !file.isEmpty())
      load(file);
  });
  connect(picture_, &PictureView::clicked, this, &PhotographDialog::take_click);
  connect(add_, &QPushButton::clicked, this, &PhotographDialog::add);
  connect(close_, &QPushButton::clicked, this, &QDialog::reject);
  refresh();
}

void PhotographDialog::load(const QString& file) {
  QImageReader reader(file);
  reader.setAutoTransform(true);
  const QImage image = reader.read();
  if (image.isNull()) {
    show_complaint(*error_, tr("%1: found %2; accepted: a picture, as PNG or JPEG")
                                .arg(QFileInfo(file).fileName(), reader.errorString().toLower()));
    return;
  }
  show_complaint(*error_, {});
  file_ = file;
  file_name_->setText(QFileInfo(file).fileName());
  picture_->set_picture(QPixmap::fromImage(image));
  refresh();
}

void PhotographDialog::take_click(const QPointF& at_px) {
  const std::size_t which = marks_[1].next->isChecked() ? 1 : 0;
  const auto number = [](double px) {
    return QString::fromStdString(
        quantity::write_fixed(quantity::Dimension::ratio, px, "", 1, false, decimal_sign()));
  };
  marks_[which].in_picture->setText(QString("%1 %2").arg(number(at_px.x()), number(at_px.y())));
  if (which == 0)
    marks_[1].next->setChecked(true);
}

std::optional<QPointF> PhotographDialog::typed_point(const Mark& mark) const {
  const QStringList parts = mark.in_picture->text().replace(';', ' ').simplified().split(' ');
  std::array<double, 2> px{};
  for (int i = 0; i < 2; ++i) {
    const auto read = parts.size() == 2
                          ? quantity::read(quantity::Dimension::ratio, parts[i].toStdString(),
                                           {.default_unit = "", .decimal = decimal_sign(), .ambient_Pa = {}})
                          : fail(Error{});
    if (!read)
      return std::nullopt;
    px[static_cast<std::size_t>(i)] = *read;
  }
  return QPointF(px[0], px[1]);
}

std::optional<build::Photograph> PhotographDialog::photograph(QString& wrong) const {
  if (file_.isEmpty()) {
    wrong = tr("Choose a picture first.");
    return std::nullopt;
  }
  const QString folder = session_.file().isEmpty() ? QString() : QFileInfo(session_.file()).absolutePath();
  build::Photograph made;
  made.file = build::file_name_from(folder.toStdString(), QFileInfo(file_).absoluteFilePath().toStdString());
  made.view = static_cast<build::Photograph::View>(view_->currentIndex());
  const std::array in_picture{&made.first_px, &made.second_px};
  const std::array in_bay{&made.first_m, &made.second_m};
  for (std::size_t i = 0; i < marks_.size(); ++i) {
    const auto at = typed_point(marks_[i]);
    if (!at) {
      wrong = marks_[i].in_picture->text().trimmed().isEmpty()
                  ? tr("Click point %1 in the picture.").arg(i + 1)
                  : tr("Point %1 in the picture: found “%2”; accepted: two numbers, to the right and down")
                        .arg(i + 1)
                        .arg(marks_[i].in_picture->text());
      return std::nullopt;
    }
    *in_picture[i] = {at->x(), at->y()};
    const auto place = bay::place_of(session_.build(), marks_[i].in_bay->text().toStdString(), wording());
    if (!place) {
      wrong = marks_[i].in_bay->text().trimmed().isEmpty()
                  ? tr("Type where point %1 is in the bay.").arg(i + 1)
                  : tr("Point %1 in the bay: %2").arg(i + 1).arg(complaint(place.error()));
      return std::nullopt;
    }
    *in_bay[i] = *place;
  }
  return made;
}

void PhotographDialog::refresh() {
  if (marks_[1].in_bay == nullptr) // still being made
    return;
  for (std::size_t i = 0; i < marks_.size(); ++i)
    picture_->set_mark(i, typed_point(marks_[i]));
  QString wrong;
  const bool ready = photograph(wrong).has_value();
  add_->setEnabled(ready);
  add_->setDefault(ready);
  state_->set_text(wrong);
}

void PhotographDialog::add() {
  QString wrong;
  auto made = photograph(wrong);
  if (!made)
    return;
  std::vector<build::Photograph> all = session_.build().photographs;
  all.push_back(*std::move(made));
  if (const auto error = session_.apply(build::with_photographs(session_.build(), std::move(all)),
                                        tr("Add photograph %1").arg(QFileInfo(file_).fileName()))) {
    state_->set_text(complaint(*error));
    return;
  }
  accept();
}

} // namespace bellmouth::ui

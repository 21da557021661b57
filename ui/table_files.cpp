// SPDX-License-Identifier: GPL-3.0-or-later
#include "table_files.hpp"

#include "theme.hpp"
#include "wrapped_label.hpp"

#include <bellmouth/build/files.hpp>

#include <QCoreApplication>
#include <QDir>
#include <QFile>
#include <QFileDialog>
#include <QFileInfo>
#include <QHBoxLayout>
#include <QRegularExpression>
#include <QToolButton>

namespace bellmouth::ui {

namespace {

QString tr(const char* text) {
  return QCoreApplication::translate("TableFiles", text);
}
QString tables() {
  return tr("Tables (*.csv);;All files (*)");
}

/// No table of a machine comes near this; what is larger is another file.
constexpr qint64 largest_bytes = qint64{4} << 20;

/// The whole of a file.
Result<std::string> text_of(const QString& name) {
  const auto refuse = [&name](const QString& found, std::string accepted) {
    Error error;
    error.place.file = QFileInfo(name).fileName().toStdString();
    error.found = found.toStdString();
    error.accepted = std::move(accepted);
    return fail(std::move(error));
  };
  QFile file(name);
  const bool open = file.open(QIODevice::ReadOnly);
  const QByteArray bytes = open ? file.read(largest_bytes + 1) : QByteArray();
  if (!open || file.error() != QFileDevice::NoError)
    return refuse(file.errorString(), "a file that can be read");
  if (bytes.size() > largest_bytes)
    return refuse(tr("more than 4 MiB"), "a table of up to 4 MiB");
  return bytes.toStdString();
}

} // namespace

TableFiles desktop_table_files() {
  return {.to_open =
              [](QWidget* parent) {
                return QFileDialog::getOpenFileName(parent, tr("Read a table"), QDir::homePath(), tables());
              },
          .to_save =
              [](QWidget* parent, const QString& proposed) {
                return QFileDialog::getSaveFileName(parent, tr("Write the table"),
                                                    QDir::home().filePath(proposed), tables());
              }};
}

TableFileBar::TableFileBar(TableFiles files, QString proposed, Take take, Give give, QWidget* parent)
    : QWidget(parent), files_(std::move(files)), proposed_(std::move(proposed)), take_(std::move(take)),
      give_(std::move(give)), read_(new QToolButton(this)), write_(new QToolButton(this)),
      error_(new WrappedLabel(this)) {
  read_->setText(tr("Read CSV…"));
  write_->setText(tr("Write CSV…"));
  for (QToolButton* button : {read_, write_}) {
    button->setToolButtonStyle(Qt::ToolButtonTextOnly);
    button->setFocusPolicy(Qt::StrongFocus);
  }
  error_->hide();
  auto* buttons = new QHBoxLayout;
  buttons->setSpacing(gap);
  buttons->addWidget(read_);
  buttons->addWidget(write_);
  buttons->addStretch(1);
  auto* column = new QVBoxLayout(this);
  column->setContentsMargins(0, 0, 0, 0);
  column->setSpacing(gap);
  column->addLayout(buttons);
  column->addWidget(error_);
  setFocusProxy(read_);
  connect(read_, &QToolButton::clicked, this, &TableFileBar::read);
  connect(write_, &QToolButton::clicked, this, &TableFileBar::write);
}

void TableFileBar::set_names(const QString& object_name, const QString& accessible_name) {
  read_->setObjectName(object_name + "_read");
  write_->setObjectName(object_name + "_write");
  error_->setObjectName(object_name + "_file_error");
  read_->setAccessibleName(tr("Read %1 from a CSV file").arg(accessible_name));
  write_->setAccessibleName(tr("Write %1 to a CSV file").arg(accessible_name));
  read_->setToolTip(read_->accessibleName());
  write_->setToolTip(write_->accessibleName());
}

void TableFileBar::set_can_write(bool can) {
  write_->setEnabled(can);
}

void TableFileBar::complain(const QString& why) {
  // A header row has no spaces at which it could be broken: it may be behind each comma.
  static const QRegularExpression comma(",(?=\\S)");
  show_complaint(*error_, QString(why).replace(comma, "," + QString(QChar(0x200b))));
}

void TableFileBar::read() {
  const QString file = files_.to_open(this);
  if (file.isEmpty())
    return;
  complain({});
  const auto text = text_of(file);
  const auto error =
      text ? take_(*text, QFileInfo(file).fileName().toStdString()) : std::optional(text.error());
  if (error)
    complain(QString::fromStdString(error->text()));
}

void TableFileBar::write() {
  QString file = files_.to_save(this, proposed_);
  if (file.isEmpty())
    return;
  complain({});
  if (const auto saved = build::save_text(QFile::encodeName(file).toStdString(), give_()); !saved)
    complain(QString::fromStdString(saved.error().text()));
}

} // namespace bellmouth::ui

// SPDX-License-Identifier: GPL-3.0-or-later
#include "recovery.hpp"

#include <bellmouth/build.hpp>

#include <QFile>
#include <QJsonDocument>
#include <QJsonObject>
#include <QUuid>

namespace bellmouth::ui {

namespace {

constexpr auto format = "bellmouth-recovery/1";

QString lock_of(const QString& copy) {
  return copy + ".lock";
}

/// A lock that counts as free as soon as the process that took it is gone.
std::unique_ptr<QLockFile> make_lock(const QString& copy) {
  auto lock = std::make_unique<QLockFile>(lock_of(copy));
  lock->setStaleLockTime(0);
  return lock;
}

LeftBehind read_copy(const QString& file) {
  const auto damaged = [&](const char* found) {
    Error error;
    error.place.file = file.toStdString();
    error.found = found;
    error.accepted = "a copy of unsaved work";
    return LeftBehind{file, {}, {}, fail(std::move(error))};
  };
  QFile device(file);
  if (!device.open(QIODevice::ReadOnly))
    return damaged("a file that cannot be read");
  const QJsonObject copy = QJsonDocument::fromJson(device.readAll()).object();
  if (copy["format"].toString() != format)
    return damaged("a damaged copy");
  return {file, copy["original"].toString(), QDateTime::fromString(copy["saved_at"].toString(), Qt::ISODate),
          build::read_build(copy["build"].toString().toStdString(), file.toStdString())};
}

} // namespace

Recovery::Recovery(Session& session, const QDir& folder, std::chrono::milliseconds delay, QObject* parent)
    : QObject(parent), session_(session), folder_(folder) {
  folder_.mkpath(".");
  copy_ = folder_.absoluteFilePath(QUuid::createUuid().toString(QUuid::WithoutBraces) + ".json");
  lock_ = make_lock(copy_);
  lock_->tryLock(0);
  // Locks of ended runs that left no copy; taking one and letting it go removes it.
  for (const QString& name : folder_.entryList({lock_of("*.json")}, QDir::Files)) {
    const QString other = folder_.absoluteFilePath(name.chopped(lock_of({}).size()));
    if (!QFile::exists(other) && other != copy_)
      make_lock(other)->tryLock(0);
  }
  timer_.setSingleShot(true);
  timer_.setInterval(delay);
  connect(&timer_, &QTimer::timeout, this, &Recovery::keep);
  connect(&session_, &Session::changed, this, [this](Changes changes) {
    if (!(changes & (Changes(Change::document) | Change::file)))
      return;
    if (!session_.modified()) {
      timer_.stop();
      QFile::remove(copy_);
    } else if (session_.revision() != kept_revision_ && !timer_.isActive()) {
      timer_.start();
    }
  });
}

Recovery::~Recovery() {
  finish();
}

std::vector<LeftBehind> Recovery::left_behind() const {
  std::vector<LeftBehind> found;
  for (const QString& name : folder_.entryList({"*.json"}, QDir::Files, QDir::Time)) {
    const QString file = folder_.absoluteFilePath(name);
    if (file == copy_ || !make_lock(file)->tryLock(0))
      continue;
    found.push_back(read_copy(file));
  }
  return found;
}

void Recovery::throw_away(const LeftBehind& copy) {
  QFile::remove(copy.copy);
  QFile::remove(lock_of(copy.copy));
}

void Recovery::keep() {
  if (finished_ || !session_.modified() || session_.revision() == kept_revision_)
    return;
  if (session_.previewing()) {
    timer_.start();
    return;
  }
  const QJsonObject copy{{"format", format},
                         {"original", session_.file()},
                         {"saved_at", QDateTime::currentDateTime().toString(Qt::ISODate)},
                         {"build", QString::fromStdString(build::write_build(session_.build()))}};
  const auto saved = build::save_text(copy_.toStdString(), QJsonDocument(copy).toJson().toStdString());
  if (saved)
    kept_revision_ = session_.revision();
  else
    emit failed(QString::fromStdString(saved.error().text()));
}

void Recovery::finish() {
  if (finished_)
    return;
  finished_ = true;
  timer_.stop();
  QFile::remove(copy_);
  lock_->unlock();
}

} // namespace bellmouth::ui

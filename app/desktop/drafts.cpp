// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/desktop/drafts.h"

#include <QDir>
#include <QJsonDocument>
#include <QJsonObject>
#include <QSaveFile>
#include <QStandardPaths>
#include <algorithm>

#include "catalog/published/sha256.h"

namespace seamwright::desktop {

namespace {

constexpr qint64 largest_draft = 64 << 20;

QString file_of(const std::string& folder) {
  return Drafts::folder() + QStringLiteral("/") + QString::fromStdString(sha256_hex(folder).substr(0, 20)) +
         QStringLiteral(".json");
}

std::unique_ptr<QLockFile> lock_of(const QString& file) {
  auto lock = std::make_unique<QLockFile>(file + QStringLiteral(".lock"));
  lock->setStaleLockTime(0);  // only a process that is gone lets go
  return lock;
}

void write(const QString& file, const QByteArray& bytes) {
  QDir().mkpath(QFileInfo(file).path());
  QSaveFile out(file);
  if (!out.open(QIODevice::WriteOnly)) return;
  out.setPermissions(QFileDevice::ReadOwner | QFileDevice::WriteOwner);
  out.write(bytes);
  out.commit();
}

std::optional<Draft> read_draft(const QString& path) {
  QFile in(path);
  if (!in.open(QIODevice::ReadOnly) || in.size() > largest_draft) return std::nullopt;
  const QJsonObject o = QJsonDocument::fromJson(in.readAll()).object();
  if (o[QLatin1String("format")].toString() != QLatin1String("seamwright.draft/1")) return std::nullopt;
  Draft d;
  d.file = path;
  d.folder = o[QLatin1String("folder")].toString().toStdString();
  d.time = QDateTime::fromString(o[QLatin1String("time")].toString(), Qt::ISODate);
  d.texts = {o[QLatin1String("design")].toString().toStdString(),
             o[QLatin1String("duty")].toString().toStdString()};
  if (d.folder.empty() || d.texts[0].empty() || d.texts[1].empty()) return std::nullopt;
  return d;
}

}  // namespace

QString Drafts::folder() {
  return QStandardPaths::writableLocation(QStandardPaths::GenericDataLocation) +
         QStringLiteral("/seamwright/drafts");
}

Drafts::Drafts(QObject* parent) : QObject(parent) {
  writer_.setMaxThreadCount(1);  // in their order
  timer_.setSingleShot(true);
  timer_.setInterval(most_wait_ms);
  connect(&timer_, &QTimer::timeout, this, &Drafts::write_now);
}

Drafts::~Drafts() { writer_.waitForDone(); }

std::vector<Draft> Drafts::kept_drafts() {
  std::vector<Draft> all;
  const QDir dir(folder());
  for (const QString& name : dir.entryList({QStringLiteral("*.json")}, QDir::Files)) {
    const QString path = dir.filePath(name);
    const auto lock = lock_of(path);
    if (!lock->tryLock(0)) continue;  // its window is open
    if (auto draft = read_draft(path)) all.push_back(std::move(*draft));
  }
  std::sort(all.begin(), all.end(), [](const Draft& a, const Draft& b) { return a.time > b.time; });
  return all;
}

void Drafts::discard(const Draft& draft) { QFile::remove(draft.file); }

void Drafts::follow(JobSession* session) {
  timer_.stop();
  session_ = session;
  lock_.reset();
  file_.clear();
  if (!session) return;
  file_ = file_of(session->folder());
  QDir().mkpath(folder());
  lock_ = lock_of(file_);
  if (!lock_->tryLock(0)) {  // the same job in another window: that one keeps the drafts
    lock_.reset();
    session_ = nullptr;
    return;
  }
  connect(session, &JobSession::changed, this, [this, session] {
    if (session != session_) return;
    if (session->is_saved()) return remove();
    if (!timer_.isActive()) timer_.start();
  });
}

void Drafts::write_now() {
  timer_.stop();
  if (!session_ || session_->is_saved()) return;
  QJsonObject o;
  o[QLatin1String("format")] = QStringLiteral("seamwright.draft/1");
  o[QLatin1String("folder")] = QString::fromStdString(session_->folder());
  o[QLatin1String("time")] = QDateTime::currentDateTimeUtc().toString(Qt::ISODate);
  o[QLatin1String("design")] = QString::fromStdString(session_->text(File::design));
  o[QLatin1String("duty")] = QString::fromStdString(session_->text(File::duty));
  writer_.start([file = file_, bytes = QJsonDocument(o).toJson()] { write(file, bytes); });
}

void Drafts::remove() {
  timer_.stop();
  if (!file_.isEmpty()) writer_.start([file = file_] { QFile::remove(file); });
}

}  // namespace seamwright::desktop

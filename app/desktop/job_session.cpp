// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/desktop/job_session.h"

#include <QUndoCommand>
#include <algorithm>
#include <filesystem>
#include <stdexcept>

#include "app/desktop/window_words.h"
#include "catalog/files/source.h"
#include "catalog/published/published_data.h"
#include "engine/design/sides.h"
#include "engine/rating/job.h"

namespace seamwright::desktop {

/// Replaces one stretch of bytes; undoing puts exactly the old ones back.
class Splice : public QUndoCommand {
 public:
  Splice(JobSession& session, File file, const std::string& before, const std::string& after,
         const QString& what)
      : QUndoCommand(what), session_(session), file_(file) {
    const std::size_t shorter = std::min(before.size(), after.size());
    while (from_ < shorter && before[from_] == after[from_]) ++from_;
    std::size_t tail = 0;
    while (tail < shorter - from_ && before[before.size() - 1 - tail] == after[after.size() - 1 - tail])
      ++tail;
    removed_ = before.substr(from_, before.size() - from_ - tail);
    inserted_ = after.substr(from_, after.size() - from_ - tail);
  }
  void undo() override { session_.splice(file_, from_, inserted_.size(), removed_); }
  void redo() override { session_.splice(file_, from_, removed_.size(), inserted_); }

 private:
  JobSession& session_;
  File file_;
  std::size_t from_ = 0;
  std::string removed_, inserted_;
};

namespace {

std::optional<std::string> read_if_there(const std::string& path) {
  try {
    return files::read_text(path);
  } catch (const Fault&) {
    return std::nullopt;
  }
}

std::string free_id(const std::vector<files::WrittenTable>& tables, const std::string& row) {
  const std::size_t open = row.rfind('[');
  std::string id = row.substr(open + 1, row.size() - open - 2), ending;
  ending = design::side_of(id);  // the side stays the last letter
  id.resize(id.size() - ending.size());
  const auto taken = [&](const std::string& wanted) {
    for (const files::WrittenTable& t : tables)
      for (const files::WrittenRow& r : t.rows)
        if (r.id == wanted) return true;
    return false;
  };
  for (int n = 2;; ++n)
    if (const std::string next = id + "-" + std::to_string(n) + ending; !taken(next)) return next;
}

}  // namespace

const char* name_of(File file) { return file == File::design ? "design.toml" : "duty.toml"; }

std::unique_ptr<JobSession> JobSession::open(const std::string& path) {
  auto session = std::unique_ptr<JobSession>(new JobSession);
  std::error_code ignored;
  const std::filesystem::path given = std::filesystem::absolute(path, ignored);
  session->folder_ = (std::filesystem::is_regular_file(given, ignored) ? given.parent_path() : given)
                         .lexically_normal()
                         .string();
  while (session->folder_.size() > 1 && session->folder_.ends_with('/')) session->folder_.pop_back();
  for (const File file : both_files) {
    Buffer& buffer = session->buffer_of(file);
    buffer.text = buffer.saved = files::read_text(session->path(file));
  }
  session->read_files();
  return session;
}

std::string JobSession::path(File file) const {
  return (std::filesystem::path(folder_) / name_of(file)).string();
}

QString JobSession::name() const {
  if (const auto* top = files::table_named(tables(File::design), ""))
    for (const files::WrittenRow& row : top->rows)
      for (std::size_t i = 0; i < top->keys.size(); ++i)
        if (top->keys[i] == "name" && !row.cells[i].shown.empty()) return visible_text(row.cells[i].shown);
  return visible_text(std::filesystem::path(folder_).filename().string());
}

void JobSession::read_files() {
  job_.reset();
  fault_.reset();
  for (const File file : both_files) {
    Buffer& buffer = buffer_of(file);
    try {
      buffer.tables = files::written_tables(path(file), buffer.text);
    } catch (const Fault& fault) {
      buffer.tables.clear();
      fault_ = SessionFault{fault, file, ""};
    }
  }
  if (fault_) return;
  try {
    job_ = std::make_shared<const rating::Job>(files::read_job_texts(
        path(File::design), text(File::design), path(File::duty), text(File::duty), published::catalog()));
  } catch (const Fault& fault) {
    set_model_fault(fault);
  }
}

void JobSession::set_model_fault(const Fault& model) {
  SessionFault found{files::with_place_in(model, path(File::design), text(File::design)), std::nullopt, ""};
  const FaultPlace& place = found.fault.place;
  for (const File file : both_files)
    if (place.file == path(file)) found.file = file;
  if (found.file)
    if (const files::WrittenValue* cell =
            files::cell_on_line(tables(*found.file), static_cast<std::size_t>(place.line)))
      found.place = cell->place;
  fault_ = std::move(found);
}

void JobSession::splice(File file, std::size_t from, std::size_t length, const std::string& by) {
  buffer_of(file).text.replace(from, length, by);
  read_files();
  emit changed();
}

void JobSession::push_edit(File file, const std::string& after, const QString& what) {
  if (after == text(file)) return;
  undo_.push(new Splice(*this, file, text(file), after, what));
}

void JobSession::edit(File file, const files::WrittenValue& cell, files::Form like,
                      const std::string& typed) {
  edit_all(file, {{cell, like, typed}});
}

void JobSession::edit_all(File file, const std::vector<Entry>& entries) {
  std::string after = text(file);
  for (const Entry& e : entries) {
    if (e.typed == e.cell.shown) continue;
    after =
        e.typed.empty() && e.cell.form != files::Form::list
            ? (e.cell.line > 0 ? files::without_value(path(file), after, e.cell.place) : after)
            : files::patched(path(file), after, e.cell.place, files::typed_value(e.cell, e.like, e.typed));
  }
  if (!entries.empty()) push_edit(file, after, visible_text(entries.front().cell.place));
}

void JobSession::clear(File file, const std::string& place) {
  push_edit(file, files::without_value(path(file), text(file), place), visible_text(place));
}

void JobSession::copy_row(File file, const std::string& row) {
  push_edit(file, files::with_row_copied(path(file), text(file), row, free_id(tables(file), row)),
            visible_text(row));
}

void JobSession::remove_row(File file, const std::string& row) {
  push_edit(file, files::without_row(path(file), text(file), row), visible_text(row));
}

void JobSession::set_text(File file, const std::string& text) {
  push_edit(file, text, visible_text(name_of(file)));
}

bool JobSession::is_saved() const {
  return std::all_of(buffers_.begin(), buffers_.end(), [](const Buffer& b) { return b.text == b.saved; });
}

bool JobSession::changed_on_disk() const {
  return std::any_of(both_files.begin(), both_files.end(), [&](File file) {
    const auto there = read_if_there(path(file));
    return there && *there != saved_text(file);
  });
}

void JobSession::save() {
  for (const File file : both_files) {
    Buffer& buffer = buffer_of(file);
    if (buffer.text == buffer.saved) continue;
    files::write_text(path(file), buffer.text);
    buffer.saved = buffer.text;
  }
  undo_.setClean();
  emit changed();
}

void JobSession::save_as(const std::string& folder) {
  namespace fs = std::filesystem;
  const fs::path to(folder);
  for (const File file : both_files)
    if (fs::exists(to / name_of(file)))
      throw Fault{Message{"new.exists", {seamwright::text("file", (to / name_of(file)).string())}}};
  std::error_code error;
  fs::create_directories(to, error);
  // Files that belong to a job go along.
  for (const auto& [stem, ending] :
       {std::pair{"procedures", ""}, std::pair{"details", ""}, std::pair{"certificates", ".toml"},
        std::pair{"returns", ".toml"}, std::pair{"rig", ".toml"}, std::pair{"measured", ".csv"}}) {
    const std::string name = std::string(stem) + ending;
    if (!error && fs::exists(fs::path(folder_) / name))
      fs::copy(fs::path(folder_) / name, to / name,
               fs::copy_options::recursive | fs::copy_options::skip_existing, error);
  }
  if (error) throw std::runtime_error(folder + ": " + error.message());
  for (const File file : both_files) {
    files::write_text((to / name_of(file)).string(), text(file));
    buffer_of(file).saved = text(file);
  }
  folder_ = to.lexically_normal().string();
  undo_.setClean();
  read_files();
  emit changed();
}

}  // namespace seamwright::desktop

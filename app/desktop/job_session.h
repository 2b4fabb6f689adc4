// SPDX-License-Identifier: GPL-3.0-or-later
// The open job: the texts of its design and duty as they stand in the window, each change an undo command
// that replaces one stretch of bytes, and what they read as.
#pragma once

#include <QObject>
#include <QString>
#include <QUndoStack>
#include <array>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "catalog/files/job_reader.h"
#include "catalog/files/written.h"

namespace seamwright::desktop {

enum class File { design, duty };
inline constexpr std::array both_files{File::design, File::duty};
const char* name_of(File file);  ///< "design.toml", "duty.toml"

/// Says why the texts do not read, and the cell where that shows.
struct SessionFault {
  Fault fault;
  std::optional<File> file;
  std::string place;  ///< of the cell; "" when it is nowhere
};

class JobSession : public QObject {
  Q_OBJECT
 public:
  /// The folder, or the folder of a design file. Throws Fault of reading when a file cannot be read at all;
  /// what is read may be wrong.
  static std::unique_ptr<JobSession> open(const std::string& path);

  const std::string& folder() const { return folder_; }
  std::string path(File file) const;
  /// The design's own, or the folder's.
  QString name() const;
  const std::string& text(File file) const { return buffer_of(file).text; }
  const std::string& saved_text(File file) const { return buffer_of(file).saved; }
  /// Empty where the text is no TOML.
  const std::vector<files::WrittenTable>& tables(File file) const { return buffer_of(file).tables; }
  /// Null while the texts do not read.
  std::shared_ptr<const rating::Job> job() const { return job_; }
  const std::optional<SessionFault>& fault() const { return fault_; }
  /// A fault that only the computation found.
  void set_model_fault(const Fault& fault);

  /// Each leaves one undo command, or none when nothing changes. Throw Fault of files::patched().
  void edit(File file, const files::WrittenValue& cell, files::Form like, const std::string& typed);
  void clear(File file, const std::string& place);
  void copy_row(File file, const std::string& row);
  void remove_row(File file, const std::string& row);
  void set_text(File file, const std::string& text);
  /// Several cells in one command, such as a pasted block.
  struct Entry {
    files::WrittenValue cell;
    files::Form like = files::Form::none;
    std::string typed;
  };
  void edit_all(File file, const std::vector<Entry>& entries);

  QUndoStack& undo_stack() { return undo_; }
  bool is_saved() const;
  /// True when another program wrote the files since they were read.
  bool changed_on_disk() const;
  /// Writes what changed, each file whole or not at all. Throws std::runtime_error.
  void save();
  /// Saves into another folder, which becomes the job's; procedures, details and the other files of a
  /// job are copied along. Throws std::runtime_error, Fault "new.exists" when a design or duty is there.
  void save_as(const std::string& folder);

 signals:
  void changed();

 private:
  friend class Splice;
  struct Buffer {
    std::string text, saved;
    std::vector<files::WrittenTable> tables;
  };
  Buffer& buffer_of(File file) { return buffers_[static_cast<std::size_t>(file)]; }
  const Buffer& buffer_of(File file) const { return buffers_[static_cast<std::size_t>(file)]; }
  void push_edit(File file, const std::string& after, const QString& what);
  void splice(File file, std::size_t from, std::size_t length, const std::string& by);
  void read_files();

  std::string folder_;
  std::array<Buffer, 2> buffers_;
  QUndoStack undo_;
  std::shared_ptr<const rating::Job> job_;
  std::optional<SessionFault> fault_;
};

}  // namespace seamwright::desktop

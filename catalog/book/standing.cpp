// SPDX-License-Identifier: GPL-3.0-or-later
// The rules ask a book these questions: answers are looked up, or gathered while its entries pass by.
#include <algorithm>

#include "catalog/book/attached_files.h"
#include "catalog/book/gaps.h"
#include "catalog/book/records.h"
#include "catalog/book/records/names.h"
#include "catalog/book/transitions.h"
#include "catalog/files/job_reader.h"
#include "catalog/published/published_data.h"
#include "engine/design/design.h"

namespace seamwright::book {

namespace {

Made made_of(std::int64_t seq, const std::string& kind, const Entry& e, const Json& content, bool current) {
  const std::string welder = word_at(content, field::welder), on = word_at(content, field::on);
  return {seq, kind, welder.empty() ? e.author : welder, on.empty() ? e.time.substr(0, 10) : on, current};
}

bool is_made(const std::string& kind) { return kind == kind::weld || kind == kind::repair; }

std::string file_in(const Json& content) {
  const auto file = content.find(field::file);
  return file == content.end() ? std::string() : word_at(*file, field::sha256);
}

// A frozen design with all procedures: it may refer to a proof in any.
std::map<std::string, std::string> files_beside(const Book& book, const std::string& design_sha256) {
  std::map<std::string, std::string> names{{"design.toml", design_sha256}};
  std::vector<Mark> procedures;
  for (std::string& id : book.values_of(mark::procedure))
    procedures.push_back({mark::procedure, std::move(id)});
  std::size_t number = 0;
  for (const std::vector<Record>& revisions : book.current_all(procedures, {kind::procedure}))
    for (const Record& r : revisions) names[procedure_name(number++)] = file_of(r);
  return names;
}

}  // namespace

const Drawn* Drawings::drawn_in(const Book& book, const std::string& sha256) {
  if (const auto known = known_.find(sha256); known != known_.end()) return known->second.get();
  if (sha256.empty()) return nullptr;
  const AttachedFiles files(book, files_beside(book, sha256));
  if (!files.has("design.toml")) return nullptr;
  std::unique_ptr<Drawn> drawn;
  try {
    const design::Design design = files::read_recorded_design({files, "design.toml"}, published::catalog());
    drawn = std::make_unique<Drawn>();
    for (const joints::Weld& w : design.welds) drawn->welds.insert(w.id);
    for (std::size_t i = 0; i < design::subject_count(design); ++i)
      drawn->subjects.insert(design::subject_of(design, i).id);
  } catch (const Fault&) {  // `gaps` tells that it cannot be read
    drawn.reset();
  }
  return known_.emplace(sha256, std::move(drawn)).first->second.get();
}

std::string StandingOf::role_of(const std::string& person) const {
  const auto who = book_.person(person);
  return who ? who->role : std::string();
}

std::vector<Made> StandingOf::made(const std::string& frame, const std::string& weld) const {
  std::vector<Made> all;
  for (const Record& r : book_.find({mark::frame, frame}))
    if (is_made(r.kind) && r.word(field::weld) == weld)
      all.push_back(made_of(r.entry.seq, r.kind, r.entry, r.content, r.current()));
  return all;
}

bool StandingOf::has_frame(const std::string& serial) const {
  return !book_.current({mark::frame, serial}, kind::frame).empty();
}

const Drawn* StandingOf::drawn(const std::string& serial) const {
  const auto frames = book_.current({mark::frame, serial}, kind::frame);
  const auto design = frames.empty() ? std::nullopt : design_of(book_, frames.back());
  return design ? drawings_.drawn_in(book_, file_of(*design)) : nullptr;
}

std::optional<Message> StandingOf::release_fault(const Json& release, const Entry& entry) const {
  return book::release_fault(book_, release, entry.time);
}

StandingSoFar::StandingSoFar(const Book& book) : book_(book), frozen_(frozen_files()) {}

void StandingSoFar::pass(const Entry& e, bool in_shape) {
  const Content c = content_of(e.kind, e.payload);
  if (!c.payload->is_object()) return;
  const auto word = [&](const char* key) { return word_at(*c.payload, key); };
  if (e.kind == kind::person || e.kind == kind::role) roles_[word(field::id)] = word(field::role);
  if (c.replaces > 0 && c.replaces < e.seq && named_) forget(*named_);
  if (!in_shape) return;
  if (c.kind == kind::frame)
    frames_[word(field::serial)].push_back({e.seq, word(field::design), word(field::revision), ""});
  if (c.kind == kind::design)
    designs_[word(field::name)].push_back(
        {e.seq, word(field::name), word(field::revision), file_in(*c.payload)});
  if (is_made(c.kind))
    made_[word(field::frame)][word(field::weld)].push_back(made_of(e.seq, c.kind, e, *c.payload, true));
}

void StandingSoFar::forget(const Record& old) {
  const std::int64_t seq = old.entry.seq;
  const Content was = content_of(old.entry.kind, old.entry.payload);
  const auto word = [&](const char* key) { return word_at(*was.payload, key); };
  const auto drop = [&](std::vector<Named>& all) {
    std::erase_if(all, [&](const Named& n) { return n.seq == seq; });
  };
  if (was.kind == kind::frame) drop(frames_[word(field::serial)]);
  if (was.kind == kind::design) drop(designs_[word(field::name)]);
  if (is_made(was.kind))
    for (Made& m : made_[word(field::frame)][word(field::weld)])
      if (m.seq == seq) m.current = false;
}

std::string StandingSoFar::role_of(const std::string& person) const {
  const auto found = roles_.find(person);
  return found == roles_.end() ? std::string() : found->second;
}

std::optional<Record> StandingSoFar::entry(std::int64_t seq) const {
  return named_ && named_->entry.seq == seq ? std::optional(*named_) : std::nullopt;
}

std::vector<Made> StandingSoFar::made(const std::string& frame, const std::string& weld) const {
  const auto of_frame = made_.find(frame);
  if (of_frame == made_.end()) return {};
  const auto found = of_frame->second.find(weld);
  return found == of_frame->second.end() ? std::vector<Made>() : found->second;
}

bool StandingSoFar::has_frame(const std::string& serial) const {
  const auto found = frames_.find(serial);
  return found != frames_.end() && !found->second.empty();
}

const Drawn* StandingSoFar::drawn(const std::string& serial) const {
  if (!has_frame(serial)) return nullptr;
  const Named& frame = frames_.at(serial).back();
  const auto designs = designs_.find(frame.name);
  if (designs == designs_.end()) return nullptr;
  for (const Named& d : designs->second)
    if (d.revision == frame.revision) return drawings_.drawn_in(book_, d.sha256);
  return nullptr;
}

std::optional<Message> StandingSoFar::release_fault(const Json& release, const Entry& entry) const {
  return book::release_fault(book_.before(entry.seq), release, entry.time, frozen_.get());
}

}  // namespace seamwright::book

// SPDX-License-Identifier: GPL-3.0-or-later
#include "catalog/book/verify.h"

#include <sodium.h>

#include <algorithm>
#include <atomic>
#include <map>
#include <set>
#include <thread>
#include <unordered_map>

#include "catalog/book/records/names.h"
#include "catalog/book/transitions.h"
#include "catalog/published/sha256.h"
#include "engine/evidence/evidence.h"

namespace seamwright::book {

namespace {

// The entries up to one tell this of people.
void note_person(const Entry& e, std::map<std::string, Person>& people) {
  const std::string id = word_at(e.payload, field::id);
  if (e.kind == kind::person) {
    people[id] = {id,
                  word_at(e.payload, field::stamp),
                  word_at(e.payload, field::role),
                  word_at(e.payload, field::public_key),
                  e.seq,
                  0};
    return;
  }
  const auto who = people.find(id);
  if (who == people.end()) return;
  if (e.kind == kind::revoke) who->second.revoked = e.seq;
  if (e.kind == kind::role) who->second.role = word_at(e.payload, field::role);
  if (e.kind == kind::key) who->second.public_key = word_at(e.payload, field::public_key);
}

// Short hashes under a key made for this run: who writes a file cannot make two rows cancel.
class KeyedHash {
 public:
  KeyedHash() { randombytes_buf(key_, sizeof key_); }
  std::uint64_t operator()(const std::string& text) const {
    std::uint64_t out = 0;
    crypto_shorthash(reinterpret_cast<unsigned char*>(&out),
                     reinterpret_cast<const unsigned char*>(text.data()), text.size(), key_);
    return out;
  }
  std::uint64_t operator()(const Mark& m, const std::string& more) const {
    buffer_.assign(m.name).append(1, '\0').append(m.value).append(1, '\0').append(more);
    return (*this)(buffer_) + m.name.size() +
           0x9e3779b97f4a7c15u * m.value.size();  // what was parted stays parted
  }

 private:
  unsigned char key_[crypto_shorthash_KEYBYTES];
  mutable std::string buffer_;
};

// What the derived tables should hold, gathered while the entries pass by.
struct DerivedTables {
  KeyedHash hash;
  std::vector<std::uint64_t> marks;                         // sum over an entry's marks, by seq
  std::unordered_map<std::uint64_t, std::int64_t> carried;  // how many current entries say so
  std::map<std::int64_t, std::int64_t> replaced;
  std::set<std::string> files;

  void carry(const Content& c, const std::vector<Mark>& marked, int times) {
    const std::vector<Mark> all = carried_by(c);
    if (all.empty()) return;
    for (const Mark& frame : marked)
      if (frame.name == mark::frame)
        for (const Mark& m : all) carried[hash(m, frame.value)] += times;
  }
  void add_entry(const Entry& e, const Record* named) {
    const Content c = content_of(e.kind, e.payload);
    std::uint64_t sum = 0;
    const std::vector<Mark> marked = marks_of(c);
    for (const Mark& m : marked) sum += hash(m, "");
    if (e.seq > 0 && e.seq < 1'000'000'000) {
      if (marks.size() <= static_cast<std::size_t>(e.seq)) marks.resize(static_cast<std::size_t>(e.seq) + 1);
      marks[static_cast<std::size_t>(e.seq)] = sum;
    }
    carry(c, marked, 1);
    for (const std::string& f : files_of(c)) files.insert(f);
    if (!named || c.replaces <= 0 || c.replaces >= e.seq || !replaced.emplace(c.replaces, e.seq).second) return;
    const Content was = content_of(named->entry.kind, named->entry.payload);
    carry(was, marks_of(was), -1);
  }
};

void compare_derived(const Book& book, const DerivedTables& told, std::vector<Problem>& problems) {
  std::vector<std::uint64_t> kept(told.marks.size());
  std::set<std::int64_t> differs;
  book.each_mark([&](const Mark& m, std::int64_t seq) {
    if (seq <= 0 || static_cast<std::size_t>(seq) >= kept.size())
      differs.insert(seq);
    else
      kept[static_cast<std::size_t>(seq)] += told.hash(m, "");
  });
  for (std::size_t i = 0; i < kept.size(); ++i)
    if (kept[i] != told.marks[i]) differs.insert(static_cast<std::int64_t>(i));
  std::int64_t asked = 0, found = 0;
  for (const auto& [row, times] : told.carried) asked += times > 0;
  bool strange = false;
  book.each_carried([&](const Mark& m, const std::string& frame) {
    const auto row = told.carried.find(told.hash(m, frame));
    if (row == told.carried.end() || row->second <= 0)
      strange = true;
    else
      ++found;
  });
  if (strange || found != asked) differs.insert(0);
  std::map<std::int64_t, std::int64_t> replaced;
  book.each_replaced([&](std::int64_t seq, std::int64_t by) { replaced[seq] = by; });
  if (replaced != told.replaced) differs.insert(0);
  for (const std::int64_t seq : differs) problems.push_back({seq, "book.derived-differs"});
}

void compare_people(const Book& book, const std::map<std::string, Person>& people,
                    std::vector<Problem>& problems) {
  std::map<std::string, Person> rows;
  for (const Person& kept : book.people())
    if (!people.contains(kept.id) || !rows.emplace(kept.id, kept).second)
      problems.push_back({kept.from, "book.derived-differs"});
  for (const auto& [id, told] : people) {
    const auto found = rows.find(id);
    if (found == rows.end() || found->second.role != told.role ||
        found->second.public_key != told.public_key || found->second.stamp != told.stamp ||
        found->second.from != told.from || found->second.revoked != told.revoked)
      problems.push_back({told.from, "book.derived-differs"});
  }
}

// The file is made of these: its tables, indices and triggers, the version that it states, one name.
void compare_tables(const Book& book, std::vector<Problem>& problems) {
  const Form form = book.form();
  for (const std::string& name : form.strange)
    problems.push_back({0, "book.strange-object", {text("name", name)}});
  if (form.newer) problems.push_back({0, "book.newer-schema", {number("schema", form.schema, "")}});
  if (book.count_ids() != 1) problems.push_back({0, "book.strange-object", {text("name", "book")}});
}

// Each person has one sealed key, which is theirs by its own signature.
void compare_sealed_keys(const Book& book, const std::map<std::string, Person>& people, Verification& v) {
  std::set<std::string> kept;
  book.each_sealed_key([&](const std::string& person, const std::string& sealed) {
    const auto who = people.find(person);
    const Argument named = text("person", person.substr(0, 80));
    const bool first = who != people.end() && kept.insert(person).second;
    const Sealing state = first ? sealing_of(sealed, who->second.public_key) : Sealing::broken;
    if (state == Sealing::broken) v.problems.push_back({0, "book.sealed-key-differs", {named}});
    if (state == Sealing::without_proof) v.refused.push_back({0, "rule.unproven-key", {named}});
  });
  for (const auto& [id, who] : people)
    if (!kept.contains(id)) v.problems.push_back({who.from, "book.sealed-key-lost", {text("person", id)}});
}

// Signatures are checked beside the reading, a batch for each core.
struct SignatureToCheck {
  std::int64_t seq;
  std::string key, hash, signature;
};

class Signatures {
 public:
  void add(SignatureToCheck s) {
    batch_.push_back(std::move(s));
    if (batch_.size() >= 32768) flush();
  }
  void flush() {
    const std::size_t workers = std::max(1U, std::thread::hardware_concurrency());
    join();
    running_ = std::move(batch_);
    batch_ = {};
    bad_.assign(workers, {});
    next_ = 0;
    for (std::size_t w = 0; w < workers; ++w)
      threads_.emplace_back([this, w] {  // small portions: the reading takes its share of one core
        for (std::size_t from = 0; (from = next_.fetch_add(64)) < running_.size();)
          for (std::size_t i = from; i < std::min(from + 64, running_.size()); ++i)
            if (!signature_holds(running_[i].key, running_[i].hash, running_[i].signature))
              bad_[w].push_back(running_[i].seq);
      });
  }
  /// Entries whose signature does not hold.
  std::vector<std::int64_t> finish() {
    flush();
    join();
    std::sort(all_bad_.begin(), all_bad_.end());
    return all_bad_;
  }

 private:
  void join() {
    threads_.clear();
    for (const auto& some : bad_) all_bad_.insert(all_bad_.end(), some.begin(), some.end());
    bad_.clear();
  }
  std::vector<SignatureToCheck> batch_, running_;
  std::vector<std::vector<std::int64_t>> bad_;
  std::vector<std::int64_t> all_bad_;
  std::atomic<std::size_t> next_ = 0;
  std::vector<std::jthread> threads_;  // last, so that they end before what they read
};

// One entry is held against what is known so far.
struct Chain {
  std::string book_id;
  std::map<std::string, Person> people;
  std::map<std::string, std::string> details;  // salted hash by person
  std::map<std::string, std::int64_t> erased;
  std::set<std::int64_t> replaced;
  std::string prev, time;
  std::int64_t expected = 1;
  int form = 0;                               // of the entry before
  std::map<std::string, std::int64_t> last;   // entry that was last about each frame
  std::map<std::string, std::int64_t> placed_later;  // by signature: statements whose author did not know the entry before
  const Book& book;
  PassingFacts facts;

  // A corrected or void entry must be an earlier one, of that kind, that its author may sign, once.
  MessageId replacement_fault(const Record* old, const Content& c, const Entry& e, const std::string& role) {
    if (c.replaces >= e.seq) old = nullptr;
    if (!old || !may_be_corrected(old->kind) || (e.kind == kind::correction && old->kind != c.kind) ||
        !replaced.insert(c.replaces).second)
      return "book.bad-replacement";
    return may_sign(role, old->kind) ? MessageId() : "book.no-role";
  }

  explicit Chain(const Book& b) : book_id(b.id()), book(b), facts(b) {}

  // Statements follow whole entries only once, where an entry of its own says so; their author knew an entry that stands here, and each
  // names the entries before it on its frames.
  void check_placing(const Entry& e, const Record* named, Verification& v) {
    const auto wrong = [&](MessageId what) { v.problems.push_back({e.seq, what}); };
    if (e.form < form || (e.kind == kind::format) != (form == 1 && e.form == 2)) wrong("book.other-form");
    form = e.form;
    const std::vector<std::string> frames = frames_about(e, named ? &named->entry : nullptr);
    if (e.form == 2) {
      const auto last_about = [&](const std::string& frame) { return last.contains(frame) ? last.at(frame) : 0; };
      if (e.links != links_of(frames, last_about)) wrong("book.links-differ");
      const std::string before = e.seq > 1 ? std::to_string(e.seq - 1) + ":" + prev : "";
      if (e.seen != before) {
        if (!knows(e)) wrong("book.unknown-head");
        if (!placed_later.emplace(e.signature, e.seq).second) wrong("book.placed-twice");
      }
    }
    for (const std::string& frame : frames) last[frame] = e.seq;
  }

  // The head that the author knew is that of an earlier entry.
  bool knows(const Entry& e) const {
    const std::size_t colon = e.seen.find(':');
    if (colon == std::string::npos || colon == 0 || colon > 15 || e.seen.find_first_not_of("0123456789") != colon) return false;
    const std::int64_t seq = std::stoll(e.seen.substr(0, colon));
    const auto there = seq < e.seq ? book.entry_at(seq) : std::nullopt;
    return there && there->hash == e.seen.substr(colon + 1);
  }

  // A statement that was placed later may have stood there already.
  void check_placed_twice(Verification& v) const {
    if (placed_later.empty()) return;
    book.for_each_entry([&](const Entry& e) {
      const auto again = placed_later.find(e.signature);
      if (again != placed_later.end() && again->second != e.seq) v.problems.push_back({again->second, "book.placed-twice"});
      return true;
    });
  }

  // In the shape of its kind, and what the rules of today let in.
  bool judge_entry(const Entry& e, const std::string& role, Verification& v) {
    try {
      check_payload(e.kind, e.payload);
    } catch (const Fault& fault) {
      const std::string key = fault.place.key.empty() ? "payload" : fault.place.key;
      v.problems.push_back(
          {e.seq, "book.wrong-shape", {text("kind", e.kind.substr(0, 80)), text("key", key)}});
      return false;
    }
    for (Message& m : broken_rules(e, role, facts))
      v.refused.push_back({e.seq, m.id, std::move(m.arguments)});
    return true;
  }

  void check(const Entry& e, const Record* named, Verification& v, Signatures& signatures) {
    const auto wrong = [&](MessageId what) { v.problems.push_back({e.seq, what}); };
    if (e.seq != expected) wrong("book.gap");
    expected = e.seq + 1;
    if (e.prev != prev) wrong("book.broken-chain");
    std::string hash;
    try {
      const std::string written = e.payload.is_discarded() ? "" : canonical(e.payload);
      if (!written.empty() && written == e.written) hash = entry_hash(book_id, e, written);
    } catch (const Fault&) {  // no canonical form: not what was signed
    }
    if (hash != e.hash) wrong("book.altered");
    check_placing(e, named, v);
    if (e.seq == 1) note_person(e, people);  // the owner signs themself in
    const auto who = people.find(e.author);
    if (who == people.end()) {
      wrong("book.unknown-author");
    } else {
      signatures.add({e.seq, who->second.public_key, hash.empty() ? e.hash : signed_hash(book_id, e, e.written), e.signature});
      if (who->second.revoked > 0) wrong("book.revoked-author");
      if (!may_sign(who->second.role, e.kind)) wrong("book.no-role");
      if (e.kind == kind::correction || e.kind == kind::annulment)
        if (const MessageId fault =
                replacement_fault(named, content_of(e.kind, e.payload), e, who->second.role);
            !fault.empty())
          wrong(fault);
    }
    facts.look_at(named);
    facts.pass(e, judge_entry(e, who == people.end() ? std::string() : who->second.role, v));
    if (e.seq != 1) note_person(e, people);
    if (e.kind == kind::person && !word_at(e.payload, field::details_sha256).empty())
      details[word_at(e.payload, field::id)] = word_at(e.payload, field::details_sha256);
    if (e.kind == kind::erase) erased[word_at(e.payload, field::id)] = e.seq;
    if (e.time < time) ++v.backwards;
    time = e.time;
    prev = e.hash;
    v.head = std::to_string(e.seq) + ":" + e.hash;
  }
};

void check_details(const Book& book, const Chain& chain, Verification& v) {
  std::map<std::string, std::string> kept;
  book.each_salted_details([&](const std::string& person, const std::string& salted) {
    kept.emplace(person, sha256_hex(salted));
  });
  for (const auto& [person, by] : chain.erased) {
    v.erased.push_back({person, by});
    if (kept.erase(person) > 0) v.problems.push_back({by, "book.not-erased"});
  }
  for (const auto& [person, hash] : chain.details) {
    if (chain.erased.contains(person)) continue;
    const auto found = kept.find(person);
    const auto who = chain.people.find(person);
    if (found == kept.end() || found->second != hash)
      v.problems.push_back({who == chain.people.end() ? 0 : who->second.from, "book.details-differ"});
    if (found != kept.end()) kept.erase(found);
  }
  if (!kept.empty()) v.problems.push_back({0, "book.details-differ"});  // of whom no entry tells
}

void check_attachments(const Book& book, const DerivedTables& told, Verification& v) {
  std::set<std::string> kept;
  book.each_attachment([&](const std::string& sha256, const std::string& bytes) {
    ++v.attachments;
    kept.insert(sha256);
    if (sha256_hex(bytes) != sha256) v.problems.push_back({0, "book.attachment-differs"});
  });
  for (const std::string& asked : told.files)
    if (!kept.contains(asked)) v.problems.push_back({0, "book.attachment-lost"});
}

// "12:ab34...": a number and 32 figures at least; a chain that ends in fewer can be found by trying.
void check_head(const std::string& head) {
  const std::size_t colon = head.find(':');
  const bool good = colon != std::string::npos && colon > 0 && head.size() >= colon + 33 &&
                    head.find_first_not_of("0123456789") == colon &&
                    head.find_first_not_of("0123456789abcdef", colon + 1) == std::string::npos;
  if (!good) throw Fault{Message{"book.bad-head", {text("head", head.substr(0, 80))}}};
}

}  // namespace

Verification verify(const Book& book, const std::string& known_head,
                    const std::function<void(std::int64_t)>& progress, std::stop_token stop) {
  if (!known_head.empty()) check_head(known_head);
  const Still still = book.still();
  Verification v;
  if (!book.damage().empty()) v.problems.push_back({0, "book.damaged"});
  compare_tables(book, v.problems);
  Chain chain(book);
  DerivedTables derived;
  Signatures signatures;
  bool head_seen = known_head.empty();
  book.each_with_named([&](const Entry& e, const Record* named) {
    ++v.entries;
    chain.check(e, named, v, signatures);
    derived.add_entry(e, named);
    head_seen = head_seen || v.head.starts_with(known_head);
    if (progress && v.entries % 1000 == 0) progress(v.entries);
    if (stop.stop_requested()) throw Fault{Message{"book.stopped", {}}};
    return true;
  });
  chain.check_placed_twice(v);
  v.last_about = chain.last;
  if (known_head.empty() && standing_of(book) == Standing::older_copy) v.problems.push_back({0, "book.older-copy"});
  for (const std::int64_t seq : signatures.finish()) v.problems.push_back({seq, "book.bad-signature"});
  compare_people(book, chain.people, v.problems);
  compare_sealed_keys(book, chain.people, v);
  if (book.form().derived) compare_derived(book, derived, v.problems);  // else it shows nothing of them
  check_attachments(book, derived, v);
  check_details(book, chain, v);
  if (v.entries == 0) v.problems.push_back({0, "book.empty"});
  if (!head_seen) v.problems.push_back({0, "book.head-not-found"});
  std::stable_sort(v.problems.begin(), v.problems.end(),
                   [](const Problem& a, const Problem& b) { return a.seq < b.seq; });
  return v;
}

BookComparison compare_books(const Book& one, const Book& other) {
  BookComparison c;
  c.same_book = one.id() == other.id();
  std::vector<std::string> hashes;
  one.for_each_entry([&](const Entry& e) {
    hashes.push_back(e.hash);
    return true;
  });
  std::size_t at = 0;
  bool together = c.same_book;
  other.for_each_entry([&](const Entry& e) {
    together = together && at < hashes.size() && hashes[at] == e.hash;
    if (together)
      ++c.common;
    else
      ++c.only_other;
    ++at;
    return true;
  });
  c.only_one = static_cast<std::int64_t>(hashes.size()) - c.common;
  return c;
}

}  // namespace seamwright::book

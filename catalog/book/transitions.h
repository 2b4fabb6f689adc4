// SPDX-License-Identifier: GPL-3.0-or-later
// This says who may write what, and when: the rules of each kind of entry over the state of the book before it. The same
// table judges at the door and, for entries that came in past it, in verify().
#pragma once

#include <map>
#include <memory>
#include <set>
#include <span>

#include "catalog/book/book.h"
#include "engine/evidence/evidence.h"

namespace seamwright::book {

struct FrozenFiles;
class Lookup;

/// A weld of a frame as one entry says that it was made, or made again in a repair.
struct WeldEntry {
  std::int64_t seq = 0;
  std::string kind, person,
      day;              ///< person: the welder named, else who signed; day: as said, else of the entry
  bool current = true;  ///< no later entry replaced it
  std::string weld{}, procedure{};
};

/// A certificate of ISO 9712 that a person holds.
struct HeldMethod {
  std::string method, from, until;  ///< days
  double level = 0;                 ///< 1, 2, 3
};

/// A frozen design has these: its welds, and all that can be looked at (welds, notches, circles of bolts).
struct DesignSubjects {
  std::set<std::string> welds, subjects;
  std::set<std::string> fused;  ///< procedures of welds whose rating counts on a fused root
};

/// The book says this before an entry is placed, as far as the rules ask.
class RuleFacts {
 public:
  virtual ~RuleFacts() = default;
  /// "" for who is not in the book.
  virtual std::string role_of(const std::string& person) const = 0;
  virtual std::optional<Record> entry(std::int64_t seq) const = 0;
  /// All of the frame where the weld is "".
  virtual std::vector<WeldEntry> weld_entries(const std::string& frame, const std::string& weld) const = 0;
  virtual std::vector<HeldMethod> methods_of(const std::string& person) const = 0;
  /// The person who raised an audit finding; "" = there is none of that id.
  virtual std::string auditor_of(const std::string& finding) const = 0;
  /// The owner said that one person does all: nobody else can inspect or sign for what they welded.
  virtual bool is_shop_of_one() const = 0;
  /// A release of the frame stands, and no entry after it asks for another; nor does a production test of a procedure that it was welded
  /// by, next behind such a weld, with an open root.
  virtual bool is_released(const std::string& serial) const = 0;
  virtual bool has_frame(const std::string& serial) const = 0;
  /// Null where the frame or its frozen design is not in the book, or cannot be read.
  virtual const DesignSubjects* subjects_of(const std::string& frame) const = 0;
  /// These keep a frame from being released by an entry that says so.
  virtual std::optional<Message> release_fault(const Json& release, const Entry& entry) const = 0;
};

/// Two acts that one person may not both do, but in a shop of one. docs/book.md shows this table.
struct Separation {
  const char* act;     ///< kind of entry that is refused
  const char* about;   ///< "weld": for who welded that weld; "frame": for who welded any of the frame's, where it names no weld
  MessageId refusal;
};
std::span<const Separation> separations();

/// Every rule that an entry of this author in this role breaks; the entry's seq need not be known yet.
std::vector<Message> broken_rules(const Entry& entry, const std::string& role, const RuleFacts& facts);

/// Such an entry asks for another release of its frame, which is another frame, was welded, rejected, or found to be wrong.
bool asks_for_release(const Content& content);

/// The owner said last that one person does all.
bool is_shop_of_one(Lookup& records);
bool is_shop_of_one(const Book& book);

/// Frozen designs read once, by the hash of their file.
class FrozenDesigns {
 public:
  /// Null for what is not in the book or cannot be read.
  const DesignSubjects* subjects_of(const Book& book, const std::string& design_sha256);

 private:
  std::map<std::string, std::unique_ptr<DesignSubjects>> known_;
};

/// The facts of a book as it is, looked up as the rules ask.
class BookFacts : public RuleFacts {
 public:
  BookFacts(const Book& book, FrozenDesigns& frozen_designs) : book_(book), frozen_designs_(frozen_designs) {}
  std::string role_of(const std::string& person) const override;
  std::optional<Record> entry(std::int64_t seq) const override { return book_.record(seq); }
  std::vector<WeldEntry> weld_entries(const std::string& frame, const std::string& weld) const override;
  std::vector<HeldMethod> methods_of(const std::string& person) const override;
  std::string auditor_of(const std::string& finding) const override;
  bool is_shop_of_one() const override;
  bool is_released(const std::string& serial) const override;
  bool has_frame(const std::string& serial) const override;
  const DesignSubjects* subjects_of(const std::string& frame) const override;
  std::optional<Message> release_fault(const Json& release, const Entry& entry) const override;

 private:
  const Book& book_;
  FrozenDesigns& frozen_designs_;
};

/// The same while entries pass by in their order, as verify() reads them.
class PassingFacts : public RuleFacts {
 public:
  explicit PassingFacts(const Book& book);
  /// Takes in, before an entry is judged, the one that it corrects or makes void; null = none.
  void look_at(const Record* named) { named_ = named; }
  /// Is called after an entry was judged; one that is not in the shape of its kind says nothing.
  void pass(const Entry& entry, bool in_shape);
  std::string role_of(const std::string& person) const override;
  std::optional<Record> entry(std::int64_t seq) const override;  ///< of what look_at() was told alone
  std::vector<WeldEntry> weld_entries(const std::string& frame, const std::string& weld) const override;
  std::vector<HeldMethod> methods_of(const std::string& person) const override;
  std::string auditor_of(const std::string& finding) const override;
  bool is_shop_of_one() const override;
  bool is_released(const std::string& serial) const override;
  bool has_frame(const std::string& serial) const override;
  const DesignSubjects* subjects_of(const std::string& frame) const override;
  std::optional<Message> release_fault(const Json& release, const Entry& entry) const override;

 private:
  /// A frame, or a design, that an entry names with its revision.
  struct NamedRevision {
    std::int64_t seq;
    std::string name, revision, sha256;
  };
  struct HeldEntry {
    std::int64_t seq;
    HeldMethod held;
  };
  void take_in(std::int64_t seq, const Content& content);
  void drop(const Record& old);
  const Book& book_;
  const Record* named_ = nullptr;
  std::map<std::string, std::string> roles_;
  std::map<std::string, std::vector<NamedRevision>> frames_, designs_;  // current ones, by serial, by name
  std::map<std::string, std::map<std::string, std::vector<WeldEntry>>> weld_entries_;  // by frame and weld
  std::map<std::string, std::set<std::int64_t>> releases_, asking_;  // current ones, by serial
  std::map<std::string, std::map<std::int64_t, bool>> tests_;  // production tests by procedure: whether a root was open
  std::map<std::string, std::vector<HeldEntry>> held_;      // by person
  std::map<std::string, std::string> auditors_;             // who raised a finding, by its id
  std::map<std::int64_t, bool> shop_of_one_;                // what the owner said, by entry
  mutable FrozenDesigns frozen_designs_;
  std::shared_ptr<FrozenFiles> frozen_;
};

}  // namespace seamwright::book

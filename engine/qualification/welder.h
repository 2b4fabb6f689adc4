// SPDX-License-Identifier: GPL-3.0-or-later
// Welders after ISO 9606-1:2012 (EN ISO 9606-1:2017, the same body). All range tables from memory.
#pragma once

#include "engine/qualification/calendar.h"
#include "engine/qualification/ranges.h"

namespace seamwright::qualification {

/// The standard's designation of a test piece, or of what a joint asks for, is taken apart here.
struct Designation {
  std::vector<std::string> processes;  ///< ISO 4063
  bool tube = false;                   ///< T, else P
  bool fillet = false;                 ///< FW, else BW
  int filler_group = 0;                ///< FM1..FM6; 0 = without filler
  std::string filler_kind;             ///< S, M, B, R, ..., nm
  double thickness_mm = 0;             ///< s of a butt weld, t of a fillet weld
  double diameter_mm = 0;              ///< 0 = plate
  std::vector<std::string> positions;  ///< ISO 6947
  std::string side;                    ///< "ss", "bs"; "" for fillet welds
  std::string backing;                 ///< "nb", "mb", "gb", "fb"
  std::string layers;                  ///< "sl", "ml"; "" where it does not matter
  std::string standard;                ///< "ISO 9606-1", "EN 287-1"; "" = not written
  bool older_text = false;             ///< EN 287-1, or ISO 9606-1 of 1994: by groups of metal in place of FM
  std::string metal;                   ///< that group, of the older text
  std::vector<std::string> read_as;    ///< spellings and how they were read: "PH-L045 = H-L045"
  std::vector<std::string> unread;     ///< words that are not the standard's
};

/// "ISO 9606-1 141 T BW FM1 S s1.5 D28.6 H-L045 ss nb": blanks and decimal commas as they come; "PH-L045" is
/// read as H-L045 and told; words that the standard does not have stay in `unread`. Throws Fault
/// "qualification.unreadable" (with what is missing) when process, product, weld, filler (but for the older
/// text), thickness or position cannot be read.
Designation read_designation(const std::string& text);
/// The designation as it is written on a certificate; read_designation() reads it back.
std::string text_of(const Designation& designation);

/// A joint as a welder meets it.
struct Joint {
  std::string process;
  bool tube = true, fillet = false;
  int filler_group = 1;
  std::string filler_kind = "S";
  double thickness_mm = 0;      ///< of butt: deposited; of fillet and set-on branch: wall
  double diameter_mm = 0;       ///< of a tube; 0 = plate
  double branch_angle_deg = 0;  ///< of a branch connection; 0 = none
  bool rotates = false;         ///< the tube turns while it is welded
  std::string position;
  std::string side = "ss", backing = "nb", layers = "sl";
};

/// The supplementary fillet piece of 5.4 e: plate of 10 mm and more, or of the wall of the butt test where
/// that is thinner, one layer in PB. It covers fillets of one layer by the wall of that piece (Table 8), in
/// PA and PB; whether the position of the butt test carries over is not known here: "cannot decide". Product
/// and diameter as the butt test [all from memory].
struct FilletPiece {
  bool welded = false;
  double wall_mm = 10;
};

/// Item by item in the order of the standard's decision: designation, process, weld, filler, kind, position,
/// thickness, diameter, details.
Check covers(const Designation& test, const Joint& joint, const FilletPiece& piece = {});

/// Ranges of a test: deposited thickness of butt welds (Table 6), wall of fillet welds (Table 8), outside
/// diameter (Table 7).
Range butt_range(double tested_mm, bool gas_welding = false);
Range fillet_range(double tested_mm);
Range diameter_range(double tested_mm);
/// Positions that a tested one covers (Tables 9 and 10); empty for what is no position.
std::vector<std::string> positions_covered(const std::string& tested, bool fillet);

/// A weld that was tested for a prolongation: "RT", "UT", "destructive"; route a: the new test piece, however it was tested.
struct TestedWeld {
  Date on{};
  std::string method;
};
/// A prolongation by 9.3 with what it rests on.
struct Prolongation {
  Date on{};
  std::vector<TestedWeld> tested{};
  bool attached = false;  ///< the records of these tests are kept with it
};

struct Certificate {
  std::string id, welder, employer;
  Designation designation;
  FilletPiece supplementary_fillet;
  bool revoked = false;
  Date tested{};
  char route = 'a';  ///< 9.3 a: retest every 3 years; b: two welds every 2 years; c: quality programme
  std::vector<Date> confirmed;  ///< six-monthly, by the coordinator
  std::vector<Prolongation> prolonged;  ///< by the route
  std::string job_knowledge{}, examiner{};              ///< "tested", "not-tested"; who tested; "" = not stated
  std::string quality_programme{}, quality_record{};  ///< route c: "3834-2", "3834-3"; where the welds of acceptable quality are documented
  bool evidence_asked = true;  ///< false: the signatures alone count, as older records were judged
};

/// Says what a prolongation lacks that 9.3 asks for [from memory]; no id: nothing. Route a: a new test piece since the term began, with
/// its record. Route b: two welds of the last six months of that term, each tested by RT, UT or destructively, with their records.
Message missing_evidence(char route, Date term_began, Date term_ends, const Prolongation& prolongation);

/// Checks that it holds on a day: from the test on, each confirmation within six months of the one before,
/// the route's own term. What it rests on beyond its first term is asked for: a prolongation without its evidence, or route c without a
/// quality programme of ISO 3834-2 or -3 and the documented welds, "cannot decide". Route c ends with the employer. A lapsed certificate does not come back by a later
/// signature.
Check valid_on(const Certificate& certificate, Date day, const std::string& employer);
/// Last day that it holds, as things stand; nothing when it never did.
Date holds_to(const Certificate& certificate);

/// A signature that a certificate needs next, at the latest on its day: the confirmation of every six months (9.2), or the prolongation by
/// its route (9.3 a or b) [from memory]. lapsed: that day is past, and no later signature brings the certificate back.
struct Due {
  bool prolongs = false;
  Date on{};
  bool lapsed = false;
};
/// Gives the earlier first, as things stand on a day; none for a certificate that was revoked or not yet tested.
std::vector<Due> due_of(const Certificate& certificate, Date day);

}  // namespace seamwright::qualification

// SPDX-License-Identifier: GPL-3.0-or-later
#include "catalog/book/job_records.h"

#include <algorithm>
#include <filesystem>

#include "catalog/book/bulk.h"
#include "catalog/book/records.h"
#include "catalog/book/records/names.h"
#include "catalog/book/records/rating_record.h"
#include "catalog/files/job_checks.h"
#include "catalog/files/procedure_reader.h"
#include "catalog/published/sha256.h"
#include "engine/rating/rate.h"

namespace seamwright::book {

namespace {

bool stands(const Book& book, const Mark& mark, const char* kind, const std::string& content) {
  const std::string sha = sha256_hex(content);
  const std::vector<Record> all = book.current(mark, kind);
  return std::any_of(all.begin(), all.end(), [&](const Record& r) {
    const auto file = r.content.find(field::file);
    return file != r.content.end() && file->is_object() && file->value(field::sha256, std::string()) == sha;
  });
}

void add_procedures(std::vector<NewEntry>& all, const Book& book, const std::string& folder, qualification::Date today) {
  for (const files::ProcedureFile& p : files::read_procedures(files::path_beside_job(folder, "procedures"), today)) {
    const Attachment file = read_attachment(p.path);
    if (!stands(book, {mark::procedure, p.sheet.id}, kind::procedure, file.bytes))
      all.push_back({kind::procedure, {{field::id, p.sheet.id}, {field::revision, p.sheet.revision}}, file});
    if (!p.record || !book.current({mark::qualification, p.record->id}, kind::qualification).empty()) continue;
    Json content{{field::id, p.record->id}, {field::procedure, p.sheet.id}};
    if (const auto by = p.test.stated.find("witnessed_by"); by != p.test.stated.end() && !by->second.empty()) content[field::by] = by->second;
    all.push_back({kind::qualification, std::move(content), std::nullopt});
  }
}

void add_certificates(std::vector<NewEntry>& all, const Book& book, const std::string& folder, qualification::Date today) {
  const std::string path = files::path_beside_job(folder, "certificates.toml");
  if (!std::filesystem::exists(path)) return;
  for (const qualification::Certificate& c : files::read_certificates(path, today).all) {
    if (c.revoked || !book.current({mark::certificate, c.id}, kind::certificate).empty()) continue;
    Json content{{field::id, c.id},
                 {field::welder, c.welder},
                 {field::designation, qualification::text_of(c.designation)},
                 {field::tested, qualification::text_of(c.tested)},
                 {field::route, std::string(1, c.route)},
                 {field::employer, c.employer}};
    if (c.supplementary_fillet.welded) {
      content[field::supplementary_fillet] = true;
      content[field::supplementary_fillet_mm] = c.supplementary_fillet.wall_mm;
    }
    all.push_back({kind::certificate, std::move(content), std::nullopt});
    for (const auto& day : c.confirmed)
      all.push_back({kind::confirmation, {{field::certificate, c.id}, {field::on, qualification::text_of(day)}}, std::nullopt});
  }
}

}  // namespace

std::vector<NewEntry> job_records(const Book& book, const std::string& folder, const std::string& design_text, const rating::Rating& rating,
                                  const std::string& program, qualification::Date today) {
  std::vector<NewEntry> all;
  add_procedures(all, book, folder, today);
  add_certificates(all, book, folder, today);
  const design::Identity& d = rating.design;
  if (!stands(book, {mark::design, d.name}, kind::design, design_text))
    all.push_back({kind::design, {{field::name, d.name}, {field::revision, d.revision}}, Attachment{"design.toml", design_text}});
  all.push_back({kind::rating, rating_payload(rating, program), std::nullopt});
  return all;
}

}  // namespace seamwright::book

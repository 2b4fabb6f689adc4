// SPDX-License-Identifier: GPL-3.0-or-later
// figure and catalog.
#include <map>
#include <memory>

#include "app/cli/commands.h"
#include "catalog/files/source.h"
#include "catalog/published/published_data.h"
#include "reports/content/catalog_blocks.h"
#include "reports/content/figure_blocks.h"
#include "reports/render/json.h"
#include "reports/render/render.h"

namespace seamwright::cli {

namespace {

struct PublishedOptions {
  std::string name;
  std::vector<std::string> arguments;
  bool json = false, list = false;
};

int figure(const PublishedOptions& o, const Session& session) {
  if (o.list) {
    print(reports::figure_list_document(), session);
    return 0;
  }
  std::map<std::string, std::string> arguments;
  for (const std::string& a : o.arguments) {
    const std::size_t at = a.find('=');
    if (at == std::string::npos) throw usage_fault("usage.key-value", {text("found", a)});
    if (!arguments.emplace(a.substr(0, at), a.substr(at + 1)).second)
      throw usage_fault("usage.given-twice", {text("found", a)});
  }
  const published::Catalog& catalog = published::catalog();
  const figures::FigureResult result = figures::compute(o.name, arguments, catalog);
  if (o.json)
    print(reports::to_json(result, catalog));
  else
    print(reports::figure_document(result, catalog), session);
  return result.evidence.coverage == Coverage::none ? 1 : 0;
}

}  // namespace

void add_figure(CLI::App& app, Session& session) {
  auto o = std::make_shared<PublishedOptions>();
  CLI::App* command = app.add_subcommand("figure", "Evaluate one published formula, with its sources and limits");
  auto* name = command->add_option("name", o->name, "formula; --list shows all");
  command->add_option("arguments", o->arguments, "key=value ...");
  command->add_flag("--json", o->json, "one JSON document on stdout");
  auto* list = command->add_flag("--list", o->list, "list all formulas with their parameters");
  list->excludes(name);
  command->callback([o, &session] {
    if (!o->list && o->name.empty()) throw CLI::RequiredError("name or --list");
    session.run = [o, &session] { return figure(*o, session); };
  });
}

void add_catalog(CLI::App& app, Session& session) {
  auto kind = std::make_shared<std::string>(), id = std::make_shared<std::string>(),
       html = std::make_shared<std::string>();
  CLI::App* command = app.add_subcommand("catalog", "Published data with their sources");
  command->add_option("kind", *kind, "curves, details, joint-kinds, references, rigs, roads, steels, surfaces, tubes");
  command->add_option("id", *id, "id of one row");
  command->add_option("--html", *html, "also write an HTML page, with the drawing of a joint kind");
  command->callback([kind, id, html, &session] {
    session.run = [kind, id, html, &session] {
      const reports::Document document = reports::catalog_document(published::catalog(), *kind, *id);
      if (!html->empty()) files::write_text(*html, reports::to_html(document, session.language));
      print(document, session);
      return 0;
    };
  });
}

}  // namespace seamwright::cli

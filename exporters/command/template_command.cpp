#include <filesystem>
#include <iostream>

#include "command/commands.hpp"
#include "command/gather.hpp"
#include "command/pages.hpp"
#include "command/templates.hpp"
#include "command/terminal.hpp"

namespace culmwright::command {

namespace {

struct Options : FileOptions {
  std::string tube;
  std::string paper;
  std::string stretch = "internodes";
  bool patches = false;
};

namespace fs = std::filesystem;

/// Into a folder of the instrument's name. Returns the names of the pages.
std::vector<std::string> write_templates(const Job& job, const Shop& shop, const Options& options) {
  const fs::path out = fs::path(options.out) / job.instrument.id;
  std::vector<std::string> names;
  const auto write = [&](const NamedDrawing& made) {
    for (std::string& name : write_pages(out, made.drawing, made.stem)) names.push_back(std::move(name));
  };
  if (options.patches) {
    write(patches_of(job, shop));
    return names;
  }
  const Stretch stretch = options.stretch == "whole" ? Stretch::whole : Stretch::internodes;
  for (const NamedDrawing& made : templates_of(job, shop, stretch, tolerance_of(job, shop))) write(made);
  return names;
}

Shop shop_of(const Documents& documents, const std::string& paper) {
  Shop shop = documents.shop_or_default();
  if (paper == "a4") shop.paper.size = PaperSize::a4;
  if (paper == "letter") shop.paper.size = PaperSize::letter;
  if (paper == "a3") shop.paper.size = PaperSize::a3;
  return shop;
}

int run(const Options& options) {
  const Documents documents = gather(options.files);
  const std::vector<Job> jobs = jobs_of(documents, options.tube);
  if (jobs.empty()) {
    throw InputError({{"nothing-to-draw",
                       {},
                       "no placement among the files",
                       "a tube, a key layout and a placement, or a workshop",
                       "Start from templates/placement.json"}});
  }
  const Shop shop = shop_of(documents, options.paper);
  for (const Job& job : jobs) {
    std::cout << job.instrument.id << " on " << job.instrument.tube_id << "\n";
    for (const std::string& name : write_templates(job, shop, options))
      std::cout << "  " << job.instrument.id << "/" << name << "\n";
  }
  return done;
}

}  // namespace

Command template_command(CLI::App& app) {
  const auto options = std::make_shared<Options>();
  CLI::App* drawn =
      add_command(app, *options, "template", "Paper templates to wrap around the tube, and patches of foam",
                  "culmwright template tube.json layout.json placement.json --out paper");
  drawn->add_option("--tube", options->tube, "only this tube");
  drawn->add_option("--paper", options->paper, "a4, letter or a3, instead of the shop's")
      ->check(CLI::IsMember({"a4", "letter", "a3"}));
  drawn
      ->add_option("--run", options->stretch,
                   "internodes: a template for each that is used (the default); whole: one from cut to cut")
      ->check(CLI::IsMember({"internodes", "whole"}));
  drawn->add_flag("--patches", options->patches,
                  "instead: outlines of touches, sliders and rests, to cut from foam");
  drawn->get_option("--out")->required();
  return {drawn, [options] { return run(*options); }};
}

}  // namespace culmwright::command

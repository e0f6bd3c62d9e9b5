#include <iostream>

#include "command/check_text.hpp"
#include "command/commands.hpp"
#include "command/gather.hpp"
#include "command/placement_file.hpp"
#include "command/terminal.hpp"
#include "files/sign_state.hpp"
#include "fit/sign.hpp"

namespace culmwright::command {

namespace {

struct Options : FileOptions {
  std::string by;
  std::string date;
  std::vector<std::string> accept;
  std::string tube;
};

/// As a shell takes it for one word.
std::string shell_word(const std::string& word) {
  const bool plain = !word.empty() && word.find_first_not_of(
                                          "abcdefghijklmnopqrstuvwxyz"
                                          "ABCDEFGHIJKLMNOPQRSTUVWXYZ"
                                          "0123456789_-./") == std::string::npos;
  if (plain) return word;
  std::string quoted = "'";
  for (char c : word) quoted += c == '\'' ? std::string("'\\''") : std::string(1, c);
  return quoted + "'";
}

/// The command again with what is accepted so far and what is still to be accepted.
std::string ready_line(const Options& options, const std::vector<Finding>& left) {
  std::string line = "culmwright sign";
  for (const std::string& file : options.files) line += " " + shell_word(file);
  if (!options.tube.empty()) line += " --tube " + shell_word(options.tube);
  if (!options.out.empty()) line += " --out " + shell_word(options.out);
  line += " --by " + shell_word(options.by);
  if (!options.date.empty()) line += " --date " + options.date;
  for (const std::string& words : options.accept) line += " \\\n  --accept " + shell_word(words);
  for (const Finding& finding : left) {
    line += " \\\n  --accept " + shell_word(words_of(finding, reason_wanted));
  }
  return line + "\n";
}

void print_left(const Options& options, const std::vector<Finding>& left) {
  std::cout << "Not signed. What does not pass must be accepted by the one who signs, with the reason:\n";
  bool all_acceptable = true;
  for (const Finding& finding : left) {
    const std::string why_not = why_not_acceptable(finding);
    all_acceptable = all_acceptable && why_not.empty();
    std::cout << wrapped(verdict(finding) + ": " + finding.sentence +
                             (why_not.empty() ? "" : " This cannot be accepted. " + why_not),
                         2);
  }
  if (all_acceptable) {
    std::cout << "To accept all of it, with your reasons in place of " << reason_wanted << ":\n"
              << ready_line(options, left);
  }
}

/// What the rules do not judge, but the one who signs should know.
void print_remarks(const Job& job, const Options& options, bool shop_given) {
  std::cout << known_text(job.fit);
  if (job.tube->value.check_girths.empty()) {
    std::cout << wrapped(
        "look: No check girths yet. Measure two girths again before drilling; more than "
        "half a percent of movement stops the job.",
        2);
  }
  if (!shop_given) {
    std::cout << wrapped("look: Signed without a shop: with one, it has to be signed again.", 2);
  }
  if (options.date.empty()) std::cout << wrapped("look: Signed without a date; --date gives one.", 2);
}

void print_signed(const Placement& placement, const std::string& file) {
  const Signature& signature = *placement.signature();
  std::cout << placement.id << ", revision " << placement.revision() << ": signed off by " << signature.by
            << (signature.date.empty() ? "" : ", " + signature.date) << "\n";
  for (const Accepted& accepted : signature.accepted) {
    std::cout << wrapped("accepted: " + accepted_words(accepted) + ".", 2);
  }
  std::cout << wrapped("Any change of the tube, the key layout, the shop or a place makes it a draft again.",
                       2)
            << "  Written: " << file << "\n";
}

int run(const Options& options) {
  const Documents documents = gather(options.files);
  const std::vector<Job> jobs = jobs_of(documents, options.tube);
  const Job& job = only_job(jobs);
  std::vector<Accepted> orders;
  for (const std::string& words : options.accept) {
    orders.push_back(parse_accepted(words, job.key_layout->value));
  }
  const std::vector<Accepted> accepted = spelt_out(orders, job.findings);
  const std::vector<Finding> left = not_accepted(job.findings, accepted);
  if (!left.empty()) {
    print_left(options, left);
    return rule_failed;
  }
  const Placement& before = job.placement->value;
  const Shop* shop = documents.shop ? &documents.shop->value : nullptr;
  Signature signature = signature_for(before, job.tube->value, job.key_layout->value, shop);
  signature.by = options.by;
  signature.date = options.date;
  signature.accepted = accepted;
  const Placement now = signed_off(before, signature, job.instrument.sign);
  print_signed(now, write_changed(*job.placement, now, options.out));
  print_remarks(job, options, shop != nullptr);
  return done;
}

}  // namespace

Command sign_command(CLI::App& app) {
  const auto options = std::make_shared<Options>();
  CLI::App* sign = add_command(app, *options, "sign", "Sign off a revision for drilling",
                               "culmwright sign tube.json layout.json shop.json placement.json --by \"A. "
                               "Maker\" --date 2026-03-01");
  sign->add_option("--by", options->by, "who signs")->required();
  sign->add_option("--date", options->date, "the day, year-month-day");
  sign->add_option("--accept", options->accept,
                   "a rule that may stand broken, the keys it is about, a colon and the reason: \"web-along "
                   "L1 L2: the wall is thick there\"")
      ->take_all();
  sign->add_option("--tube", options->tube, "only this tube");
  return {sign, [options] { return run(*options); }};
}

}  // namespace culmwright::command

#include "base/problem.hpp"

#include <cstdio>
#include <cstdlib>

namespace culmwright {

namespace {

std::string summary(const Problems& problems) {
  std::string text;
  for (const Problem& problem : problems) {
    if (!text.empty()) text += '\n';
    text += to_line(problem);
  }
  return text;
}

}  // namespace

std::string to_line(const Problem& problem) {
  std::string text = problem.where.file;
  if (problem.where.line > 0) {
    text += ":" + std::to_string(problem.where.line) + ":" + std::to_string(problem.where.column);
  }
  if (!text.empty()) text += ": ";
  if (!problem.where.pointer.empty()) text += problem.where.pointer + ": ";
  text += "found " + problem.found + "; allowed: " + problem.allowed;
  if (!problem.advice.empty()) text += ". " + problem.advice;
  return text;
}

InputError::InputError(Problems problems)
    : std::runtime_error(summary(problems)), problems_(std::move(problems)) {}

GeometryError::GeometryError(std::string part, std::string stage, std::string what_failed)
    : std::runtime_error(part + ": " + stage + ": " + what_failed),
      part_(std::move(part)),
      stage_(std::move(stage)) {}

void require(bool holds, const char* what) {
  if (holds) return;
  std::fprintf(stderr, "culmwright: internal error: %s\n", what);
  std::abort();
}

}  // namespace culmwright

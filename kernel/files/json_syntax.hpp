#pragma once
/// What is wrong with a text that is no JSON, in words that help the one who typed it.
#include <cstddef>
#include <string>
#include <string_view>

#include "base/problem.hpp"

namespace culmwright::files {

/// The first byte at or after `offset` that is no space, comma, colon or (where allowed) comment.
std::size_t skip_between_values(std::string_view text, std::size_t offset, bool comments_allowed);

struct SyntaxError {
  std::size_t offset = 0;
  Problem problem;
};

/// `read`: bytes the parser had taken; `last_token` and `message` as the parser gives them.
SyntaxError explained_syntax(std::string_view text, std::size_t read, const std::string& last_token,
                             const std::string& message, bool comments_allowed);

}  // namespace culmwright::files

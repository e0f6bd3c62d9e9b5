#pragma once
/// What can be wrong, said so that the maker can mend it. Two kinds:
///   InputError     a document, or what it describes, is not allowed. All problems of a document at once.
///   GeometryError  a plan or solid failed; names the part and the stage. Such a part is never exported.
/// A broken invariant of the program itself stops it, in release builds too (`require`): a crash beats a
/// wrong hole.
#include <stdexcept>
#include <string>
#include <vector>

namespace culmwright {

/// Where in a document: `pointer` is a JSON pointer ("/stations/3/girth"). The kernel knows only the pointer;
/// the reader of the file adds file, line and column (1-based; 0 = unknown).
struct Place {
  std::string file;
  int line = 0;
  int column = 0;
  std::string pointer;
};

struct Problem {
  std::string code;  ///< short and stable: "range", "unknown-key", "not-convex"
  Place where;
  std::string found;    ///< what stands there, in words and numbers
  std::string allowed;  ///< what may stand there
  std::string advice;   ///< what to do about it; may be empty
};

using Problems = std::vector<Problem>;

/// One problem in one line: "piece.json:12:7 /stations/3/girth: found …; allowed: …. Advice".
std::string to_line(const Problem& problem);

class InputError : public std::runtime_error {
 public:
  explicit InputError(Problems problems);
  const Problems& problems() const { return problems_; }

 private:
  Problems problems_;
};

class GeometryError : public std::runtime_error {
 public:
  GeometryError(std::string part, std::string stage, std::string what_failed);
  const std::string& part() const { return part_; }
  const std::string& stage() const { return stage_; }

 private:
  std::string part_;
  std::string stage_;
};

/// Stops the program with `what` on standard error when an invariant of the program itself does not hold.
void require(bool holds, const char* what);

}  // namespace culmwright

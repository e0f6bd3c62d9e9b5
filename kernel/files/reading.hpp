#pragma once
/// The state of reading one document: the problems found so far, and what its lengths are counted in.
#include <cstddef>
#include <string>
#include <vector>

#include "base/problem.hpp"
#include "files/json_tree.hpp"

namespace culmwright::files {

constexpr double inch = 25.4;  ///< mm, exactly

class Reading {
 public:
  /// `length_unit`: millimetres in one unit of the document's lengths.
  Reading(Problems& problems, double length_unit) : problems_(problems), length_unit_(length_unit) {}

  double length_unit() const { return length_unit_; }
  /// The document could say "units" and does not: what is out of range may be meant in inches.
  void no_unit_stated() { unit_may_be_meant_ = true; }
  bool unit_may_be_meant() const { return unit_may_be_meant_; }
  const char* length_unit_name() const { return length_unit_ == 1.0 ? "mm" : "inch"; }

  /// No further problem will be kept.
  bool full() const;
  void add(const char* code, const TextSpot& spot, const std::string& pointer, std::string found,
           std::string allowed, std::string advice = "");
  /// `found` is the node itself, in words.
  void refuse(const char* code, const JsonNode& node, const std::string& pointer, std::string allowed,
              std::string advice = "");

  /// A value that is there but could not be read: nothing that is concluded from its absence is said.
  void mark_unread(const std::string& pointer) { unread_.push_back(pointer); }
  /// Whether that value, or one around it, has a problem already.
  bool is_spoiled(const std::string& pointer) const;

 private:
  Problems& problems_;
  std::vector<std::string> unread_;
  double length_unit_;
  bool unit_may_be_meant_ = false;
};

}  // namespace culmwright::files

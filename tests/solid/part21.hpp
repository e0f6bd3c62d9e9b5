#pragma once
/// A reader of STEP physical files (ISO 10303-21, clear text) of our own, and an evaluation of its B-spline
/// surfaces and curves by de Boor's recursion: nothing of the kernel that wrote the file is used.
#include <algorithm>
#include <array>
#include <cctype>
#include <cstdlib>
#include <map>
#include <stdexcept>
#include <string>
#include <vector>

#include "base/vec.hpp"

namespace part21 {

using culmwright::Vec3;

/// A parameter: a number, a reference (#n), a text or enumeration, or a list.
struct Value {
  enum class Kind { number, reference, text, list } kind = Kind::text;
  double number = 0.0;
  int reference = 0;
  std::string text;
  std::vector<Value> list;
};

/// An instance: one record, or several for a complex one.
struct Record {
  std::string type;
  std::vector<Value> parameters;
};
using Instance = std::vector<Record>;

class File {
 public:
  explicit File(const std::string& text) : text_(text) {
    at_ = text_.find("DATA;");
    if (at_ == std::string::npos) throw std::runtime_error("no DATA section");
    at_ += 5;
    while (skip(), text_.compare(at_, 6, "ENDSEC") != 0) read_instance();
  }

  const Instance& operator[](int id) const { return instances_.at(id); }
  const Record& record(int id) const { return instances_.at(id).front(); }

  /// Ids of all simple instances of a type, in order.
  std::vector<int> of_type(const std::string& type) const {
    std::vector<int> ids;
    for (const auto& [id, instance] : instances_) {
      if (instance.size() == 1 && instance[0].type == type) ids.push_back(id);
    }
    return ids;
  }

  Vec3 point(int id) const {
    const Record& r = record(id);
    if (r.type != "CARTESIAN_POINT" && r.type != "DIRECTION") throw std::runtime_error(r.type);
    const std::vector<Value>& c = r.parameters.at(1).list;
    return {c.at(0).number, c.at(1).number, c.at(2).number};
  }

 private:
  void skip() {
    while (at_ < text_.size()) {
      if (std::isspace(static_cast<unsigned char>(text_[at_])) != 0) {
        ++at_;
      } else if (text_.compare(at_, 2, "/*") == 0) {
        at_ = text_.find("*/", at_) + 2;
      } else {
        return;
      }
    }
    throw std::runtime_error("the file ends early");
  }
  void expect(char c) {
    skip();
    if (text_[at_] != c)
      throw std::runtime_error(std::string("wanted ") + c + " at " + text_.substr(at_, 20));
    ++at_;
  }
  bool next_is(char c) {
    skip();
    return text_[at_] == c;
  }
  std::string word() {
    skip();
    const std::size_t from = at_;
    while (std::isalnum(static_cast<unsigned char>(text_[at_])) != 0 || text_[at_] == '_') ++at_;
    return text_.substr(from, at_ - from);
  }
  int id() {
    expect('#');
    char* end = nullptr;
    const long value = std::strtol(text_.c_str() + at_, &end, 10);
    at_ = static_cast<std::size_t>(end - text_.c_str());
    return static_cast<int>(value);
  }
  void read_instance() {
    const int number = id();
    expect('=');
    Instance instance;
    if (next_is('(')) {
      expect('(');
      while (!next_is(')')) instance.push_back(read_record());
      expect(')');
    } else {
      instance.push_back(read_record());
    }
    expect(';');
    instances_[number] = instance;
  }
  Record read_record() {
    Record record;
    record.type = word();
    record.parameters = read_list().list;
    return record;
  }
  Value read_list() {
    Value value;
    value.kind = Value::Kind::list;
    expect('(');
    while (!next_is(')')) {
      value.list.push_back(read_value());
      if (next_is(',')) expect(',');
    }
    expect(')');
    return value;
  }
  Value read_value() {
    Value value;
    skip();
    const char c = text_[at_];
    if (c == '(') return read_list();
    if (c == '#') {
      value.kind = Value::Kind::reference;
      value.reference = id();
    } else if (c == '\'') {
      const std::size_t from = ++at_;
      while (text_[at_] != '\'' || text_[at_ + 1] == '\'') at_ += text_[at_] == '\'' ? 2 : 1;
      value.text = text_.substr(from, at_++ - from);
    } else if (c == '.') {
      const std::size_t from = at_++;
      while (text_[at_] != '.') ++at_;
      value.text = text_.substr(from, ++at_ - from);
    } else if (c == '$' || c == '*') {
      value.text = c;
      ++at_;
    } else if (std::isalpha(static_cast<unsigned char>(c)) != 0) {
      value.text = word();
      value.list = read_list().list;  // a typed parameter
    } else {
      value.kind = Value::Kind::number;
      char* end = nullptr;
      value.number = std::strtod(text_.c_str() + at_, &end);
      if (end == text_.c_str() + at_) throw std::runtime_error("no value at " + text_.substr(at_, 20));
      at_ = static_cast<std::size_t>(end - text_.c_str());
    }
    return value;
  }

  const std::string& text_;
  std::size_t at_ = 0;
  std::map<int, Instance> instances_;
};

/// Knots written out by their multiplicities.
inline std::vector<double> flat_knots(const Value& multiplicities, const Value& knots) {
  std::vector<double> flat;
  for (std::size_t i = 0; i < knots.list.size(); ++i) {
    flat.insert(flat.end(), static_cast<std::size_t>(multiplicities.list.at(i).number), knots.list[i].number);
  }
  return flat;
}

/// de Boor 1972: the value at u of the spline with these knots and control points.
inline Vec3 de_boor(int degree, const std::vector<double>& knots, const std::vector<Vec3>& points, double u) {
  const std::size_t n = points.size();
  const std::size_t p = static_cast<std::size_t>(degree);
  std::size_t span = p;
  while (span + 1 < n && u >= knots[span + 1]) ++span;
  std::vector<Vec3> d(points.begin() + static_cast<std::ptrdiff_t>(span - p),
                      points.begin() + static_cast<std::ptrdiff_t>(span + 1));
  for (std::size_t r = 1; r <= p; ++r) {
    for (std::size_t j = p; j >= r; --j) {
      const std::size_t i = span - p + j;
      const double width = knots[i + p + 1 - r] - knots[i];
      const double a = width > 0.0 ? (u - knots[i]) / width : 0.0;
      d[j] = d[j - 1] * (1.0 - a) + d[j] * a;
    }
  }
  return d[p];
}

struct Surface {
  int degree_u = 0;
  int degree_v = 0;
  std::vector<std::vector<Vec3>> points;
  std::vector<double> knots_u;
  std::vector<double> knots_v;

  double from_u() const { return knots_u[static_cast<std::size_t>(degree_u)]; }
  double to_u() const { return knots_u[knots_u.size() - 1 - static_cast<std::size_t>(degree_u)]; }
  double from_v() const { return knots_v[static_cast<std::size_t>(degree_v)]; }
  double to_v() const { return knots_v[knots_v.size() - 1 - static_cast<std::size_t>(degree_v)]; }
  Vec3 operator()(double u, double v) const {
    std::vector<Vec3> column;
    for (const std::vector<Vec3>& row : points) column.push_back(de_boor(degree_v, knots_v, row, v));
    return de_boor(degree_u, knots_u, column, u);
  }
};

/// B_SPLINE_SURFACE_WITH_KNOTS(name, degree u, degree v, points, form, closed u, closed v, self-intersecting,
/// multiplicities u, multiplicities v, knots u, knots v, spec): ISO 10303-42 (order of attributes from
/// memory).
inline Surface surface(const File& file, int id) {
  const std::vector<Value>& p = file.record(id).parameters;
  Surface s;
  s.degree_u = static_cast<int>(p.at(1).number);
  s.degree_v = static_cast<int>(p.at(2).number);
  for (const Value& row : p.at(3).list) {
    s.points.emplace_back();
    for (const Value& one : row.list) s.points.back().push_back(file.point(one.reference));
  }
  s.knots_u = flat_knots(p.at(8), p.at(10));
  s.knots_v = flat_knots(p.at(9), p.at(11));
  return s;
}

struct Curve {
  int degree = 0;
  std::vector<Vec3> points;
  std::vector<double> knots;

  double from() const { return knots[static_cast<std::size_t>(degree)]; }
  double to() const { return knots[knots.size() - 1 - static_cast<std::size_t>(degree)]; }
  Vec3 operator()(double u) const { return de_boor(degree, knots, points, u); }
};

/// B_SPLINE_CURVE_WITH_KNOTS(name, degree, points, form, closed, self-intersecting, multiplicities, knots,
/// spec).
inline Curve curve(const File& file, int id) {
  const std::vector<Value>& p = file.record(id).parameters;
  Curve c;
  c.degree = static_cast<int>(p.at(1).number);
  for (const Value& one : p.at(2).list) c.points.push_back(file.point(one.reference));
  c.knots = flat_knots(p.at(6), p.at(7));
  return c;
}

}  // namespace part21

#include "plan/stroke_letters.hpp"

#include <algorithm>
#include <catch2/catch.hpp>

using namespace culmwright;

namespace {

double turn(Vec2 a, Vec2 b, Vec2 c) {
  return cross(b - a, c - a);
}

bool cross_each_other(Vec2 a, Vec2 b, Vec2 c, Vec2 d) {
  return turn(a, b, c) * turn(a, b, d) < 0.0 && turn(c, d, a) * turn(c, d, b) < 0.0;
}

double point_to_side(Vec2 p, Vec2 a, Vec2 b) {
  const double t = std::clamp(dot(p - a, b - a) / dot(b - a, b - a), 0.0, 1.0);
  return length(a + (b - a) * t - p);
}

bool inside(Vec2 p, const StrokeOutline& outline) {
  bool in = false;
  for (std::size_t i = 0; i < outline.size(); ++i) {
    const Vec2 a = outline[i];
    const Vec2 b = outline[(i + 1) % outline.size()];
    if ((a.y > p.y) != (b.y > p.y) && p.x < a.x + (p.y - a.y) / (b.y - a.y) * (b.x - a.x)) in = !in;
  }
  return in;
}

double gap(const StrokeOutline& a, const StrokeOutline& b) {
  double least = 1e300;
  for (std::size_t i = 0; i < a.size(); ++i) {
    for (std::size_t j = 0; j < b.size(); ++j) {
      const Vec2 a2 = a[(i + 1) % a.size()];
      const Vec2 b2 = b[(j + 1) % b.size()];
      if (cross_each_other(a[i], a2, b[j], b2)) return 0.0;
      least = std::min({least, point_to_side(a[i], b[j], b2), point_to_side(b[j], a[i], a2)});
    }
  }
  return inside(a[0], b) || inside(b[0], a) ? 0.0 : least;
}

double area(const StrokeOutline& outline) {
  double sum = 0.0;
  for (std::size_t i = 0; i < outline.size(); ++i)
    sum += cross(outline[i], outline[(i + 1) % outline.size()]);
  return 0.5 * sum;
}

const std::string every_letter = "ABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789-./'_()?<>";

}  // namespace

TEST_CASE("no two strokes of any letter touch") {
  for (const char letter : every_letter) {
    const Lettering line = lettering(std::string(1, letter));
    for (std::size_t i = 0; i < line.strokes.size(); ++i) {
      for (std::size_t j = 0; j < i; ++j) {
        INFO("letter " << letter << " strokes " << j << " and " << i);
        CHECK(gap(line.strokes[i], line.strokes[j]) >= letters::least_gap);
      }
    }
  }
}

TEST_CASE("no letter touches any neighbour") {
  for (const char a : every_letter) {
    for (const char b : every_letter) {
      const Lettering first = lettering(std::string(1, a));
      const Lettering both = lettering(std::string{a, b});
      for (std::size_t i = 0; i < first.strokes.size(); ++i) {
        for (std::size_t j = first.strokes.size(); j < both.strokes.size(); ++j) {
          INFO("letters " << a << b);
          CHECK(gap(both.strokes[i], both.strokes[j]) >= letters::least_gap);
        }
      }
    }
  }
}

TEST_CASE("every stroke is a simple outline, counter-clockwise, nowhere thinner than a printer can cut") {
  for (const char letter : every_letter) {
    INFO("letter " << letter);
    for (const StrokeOutline& outline : lettering(std::string(1, letter)).strokes) {
      const std::size_t n = outline.size();
      REQUIRE(n >= 4);
      CHECK(area(outline) > 0.0);
      for (std::size_t i = 0; i < n; ++i) {
        CHECK(length(outline[(i + 1) % n] - outline[i]) > 0.1);
        for (std::size_t j = i + 2; j < n; ++j) {
          CHECK_FALSE(cross_each_other(outline[i], outline[(i + 1) % n], outline[j], outline[(j + 1) % n]));
        }
      }
    }
  }
}

TEST_CASE("letters stay in their box to within the points of their mitres") {
  for (const char letter : every_letter) {
    INFO("letter " << letter);
    const Lettering line = lettering(std::string(1, letter));
    for (const StrokeOutline& outline : line.strokes) {
      for (const Vec2& p : outline) {
        CHECK(p.x > -0.5);
        CHECK(p.x < line.width + 0.5);
        CHECK(p.y > -0.35);
        CHECK(p.y < line.height + 0.35);
      }
    }
  }
}

TEST_CASE("no two letters look the same") {
  for (const char a : every_letter) {
    for (const char b : every_letter) {
      if (a >= b) continue;
      const Lettering first = lettering(std::string(1, a));
      const Lettering second = lettering(std::string(1, b));
      // The share of a fine grid on which the two differ.
      int differ = 0;
      for (double x = 0.05; x < 4.8; x += 0.1) {
        for (double y = 0.05; y < 5.0; y += 0.1) {
          const auto on = [&](const Lettering& line) {
            return std::any_of(line.strokes.begin(), line.strokes.end(), [&](const StrokeOutline& outline) {
              return inside({x, y}, outline);
            });
          };
          differ += on(first) != on(second);
        }
      }
      INFO("letters " << a << " and " << b);
      CHECK(differ > 60);  // of squares of 0.1: 0.6 mm²
    }
  }
}

TEST_CASE("small letters are drawn as capitals, and what the alphabet lacks as a question mark") {
  CHECK(lettering("l3").width == lettering("L3").width);
  CHECK(lettering("l3").strokes.size() == lettering("L3").strokes.size());
  CHECK(lettering("\xC3\x84").width == lettering("?").width);
  CHECK(lettering("").strokes.empty());
}

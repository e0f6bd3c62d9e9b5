/// The hand as numbers, held against published measurements.
#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <fstream>
#include <sstream>
#include <string>
#include <vector>

#include "base/angle.hpp"
#include "hand/hand_chain.hpp"
#include "hand/hand_sizes.hpp"

using namespace culmwright;

namespace {

constexpr double degree = pi / 180.0;

struct Measured {
  bool woman = false;
  HandSize size;
};

/// ANSUR II 2012, NATICK/TR-15/007 (tests/data/ansur2_hands.csv says more).
const std::vector<Measured>& measured_hands() {
  static const std::vector<Measured> hands = [] {
    std::ifstream file(std::string(CULMWRIGHT_SOURCE_DIR) + "/tests/data/ansur2_hands.csv");
    std::vector<Measured> read;
    for (std::string line; std::getline(file, line);) {
      if (line.empty() || (line[0] != 'f' && line[0] != 'm') || line[1] != ',') continue;
      std::istringstream fields(line.substr(2));
      Measured hand;
      char comma = 0;
      fields >> hand.size.length >> comma >> hand.size.breadth;
      hand.woman = line[0] == 'f';
      read.push_back(hand);
    }
    return read;
  }();
  return hands;
}

double quantile(std::vector<double> values, double percentile) {
  std::sort(values.begin(), values.end());
  const double place = percentile / 100.0 * static_cast<double>(values.size() - 1);
  const auto i = static_cast<std::size_t>(place);
  const double next = values[std::min(i + 1, values.size() - 1)];
  return values[i] + (place - std::floor(place)) * (next - values[i]);
}

double mean(const std::vector<double>& values) {
  double sum = 0.0;
  for (const double value : values) sum += value;
  return sum / static_cast<double>(values.size());
}
double deviation(const std::vector<double>& values) {
  const double middle = mean(values);
  double sum = 0.0;
  for (const double value : values) sum += (value - middle) * (value - middle);
  return std::sqrt(sum / static_cast<double>(values.size() - 1));
}

constexpr Finger four[] = {Finger::index, Finger::middle, Finger::ring, Finger::little};

}  // namespace

TEST_CASE("the knuckles of a hand of 180 by 80 stand where the worked example has them") {
  // Buchholz, Armstrong & Goldstein 1992, worked for 180 × 80.
  const HandModel hand = hand_model({180, 80});
  const double x[] = {-20.08, 0.0, 16.48, 32.16};
  const double y[] = {80.46, 80.28, 73.62, 66.24};
  for (int i = 0; i < 4; ++i) {
    CHECK(hand.finger(four[i]).base.x == Approx(x[i]).margin(0.005));
    CHECK(hand.finger(four[i]).base.y == Approx(y[i]).margin(0.005));
  }
  const double apart[] = {20.081, 17.775, 17.330};
  for (int i = 0; i < 3; ++i) {
    CHECK(length(hand.finger(four[i + 1]).base - hand.finger(four[i]).base) ==
          Approx(apart[i]).margin(0.001));
  }
}

TEST_CASE("the fingers have the proportions of an independent set of X-ray pictures") {
  // Buryanov & Kotiuk 2010, Int. J. Morphol. 28(3), 66 adults: proximal + middle + distal + pulp, mm; the
  // thumb with its metacarpal. Hands of unknown length: each is compared as a share of the middle finger.
  const double rays[] = {46.2 + 31.6 + 21.7 + 5.7, 39.8 + 22.4 + 15.8 + 3.8, 44.6 + 26.3 + 17.4 + 4.0,
                         41.4 + 25.7 + 17.3 + 4.0, 32.7 + 18.1 + 16.0 + 3.7};
  const HandModel hand = hand_model({189, 84});
  const auto sum = [&](std::size_t i) {
    return hand.fingers[i].segment[0] + hand.fingers[i].segment[1] + hand.fingers[i].segment[2];
  };
  for (const std::size_t i : {1U, 3U, 4U}) {
    INFO("finger " << i);
    CHECK(sum(i) / sum(2) == Approx(rays[i] / rays[2]).epsilon(0.01));
  }
  // The thumb is 2.4 % shorter than the pictures have it: its base is the model's weakest part.
  CHECK(sum(0) / sum(2) == Approx(rays[0] / rays[2]).epsilon(0.03));
}

TEST_CASE("the fingers of the X-ray pictures are those of one hand, a small one") {
  // The same source and sums: the hand length for which the model's finger is as long. They agree among
  // themselves within 2 %, but at 168 to 172 mm they lie at the small end of measured adults (ANSUR II:
  // women's 5th percentile 165). Unexplained in part: the model's proximal segments begin at the knuckle's
  // turning point, which lies inside the metacarpal's head; the pictures measure each bone by itself.
  const double fingers[] = {81.8, 92.3, 88.4, 70.5};
  const HandModel hand = hand_model({100, 44.5});
  for (std::size_t i = 0; i < 4; ++i) {
    const FingerModel& finger = hand.finger(four[i]);
    const double sum = finger.segment[0] + finger.segment[1] + finger.segment[2];
    INFO("finger " << i << " as of a hand of " << 100.0 * fingers[i] / sum);
    CHECK(100.0 * fingers[i] / sum == Approx(170.0).epsilon(0.015));
  }
}

TEST_CASE("the touch of a side key passes over the middle joint without a leap") {
  const HandModel hand = hand_model({186, 83});
  const ChainTurns near{0.1, 0.5, 1.0 - 1e-9, 0.7};
  const ChainTurns past{0.1, 0.5, 1.0 + 1e-9, 0.7};
  const ChainPose before = chain_pose(hand, Finger::side, near);
  const ChainPose after = chain_pose(hand, Finger::side, past);
  CHECK(before.segment == 0);
  CHECK(after.segment == 1);
  CHECK(length(before.middle - after.middle) < 1e-6);
  CHECK(length(before.middle - before.joints[1]) < 1e-6);
  CHECK(length(before.facing - after.facing) < 1e-12);
  CHECK(before.radius == after.radius);
  // The index finger itself, seen from its side: the same joints for the same turns.
  const ChainPose index = chain_pose(hand, Finger::index, {0.1, 0.5, 0.7, pad_share});
  for (std::size_t k = 0; k < 4; ++k) CHECK(length(index.joints[k] - before.joints[k]) < 1e-12);
  CHECK(dot(index.facing, before.facing) == Approx(0.0).margin(1e-12));
}

TEST_CASE("a straight finger laid flat reaches its own length") {
  const HandModel hand = hand_model({186, 83});
  for (const Finger finger : four) {
    const FingerModel& model = hand.finger(finger);
    const ChainPose pose = chain_pose(hand, finger, {0.0, 0.0, 0.0, pad_share});
    const Vec3 tip = pose.joints[3] + Vec3{0, model.radius[2], 0};
    CHECK(length(tip - model.base) ==
          Approx(model.segment[0] + model.segment[1] + model.segment[2]).epsilon(1e-12));
    CHECK(pose.facing.z == Approx(-1.0));
    // The flesh under the pad lies on the surface on which the palm's joints stand by that thickness.
    CHECK(pose.middle.z == Approx(0.0).margin(1e-12));
  }
}

TEST_CASE("the middle finger of a flat hand ends about a hand's length from the wrist") {
  // By definition of hand length; the fractions are of bones' turning points, which lie within 2 %.
  const HandModel hand = hand_model({190, 85});
  const FingerModel& middle = hand.finger(Finger::middle);
  const double reach = middle.base.y + middle.segment[0] + middle.segment[1] + middle.segment[2];
  CHECK(reach == Approx(190.0).epsilon(0.02));
}

TEST_CASE("joints turn as far as the handbook says") {
  // A hand-surgery handbook's page: knuckles 0 to 90 (45 back), middle joints 0 to 100; the end joints follow
  // by two thirds (common practice) and stay within their 80.
  const HandModel hand = hand_model({186, 83});
  for (const Finger finger : four) {
    const FingerModel& model = hand.finger(finger);
    CHECK(model.least[1] == Approx(-45 * degree));
    CHECK(model.greatest[1] == Approx(90 * degree));
    CHECK(model.least[2] == 0.0);
    CHECK(model.greatest[2] == Approx(100 * degree));
    CHECK(end_joint_share * model.greatest[2] <= 80 * degree);
    for (std::size_t t = 0; t < turns_per_chain; ++t) {
      CHECK(model.relaxed[t] >= model.least[t]);
      CHECK(model.relaxed[t] <= model.greatest[t]);
    }
  }
  // The thumb's range across the palm opens to the published radial abduction of 60 degrees.
  const ChainPose open = chain_pose(hand, Finger::thumb, {-25 * degree, 0, 0, 0});
  const Vec3 way = unit(open.joints[1] - open.joints[0]);
  CHECK(std::acos(way.y) == Approx(60 * degree));
}

TEST_CASE("hand sizes by percentile are those of the measured hands") {
  REQUIRE(measured_hands().size() == 6068);
  for (const HandSet set : {HandSet::women, HandSet::men}) {
    std::vector<double> lengths;
    std::vector<double> breadths;
    for (const Measured& hand : measured_hands()) {
      if (hand.woman != (set == HandSet::women)) continue;
      lengths.push_back(hand.size.length);
      breadths.push_back(hand.size.breadth);
    }
    for (const double percentile : {1.0, 5.0, 10.0, 25.0, 50.0, 75.0, 90.0, 95.0, 99.0}) {
      const HandSize size = hand_at_percentile(set, percentile);
      CHECK(size.length == Approx(quantile(lengths, percentile)));
      CHECK(size.breadth == Approx(quantile(breadths, percentile)));
    }
    // Between the tabulated ones a straight line stays within the data's own grain of a millimetre.
    for (double percentile = 2.0; percentile < 99.0; percentile += 1.0) {
      CHECK(std::abs(hand_at_percentile(set, percentile).length - quantile(lengths, percentile)) < 2.0);
    }
  }
}

TEST_CASE("a breadth that was left out is the mean share of the length") {
  double shares[2] = {0.0, 0.0};
  double counts[2] = {0.0, 0.0};
  for (const Measured& hand : measured_hands()) {
    shares[hand.woman ? 0 : 1] += hand.size.breadth / hand.size.length;
    counts[hand.woman ? 0 : 1] += 1.0;
  }
  const double share = 0.5 * (shares[0] / counts[0] + shares[1] / counts[1]);
  PlayerHand player;
  player.length = 200.0;
  CHECK(in_millimetres(player).breadth == Approx(200.0 * share).epsilon(0.001));
}

TEST_CASE("the greatest span over measured hands lies in the range of measured spans") {
  // Spans from thumb to little finger, data set `survey` of the R package MASS, n = 236: men 197.42 ± 17.51,
  // women 175.96 ± 13.15 mm. Other people than the measured hands.
  struct {
    bool women;
    double mean, deviation;
  } const spans[] = {{false, 197.42, 17.51}, {true, 175.96, 13.15}};
  for (const auto& published : spans) {
    std::vector<double> model;
    for (const Measured& hand : measured_hands()) {
      if (hand.woman == published.women) model.push_back(greatest_span(hand_model(hand.size)));
    }
    INFO((published.women ? "women" : "men")
         << ": model " << mean(model) << " ± " << deviation(model) << ", measured " << published.mean << " ± "
         << published.deviation);
    // Unexplained: the model's hands open wider, by 10 mm (men) and 17 mm (women); it gives both the same
    // proportions and takes every joint to its limit. What is left of the measured spread is how far people
    // open their hands.
    CHECK(std::abs(mean(model) - published.mean) < 1.5 * published.deviation);
    CHECK(deviation(model) < published.deviation);
  }
}

TEST_CASE("every part of a hand grows with it, and a span with it") {
  const HandModel small = hand_model({165, 72});
  const HandModel large = hand_model({210, 96});
  CHECK(greatest_span(large) > greatest_span(small));
  for (std::size_t i = 0; i < 5; ++i) {
    for (std::size_t k = 0; k < 3; ++k) CHECK(large.fingers[i].segment[k] > small.fingers[i].segment[k]);
  }
}

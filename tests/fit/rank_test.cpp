#include "fit/rank.hpp"

#include <catch2/catch.hpp>

#include <functional>
#include <random>

using namespace culmwright;

namespace {

using Scores = std::vector<std::vector<std::optional<double>>>;

struct Best {
  std::size_t instruments = 0;
  double score = 0.0;
};

/// Every way of giving each tube a key layout or none.
Best try_everything(const Scores& scores, std::vector<int> wanted) {
  Best best;
  const std::function<void(std::size_t, std::size_t, double)> go = [&](std::size_t t, std::size_t made,
                                                                       double score) {
    if (t == scores.size()) {
      if (made > best.instruments || (made == best.instruments && score < best.score)) best = {made, score};
      return;
    }
    go(t + 1, made, score);
    for (std::size_t l = 0; l < wanted.size(); ++l) {
      if (wanted[l] == 0 || !scores[t][l]) continue;
      --wanted[l];
      go(t + 1, made + 1, score + *scores[t][l]);
      ++wanted[l];
    }
  };
  go(0, 0, 0.0);
  return best;
}

}  // namespace

TEST_CASE("tubes are assigned to most instruments first, then by score, as trying everything finds") {
  for (unsigned seed = 1; seed <= 400; ++seed) {
    CAPTURE(seed);
    std::mt19937_64 random(seed);
    const auto whole = [&](int low, int high) {
      return std::uniform_int_distribution<int>(low, high)(random);
    };
    Scores scores(static_cast<std::size_t>(whole(1, 6)));
    std::vector<int> wanted(static_cast<std::size_t>(whole(1, 4)));
    for (int& count : wanted) count = whole(0, 2);
    for (auto& row : scores) {
      for (std::size_t l = 0; l < wanted.size(); ++l) {
        row.push_back(whole(0, 2) == 0 ? std::nullopt : std::optional<double>(whole(0, 1000) / 16.0));
      }
    }
    const Best best = try_everything(scores, wanted);
    const Assignment found = assign(scores, wanted);
    CHECK(found.instruments == best.instruments);
    CHECK(found.score == Approx(best.score).margin(1e-9));
    std::vector<int> taken(wanted.size(), 0);
    for (std::size_t t = 0; t < scores.size(); ++t) {
      if (!found.layout_of_tube[t]) continue;
      CHECK(scores[t][*found.layout_of_tube[t]].has_value());
      ++taken[*found.layout_of_tube[t]];
    }
    for (std::size_t l = 0; l < wanted.size(); ++l) CHECK(taken[l] <= wanted[l]);
  }
}

TEST_CASE("a better tube is given away where two instruments come of it") {
  // The first tube is best for the first instrument, but the second can be made from nothing else.
  const Scores scores{{1.0, 8.0}, {5.0, std::nullopt}};
  const Assignment found = assign(scores, {1, 1});
  CHECK(found.instruments == 2);
  CHECK(*found.layout_of_tube[0] == 1);
  CHECK(*found.layout_of_tube[1] == 0);
}

TEST_CASE("tubes that the maker has put aside are ranked but not assigned") {
  PieceFigures good;
  good.tube_id = "good";
  PieceFigures aside;
  aside.tube_id = "aside";
  aside.verdict = Verdict::aside;
  RankRow first;
  first.best = Proposal{};
  first.best->score = 7.0;
  RankRow second = first;
  second.tube = 1;
  second.best->score = 2.0;
  RankRow third;
  third.tube = 0;
  third.layout = 1;
  third.refusal.sentence = "too short";
  const Ranking ranking = ranking_of({good, aside}, {third, first, second}, 2, {});
  CHECK(ranking.rows[0].tube == 1);
  CHECK(ranking.rows[1].tube == 0);
  CHECK(ranking.rows[2].layout == 1);
  CHECK(ranking.assignment.instruments == 1);
  CHECK(*ranking.assignment.layout_of_tube[0] == 0);
  CHECK_FALSE(ranking.assignment.layout_of_tube[1].has_value());
}

TEST_CASE("two tubes with one id are not ranked") {
  Survey survey;
  survey.id = "twin";
  survey.length = 300.0;
  for (const double at : {0.0, 150.0, 300.0}) {
    Station station;
    station.at = at;
    station.girth = 100.0;
    survey.stations.push_back(station);
  }
  WallReading wall;
  wall.direction.facing = Angle();
  wall.thickness = 4.0;
  survey.walls.push_back(wall);
  const TubeFit fit = fit_survey(survey);
  KeyLayout layout;
  layout.id = "any";
  CHECK_THROWS_AS(rank({fit, fit}, {layout}), InputError);
}

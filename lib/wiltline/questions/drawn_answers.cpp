#include "wiltline/questions/drawn_answers.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <mutex>

#include "wiltline/base/errors.hpp"
#include "wiltline/base/parallel.hpp"

namespace wiltline {
namespace {

/// Answers of one planting: a list for each figure, a value for each draw.
template <std::size_t figures>
struct Answers {
  std::array<std::vector<double>, figures> of;
  std::vector<std::vector<DrawnInput>> inputs;

  void add(const std::array<double, figures>& values, const std::vector<DrawnInput>& drawn) {
    for (std::size_t i = 0; i < figures; ++i) of[i].push_back(values[i]);
    inputs.push_back(drawn);
  }
  [[nodiscard]] bool empty() const { return inputs.empty(); }
  /// Of all draws those that gave no answer.
  [[nodiscard]] std::size_t missing(const DrawOptions& draws, const Planting& planting) const {
    if (empty()) {
      throw RequestError(fmt::format(
          "{}: found no water that plants can use in any of {} draws; expected a pot that holds "
          "some in one at least",
          planting.name, draws.draws));
    }
    return draws.draws - inputs.size();
  }
  [[nodiscard]] Spread spread(std::size_t figure) const { return spread_of(of[figure]); }
  /// Share of draws whose figure is 0.
  [[nodiscard]] double share_without(std::size_t figure) const {
    const auto none = std::count(of[figure].begin(), of[figure].end(), 0.0);
    return static_cast<double>(none) / static_cast<double>(of[figure].size());
  }
  /// Of figures that are 1 or 0.
  [[nodiscard]] double share_with(std::size_t figure) const { return 1.0 - share_without(figure); }
  /// What moves a figure that hangs on a line; Line::threshold: on none of wilting and dryness.
  [[nodiscard]] std::optional<Influence> moves_most(std::size_t figure, Line asked) const {
    return most_influential(inputs_of(asked, inputs), of[figure]);
  }
  /// What moves the wilting days, or the litres if nothing moves those.
  [[nodiscard]] std::optional<Influence> moves_most(std::size_t wilting_days,
                                                    std::size_t litres) const {
    const auto influence = moves_most(wilting_days, Line::wilting);
    return influence ? influence : moves_most(litres, Line::threshold);
  }
};

/// The answer of one planting in one draw.
template <std::size_t figures>
struct Answer {
  std::size_t planting = 0;  // of those asked about
  std::array<double, figures> values{};
  std::vector<DrawnInput> inputs{};
};
template <std::size_t figures>
void add(const std::vector<Answer<figures>>& of_draw, std::vector<Answers<figures>>& answers) {
  for (const Answer<figures>& one : of_draw) answers[one.planting].add(one.values, one.inputs);
}

/// The places under a drawn model.
std::vector<Place> under(const ModelParameters& model, Places places) {
  std::vector<Place> result;
  for (const Place& place : places) result.push_back(place.with_model(model));
  return result;
}

/// The model whose ranges are drawn from: that of every place.
const ModelParameters& central_model(Places places) {
  if (places.empty()) throw RequestError("found no place; expected one at least");
  return places.front().model();
}

void check(const DrawOptions& draws) {
  if (draws.draws == 0) throw RequestError("found no draws; expected 1 or more");
}

/// Asks `question(number)` for each draw, on several threads, and hands the answers to `take` in
/// the order of the draws.
template <typename Question, typename Take>
void ask_each(const DrawOptions& draws, const Question& question, const Take& take) {
  std::vector<decltype(question(std::size_t{}))> answers(draws.draws);
  std::mutex counting;
  std::size_t done = 0;
  run_tasks(draws.draws, draws.threads, [&](std::size_t i) {
    answers[i] = question(i + 1);
    if (!draws.done) return;
    const std::lock_guard lock(counting);
    draws.done(++done);
  });
  for (const auto& answer : answers) take(answer);
}

/// The index of a planting among those of a draw.
std::size_t index_in_draw(const Planting* planting, const DrawnGarden& garden) {
  return static_cast<std::size_t>(planting - garden.plantings.data());
}

}  // namespace

std::vector<SeasonSpread> season_spreads(std::span<const SeasonStart> starts, const Place& place,
                                         const Catalogue& catalogue, const SeasonOptions& options,
                                         const DrawOptions& draws) {
  check_starts(starts, place);
  check(draws);
  enum Figure : std::size_t { watered, wilting, dry, figures };
  std::vector<Planting> plantings;
  std::map<const Planting*, std::size_t> places;
  for (const SeasonStart& start : starts) {
    if (places.emplace(start.planting, plantings.size()).second) {
      plantings.push_back(*start.planting);
    }
  }
  SeasonOptions one_thread = options;
  one_thread.ledger = false;
  one_thread.threads = 1;
  std::vector<Answers<figures>> answers(starts.size());
  using Drawn = std::vector<Answer<figures>>;
  const auto question = [&](std::size_t number) {
    const DrawnGarden garden = draw_garden(plantings, place.model(), catalogue, draws.seed, number);
    const auto is_waterless = [&](std::size_t planting) {
      return std::binary_search(garden.waterless.begin(), garden.waterless.end(), planting);
    };
    std::vector<SeasonStart> drawn;
    Drawn result;
    for (std::size_t i = 0; i < starts.size(); ++i) {
      const std::size_t planting = places.at(starts[i].planting);
      if (is_waterless(planting)) continue;
      drawn.push_back({&garden.plantings[planting], starts[i].planted});
      result.push_back({i, {}, garden.inputs[planting]});
    }
    const auto seasons = run_seasons(drawn, place.with_model(garden.model), one_thread);
    for (std::size_t i = 0; i < seasons.size(); ++i) {
      const SeasonSummary& s = seasons[i].summary;
      result[i].values = {s.watered_l, static_cast<double>(s.wilting_days),
                          static_cast<double>(s.dry_days)};
    }
    return result;
  };
  ask_each(draws, question, [&](const Drawn& drawn) { add(drawn, answers); });
  std::vector<SeasonSpread> result;
  for (std::size_t i = 0; i < answers.size(); ++i) {
    const Answers<figures>& one = answers[i];
    result.push_back({.waterless_draws = one.missing(draws, *starts[i].planting),
                      .watered_l = one.spread(watered),
                      .wilting_days = one.spread(wilting),
                      .dry_days = one.spread(dry),
                      .unwilted_share = one.share_without(wilting),
                      .moves_most = one.moves_most(wilting, watered)});
  }
  return result;
}

std::vector<std::optional<ChoiceSpread>> choice_spreads(Plantings plantings, Places places,
                                                        const Catalogue& catalogue,
                                                        const SeasonOptions& options,
                                                        const DrawOptions& draws) {
  check(draws);
  enum Figure : std::size_t { wilting, watered, wilts, figures };
  SeasonOptions one_thread = options;
  one_thread.threads = 1;
  std::vector<Answers<figures>> answers(plantings.size());
  using Drawn = std::vector<Answer<figures>>;
  const auto question = [&](std::size_t number) {
    DrawnGarden garden =
        draw_garden(plantings, central_model(places), catalogue, draws.seed, number);
    const std::vector<std::size_t> index = garden.leave_out_waterless();
    const auto drawn = run_summers(garden.plantings, under(garden.model, places), one_thread);
    Drawn result;
    for (std::size_t i = 0; i < drawn.size(); ++i) {
      if (drawn[i].empty()) continue;
      double litres = 0.0;
      int wilted = 0;
      for (const Summer& summer : drawn[i]) {
        litres += summer.result.summary.watered_l;
        wilted += summer.result.summary.wilting_days;
      }
      const SeasonSummary& worst = drawn[i][worst_of(drawn[i])].result.summary;
      result.push_back({index[i],
                        {static_cast<double>(worst.wilting_days),
                         litres / static_cast<double>(drawn[i].size()), kernel::flag(wilted > 0)},
                        garden.inputs[i]});
    }
    return result;
  };
  ask_each(draws, question, [&](const Drawn& drawn) { add(drawn, answers); });
  std::vector<std::optional<ChoiceSpread>> result(plantings.size());
  for (std::size_t i = 0; i < answers.size(); ++i) {
    const Answers<figures>& one = answers[i];
    const bool held = std::any_of(places.begin(), places.end(), [&](const Place& place) {
      return !planting_dates(plantings[i], place.record()).empty();
    });
    if (!held) continue;
    result[i] = {.waterless_draws = one.missing(draws, plantings[i]),
                 .wilting_days = one.spread(wilting),
                 .watered_l = one.spread(watered),
                 .enough_share = one.share_without(wilts),
                 .moves_most = one.moves_most(wilting, watered)};
  }
  return result;
}

std::vector<std::optional<AbsenceSpread>> absence_spreads(Plantings candidates, Places places,
                                                          const Catalogue& catalogue,
                                                          const AbsenceOptions& options,
                                                          const DrawOptions& draws) {
  check(draws);
  enum Figure : std::size_t { share, enough, figures };
  std::vector<Answers<figures>> answers(candidates.size());
  std::vector<char> windowless(candidates.size(), 0);
  struct Drawn {
    std::vector<Answer<figures>> answers;
    std::vector<std::size_t> windowless;  // as in every draw: windows follow from the dates
  };
  const auto question = [&](std::size_t number) {
    DrawnGarden garden =
        draw_garden(candidates, central_model(places), catalogue, draws.seed, number);
    const std::vector<std::size_t> index = garden.leave_out_waterless();
    const AbsenceResult drawn =
        absence_windows(garden.plantings, under(garden.model, places), options);
    Drawn result;
    for (std::size_t i = 0; i < drawn.pots.size(); ++i) {
      const std::optional<double> passed = drawn.pots[i].share();
      if (!passed) {
        result.windowless.push_back(index[i]);
        continue;
      }
      result.answers.push_back({index[i],
                                {*passed, kernel::flag(passes(drawn.pots[i], options.share))},
                                garden.inputs[i]});
    }
    return result;
  };
  ask_each(draws, question, [&](const Drawn& drawn) {
    add(drawn.answers, answers);
    for (const std::size_t i : drawn.windowless) windowless[i] = 1;
  });
  std::vector<std::optional<AbsenceSpread>> result(candidates.size());
  for (std::size_t i = 0; i < answers.size(); ++i) {
    const Answers<figures>& one = answers[i];
    if (windowless[i] != 0) continue;
    result[i].emplace(AbsenceSpread{.waterless_draws = one.missing(draws, candidates[i]),
                                    .share = one.spread(share),
                                    .enough_share = one.share_with(enough),
                                    .moves_most = one.moves_most(share, options.line)});
  }
  return result;
}

std::vector<std::optional<HeatwaveSpread>> heatwave_spreads(Plantings plantings, const Place& place,
                                                            const HotSpell& spell,
                                                            const Catalogue& catalogue,
                                                            const HeatwaveOptions& options,
                                                            const DrawOptions& draws) {
  check(draws);
  enum Figure : std::size_t { peak_use, waterings, once, twice, figures };
  std::vector<Answers<figures>> answers(plantings.size());
  using Drawn = std::vector<Answer<figures>>;
  const auto question = [&](std::size_t number) {
    DrawnGarden garden = draw_garden(plantings, place.model(), catalogue, draws.seed, number);
    const std::vector<std::size_t> given = garden.leave_out_waterless();
    const HeatwaveResult drawn =
        heatwave(garden.plantings, place.with_model(garden.model), spell, options);
    Drawn result;
    for (const HeatwavePot& pot : drawn.pots) {
      const std::size_t index = index_in_draw(pot.planting, garden);
      result.push_back(
          {given[index],
           {pot.peak_use_l_day, pot.waterings_per_day, kernel::flag(pot.once_a_day.enough()),
            kernel::flag(pot.twice_a_day.enough())},
           garden.inputs[index]});
    }
    return result;
  };
  ask_each(draws, question, [&](const Drawn& drawn) { add(drawn, answers); });
  std::vector<std::optional<HeatwaveSpread>> result(plantings.size());
  for (std::size_t i = 0; i < answers.size(); ++i) {
    const Answers<figures>& one = answers[i];
    if (one.empty()) continue;
    result[i] = {.waterless_draws = one.missing(draws, plantings[i]),
                 .peak_use_l_day = one.spread(peak_use),
                 .waterings_per_day = one.spread(waterings),
                 .once_a_day_share = one.share_with(once),
                 .twice_a_day_share = one.share_with(twice),
                 .moves_most = one.moves_most(peak_use, Line::threshold)};
  }
  return result;
}

}  // namespace wiltline

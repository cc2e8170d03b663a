#include "wiltline/questions/drawn_answers.hpp"

#include <algorithm>
#include <array>
#include <map>
#include <mutex>
#include <numeric>

#include "wiltline/base/errors.hpp"
#include "wiltline/base/parallel.hpp"

namespace wiltline {
namespace {

/// Answers to one of the things asked about: a list for each figure, a value for each draw.
template <std::size_t figures>
struct Answers {
  std::array<std::vector<double>, figures> of;
  std::vector<std::vector<DrawnInput>> inputs;
  std::size_t waterless_draws = 0;

  [[nodiscard]] bool empty() const { return inputs.empty(); }
  [[nodiscard]] Spread spread(std::size_t figure) const { return spread_of(of[figure]); }
  /// Share of draws whose figure is 0.
  [[nodiscard]] double share_without(std::size_t figure) const {
    const auto none = std::ranges::count(of[figure], 0.0);
    return static_cast<double>(none) / static_cast<double>(of[figure].size());
  }
  /// Share of draws whose figure is 1, of a figure that is 1 or 0.
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

/// The figures of each thing asked about in one draw; empty: there is no answer.
template <std::size_t figures>
using Figures = std::vector<std::optional<std::array<double, figures>>>;

/// One of the things asked about, in a draw in which its planting holds water.
struct Asked {
  std::size_t what = 0;
  std::size_t planting = 0;  // in the drawn garden
};

/// Asks `question(garden, asked)` of each draw of the plantings, on several threads; waterless ones
/// are left out of the garden, and what is asked about them. `planting_of`: the planting of each
/// thing asked about, which has answers in the order of the draws. Throws RequestError where there
/// is none because no draw of the planting holds water.
template <std::size_t figures>
std::vector<Answers<figures>> ask_draws(
    Plantings plantings, const std::vector<std::size_t>& planting_of, const ModelParameters& model,
    const Catalogue& catalogue, const DrawOptions& draws,
    const std::function<Figures<figures>(const DrawnGarden&, const std::vector<Asked>&)>&
        question) {
  struct Drawn {
    std::vector<Asked> asked;
    Figures<figures> figures_of;
    std::vector<std::vector<DrawnInput>> inputs;
  };
  if (draws.draws == 0) throw RequestError("found no draws; expected 1 or more");
  check_drawn(model, catalogue);
  std::vector<Drawn> all(draws.draws);
  std::mutex counting;
  std::size_t done = 0;
  run_tasks(draws.draws, draws.threads, [&](std::size_t i) {
    DrawnGarden garden = draw_garden(plantings, model, catalogue, draws.seed, i + 1);
    const std::vector<std::size_t> left = garden.leave_out_waterless();
    Drawn& drawn = all[i];
    for (std::size_t what = 0; what < planting_of.size(); ++what) {
      const auto at = std::ranges::lower_bound(left, planting_of[what]);
      if (at == left.end() || *at != planting_of[what]) continue;
      drawn.asked.push_back({what, static_cast<std::size_t>(at - left.begin())});
    }
    drawn.figures_of = question(garden, drawn.asked);
    drawn.inputs = std::move(garden.inputs);
    if (!draws.done) return;
    const std::lock_guard lock(counting);
    draws.done(++done);
  });
  std::vector<Answers<figures>> answers(planting_of.size());
  for (Answers<figures>& one : answers) one.waterless_draws = draws.draws;
  for (const Drawn& drawn : all) {
    for (std::size_t i = 0; i < drawn.asked.size(); ++i) {
      Answers<figures>& one = answers[drawn.asked[i].what];
      --one.waterless_draws;
      if (!drawn.figures_of[i]) continue;
      for (std::size_t k = 0; k < figures; ++k) one.of[k].push_back((*drawn.figures_of[i])[k]);
      one.inputs.push_back(drawn.inputs[drawn.asked[i].planting]);
    }
  }
  for (std::size_t what = 0; what < answers.size(); ++what) {
    if (answers[what].waterless_draws == draws.draws) {
      throw no_water_in_any_draw(plantings[planting_of[what]], draws.draws);
    }
  }
  return answers;
}

/// The same of the plantings themselves: the figures are those of the drawn garden's, in order.
template <std::size_t figures>
std::vector<Answers<figures>> ask_draws(
    Plantings plantings, const ModelParameters& model, const Catalogue& catalogue,
    const DrawOptions& draws, const std::function<Figures<figures>(const DrawnGarden&)>& question) {
  std::vector<std::size_t> themselves(plantings.size());
  std::iota(themselves.begin(), themselves.end(), std::size_t{0});
  return ask_draws<figures>(
      plantings, themselves, model, catalogue, draws,
      [&](const DrawnGarden& garden, const std::vector<Asked>&) { return question(garden); });
}

/// The places under a drawn model.
std::vector<Place> under(const ModelParameters& model, Places places) {
  std::vector<Place> result;
  for (const Place& place : places) result.push_back(place.with_model(model));
  return result;
}

}  // namespace

std::vector<SeasonSpread> season_spreads(std::span<const SeasonStart> starts, const Place& place,
                                         const Catalogue& catalogue, const SeasonOptions& options,
                                         const DrawOptions& draws) {
  check_starts(starts, place);
  enum Figure : std::size_t { watered, wilting, dry, figures };
  std::vector<Planting> plantings;
  std::map<const Planting*, std::size_t> index;
  std::vector<std::size_t> planting_of;
  for (const SeasonStart& start : starts) {
    const auto [entry, is_new] = index.emplace(start.planting, plantings.size());
    if (is_new) plantings.push_back(*start.planting);
    planting_of.push_back(entry->second);
  }
  SeasonOptions one_thread = options;
  one_thread.ledger = false;
  one_thread.threads = 1;
  const auto answers = ask_draws<figures>(
      plantings, planting_of, place.model(), catalogue, draws,
      [&](const DrawnGarden& garden, const std::vector<Asked>& asked) {
        std::vector<SeasonStart> drawn;
        for (const Asked& one : asked) {
          drawn.push_back({&garden.plantings[one.planting], starts[one.what].planted});
        }
        Figures<figures> result;
        for (const SeasonResult& season :
             run_seasons(drawn, place.with_model(garden.model), one_thread)) {
          const SeasonSummary& s = season.summary;
          result.push_back({{s.watered_l, static_cast<double>(s.wilting_days),
                             static_cast<double>(s.dry_days)}});
        }
        return result;
      });
  std::vector<SeasonSpread> result;
  for (const Answers<figures>& one : answers) {
    result.push_back({.waterless_draws = one.waterless_draws,
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
  enum Figure : std::size_t { wilting, watered, wilts, figures };
  SeasonOptions one_thread = options;
  one_thread.threads = 1;
  const auto answers = ask_draws<figures>(
      plantings, common_model(places), catalogue, draws, [&](const DrawnGarden& garden) {
        Figures<figures> result;
        for (const std::vector<Summer>& summers :
             run_summers(garden.plantings, under(garden.model, places), one_thread)) {
          result.emplace_back();
          if (summers.empty()) continue;
          double litres = 0.0;
          int wilted = 0;
          for (const Summer& summer : summers) {
            litres += summer.result.summary.watered_l;
            wilted += summer.result.summary.wilting_days;
          }
          const SeasonSummary& worst = summers[worst_of(summers)].result.summary;
          result.back() = {static_cast<double>(worst.wilting_days),
                           litres / static_cast<double>(summers.size()), kernel::flag(wilted > 0)};
        }
        return result;
      });
  std::vector<std::optional<ChoiceSpread>> result(plantings.size());
  for (std::size_t i = 0; i < answers.size(); ++i) {
    const Answers<figures>& one = answers[i];
    if (one.empty()) continue;
    result[i] = {.waterless_draws = one.waterless_draws,
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
  enum Figure : std::size_t { share, enough, figures };
  const auto answers = ask_draws<figures>(
      candidates, common_model(places), catalogue, draws, [&](const DrawnGarden& garden) {
        Figures<figures> result;
        for (const AbsencePot& pot :
             absence_windows(garden.plantings, under(garden.model, places), options).pots) {
          result.emplace_back();
          if (const auto passed = pot.share()) {
            result.back() = {*passed, kernel::flag(passes(pot, options.share))};
          }
        }
        return result;
      });
  std::vector<std::optional<AbsenceSpread>> result(candidates.size());
  for (std::size_t i = 0; i < answers.size(); ++i) {
    const Answers<figures>& one = answers[i];
    if (one.empty()) continue;  // no window: in no draw, for they follow from the dates
    result[i].emplace(AbsenceSpread{.waterless_draws = one.waterless_draws,
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
  enum Figure : std::size_t { peak_use, waterings, once, twice, figures };
  const auto answers = ask_draws<figures>(
      plantings, place.model(), catalogue, draws, [&](const DrawnGarden& garden) {
        Figures<figures> result(garden.plantings.size());
        for (const HeatwavePot& pot :
             heatwave(garden.plantings, place.with_model(garden.model), spell, options).pots) {
          result[static_cast<std::size_t>(pot.planting - garden.plantings.data())] = {
              pot.peak_use_l_day, pot.waterings_per_day, kernel::flag(pot.once_a_day.enough()),
              kernel::flag(pot.twice_a_day.enough())};
        }
        return result;
      });
  std::vector<std::optional<HeatwaveSpread>> result(plantings.size());
  for (std::size_t i = 0; i < answers.size(); ++i) {
    const Answers<figures>& one = answers[i];
    if (one.empty()) continue;
    result[i] = {.waterless_draws = one.waterless_draws,
                 .peak_use_l_day = one.spread(peak_use),
                 .waterings_per_day = one.spread(waterings),
                 .once_a_day_share = one.share_with(once),
                 .twice_a_day_share = one.share_with(twice),
                 .moves_most = one.moves_most(peak_use, Line::threshold)};
  }
  return result;
}

}  // namespace wiltline

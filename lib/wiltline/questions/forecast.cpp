#include "wiltline/questions/forecast.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <memory>
#include <tuple>
#include <type_traits>
#include <utility>

#include "wiltline/account/course.hpp"
#include "wiltline/account/journey.hpp"
#include "wiltline/base/errors.hpp"
#include "wiltline/base/parallel.hpp"
#include "wiltline/base/units.hpp"
#include "wiltline/budget/state_correction.hpp"
#include "wiltline/questions/forecast_frame.hpp"

namespace wiltline {
namespace {

Spread spread(std::vector<double> values, double tail) {
  std::ranges::sort(values);
  return {at_share(values, tail), at_share(values, 0.5), at_share(values, 1.0 - tail)};
}

TimeSpread spread(std::vector<std::optional<Instant>> times, double tail) {
  std::ranges::sort(times, [](const auto& a, const auto& b) {
    return a && (!b || *a < *b);  // never comes last
  });
  return {at_share(times, tail), at_share(times, 0.5), at_share(times, 1.0 - tail)};
}

/// Everything a forecast of one planting needs.
class PlantingForecaster {
 public:
  PlantingForecaster(const ForecastPlanting& input, Date planted, const Place& place,
                     const Catalogue& catalogue, const ForecastOptions& options, double tail)
      : input_(input),
        planted_(planted),
        place_(place),
        catalogue_(catalogue),
        options_(options),
        tail_(tail) {}

  /// `futures`: record indices of the days after the known ones, a list for each member. `last`:
  /// the last day that has weather.
  /// Empty if the planting has outgrown its last stage by now.
  std::optional<PlantingForecast> run(const std::vector<std::vector<std::size_t>>& futures,
                                      Date last) const {
    const Planting& planting = *input_.planting;
    PlantingForecast result;
    result.planting = &planting;
    result.planted = planted_;
    const Instant end = horizon_end(last);

    const std::vector<SpotDay>& days = place_.at(planting.spot);
    const SpotWeather spot = [&days](std::size_t index) { return days[index]; };
    const Date observed =
        std::min(options_.now.date, options_.observed_last + std::chrono::days(1));
    const std::unique_ptr<PotLearning> learning = learn(observed, result);
    result.next_visit = coming_visit(planting.routine, planted_,
                                     learning ? learning->log() : input_.log, options_.now);
    const PotLearning::Drawn middle = learning ? learning->middle() : PotLearning::Drawn{planting};
    Journey central =
        learning ? journey_of(*learning, middle, middle.planting, place_.model(), spot)
                 : Journey(input_.log, begin(planting, place_.model()), spot, place_.record());
    if (!learning) {
      central.go_to(observed);
      result.saved = save(central.run().state());
      central.go_to(options_.now.date);
    }
    if (central.run().finished()) return std::nullopt;

    const auto member_of = [&](const Journey& journey, const std::vector<std::size_t>& future) {
      return Member{
          go_on(journey, end, result.next_visit, future), keep_routine(journey, future, last), {}};
    };
    std::vector<Member> members;
    if (options_.uncertain) {
      std::vector<std::optional<Member>> drawn(futures.size());  // empty: waterless
      run_tasks(futures.size(), 0, [&](std::size_t i) {
        // Not by the planting's row: a garden in another order has the same answers.
        const std::uint64_t number = draws_beside_weather + i;
        const PotLearning::Drawn own =
            learning ? learning->draw(options_.seed, number) : PotLearning::Drawn{planting};
        DrawnGarden draw =
            draw_garden({&own.planting, 1}, place_.model(), catalogue_, options_.seed, number);
        if (!draw.waterless.empty()) return;
        if (learning) add_learned_inputs(middle, own, draw.inputs.front());
        drawn[i] = as_drawn(draw.plantings.front(), draw.model, learning.get(), own,
                            [&](const Journey& journey) { return member_of(journey, futures[i]); });
        drawn[i]->inputs = std::move(draw.inputs.front());
      });
      for (std::optional<Member>& member : drawn) {
        if (member) members.push_back(std::move(*member));
      }
      result.waterless_members = drawn.size() - members.size();
      if (members.empty()) throw no_water_in_any_draw(planting, drawn.size());
    } else {
      for (const auto& future : futures) members.push_back(member_of(central, future));
    }
    sum_up(members, end, result);
    if (result.update && result.give_at_visit_l) {
      const double more_l = std::max(0.0, result.give_at_visit_l->p50 - result.give_now_l);
      result.give_error_l =
          std::hypot(result.update->water_error_l, result.update->use_error * more_l);
    }
    if (options_.visits) sum_up_visits(members, result);
    return result;
  }

  /// One member: the planting as drawn, under a drawn model, in a future.
  [[nodiscard]] MemberForecast member(const Planting& drawn, const ModelParameters& model,
                                      const std::vector<std::size_t>& future, Date last) const {
    const Instant end = horizon_end(last);
    const auto visit = coming_visit(input_.planting->routine, planted_, input_.log, options_.now);
    return as_drawn(drawn, model, nullptr, {drawn}, [&](const Journey& journey) {
      const Journey::Outcome outcome = go_on(journey, end, visit, future);
      return MemberForecast{hours_to(outcome.refill.value_or(end)),
                            hours_to(outcome.dry.value_or(end)), outcome.give_at_visit_l};
    });
  }

 private:
  /// The visits to come: with nothing done now, and if the pot is watered now.
  struct Kept {
    std::vector<Journey::Stop> as_is;
    std::vector<Journey::Stop> watered_now;  // empty where the pot cannot be watered now
  };
  struct Member {
    Journey::Outcome outcome;
    Kept kept;  // empty unless asked for
    std::vector<DrawnInput> inputs;
  };

  [[nodiscard]] double hours_to(const Instant& when) const {
    return units::hours_per_day * static_cast<double>((when.date - options_.now.date).count()) +
           when.hour - options_.now.hour;
  }

  /// What `then` makes of the planting's journey to now, as drawn; `learning`: null without
  /// readings.
  template <typename Then>
  std::invoke_result_t<const Then&, const Journey&> as_drawn(const Planting& drawn,
                                                             const ModelParameters& model,
                                                             const PotLearning* learning,
                                                             const PotLearning::Drawn& own,
                                                             const Then& then) const {
    // Few days are needed: seen from the drawn spot one by one.
    SpotWeather spot = [&](std::size_t index) {
      const WeatherRecord& record = place_.record();
      return spot_day(record.site(), record.date(index), record.day(index),
                      place_.reference()[index], drawn.spot, model);
    };
    Journey journey =
        learning != nullptr
            ? journey_of(*learning, own, drawn, model, std::move(spot))
            : Journey(input_.log, begin(drawn, model), std::move(spot), place_.record());
    journey.go_to(options_.now.date);
    return then(journey);
  }

  /// Goes through the readings to now, and notes what they make of the pot; null: there are none.
  std::unique_ptr<PotLearning> learn(Date observed, PlantingForecast& result) const {
    const SavedPlanting* const saved = input_.saved ? &*input_.saved : nullptr;
    if (input_.readings.empty() && (saved == nullptr || !saved->learned)) return nullptr;
    std::unique_ptr<PotLearning> learning =
        begin_learning({.planting = input_.planting,
                        .planted = planted_,
                        .log = &input_.log,
                        .readings = &input_.readings,
                        .saved = saved,
                        .growth = options_.growth,
                        .scale_error_kg = options_.scale_error_kg},
                       place_, catalogue_);
    learning->go_to(observed);
    result.saved = save(learning->state());
    result.saved.log.complete_from = learning->log().complete_from;
    result.saved.learned = learning->ensemble();
    for (const Reading& one : input_.readings) {
      if (one.when.date >= observed) result.saved.readings.push_back(one);
    }
    learning->go_to(options_.now.date);
    learning->go_on_to(options_.now);
    result.update = learning->update();
    return learning;
  }

  /// A pot that readings leave possible, at 00:00 of now's day.
  [[nodiscard]] Journey journey_of(const PotLearning& learning, const PotLearning::Drawn& own,
                                   const Planting& planting, const ModelParameters& model,
                                   SpotWeather spot) const {
    PlantingRun run(planting, planted_, model, options_.growth);
    run.resume(learning.state_of(own, run.pot()));
    return {learning.log(), run, std::move(spot), place_.record(), learning.watch_of(own)};
  }

  /// What was drawn of a pot by its readings, as inputs that can be ranked.
  static void add_learned_inputs(const PotLearning::Drawn& middle, const PotLearning::Drawn& own,
                                 std::vector<DrawnInput>& inputs) {
    const auto add = [&](const char* name, double level) { inputs.push_back({name, level}); };
    add("water use of the plant",
        std::log(own.planting.learned.use_factor / middle.planting.learned.use_factor));
    add("water the pot holds for the plant",
        std::log(*own.planting.learned.usable_l / *middle.planting.learned.usable_l));
  }

  [[nodiscard]] PlantingRun begin(const Planting& planting, const ModelParameters& model) const {
    PlantingRun run(planting, planted_, model, options_.growth);
    if (!input_.saved) return run;
    RunState saved = input_.saved->run;
    if (&planting != input_.planting) {
      const PotParameters own = build_pot(*input_.planting, place_.model());
      saved.pot = in_other_pot(saved.pot, own, run.pot());
    }
    run.resume(saved);
    return run;
  }

  /// At least the horizon asked for, longer where the next visit lies beyond it.
  [[nodiscard]] Instant horizon_end(Date last) const {
    const Instant asked = horizon(options_);
    const Instant end =
        std::max(asked, visit_after(*input_.planting, planted_, options_.now).value_or(asked));
    return std::min(end, Instant{last, units::hours_per_day});
  }

  [[nodiscard]] Journey::Outcome go_on(const Journey& journey, const Instant& end,
                                       const std::optional<Instant>& visit,
                                       const std::vector<std::size_t>& future) const {
    return journey.go_on(options_.now, end, visit, index_of(future));
  }

  [[nodiscard]] Kept keep_routine(const Journey& journey, const std::vector<std::size_t>& future,
                                  Date last) const {
    if (!options_.visits) return {};
    const auto stops = [&](bool water_now) {
      return journey.keep_routine(options_.now, visits_end(last), index_of(future), water_now);
    };
    Kept kept{.as_is = stops(false), .watered_now = {}};
    // By now the members are one pot, unless they were drawn or the weather until now is not known.
    const bool alike = !options_.uncertain && options_.now.date <= options_.known_last;
    if (!alike || wilted_by_now(kept)) kept.watered_now = stops(true);
    return kept;
  }

  [[nodiscard]] bool wilted_by_now(const Kept& kept) const {
    const std::optional<Instant>& wilts = kept.as_is.front().wilts;
    return wilts && *wilts <= options_.now;
  }

  /// Where the days to come stand in the record. `future` must outlive it.
  [[nodiscard]] std::function<std::size_t(Date)> index_of(
      const std::vector<std::size_t>& future) const {
    return [this, &future](Date date) {
      return date <= options_.known_last
                 ? place_.record().index_of(date)
                 : future[static_cast<std::size_t>((date - options_.known_last).count()) - 1];
    };
  }

  /// The first visit after the horizon, up to which a pot must last.
  [[nodiscard]] Instant visits_end(Date last) const {
    const Instant end = horizon(options_);
    return std::min(visit_after(*input_.planting, planted_, end).value_or(end),
                    Instant{last, units::hours_per_day});
  }

  /// A pot that has wilted by the median is watered now, whether or not the member has wilted: who
  /// waters it sees one pot.
  void sum_up_visits(const std::vector<Member>& members, PlantingForecast& result) const {
    const auto wilted = std::ranges::count_if(
        members, [&](const Member& member) { return wilted_by_now(member.kept); });
    const bool water_now = 2 * static_cast<std::size_t>(wilted) >= members.size();
    for (std::size_t k = 0;; ++k) {
      std::vector<std::optional<Instant>> times;
      std::vector<std::optional<Instant>> wilts;
      std::vector<double> poured_l;
      std::size_t feeds = 0;
      std::size_t sheds = 0;
      for (const Member& member : members) {
        const auto& stops = water_now ? member.kept.watered_now : member.kept.as_is;
        if (k >= stops.size()) continue;
        times.push_back(stops[k].when);
        wilts.push_back(stops[k].wilts);
        poured_l.push_back(stops[k].poured_l);
        feeds += stops[k].feed_due ? 1 : 0;
        sheds += stops[k].sheds ? 1 : 0;
      }
      if (times.empty() || 2 * times.size() < members.size()) return;
      const Instant when = *spread(times, tail_).p50;
      if (when > horizon(options_)) return;
      result.visits.push_back({.when = when,
                               .poured_l = spread(std::move(poured_l), tail_),
                               .sheds = 2 * sheds > times.size(),
                               .feed_due = 2 * feeds > times.size(),
                               .wilts = spread(std::move(wilts), tail_).p50});
    }
  }

  [[nodiscard]] SavedPlanting save(const RunState& run) const {
    SavedPlanting saved{.name = input_.planting->name,
                        .planted = planted_,
                        .growth = options_.growth,
                        .run = run,
                        .log = {.events = {}, .complete_from = input_.log.complete_from}};
    for (const PotEvent& event : input_.log.events) {
      if (event.when.date >= saved.run.date) saved.log.events.push_back(event);
    }
    return saved;
  }

  void sum_up(const std::vector<Member>& members, const Instant& end,
              PlantingForecast& result) const {
    const auto median_of = [&](double Journey::Outcome::*litres) {
      std::vector<double> values;
      for (const Member& member : members) values.push_back(member.outcome.*litres);
      return spread(std::move(values), tail_).p50;
    };
    std::vector<double> at_visit;
    std::vector<std::optional<Instant>> refills;
    std::vector<std::optional<Instant>> drys;
    std::vector<double> refill_hours;
    std::vector<std::vector<DrawnInput>> inputs;
    std::size_t feeds = 0;
    for (const Member& member : members) {
      const Journey::Outcome& outcome = member.outcome;
      if (outcome.give_at_visit_l) at_visit.push_back(*outcome.give_at_visit_l);
      refills.push_back(outcome.refill);
      drys.push_back(outcome.dry);
      feeds += outcome.feed_due ? 1 : 0;
      refill_hours.push_back(outcome.refill ? hours_to(*outcome.refill)
                                            : std::numeric_limits<double>::infinity());
      inputs.push_back(member.inputs);
    }
    result.depletion_l = median_of(&Journey::Outcome::depletion_l);
    result.refill_at_l = median_of(&Journey::Outcome::refill_at_l);
    result.give_now_l = median_of(&Journey::Outcome::give_now_l);
    result.refill = spread(std::move(refills), tail_);
    result.dry = spread(std::move(drys), tail_);
    if (!at_visit.empty()) result.give_at_visit_l = spread(std::move(at_visit), tail_);
    result.water_at = watering_for(result, end);
    result.feed_due = 2 * feeds > members.size();
    if (options_.uncertain) {
      result.moves_most =
          most_influential(inputs_of(Line::threshold, std::move(inputs)), refill_hours);
    }
    const bool as_needed = input_.planting->routine.as_needed;
    const std::optional<Instant>& visit = as_needed ? result.water_at : result.next_visit;
    if (result.dry.p50 && (visit || as_needed)) {
      // One that is dry by now is so before a visit at this very minute, too.
      result.dry_before_visit =
          !visit || *result.dry.p50 < *visit || *result.dry.p50 <= options_.now;
    } else if (visit && *visit <= end) {
      result.dry_before_visit = false;
    }
  }

  /// The visit at which a pot with this forecast should be watered.
  [[nodiscard]] std::optional<Instant> watering_for(const PlantingForecast& pot,
                                                    const Instant& end) const {
    if (!pot.refill.p50) return std::nullopt;
    const Instant wanted = std::max(*pot.refill.p50, options_.now);
    const Routine& routine = pot.planting->routine;
    if (routine.as_needed) {
      Instant there = wanted;
      while (there <= end && routine.away_on(there.date)) {
        there = {there.date + std::chrono::days(1), 0.0};
      }
      return there <= end ? std::optional(there) : std::nullopt;
    }
    std::optional<Instant> last = pot.next_visit;
    while (last) {
      const auto after = next_visit(routine, planted_, *last);
      if (!after || *after > wanted) break;
      last = after;
    }
    return last;
  }

  const ForecastPlanting& input_;
  Date planted_;
  const Place& place_;
  const Catalogue& catalogue_;
  const ForecastOptions& options_;
  double tail_;  // share of the members outside the range on either side
};

/// The order of urgency: first to go dry, then first to reach the threshold, then fullest use of
/// what is available.
auto urgency(const PlantingForecast& pot) {
  constexpr Instant never{Date::max(), 0.0};
  return std::tuple(pot.dry.p50.value_or(never), pot.refill.p50.value_or(never),
                    -pot.depletion_l / pot.refill_at_l);
}

}  // namespace

ForecastOptions at_end_of(const WeatherRecord& record) {
  ForecastOptions options;
  options.now = {record.last() + std::chrono::days(1), 0.0};
  options.known_last = record.last();
  options.observed_last = record.last();
  return options;
}

std::optional<Date> growing_since(const Planting& planting, Date date, Date weather_first,
                                  GrowthClock growth) {
  const auto stands = [&](Date planted) {
    return planted <= date && latest_day(planting, planted, growth).value_or(date) >= date;
  };
  const bool until_frost = !planting.ends && any_crop(planting, [](const Crop& crop) {
    return crop.life != LifeSpan::matures;
  });
  if (const auto* planted = std::get_if<Date>(&planting.planted)) {
    return stands(*planted) ? std::optional(*planted) : std::nullopt;
  }
  const MonthDay day = std::get<MonthDay>(planting.planted);
  for (const int year : {year_of(date), year_of(date) - 1}) {
    const auto planted = day.in_year(year);
    if (!planted || !stands(*planted)) continue;
    if (until_frost && year != year_of(date) && *planted < weather_first) continue;
    return planted;
  }
  return std::nullopt;
}

ForecastResult forecast(std::span<const ForecastPlanting> plantings, const Place& place,
                        const Catalogue& catalogue, const ForecastOptions& options) {
  const ForecastFrame frame = forecast_frame(plantings, place, options);
  if (options.uncertain) check_drawn(place.model(), catalogue);
  const std::vector<std::optional<Date>>& planted = frame.planted;
  const PastDays& past = frame.past;
  ForecastResult result;
  result.last_day = frame.last_day;
  result.cut_short = result.last_day < options.now.date + std::chrono::days(options.horizon_days);
  result.pooled_years = past.years();
  if (result.last_day < options.now.date) return result;  // not even today has weather

  std::vector<std::vector<std::size_t>> futures;
  for (std::size_t member = 0; member < options.members; ++member) {
    futures.push_back(past.draw(options.seed, member));
  }
  // Drawn inputs are as many as the members and ask for no widening.
  constexpr double tenth = 0.1;
  const double tail = options.uncertain ? tenth : tail_share(past.spells());
  for (std::size_t i = 0; i < plantings.size(); ++i) {
    if (options.done) options.done(i);
    if (!planted[i]) {
      result.not_growing.push_back(plantings[i].planting);
      continue;
    }
    auto pot = PlantingForecaster(plantings[i], *planted[i], place, catalogue, options, tail)
                   .run(futures, result.last_day);
    if (pot) {
      result.pots.push_back(std::move(*pot));
    } else {
      result.not_growing.push_back(plantings[i].planting);
    }
  }
  if (options.done) options.done(plantings.size());
  std::ranges::stable_sort(result.pots, {}, urgency);
  return result;
}

ForecastMember forecast_member(std::span<const ForecastPlanting> plantings, const Place& place,
                               const Catalogue& catalogue, const ForecastOptions& options) {
  ForecastFrame shared = forecast_frame(plantings, place, options);
  if (shared.last_day < options.now.date) {
    throw RequestError(
        fmt::format("forecast: found no weather for {}; expected that of another year",
                    to_string(options.now.date)));
  }
  return [inputs = std::vector(plantings.begin(), plantings.end()), place, &catalogue, options,
          frame = std::move(shared)](std::size_t planting, const Planting& drawn,
                                     const ModelParameters& model, std::uint64_t number) {
    if (planting >= inputs.size() || !frame.planted[planting]) {
      throw RequestError(
          fmt::format("forecast: found planting {} of {}; expected one of them that grows now",
                      planting, inputs.size()));
    }
    return PlantingForecaster(inputs[planting], *frame.planted[planting], place, catalogue, options,
                              0.0)
        .member(drawn, model, frame.past.draw(options.seed, number), frame.last_day);
  };
}

std::vector<ForecastPlanting> by_routine_alone(Plantings garden) {
  std::vector<ForecastPlanting> plantings;
  for (const Planting& planting : garden) {
    plantings.push_back({.planting = &planting, .log = {}, .saved = {}});
  }
  return plantings;
}

ForecastResult forecast(Plantings garden, const Place& place, const Catalogue& catalogue,
                        const ForecastOptions& options) {
  return forecast(by_routine_alone(garden), place, catalogue, options);
}

}  // namespace wiltline

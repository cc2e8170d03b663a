#include "wiltline/questions/forecast.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <tuple>

#include "wiltline/budget/measured.hpp"
#include "wiltline/questions/course.hpp"

namespace wiltline {
namespace {

constexpr int block_days = 5;    // drawn together, so that spells stay together
constexpr int window_days = 10;  // either side of the calendar date
constexpr int longest_horizon_days = 60;
constexpr double day_end_h = 24.0;

/// The weather as a planting's spot sees it, day by day of the record.
class SpotWeather {
 public:
  /// Seen once and kept: for the tables' own spots and model.
  SpotWeather(PreparedWeather& weather, const Planting& planting, const ModelParameters& model)
      : weather_(weather), spot_(planting.spot), model_(model), kept_(&weather.at(spot_, model)) {}
  /// Looked at anew each time: for a draw, which needs few days.
  SpotWeather(PreparedWeather& weather, const Draw& draw)
      : weather_(weather), spot_(draw.planting.spot), model_(draw.model) {}

  [[nodiscard]] SpotDay at(std::size_t index) const {
    if (kept_ != nullptr) return (*kept_)[index];
    const WeatherRecord& record = weather_.record();
    return spot_day(record.site(), record.date(index), record.day(index),
                    weather_.reference()[index], spot_, model_);
  }

 private:
  PreparedWeather& weather_;
  const Spot& spot_;
  const ModelParameters& model_;
  const std::vector<SpotDay>* kept_ = nullptr;
};

/// Days of other years that may follow the known ones.
class PastDays {
 public:
  PastDays(const WeatherRecord& record, Date first, Date last, Date now) {
    for (Date begin = first; begin <= last; begin += std::chrono::days(block_days)) {
      blocks_.push_back(candidates(record, begin, now));
      if (blocks_.back().empty()) break;
      last_ = std::min(begin + std::chrono::days(block_days - 1), last);
    }
    size_ = last_ ? static_cast<std::size_t>((*last_ - first).count()) + 1 : 0;
  }

  /// The last day that can be drawn; empty if none.
  [[nodiscard]] std::optional<Date> last() const { return last_; }
  [[nodiscard]] int years() const { return years_; }

  /// Record indices of one future.
  [[nodiscard]] std::vector<std::size_t> draw(std::uint64_t seed, std::uint64_t member) const {
    RandomBits random(seed, member);
    std::vector<std::size_t> days;
    for (const std::vector<std::size_t>& block : blocks_) {
      if (days.size() >= size_) break;
      const std::size_t first = block[random.below(block.size())];
      for (std::size_t i = 0; i < block_days && days.size() < size_; ++i) days.push_back(first + i);
    }
    return days;
  }

 private:
  /// The record indices at which a block for the days from `begin` on may start.
  std::vector<std::size_t> candidates(const WeatherRecord& record, Date begin, Date now) {
    constexpr std::chrono::days present{182};  // nearer than that to now it is this year's
    const std::chrono::year_month_day civil{begin};
    const auto month = static_cast<unsigned>(civil.month());
    const auto day = static_cast<unsigned>(civil.day());
    std::vector<std::size_t> starts;
    int years = 0;
    for (int year = year_of(record.first()) - 1; year <= year_of(record.last()) + 1; ++year) {
      if (year == year_of(begin)) continue;
      const auto same_day = MonthDay{month, day}.in_year(year);
      const Date middle = same_day.value_or(make_date(year, 2, 28));
      const std::size_t before = starts.size();
      for (int offset = -window_days; offset <= window_days; ++offset) {
        const Date start = middle + std::chrono::days(offset);
        const Date end = start + std::chrono::days(block_days - 1);
        const bool another_year = start > now + present || end < now - present;
        if (another_year && record.contains(start) && record.contains(end)) {
          starts.push_back(record.index_of(start));
        }
      }
      if (starts.size() > before) ++years;
    }
    if (blocks_.empty()) years_ = years;
    return starts;
  }

  std::vector<std::vector<std::size_t>> blocks_;
  std::optional<Date> last_;
  std::size_t size_ = 0;
  int years_ = 0;
};

Pouring pouring_of(const Planting& planting) {
  return planting.routine.soaks ? Pouring::soaked_twice : Pouring::once;
}

/// One planting on its way to now and beyond.
class Journey {
 public:
  /// `run` stands at planting or at a saved state.
  Journey(const ForecastPlanting& input, PlantingRun run, const SpotWeather& weather,
          const WeatherRecord& record)
      : input_(input), run_(std::move(run)), weather_(weather), record_(record) {}

  [[nodiscard]] const PlantingRun& run() const { return run_; }

  /// Whole known days, up to 00:00 of `date`.
  void go_to(Date date) {
    while (run_.date() < date) {
      const SpotDay spot = weather_.at(record_.index_of(run_.date()));
      const DayForcing forcing = run_.begin_day(spot);
      DayInProgress day(run_.pot(), run_.pot_state(), forcing);
      live(day, spot.curve, day_end_h, nullptr);
      run_.end_day(day.finish(), spot);
    }
  }

  struct Outcome {
    double depletion_l = 0.0;
    double refill_at_l = 0.0;
    double give_now_l = 0.0;
    bool feed_due = false;
    std::optional<Instant> refill;
    std::optional<Instant> dry;
  };

  /// From 00:00 of now's day over the days that `index_of_day` names, until the pot is dry, the
  /// planting ends or `end` is passed.
  template <typename IndexOfDay>
  [[nodiscard]] Outcome go_on(const Instant& now, const Instant& end,
                              const IndexOfDay& index_of_day) const {
    PlantingRun run = run_;
    Outcome outcome;
    const Date last = std::min(end.date, run.last_day(end.date));
    while (run.date() == now.date || (run.date() <= last && !outcome.dry && !run.finished())) {
      const Date date = run.date();
      const SpotDay spot = weather_.at(index_of_day(date));
      const DayForcing forcing = run.begin_day(spot);
      DayInProgress day(run.pot(), run.pot_state(), forcing);
      if (date == now.date) {
        outcome.feed_due = run.feed_due();
        live(day, spot.curve, now.hour, &outcome);
      } else {
        day.take_rain({});
      }
      const DayResult result = day.finish();
      const auto note = [&](const std::optional<double>& x, std::optional<Instant>& first) {
        if (!x || first) return;
        const Instant at{date,
                         std::max(spot.curve.hours_at(*x), date == now.date ? now.hour : 0.0)};
        if (at <= end) first = at;
      };
      note(result.threshold_at, outcome.refill);
      note(result.dry_at, outcome.dry);
      run.end_day(result, spot);
    }
    return outcome;
  }

 private:
  void apply(DayInProgress& day, const Doing& doing) const {
    const Planting& planting = run_.planting();
    const PotParameters& pot = run_.pot();
    switch (doing.kind) {
      case DoingKind::watered:
        day.pour(doing.amount, pouring_of(planting));
        return;
      case DoingKind::weighed:
        day.correct(holding(
            pot, day.state(),
            *doing.amount - planting.tare_kg.value_or(0.0) - dry_mix_kg(planting.mix, pot.mix_l)));
        return;
      case DoingKind::top_felt_dry:
      case DoingKind::top_felt_moist:
        day.correct(with_top_felt(pot, day.state(), doing.kind == DoingKind::top_felt_dry));
        return;
    }
  }

  /// What is known of a day up to an hour: rain, the routine as long as it is assumed, and what the
  /// gardener did. `outcome`: the pot as it stands then; what is passed later counts from there.
  void live(DayInProgress& day, const DemandCurve& curve, double until_h, Outcome* outcome) const {
    const Date date = run_.date();
    double routine_until_h = until_h;
    if (input_.log_from && input_.log_from->date <= date) {
      routine_until_h =
          input_.log_from->date == date ? std::min(until_h, input_.log_from->hour) : 0.0;
    }
    std::vector<Visit> visits;
    add_visits(run_.planting().routine, run_.planted(), date, curve, visits);
    DayPlan plan = routine_plan(run_.planting().routine);
    if (routine_until_h <= 0.0) plan.as_needed = false;
    const double routine_until = curve.share_by(routine_until_h);
    std::size_t next = 0;
    const auto keep_routine_until = [&](double x) {
      const double until = std::min(x, routine_until);
      if (plan.as_needed) day.water_as_needed(plan, until);
      while (next < visits.size() && visits[next].at < until) day.visit(plan, visits[next++]);
    };

    auto doing =
        std::lower_bound(input_.doings.begin(), input_.doings.end(), date,
                         [](const Doing& one, Date wanted) { return one.when.date < wanted; });
    const auto done = [&] { return doing == input_.doings.end() || doing->when.date > date; };
    for (; !done() && doing->when.hour <= 0.0; ++doing) apply(day, *doing);
    if (outcome != nullptr && until_h <= 0.0) report(day, *outcome);
    day.take_rain(plan);
    for (; !done() && doing->when.hour <= until_h; ++doing) {
      const double x = curve.share_by(doing->when.hour);
      keep_routine_until(x);
      day.dry_until(x);
      apply(day, *doing);
    }
    const double end = curve.share_by(until_h);
    keep_routine_until(end);
    if (outcome == nullptr) return;
    day.dry_until(end);
    if (until_h > 0.0) {
      report(day, *outcome);
      day.watch_from_here();
    }
  }

  void report(const DayInProgress& day, Outcome& outcome) const {
    outcome.depletion_l = day.state().rooted_depletion_l;
    outcome.refill_at_l = day.threshold_l();
    outcome.give_now_l =
        std::max(0.0, litres_until_drained(run_.pot(), day.state(), pouring_of(run_.planting())));
  }

  const ForecastPlanting& input_;
  PlantingRun run_;
  const SpotWeather& weather_;
  const WeatherRecord& record_;
};

/// The value that a share of the sorted values does not exceed (the smallest such value).
template <typename Value>
const Value& at_share(const std::vector<Value>& sorted, double share) {
  const auto rank = static_cast<std::size_t>(std::ceil(share * static_cast<double>(sorted.size())));
  return sorted[std::clamp<std::size_t>(rank, 1, sorted.size()) - 1];
}

double median(std::vector<double> values) {
  std::sort(values.begin(), values.end());
  return at_share(values, 0.5);
}

/// The share of the members below which the truth should lie one time in ten, where only the
/// weather makes them differ. They come from few past spells that do not overlap, and the k-th of n
/// such has the next one below it with chance k / (n + 1); k = 0.1 (n + 1) stands at share
/// (k - 1/2) / n of them. Without this, ranges drawn from three years held two thirds of what a
/// fourth brought. Drawn inputs are as many as the members and ask for no such widening.
double tail_share(int years, bool uncertain) {
  constexpr double tenth = 0.1;
  if (years == 0 || uncertain) return tenth;
  const double spells = static_cast<double>(years * (2 * window_days + 1)) / block_days;
  return std::max(0.0, (tenth * (spells + 1.0) - 0.5) / spells);
}

TimeSpread spread(std::vector<std::optional<Instant>> times, double tail) {
  std::sort(times.begin(), times.end(), [](const auto& a, const auto& b) {
    return a && (!b || *a < *b);  // never comes last
  });
  return {at_share(times, tail), at_share(times, 0.5), at_share(times, 1.0 - tail)};
}

/// A saved state in a pot of other size: the same share of what the pot can lose is gone.
RunState in_other_pot(RunState state, const PotParameters& from, const PotParameters& to) {
  const double ratio = (to.refilled_l - to.air_dry_l) / (from.refilled_l - from.air_dry_l);
  state.pot.rooted_depletion_l *= ratio;
  state.pot.unrooted_depletion_l *= ratio;
  state.pot.top_depletion_l = std::min(state.pot.top_depletion_l * ratio, to.total_evaporable_l);
  state.pot.mulch_water_l = std::min(state.pot.mulch_water_l, to.mulch_store_l);
  return state;
}

/// Everything a forecast of one planting needs.
class PlantingForecaster {
 public:
  PlantingForecaster(const ForecastPlanting& input, Date planted, PreparedWeather& weather,
                     const Catalogue& catalogue, const ForecastOptions& options, double tail)
      : input_(input),
        planted_(planted),
        weather_(weather),
        catalogue_(catalogue),
        options_(options),
        tail_(tail) {}

  /// `futures`: record indices of the days after the known ones, a list for each member. `last`:
  /// the last day that has weather. `number`: of the planting, for its own draws.
  /// Empty if the planting has outgrown its last stage by now.
  std::optional<PlantingForecast> run(const std::vector<std::vector<std::size_t>>& futures,
                                      Date last, std::size_t number) const {
    const Planting& planting = *input_.planting;
    PlantingForecast result;
    result.planting = &planting;
    result.planted = planted_;
    result.next_visit = next_visit(planting.routine, planted_, options_.now);
    const Instant end = horizon_end(result.next_visit, last);

    const SpotWeather spot(weather_, planting, catalogue_.parameters);
    Journey central(input_, begin(planting, catalogue_.parameters), spot, weather_.record());
    central.go_to(std::min(options_.now.date, options_.observed_last + std::chrono::days(1)));
    result.saved = save(central.run());
    central.go_to(options_.now.date);
    if (central.run().finished()) return std::nullopt;

    std::vector<Journey::Outcome> outcomes;
    std::vector<std::vector<DrawnInput>> drawn;
    if (options_.uncertain) {
      for (std::size_t member = 0; member < futures.size(); ++member) {
        constexpr unsigned planting_bits = 32;
        RandomBits random(options_.seed,
                          ((static_cast<std::uint64_t>(number) + 1) << planting_bits) | member);
        Draw draw = draw_inputs(planting, catalogue_.parameters, catalogue_, random);
        const SpotWeather drawn_spot(weather_, draw);
        Journey journey(input_, begin(draw.planting, draw.model), drawn_spot, weather_.record());
        journey.go_to(options_.now.date);
        outcomes.push_back(go_on(journey, end, futures[member]));
        drawn.push_back(std::move(draw.inputs));
      }
    } else {
      for (const auto& future : futures) outcomes.push_back(go_on(central, end, future));
    }
    sum_up(outcomes, drawn, end, result);
    return result;
  }

 private:
  [[nodiscard]] PlantingRun begin(const Planting& planting, const ModelParameters& model) const {
    PlantingRun run(planting, planted_, model, options_.growth);
    if (!input_.saved) return run;
    const PotParameters own = build_pot(*input_.planting, catalogue_.parameters);
    const bool same_pot = &planting == input_.planting;
    run.resume(same_pot ? input_.saved->run : in_other_pot(input_.saved->run, own, run.pot()));
    return run;
  }

  /// At least the horizon asked for, longer where the next visit lies beyond it.
  [[nodiscard]] Instant horizon_end(const std::optional<Instant>& visit, Date last) const {
    Instant end{options_.now.date + std::chrono::days(options_.horizon_days), options_.now.hour};
    const Instant furthest{options_.now.date + std::chrono::days(longest_horizon_days),
                           options_.now.hour};
    if (visit) end = std::max(end, std::min(*visit, furthest));
    return std::min(end, Instant{last, day_end_h});
  }

  [[nodiscard]] Journey::Outcome go_on(const Journey& journey, const Instant& end,
                                       const std::vector<std::size_t>& future) const {
    return journey.go_on(options_.now, end, [&](Date date) {
      return date <= options_.known_last
                 ? weather_.record().index_of(date)
                 : future[static_cast<std::size_t>((date - options_.known_last).count()) - 1];
    });
  }

  [[nodiscard]] SavedPlanting save(const PlantingRun& run) const {
    SavedPlanting saved{.name = input_.planting->name,
                        .planted = planted_,
                        .growth = options_.growth,
                        .run = run.state(),
                        .doings = {},
                        .log_from = input_.log_from};
    for (const Doing& doing : input_.doings) {
      if (doing.when.date >= saved.run.date) saved.doings.push_back(doing);
    }
    return saved;
  }

  void sum_up(const std::vector<Journey::Outcome>& outcomes,
              const std::vector<std::vector<DrawnInput>>& drawn, const Instant& end,
              PlantingForecast& result) const {
    std::vector<double> depletions;
    std::vector<double> thresholds;
    std::vector<double> amounts;
    std::vector<std::optional<Instant>> refills;
    std::vector<std::optional<Instant>> drys;
    std::vector<double> refill_hours;
    std::size_t feeds = 0;
    for (const Journey::Outcome& outcome : outcomes) {
      depletions.push_back(outcome.depletion_l);
      thresholds.push_back(outcome.refill_at_l);
      amounts.push_back(outcome.give_now_l);
      refills.push_back(outcome.refill);
      drys.push_back(outcome.dry);
      feeds += outcome.feed_due ? 1 : 0;
      refill_hours.push_back(
          outcome.refill ? day_end_h * static_cast<double>(
                                           (outcome.refill->date - options_.now.date).count()) +
                               outcome.refill->hour
                         : std::numeric_limits<double>::infinity());
    }
    result.depletion_l = median(std::move(depletions));
    result.refill_at_l = median(std::move(thresholds));
    result.give_now_l = median(std::move(amounts));
    result.refill = spread(std::move(refills), tail_);
    result.dry = spread(std::move(drys), tail_);
    result.feed_due = 2 * feeds > outcomes.size();
    if (options_.uncertain) result.moves_most = most_influential(drawn, refill_hours);
    if (result.next_visit) {
      if (result.dry.p50) {
        result.dry_before_visit = *result.dry.p50 < *result.next_visit;
      } else if (*result.next_visit <= end) {
        result.dry_before_visit = false;
      }
    }
  }

  const ForecastPlanting& input_;
  Date planted_;
  PreparedWeather& weather_;
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

std::optional<Date> growing_since(const Planting& planting, Date date, GrowthClock growth) {
  const auto stands = [&](Date planted) {
    return planted <= date && end_of_planting(planting, planted, date, growth) >= date;
  };
  if (const auto* planted = std::get_if<Date>(&planting.planted)) {
    return stands(*planted) ? std::optional(*planted) : std::nullopt;
  }
  const MonthDay day = std::get<MonthDay>(planting.planted);
  for (const int year : {year_of(date), year_of(date) - 1}) {
    const auto planted = day.in_year(year);
    if (planted && stands(*planted)) return planted;
  }
  return std::nullopt;
}

ForecastResult forecast(std::span<const ForecastPlanting> plantings, PreparedWeather& weather,
                        const Catalogue& catalogue, const ForecastOptions& options) {
  ForecastResult result;
  // Days that may be wanted: the horizon, or as far as the next visit of a planting.
  const Date furthest = options.now.date + std::chrono::days(longest_horizon_days);
  Date wanted = options.now.date + std::chrono::days(options.horizon_days);
  std::vector<std::optional<Date>> planted;
  for (const ForecastPlanting& one : plantings) {
    planted.push_back(one.saved ? std::optional(one.saved->planted)
                                : growing_since(*one.planting, options.now.date, options.growth));
    if (planted.back() && end_of_planting(*one.planting, *planted.back(), options.now.date,
                                          options.growth) < options.now.date) {
      planted.back().reset();
    }
    if (!planted.back()) continue;
    const auto visit = next_visit(one.planting->routine, *planted.back(), options.now);
    if (visit) wanted = std::max(wanted, std::min(visit->date, furthest));
  }
  const PastDays past(weather.record(), options.known_last + std::chrono::days(1), wanted,
                      options.now.date);
  result.last_day = std::min(wanted, past.last().value_or(options.known_last));
  result.cut_short = result.last_day < options.now.date + std::chrono::days(options.horizon_days);
  result.pooled_years = past.years();
  if (result.last_day < options.now.date) return result;  // not even today has weather

  std::vector<std::vector<std::size_t>> futures;
  for (std::size_t member = 0; member < options.members; ++member) {
    futures.push_back(past.draw(options.seed, member));
  }
  for (std::size_t i = 0; i < plantings.size(); ++i) {
    if (!planted[i]) {
      result.not_growing.push_back(plantings[i].planting);
      continue;
    }
    auto pot = PlantingForecaster(plantings[i], *planted[i], weather, catalogue, options,
                                  tail_share(past.years(), options.uncertain))
                   .run(futures, result.last_day, i);
    if (pot) {
      result.pots.push_back(std::move(*pot));
    } else {
      result.not_growing.push_back(plantings[i].planting);
    }
  }
  std::stable_sort(
      result.pots.begin(), result.pots.end(),
      [](const PlantingForecast& a, const PlantingForecast& b) { return urgency(a) < urgency(b); });
  return result;
}

}  // namespace wiltline

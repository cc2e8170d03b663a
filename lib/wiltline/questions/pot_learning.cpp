#include "wiltline/questions/pot_learning.hpp"

#include <fmt/format.h>

#include <Eigen/Core>
#include <algorithm>
#include <cmath>
#include <utility>

#include "wiltline/base/errors.hpp"
#include "wiltline/base/normal_draw.hpp"
#include "wiltline/base/sobol.hpp"
#include "wiltline/base/units.hpp"
#include "wiltline/budget/state_correction.hpp"
#include "wiltline/budget/watering.hpp"
#include "wiltline/questions/pot_account.hpp"
#include "wiltline/questions/reading_errors.hpp"

namespace wiltline {
namespace {

namespace errors = reading_errors;

/// What is known of a pot: logarithms of the factors on use, usable water and the wall's loss;
/// water held, litres; the empty pot, kg; the plant, kg a m2 of leaves. Those up to the water move
/// members apart; the others only what they weigh.
enum StateIndex : Eigen::Index { use, usable, wall, held, empty, plant, numbers };
constexpr Eigen::Index moving = empty;
using Known = Eigen::Matrix<double, numbers, 1>;
using Covariance = Eigen::Matrix<double, numbers, numbers>;

/// Lower triangular L with L Lᵀ = `of`; a column without variance stays zero.
Covariance root_of(const Covariance& of) {
  constexpr double nothing = 1e-12;
  Covariance root = Covariance::Zero();
  for (Eigen::Index k = 0; k < numbers; ++k) {
    const double left = of(k, k) - root.row(k).head(k).squaredNorm();
    if (left <= nothing) continue;
    root(k, k) = std::sqrt(left);
    for (Eigen::Index i = k + 1; i < numbers; ++i) {
      root(i, k) = (of(i, k) - root.row(i).head(k).dot(root.row(k).head(k))) / root(k, k);
    }
  }
  return root;
}

/// How an observation moves what is known: its mean by `slope` times `with`, the covariances of the
/// numbers with what is observed; their own shrink by `curvature` times its square.
struct Moved {
  Known with;
  double slope = 0.0;
  double curvature = 0.0;
};

/// Kalman update by a measured value that is `off` from what was foretold, with the variance of
/// that difference.
Moved moved_by(const Known& with, double off, double variance) {
  return {with, off / variance, 1.0 / variance};
}

/// Kalman update by a yes/no reading that is likelier yes the higher `above`, which has the
/// standard error `error`: the normal distribution with the mean and variance after it.
Moved moved_by(const Known& with, bool yes, double above, double error) {
  constexpr double root_two_pi = 2.5066282746310002;
  const double z = above / error;
  const double slope = (yes ? 1.0 : -1.0) * (1.0 - errors::wrong_answer_share) *
                       std::exp(-z * z / 2.0) / (root_two_pi * yes_no_chance(yes, z) * error);
  return {with, slope, std::max(0.0, slope * (slope + z / error))};
}

/// The members, the day at which they stand, and what was read so far.
class Filter final : public PotLearning {
 public:
  Filter(const PotToLearn& pot, const Place& place, const Catalogue& catalogue)
      : to_learn_(pot),
        place_(place),
        days_(place.at(pot.planting->spot)),
        pouring_(routine_plan(pot.planting->routine).pouring),
        date_(pot.saved != nullptr ? pot.saved->run.date : pot.planted) {
    if (!(pot.scale_error_kg > 0.0)) {
      throw RequestError(fmt::format("found a scale's standard error of {:g} kg; expected above 0",
                                     pot.scale_error_kg));
    }
    tables_ = pot_of_tables(*pot.planting, place.model());
    make_log();
    if (pot.saved != nullptr && pot.saved->learned) {
      resume(*pot.saved->learned, pot.saved->run);
    } else {
      begin(catalogue);
    }
    use_before_ = std::exp(members_.front()->at[use]);
  }

  void go_to(Date date) override {
    while (date_ < date) {
      const bool reads = next_ < readings().size() && readings()[next_].when.date <= date_;
      if (reads) read({date_, units::hours_per_day});
      const Date until = next_ < readings().size() ? readings()[next_].when.date : date;
      run_to(reads ? date_ + std::chrono::days(1) : std::min(until, date));
      setting_.reset();
    }
  }

  void go_on_to(const Instant& now) override { read({date_, now.hour}); }

  [[nodiscard]] RunState state() const override { return members_.front()->run.state(); }
  [[nodiscard]] const PotLog& log() const override { return log_; }

  [[nodiscard]] PotEnsemble ensemble() const override {
    PotEnsemble result{.members = {},
                       .empty_kg2 = beside_(0, 0),
                       .empty_plant = beside_(1, 0),
                       .plant_kg2 = beside_(1, 1),
                       .water_l2 = mark_.variance,
                       .readings = taken_before_ + taken_,
                       .doubtful_kg = doubtful_kg_};
    for (const auto& one : members_) {
      const Known& at = one->at;
      result.members.push_back({.use = at[use],
                                .usable = at[usable],
                                .wall = at[wall],
                                .empty_kg = at[empty],
                                .plant_kg_per_m2 = at[plant],
                                .beyond_l = one->beyond_l,
                                .pot = one->run.pot_state()});
    }
    return result;
  }

  [[nodiscard]] PotUpdate update() const override {
    const auto [mean, covariance] = now_known();
    const double error = std::sqrt(covariance(use, use));
    return {.readings = taken_,
            .readings_all = taken_before_ + taken_,
            .use_before = use_before_,
            .use = {std::exp(mean[use]), std::exp(mean[use] - nine_in_ten_errors * error),
                    std::exp(mean[use] + nine_in_ten_errors * error)},
            .use_error = error,
            .water_error_l = std::sqrt(covariance(held, held)),
            .doubtful = doubtful_};
  }

  [[nodiscard]] Drawn middle() const override { return drawn_at(now_known().first); }

  [[nodiscard]] Drawn draw(std::uint64_t seed, std::uint64_t number) const override {
    const auto [mean, covariance] = now_known();
    const std::vector<double> point = shifted_sobol_point(moving, number, seed);
    Known normal = Known::Zero();
    for (Eigen::Index k = 0; k < moving; ++k) {
      normal[k] = normal_at_level(2.0 * point[static_cast<std::size_t>(k)] - 1.0);
    }
    return drawn_at(mean + root_of(covariance) * normal);
  }

  [[nodiscard]] RunState state_of(const Drawn& drawn, const PotParameters& pot) const override {
    RunState result = state();
    result.pot = in_other_pot(result.pot, members_.front()->run.pot(), pot);
    if (!setting_) result.pot = with_water(drawn, result.pot, pot);
    return result;
  }

  [[nodiscard]] Watch watch_of(const Drawn& drawn) const override {
    if (!setting_) return {};
    return [this, drawn](const PlantingRun& run, DayInProgress& day, const PotEvent& event) {
      if (place_in_log(event) != setting_->event) return;
      day.correct(with_water(drawn, day.state(), run.pot()));
    };
  }

 private:
  struct Member {
    Member(const Known& its, Planting own, const PotToLearn& of, const ModelParameters& model)
        : at(its), planting(std::move(own)), run(planting, of.planted, model, of.growth) {}

    Known at;  // its water: at the last reading, later the run's
    Planting planting;
    PlantingRun run;
    /// Litres that a reading shows beyond what the account can hold, until the pot is refilled:
    /// without it members would be biased towards the dry side of a full pot.
    double beyond_l = 0.0;
    double drained_l = 0.0;  // of the day so far, when last looked at
  };
  /// The last reading taken, and what is known after it.
  struct Setting {
    std::size_t event = 0;
    Known mean;
    Covariance covariance;
  };
  /// What a member has at a reading.
  struct Look {
    double water_l = 0.0;
    Foretold seen{};  // of a reading that is no weight
  };
  /// How sure the middle member's account was of its water, beyond what the members tell, when it
  /// was last looked at; and what the day had come to then.
  struct Mark {
    double variance = 0.0;
    double used_l = 0.0;
    double rain_l = 0.0;
    double watered_l = 0.0;
    double drained_l = 0.0;
  };

  [[nodiscard]] const std::vector<Reading>& readings() const { return *to_learn_.readings; }
  [[nodiscard]] std::size_t place_in_log(const PotEvent& event) const {
    return static_cast<std::size_t>(&event - log_.events.data());
  }

  /// Log and readings together, with the waterings that weighings after one tell of. The end of
  /// each day is looked at too.
  void make_log() {
    struct Entry {
      PotEvent event;
      int order = 1;
      std::optional<std::size_t> reading{};
    };
    log_.complete_from = to_learn_.log->complete_from;
    std::vector<Entry> entries;
    std::vector<Instant> watered;
    for (const PotEvent& one : to_learn_.log->events) {
      entries.push_back({.event = one});
      if (one.kind == PotEventKind::watered) watered.push_back(one.when);
    }
    for (const Instant& when : implied_waterings(readings(), watered)) {
      entries.push_back({.event = {when, PotEventKind::watered, {}}});
      log_.complete_from = std::min(when, log_.complete_from.value_or(when));
    }
    for (std::size_t i = 0; i < readings().size(); ++i) {
      const bool after = readings()[i].kind == ReadingKind::weighed_after;
      entries.push_back({.event = {readings()[i].when, PotEventKind::looked_at, {}},
                         .order = after ? 2 : 0,
                         .reading = i});
    }
    for (Date date = date_; place_.record().contains(date); date += std::chrono::days(1)) {
      entries.push_back(
          {.event = {{date, units::hours_per_day}, PotEventKind::looked_at, {}}, .order = 3});
    }
    std::ranges::stable_sort(entries, {},
                             [](const Entry& one) { return std::pair(one.event.when, one.order); });
    event_of_reading_.resize(readings().size());
    for (const Entry& one : entries) {
      if (one.reading) event_of_reading_[*one.reading] = log_.events.size();
      log_.events.push_back(one.event);
    }
  }

  [[nodiscard]] Planting planting_of(const Known& at) const {
    return as_learned(*to_learn_.planting, tables_,
                      {.use = at[use], .usable = at[usable], .wall = at[wall], .pot = {}});
  }

  Member& add_member(const Known& at) {
    members_.push_back(std::make_unique<Member>(at, planting_of(at), to_learn_, place_.model()));
    return *members_.back();
  }

  void resume(const PotEnsemble& saved, const RunState& start) {
    for (const PotMember& one : saved.members) {
      Known at;
      at << one.use, one.usable, one.wall, 0.0, one.empty_kg, one.plant_kg_per_m2;
      RunState state = start;
      if (!members_.empty()) state.pot = one.pot;
      Member& member = add_member(at);
      member.run.resume(state);
      member.beyond_l = one.beyond_l;
    }
    beside_ << saved.empty_kg2, saved.empty_plant, saved.empty_plant, saved.plant_kg2;
    mark_.variance = saved.water_l2;
    taken_before_ = saved.readings;
    doubtful_kg_ = saved.doubtful_kg;
  }

  /// What garden and tables say before any reading.
  void begin(const Catalogue& catalogue) {
    const Planting& planting = *to_learn_.planting;
    const Learned& learned = planting.learned;
    // As calibrate has them, of the day before the first reading: later ones must not change it.
    PotReadings day{&planting, {}};
    if (!readings().empty()) {
      const Date before = readings().front().when.date - std::chrono::days(1);
      day.readings.push_back(
          {.when = {std::max(before, to_learn_.planted), 0.0}, .kind = ReadingKind::not_wilted});
    }
    const PotAccount account(
        day, place_, catalogue,
        {.growth = to_learn_.growth, .scale_error_kg = to_learn_.scale_error_kg});
    const PotNumbers& prior = account.prior();
    const PotNumbers& prior_error = account.prior_error();
    Known at;
    at << std::log(learned.use_factor),
        learned.usable_l ? std::log(*learned.usable_l / tables_.total_available_l) : 0.0,
        std::log(learned.wall_factor), 0.0, prior[PotNumber::empty], prior[PotNumber::plant];
    const bool knows_use = learned.use_factor != 1.0 || learned.use_factor_sd > 0.0;
    Known error;
    error << (knows_use ? learned.use_factor_sd / learned.use_factor : prior_error[PotNumber::use]),
        learned.usable_l ? learned.usable_sd_l / *learned.usable_l : prior_error[PotNumber::usable],
        account.porous() ? prior_error[PotNumber::wall] : 0.0, 0.0, prior_error[PotNumber::empty],
        prior_error[PotNumber::plant];
    Covariance covariance = error.cwiseAbs2().asDiagonal();
    covariance(use, usable) = covariance(usable, use) =
        learned.correlation() * error[use] * error[usable];
    const SavedPlanting* const saved = to_learn_.saved;
    make_members(at, covariance, saved != nullptr ? &saved->run : nullptr,
                 build_pot(planting, place_.model()));
    mark_.variance = square(errors::planted_error_share * tables_.total_available_l);
  }

  /// Members with this mean and covariance that go on from a state of `pot`; null: from planting.
  void make_members(const Known& mean, const Covariance& covariance, const RunState* from,
                    const PotParameters& pot) {
    const Covariance root = root_of(covariance);
    beside_ = root.bottomRightCorner<2, 2>() * root.bottomRightCorner<2, 2>().transpose();
    std::vector<Known> all{mean};
    Eigen::Index directions = 0;
    for (Eigen::Index k = 0; k < moving; ++k) directions += root(k, k) > 0.0 ? 1 : 0;
    const double far = std::sqrt(static_cast<double>(directions));
    for (Eigen::Index k = 0; k < moving; ++k) {
      if (!(root(k, k) > 0.0)) continue;
      all.emplace_back(mean + far * root.col(k));
      all.emplace_back(mean - far * root.col(k));
    }
    members_.clear();
    for (const Known& at : all) {
      PlantingRun& run = add_member(at).run;
      if (from == nullptr) continue;
      RunState state = *from;
      state.pot = in_other_pot(state.pot, pot, run.pot());
      run.resume(state);
    }
  }

  [[nodiscard]] bool known_day(Date date) const { return place_.record().contains(date); }
  [[nodiscard]] std::size_t index(Date date) const {
    return place_.record().index_of(std::min(date, place_.record().last()));
  }

  /// What the day so far makes unsure of the water. A refill leaves what is drawn on after it.
  void account(const DayResult& so_far, const Instant& now) {
    const double used_l = so_far.transpired_l + so_far.evaporated_l;
    const double error =
        known_day(now.date) ? errors::day_use_error_share : errors::day_without_weather_error_share;
    double since_l = used_l - mark_.used_l;
    double variance = mark_.variance;
    if (so_far.drained_l > mark_.drained_l) {
      const double x = days_[index(now.date)].curve.share_by(now.hour);
      if (!so_far.refills.empty() && x > 0.0) {
        since_l = std::min(since_l, used_l * (1.0 - so_far.refills.back().at / x));
      }
      variance = square(errors::refilled_error_share * tables_.total_available_l);
    } else {
      variance += square(errors::given_error_share * (so_far.watered_l - mark_.watered_l)) +
                  square(errors::rain_error_share * (so_far.rain_l - mark_.rain_l));
    }
    mark_ = {.variance = variance + square(error * since_l),
             .used_l = used_l,
             .rain_l = so_far.rain_l,
             .watered_l = so_far.watered_l,
             .drained_l = so_far.drained_l};
  }

  /// `look`: where to put what a member has at event `wanted`, at which `reading` was taken.
  Watch watch(std::size_t member, std::size_t wanted = 0, const Reading* reading = nullptr,
              Look* look = nullptr) {
    return [=, this](const PlantingRun& run, DayInProgress& day, const PotEvent& event) {
      const std::size_t at = place_in_log(event);
      const bool middle = member == 0;
      const bool day_ends = event.when.hour >= units::hours_per_day;
      if (middle) account(day.so_far(), event.when);
      Member& own = *members_[member];
      if (day.so_far().drained_l > own.drained_l) own.beyond_l = 0.0;
      own.drained_l = day_ends ? 0.0 : day.so_far().drained_l;
      const bool set_here = setting_ && at == setting_->event;
      if (set_here) {
        const double water_l = own.at[held];
        day.correct(holding(run.pot(), day.state(), water_l));
        own.beyond_l = std::max(0.0, water_l - store_l(run.pot(), day.state()));
      }
      if (middle && (set_here || event.kind == PotEventKind::weighed)) mark_.variance = 0.0;
      if (middle && day_ends) mark_ = {.variance = mark_.variance};
      if (look == nullptr || at != wanted) return;
      look->water_l = store_l(run.pot(), day.state()) + own.beyond_l;
      look->seen = foretold(run.pot(), day.state(), *reading, pouring_);
      leaf_m2_ = run.leaf_m2();
      if (middle) seen_ = mark_;
    };
  }

  void run_to(Date date) {
    const SpotWeather days = [this](std::size_t at) { return days_[at]; };
    for (std::size_t i = 0; i < members_.size(); ++i) {
      Journey journey(log_, members_[i]->run, days, place_.record(), watch(i));
      journey.go_to(date);
      members_[i]->run = journey.run();
    }
    date_ = date;
  }

  /// The readings up to an instant of the day at which the members stand.
  void read(const Instant& until) {
    for (; next_ < readings().size() && readings()[next_].when <= until; ++next_) {
      const Reading& one = readings()[next_];
      if (one.when.date == date_) read_one(one, event_of_reading_[next_]);
    }
  }

  void read_one(const Reading& reading, std::size_t event) {
    if (members_.front()->run.finished()) return;  // nothing grows that it could tell of
    if (reading.kind == ReadingKind::watered && !reading.drained_l) return;  // says nothing
    const Mark morning = mark_;
    const SpotWeather days = [this](std::size_t at) {
      SpotDay day = days_[at];
      if (!known_day(date_)) day.rain_mm = 0.0;
      return day;
    };
    std::vector<Look> looks(members_.size());
    for (std::size_t i = 0; i < members_.size(); ++i) {
      const double beyond_l = members_[i]->beyond_l;
      const Journey journey(log_, members_[i]->run, days, place_.record(),
                            watch(i, event, &reading, &looks[i]));
      (void)journey.go_on(reading.when, reading.when, std::nullopt,
                          [this](Date) { return index(date_); });
      members_[i]->beyond_l = beyond_l;
      members_[i]->drained_l = 0.0;
    }
    mark_ = morning;
    take(reading, event, looks);
  }

  /// The members about the middle one; alone it stands for them.
  static std::size_t first_about(std::size_t members) { return members > 1 ? 1 : 0; }

  /// Mean and covariance of the members, with what `variance` adds to their water.
  [[nodiscard]] std::pair<Known, Covariance> known(const std::vector<Look>& looks,
                                                   double variance) const {
    std::vector<Known> about;
    for (std::size_t i = first_about(looks.size()); i < looks.size(); ++i) {
      about.push_back(members_[i]->at);
      about.back()[held] = looks[i].water_l;
    }
    const auto count = static_cast<double>(about.size());
    Known mean = Known::Zero();
    for (const Known& one : about) mean += one / count;
    Covariance covariance = Covariance::Zero();
    for (const Known& one : about) covariance += (one - mean) * (one - mean).transpose() / count;
    covariance(held, held) += variance;
    covariance.bottomRightCorner<2, 2>() += beside_;
    return {mean, covariance};
  }

  [[nodiscard]] std::pair<Known, Covariance> now_known() const {
    if (setting_) return {setting_->mean, setting_->covariance};
    std::vector<Look> looks;
    for (const auto& one : members_) {
      looks.push_back({.water_l = store_l(one->run.pot(), one->run.pot_state()) + one->beyond_l});
    }
    return known(looks, mark_.variance);
  }

  void take(const Reading& reading, std::size_t event, const std::vector<Look>& looks) {
    auto [mean, covariance] = known(looks, seen_.variance);
    const std::optional<Moved> moved =
        reading.weighed() ? by_weight(reading, mean, covariance) : by_sight(reading, mean, looks);
    if (!moved) return;
    ++taken_;
    mean += moved->slope * moved->with;
    covariance -= moved->curvature * moved->with * moved->with.transpose();
    const RunState morning = state();
    const PotParameters before = members_.front()->run.pot();
    make_members(mean, covariance, &morning, before);
    setting_ = Setting{event, mean, covariance};
  }

  /// Empty: it is not believed. Where the one before was off as far, `covariance` is widened.
  std::optional<Moved> by_weight(const Reading& reading, const Known& mean,
                                 Covariance& covariance) {
    Known weighs = Known::Zero();
    weighs[held] = weighs[empty] = 1.0;
    weighs[plant] = leaf_m2_;
    const double off_kg = reading.weight_kg - weighs.dot(mean);
    const double scale = scale_variance(reading.weight_kg, to_learn_.scale_error_kg);
    const double before_kg = std::exchange(doubtful_kg_, 0.0);
    if (std::abs(off_kg) >
        errors::outlier_limit_se * std::sqrt(weighs.dot(covariance * weighs) + scale)) {
      const bool again = std::abs(off_kg - before_kg) < std::abs(off_kg) / 2.0;
      doubtful_.push_back({.reading = reading, .off_kg = off_kg, .believed = again});
      if (!again) {
        doubtful_kg_ = off_kg;
        return std::nullopt;
      }
      // Water that nobody wrote of, or another weight of the pot than the first reading had.
      covariance(held, held) += square(off_kg);
      covariance(empty, empty) += square(off_kg);
    }
    const Known with = covariance * weighs;
    return moved_by(with, off_kg, weighs.dot(with) + scale);
  }

  /// By what drained, or was felt or seen. Empty: it says nothing, or is not believed.
  std::optional<Moved> by_sight(const Reading& reading, const Known& mean,
                                const std::vector<Look>& looks) {
    const Foretold& middle = looks.front().seen;
    if (!(middle.error > 0.0)) return std::nullopt;
    const std::size_t first = first_about(looks.size());
    const auto others = static_cast<double>(looks.size() - first);
    double seen = 0.0;
    for (std::size_t i = first; i < looks.size(); ++i) seen += looks[i].seen.value / others;
    Known with = Known::Zero();
    double variance = square(middle.a_litre) * seen_.variance + square(middle.error);
    for (std::size_t i = first; i < looks.size(); ++i) {
      Known apart = members_[i]->at - mean;
      apart[held] = looks[i].water_l - mean[held];
      with += apart * (looks[i].seen.value - seen) / others;
      variance += square(looks[i].seen.value - seen) / others;
    }
    with[held] += middle.a_litre * seen_.variance;
    const double error = std::sqrt(variance);
    const bool drains = reading.kind == ReadingKind::watered;
    const bool yes = is_yes(reading.kind);
    const double off = drains ? *reading.drained_l - seen : 0.0;
    if (drains ? std::abs(off) > errors::outlier_limit_se * error
               : -2.0 * std::log(yes_no_chance(yes, seen / error)) >
                     square(errors::outlier_limit_yes_no_se)) {
      doubtful_.push_back({.reading = reading});
      return std::nullopt;
    }
    return drains ? moved_by(with, off, variance) : moved_by(with, yes, seen, error);
  }

  [[nodiscard]] Drawn drawn_at(const Known& at) const { return {planting_of(at), at[held]}; }

  /// The water of `drawn` in a state of `pot`.
  [[nodiscard]] PotState with_water(const Drawn& drawn, const PotState& state,
                                    const PotParameters& pot) const {
    const PotParameters own = build_pot(drawn.planting, place_.model());
    return in_other_pot(holding(own, in_other_pot(state, pot, own), drawn.water_l), own, pot);
  }

  PotToLearn to_learn_;
  const Place& place_;
  const std::vector<SpotDay>& days_;
  Pouring pouring_;
  Date date_;
  PotParameters tables_;  // without anything learned
  PotLog log_;
  std::vector<std::size_t> event_of_reading_;
  std::size_t next_ = 0;                              // of the readings
  std::vector<std::unique_ptr<Member>> members_;      // runs point to their plantings
  Eigen::Matrix2d beside_ = Eigen::Matrix2d::Zero();  // of empty pot and plant, beside the members
  std::optional<Setting> setting_;
  Mark mark_;
  Mark seen_;
  double leaf_m2_ = 0.0;  // at the reading seen
  double doubtful_kg_ = 0.0;
  std::size_t taken_ = 0;
  std::size_t taken_before_ = 0;
  double use_before_ = 1.0;
  std::vector<DoubtfulReading> doubtful_;
};

}  // namespace

Planting as_learned(const Planting& planting, const PotParameters& tables,
                    const PotMember& member) {
  Planting result = planting;
  result.learned = learned_of(tables, member.use, member.usable, member.wall);
  return result;
}

PotParameters pot_of_tables(Planting planting, const ModelParameters& model) {
  planting.learned = {};
  return build_pot(planting, model);
}

std::unique_ptr<PotLearning> begin_learning(const PotToLearn& pot, const Place& place,
                                            const Catalogue& catalogue) {
  return std::make_unique<Filter>(pot, place, catalogue);
}

}  // namespace wiltline

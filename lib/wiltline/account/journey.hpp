// One planting's way from where its account stands to now, and on into a future. A day that is
// known but not of the record is a RequestError; log and weather are taken as they are.
#pragma once

#include <functional>
#include <optional>
#include <utility>
#include <vector>

#include "wiltline/account/planting_run.hpp"
#include "wiltline/account/pot_log.hpp"

namespace wiltline {

/// The days of a weather record as a planting's spot sees them, by their place in the record.
using SpotWeather = std::function<SpotDay(std::size_t)>;

/// Looks at a planting just before something that is known of it takes effect, and may set its
/// state right by it.
using Watch = std::function<void(const PlantingRun&, DayInProgress&, const PotEvent&)>;

/// The first visit that is still to come: one at the very minute of now is, unless the log has a
/// watering then. Empty as for first_visit.
[[nodiscard]] std::optional<Instant> coming_visit(const Routine& routine, Date planted,
                                                  const PotLog& log, const Instant& now);

/// One planting on its way to now and beyond, with what its gardener did.
class Journey {
 public:
  /// `run` stands at planting or at a saved state. Log and record must outlive the journey, as must
  /// what `weather` and `watch` refer to. `watch`: called with each event of the log, in place.
  Journey(const PotLog& log, const PlantingRun& run, SpotWeather weather,
          const WeatherRecord& record, Watch watch = {})
      : log_(log),
        run_(run),
        weather_(std::move(weather)),
        record_(record),
        watch_(std::move(watch)) {}

  [[nodiscard]] const PlantingRun& run() const { return run_; }

  /// Whole known days, up to 00:00 of `date`.
  void go_to(Date date);

  /// How the pot stands now, and when lines are passed; empty: not before the end.
  struct Outcome {
    double depletion_l = 0.0;
    double refill_at_l = 0.0;
    double give_now_l = 0.0;
    bool feed_due = false;
    std::optional<Instant> refill;
    std::optional<Instant> dry;
    std::optional<double> give_at_visit_l;  // empty: not before the end
  };

  /// From 00:00 of now's day over the days that `index_of_day` names in the record, until the pot
  /// is dry and visited, the planting ends or `end` is passed. Nobody waters; the litres until it
  /// drains are those at `visit`, now or later; with as-needed water those at the
  /// threshold, or at 00:00 of the first day back.
  [[nodiscard]] Outcome go_on(const Instant& now, const Instant& end,
                              const std::optional<Instant>& visit,
                              const std::function<std::size_t(Date)>& index_of_day) const;

  /// A visit to come, or a watering as needed; the first of all is now.
  struct Stop {
    Instant when;
    double poured_l = 0.0;
    bool sheds = false;            // the mix was so dry that it let water through
    bool feed_due = false;         // on its day or since the watering before; water is poured
    std::optional<Instant> wilts;  // before the next stop, or `end`
  };

  /// From 00:00 of now's day over the days that `index_of_day` names in the record, until the
  /// planting ends or `end` is passed; from now on the routine is kept (coming_visit).
  /// `water_now`: a pot that nobody comes to this very minute is watered now too, until it drains.
  [[nodiscard]] std::vector<Stop> keep_routine(const Instant& now, const Instant& end,
                                               const std::function<std::size_t(Date)>& index_of_day,
                                               bool water_now) const;

 private:
  [[nodiscard]] Pouring pouring() const;
  void apply(DayInProgress& day, const PotEvent& event) const;
  /// What is known of a day up to an hour: rain, the routine as long as it is assumed, and what the
  /// gardener did. `outcome`: the pot as it stands then; what is passed later counts from there.
  void run_until(DayInProgress& day, const DemandCurve& curve, double until_h,
                 Outcome* outcome) const;
  void report(const DayInProgress& day, Outcome& outcome) const;

  const PotLog& log_;
  PlantingRun run_;
  SpotWeather weather_;
  const WeatherRecord& record_;
  Watch watch_;
};

}  // namespace wiltline

#include "wiltline/account/journey.hpp"

#include <algorithm>
#include <span>
#include <utility>

#include "wiltline/account/course.hpp"
#include "wiltline/base/units.hpp"
#include "wiltline/budget/state_correction.hpp"

namespace wiltline {
namespace {

bool watered_at(const PotLog& log, const Instant& when) {
  return std::ranges::any_of(log.events, [&](const PotEvent& event) {
    return event.kind == PotEventKind::watered && event.when == when;
  });
}

/// When a share of a day's demand has passed, from now on: what was passed by now is passed at now
/// itself, not at the hour that its share is rounded to.
Instant passed_at(Date date, const DemandCurve& curve, double x, const Instant& now) {
  if (date == now.date && x <= curve.share_by(now.hour)) return now;
  return std::max(Instant{date, curve.hours_at(x)}, now);
}

}  // namespace

std::optional<Instant> coming_visit(const Routine& routine, Date planted, const PotLog& log,
                                    const Instant& now) {
  return watered_at(log, now) ? next_visit(routine, planted, now)
                              : first_visit(routine, planted, now);
}

void Journey::go_to(Date date) {
  while (run_.date() < date) {
    const SpotDay spot = weather_(record_.index_of(run_.date()));
    const DayForcing forcing = run_.begin_day(spot);
    DayInProgress day(run_.pot(), run_.pot_state(), forcing);
    run_until(day, spot.curve, units::hours_per_day, nullptr);
    run_.end_day(day.finish(), spot);
  }
}

Journey::Outcome Journey::go_on(const Instant& now, const Instant& end,
                                const std::optional<Instant>& visit,
                                const std::function<std::size_t(Date)>& index_of_day) const {
  PlantingRun run = run_;
  Outcome outcome;
  const Routine& routine = run.planting().routine;
  const auto visited = [&] {
    return routine.as_needed ? outcome.give_at_visit_l.has_value()
                             : !visit || run.date() > visit->date;
  };
  const auto over = [&] {
    return run.date() > end.date || (outcome.dry && visited()) || run.finished();
  };
  while (run.date() == now.date || !over()) {
    const Date date = run.date();
    const SpotDay spot = weather_(index_of_day(date));
    const DayForcing forcing = run.begin_day(spot);
    DayInProgress day(run.pot(), run.pot_state(), forcing);
    if (date == now.date) {
      outcome.feed_due = run.feed_due();
      run_until(day, spot.curve, now.hour, &outcome);
    } else {
      day.take_rain({});
    }
    const DayInProgress from_here = day;
    const DayResult result = day.finish();
    const auto note = [&](const std::optional<double>& x, std::optional<Instant>& first) {
      if (!x || first) return;
      const Instant at = passed_at(date, spot.curve, *x, now);
      if (at <= end) first = at;
    };
    note(result.threshold_at, outcome.refill);
    note(result.dry_at, outcome.dry);
    const auto give_at = [&](double x) {
      DayInProgress until = from_here;
      until.dry_until(x);
      outcome.give_at_visit_l =
          std::max(0.0, litres_until_drained(run.pot(), until.state(), pouring()));
    };
    if (visit && visit->date == date && *visit <= end) {
      give_at(spot.curve.share_by(visit->hour));
    } else if (routine.as_needed && !visited() && outcome.refill && !routine.away_on(date)) {
      give_at(outcome.refill->date == date ? spot.curve.share_by(outcome.refill->hour) : 0.0);
    }
    run.end_day(result, spot);
  }
  return outcome;
}

std::vector<Journey::Stop> Journey::keep_routine(
    const Instant& now, const Instant& end, const std::function<std::size_t(Date)>& index_of_day,
    bool water_now) const {
  PlantingRun run = run_;
  std::vector<Stop> stops{{.when = now, .wilts = {}}};
  bool feed_due = false;
  const bool came_now = watered_at(log_, now);
  std::vector<Visit> visits;
  while (run.date() <= end.date && !run.finished()) {
    const Date date = run.date();
    const SpotDay spot = weather_(index_of_day(date));
    const DayForcing forcing = run.begin_day(spot);
    DayInProgress day(run.pot(), run.pot_state(), forcing);
    const DayPlan plan = run.routine(spot.curve, visits);
    std::span<const double> hours;  // of the visits
    if (!visits.empty()) hours = run.planting().routine.routine_on(date)->visit_hours;
    feed_due = feed_due || run.feed_due();
    const auto instant = [&](double x) { return passed_at(date, spot.curve, x, now); };
    const auto add_stop = [&](const Instant& when, double poured_l, bool sheds) {
      stops.push_back({.when = when,
                       .poured_l = poured_l,
                       .sheds = sheds,
                       .feed_due = poured_l > 0.0 && std::exchange(feed_due, false),
                       .wilts = {}});
    };
    const auto note_wilting = [&](const std::optional<double>& x) {
      if (!x || instant(*x) > end) return;
      auto stop = stops.rbegin();
      while (stop->when > instant(*x)) ++stop;
      if (!stop->wilts) stop->wilts = instant(*x);
    };
    if (date == now.date) {
      Outcome outcome;
      run_until(day, spot.curve, now.hour, &outcome);  // lines passed count from then on
      const bool comes =
          plan.as_needed || (!came_now && std::ranges::find(hours, now.hour) != hours.end());
      if (day.so_far().wilting_at && !comes) stops.front().wilts = now;
      if (water_now && !comes) {
        const double before_l = day.so_far().watered_l;
        day.pour({}, pouring());
        day.watch_from_here();
        stops.front().poured_l = day.so_far().watered_l - before_l;
        stops.front().sheds = stops.front().poured_l > 0.0 && day.so_far().refills.back().sheds;
      }
    } else {
      day.take_rain(plan);
    }
    const std::size_t known = date == now.date ? day.so_far().refills.size() : 0;
    if (plan.as_needed) {
      if (date == now.date) {  // what it was short of by now ends with the water it gets now
        note_wilting(day.so_far().wilting_at);
        day.water_as_needed(plan, spot.curve.share_by(now.hour));
        day.watch_from_here();
      }
      day.water_as_needed(plan, 1.0);
    }
    for (std::size_t i = known; i < day.so_far().refills.size(); ++i) {
      const Refill& refill = day.so_far().refills[i];
      if (refill.poured_l > 0.0 && instant(refill.at) <= end) {
        add_stop(instant(refill.at), refill.poured_l, refill.sheds);
      }
    }
    for (std::size_t i = 0; i < visits.size(); ++i) {
      const Instant when{date, hours[i]};
      if (when < now || when > end || (when == now && came_now)) continue;
      day.dry_until(visits[i].at);
      note_wilting(day.so_far().wilting_at);
      const double before_l = day.so_far().watered_l;
      const std::size_t refills_before = day.so_far().refills.size();
      day.visit(plan, visits[i]);
      day.watch_from_here();
      add_stop(when, day.so_far().watered_l - before_l,
               day.so_far().refills.size() > refills_before && day.so_far().refills.back().sheds);
    }
    const DayResult result = day.finish();
    note_wilting(result.wilting_at);
    run.end_day(result, spot);
  }
  return stops;
}

Pouring Journey::pouring() const {
  return routine_plan(run_.planting().routine).pouring;
}

void Journey::apply(DayInProgress& day, const PotEvent& event) const {
  const Planting& planting = run_.planting();
  const PotParameters& pot = run_.pot();
  if (watch_) watch_(run_, day, event);
  switch (event.kind) {
    case PotEventKind::watered:
      day.pour(event.amount, pouring());
      return;
    case PotEventKind::weighed:
      day.correct(holding(
          pot, day.state(),
          *event.amount - planting.tare_kg.value_or(0.0) - dry_mix_kg(planting.mix, pot.mix_l)));
      return;
    case PotEventKind::top_felt_dry:
    case PotEventKind::top_felt_moist:
      day.correct(with_top_felt(pot, day.state(), event.kind == PotEventKind::top_felt_dry));
      return;
    case PotEventKind::looked_at:
      return;
  }
}

void Journey::run_until(DayInProgress& day, const DemandCurve& curve, double until_h,
                        Outcome* outcome) const {
  const Date date = run_.date();
  double routine_until_h = until_h;
  if (log_.complete_from && log_.complete_from->date <= date) {
    routine_until_h =
        log_.complete_from->date == date ? std::min(until_h, log_.complete_from->hour) : 0.0;
  }
  std::vector<Visit> visits;
  DayPlan plan = run_.routine(curve, visits);
  if (routine_until_h <= 0.0) plan.as_needed = false;
  const double routine_until = curve.share_by(routine_until_h);
  std::size_t next = 0;
  const auto keep_routine_until = [&](double x) {
    const double until = std::min(x, routine_until);
    if (plan.as_needed) day.water_as_needed(plan, until);
    while (next < visits.size() && visits[next].at < until) day.visit(plan, visits[next++]);
  };

  auto event = std::ranges::lower_bound(log_.events, date, {},
                                        [](const PotEvent& one) { return one.when.date; });
  const auto none_left = [&] { return event == log_.events.end() || event->when.date > date; };
  for (; !none_left() && event->when.hour <= 0.0; ++event) apply(day, *event);
  if (outcome != nullptr && until_h <= 0.0) report(day, *outcome);
  day.take_rain(plan);
  for (; !none_left() && event->when.hour <= until_h; ++event) {
    const double x = curve.share_by(event->when.hour);
    keep_routine_until(x);
    day.dry_until(x);
    apply(day, *event);
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

void Journey::report(const DayInProgress& day, Outcome& outcome) const {
  outcome.depletion_l = day.state().rooted_depletion_l;
  outcome.refill_at_l = day.threshold_l();
  outcome.give_now_l = std::max(0.0, litres_until_drained(run_.pot(), day.state(), pouring()));
}

}  // namespace wiltline

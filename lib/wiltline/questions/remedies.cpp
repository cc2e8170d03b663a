#include "wiltline/questions/remedies.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <functional>
#include <tuple>

#include "wiltline/base/units.hpp"
#include "wiltline/budget/state_correction.hpp"
#include "wiltline/container/capacity.hpp"
#include "wiltline/questions/candidates.hpp"

namespace wiltline {
namespace {

constexpr double saucer_depth_m = 0.02;        // of water, over the area of the pot's top (judged)
constexpr double noon_h = 12.0;                // solar hours: sun after that is afternoon sun
constexpr double second_visit_after_h = 12.0;  // (judged)

/// A herb of dry places, as thyme and rosemary: picked for its leaves, which droop late (lines of
/// its own). It wants sun, a lean mix and no standing water (common practice, no source).
bool likes_it_dry(const Crop& crop) {
  return crop.harvest == Harvest::leaf && crop.wilting_line.has_value();
}
bool one_likes_it_dry(const Planting& planting) {
  return any_crop(planting, likes_it_dry);
}

double wet_weight_kg(const Planting& planting, const ModelParameters& model) {
  return wet_mix_kg(planting, held_water(planting.pot, planting.mix, model.refill_share));
}

bool sun_all_day(const Spot& spot) {
  return spot.sun_from_h <= 0.0 && spot.sun_to_h >= 24.0;
}

/// Collects changes to one planting.
class Changes {
 public:
  Changes(const Planting& planting, const Catalogue& catalogue, const ModelParameters& model,
          const RemedyOptions& options)
      : planting_(planting), catalogue_(catalogue), model_(model), options_(options) {}

  std::vector<Change> all() {
    pouring();
    looking();
    if (!planting_.mulch) add(RemedyKind::mulch, "mulch").mulch = true;
    saucer();
    spots();
    mixes();
    // Of several crops no order says which to take out.
    const int most = planting_.beside.empty() ? planting_.plants - 1 : 0;
    for (int plants = most; plants >= 1; --plants) {
      add(RemedyKind::fewer_plants,
          fmt::format("{} plant{} instead of {}", plants, plants == 1 ? "" : "s", planting_.plants))
          .plants = plants;
    }
    wall();
    bigger_pots();
    visits();
    return std::move(changes_);
  }

 private:
  Planting& add(RemedyKind kind, std::string text) {
    return changes_.emplace_back(Change{kind, std::move(text), planting_}).planting;
  }

  void set_routine(RemedyKind kind, std::string text, Routine routine) {
    routine.text = written(routine);
    add(kind, std::move(text)).routine = std::move(routine);
  }

  void pouring() {
    if (!planting_.routine.give_l) return;
    Routine routine = planting_.routine;
    routine.give_l.reset();
    set_routine(RemedyKind::until_it_drains, "watering until it drains", std::move(routine));
  }

  void looking() {
    if (planting_.routine.rule == VisitRule::always) return;
    Routine routine = planting_.routine;
    routine.rule = VisitRule::always;
    set_routine(RemedyKind::every_visit, "watering at every visit, not only when it looks dry",
                std::move(routine));
  }

  void saucer() {
    if (one_likes_it_dry(planting_)) return;  // standing water rots its roots
    if (!planting_.pot.drains || hangs(planting_.pot) || planting_.saucer_l > 0.0) return;
    const double area_m2 = planting_.pot.mix_shape().top_area_m2();
    // In tenths of a litre, as one would write it.
    const double litres = std::max(0.1, std::round(area_m2 * saucer_depth_m * 1e4) / 10.0);
    if (litres > planting_.pot.mix_l()) return;
    add(RemedyKind::saucer, "a saucer with 2 cm of water").saucer_l = litres;
  }

  void spots() {
    const Spot& now = planting_.spot;
    const auto try_spots = [&](RemedyKind kind, std::string_view words, const auto& wanted) {
      for (const auto& entry : catalogue_.spots.entries()) {
        if (entry.name == now.name || !wanted(entry.value)) continue;
        add(kind, fmt::format("{} (spot {})", words, entry.name)).spot = entry.value;
      }
    };
    // A group stands where the sun is the same.
    if (!now.is_group()) {
      try_spots(RemedyKind::group, "standing in a group", [&](const Spot& spot) {
        return spot.is_group() && spot.sun_from_h == now.sun_from_h &&
               spot.sun_to_h == now.sun_to_h && spot.shade_cloth == now.shade_cloth;
      });
    }
    if (one_likes_it_dry(planting_)) return;
    if (now.sun_from_h < noon_h && now.sun_to_h > noon_h) {
      Planting& shaded = add(RemedyKind::afternoon_shade,
                             fmt::format("afternoon shade (sun until {})", clock_string(noon_h)));
      shaded.sun_until_h = noon_h;
      shaded.spot = now.shaded_from(noon_h);
    }
    if (sun_all_day(now) && now.shade_cloth == 0.0) {
      // Glass shades too, but keeps the rain off.
      try_spots(RemedyKind::shade_net, "a shade net", [](const Spot& spot) {
        return spot.shade_cloth > 0.0 && sun_all_day(spot) && spot.rain_share.value > 0.0;
      });
    }
  }

  void mixes() {
    if (one_likes_it_dry(planting_)) return;  // whatever helps is moister
    for (const std::string& name : catalogue_.mixes.names()) {
      if (name == planting_.mix.name) continue;
      Result<Mix> mix = catalogue_.mix(name);
      if (!mix) continue;
      Planting changed = planting_;
      changed.mix = *std::move(mix);
      forget_pot(changed);
      if (holds_water(changed, model_)) {
        add(RemedyKind::other_mix, fmt::format("mix {}", name)) = std::move(changed);
      }
    }
  }

  void wall() {
    const Wall* const plastic = catalogue_.walls.find("plastic");
    if (plastic == nullptr) return;
    if (planting_.pot.wall.evaporation_share.value <= plastic->evaporation_share.value) return;
    Planting& changed =
        add(RemedyKind::tight_wall, fmt::format("plastic instead of {}", planting_.pot.wall.name));
    changed.pot.wall = *plastic;
    changed.learned.wall_factor = 1.0;
  }

  /// The next sizes of the same kind, by litres of mix.
  void bigger_pots() {
    std::vector<const Pot*> bigger;
    for (const auto& entry : catalogue_.pots.entries()) {
      if (entry.value.kind == planting_.pot.kind &&
          entry.value.mix_l() > planting_.pot.mix_l() * (1.0 + 1e-9)) {
        bigger.push_back(&entry.value);
      }
    }
    std::ranges::stable_sort(bigger, {}, &Pot::mix_l);
    if (bigger.size() > options_.sizes_up) bigger.resize(options_.sizes_up);
    for (const Pot* const pot : bigger) {
      Planting changed = planting_;
      put_into(*pot, changed);
      changed.pot.wall = planting_.pot.wall;  // the size alone
      changed.learned.usable_l.reset();
      if (!holds_water(changed, model_)) continue;
      add(RemedyKind::bigger_pot, fmt::format("pot {}", pot->name)) = changed;
      if (planting_.spot.load_limited) changes_.back().wet_kg = wet_weight_kg(changed, model_);
    }
  }

  void visits() {
    Routine routine = planting_.routine;
    if (routine.as_needed) return;
    if (routine.days != VisitDays::daily) {
      routine.days = VisitDays::daily;
      set_routine(RemedyKind::daily_visits, "coming every day", routine);
      if (routine.give_l) {
        Routine drained = routine;
        drained.give_l.reset();
        set_routine(RemedyKind::daily_until_it_drains,
                    "coming every day and watering until it drains", std::move(drained));
        changes_.back().steps = 2;
      }
    }
    if (routine.visit_hours.size() != 1) return;
    const double second =
        std::fmod(routine.visit_hours.front() + second_visit_after_h, units::hours_per_day);
    routine.visit_hours.push_back(second);
    std::ranges::sort(routine.visit_hours);
    const std::string text =
        fmt::format("{}a second visit at {}",
                    planting_.routine.days == VisitDays::daily ? "" : "coming every day and ",
                    clock_string(second));
    set_routine(RemedyKind::second_visit, text, std::move(routine));
    if (planting_.routine.days != VisitDays::daily) changes_.back().steps = 2;
  }

  const Planting& planting_;
  const Catalogue& catalogue_;
  const ModelParameters& model_;
  const RemedyOptions& options_;
  std::vector<Change> changes_;
};

/// What a change left: less is better, `suffices` best.
struct Trial {
  std::size_t change = 0;
  RemedyKind kind = RemedyKind::mulch;
  bool suffices = false;
  int left = 0;
  int left_worse = 0;  // dry days, where `left` is the same
};

/// What the changes left, `left_by(i)` by the i-th. One trial a kind, the sufficient one of least
/// effort first and nothing of more effort behind it; those that are no better than `now` left out.
std::vector<Trial> chosen(const std::vector<Change>& changes, const Trial& now,
                          const std::function<Trial(std::size_t)>& left_by) {
  const auto rank = [](const Trial& trial) {
    return std::tuple(!trial.suffices, trial.suffices ? 0 : trial.left,
                      trial.suffices ? 0 : trial.left_worse);
  };
  std::vector<Trial> best;
  for (std::size_t i = 0; i < changes.size(); ++i) {
    Trial trial = left_by(i);
    trial.change = i;
    trial.kind = changes[i].kind;
    if (!trial.suffices &&
        std::pair(trial.left, trial.left_worse) >= std::pair(now.left, now.left_worse)) {
      continue;
    }
    const auto same = std::ranges::find(best, trial.kind, &Trial::kind);
    if (same == best.end()) {
      best.push_back(trial);
    } else if (rank(trial) < rank(*same)) {
      *same = trial;
    }
  }
  std::ranges::stable_sort(best, [&](const Trial& a, const Trial& b) {
    return std::tuple_cat(rank(a), std::tuple(a.kind)) <
           std::tuple_cat(rank(b), std::tuple(b.kind));
  });
  if (!best.empty() && best.front().suffices) {
    const RemedyKind enough = best.front().kind;
    std::erase_if(best, [enough](const Trial& trial) { return trial.kind > enough; });
  }
  return best;
}

void add_days(const SeasonSummary& summary, ShortDays& days) {
  days.wilting += summary.wilting_days;
  days.dry += summary.dry_days;
}

/// A season's day in a record.
struct Start {
  const Place* place = nullptr;
  Date planted{};
};

}  // namespace

std::vector<Change> changes_to(const Planting& planting, const Catalogue& catalogue,
                               const ModelParameters& model, const RemedyOptions& options) {
  return Changes(planting, catalogue, model, options).all();
}

std::vector<Remedy> remedies(const Planting& planting, Places places, const Catalogue& catalogue,
                             const RemedyOptions& options) {
  const ModelParameters& model = common_model(places);
  std::vector<Start> starts;
  for (const Place& place : places) {
    for (const Date planted : planting_dates(planting, place.record())) {
      starts.push_back({&place, planted});
    }
  }
  const SeasonOptions season{.growth = options.growth};
  ShortDays before;
  for (const Start& start : starts) {
    add_days(run_season(planting, start.planted, *start.place, season).summary, before);
  }
  if (before.wilting == 0 && before.dry == 0) return {};

  std::vector<Change> changes = changes_to(planting, catalogue, model, options);
  std::vector<ShortDays> after(changes.size());
  for (const Start& start : starts) {
    std::vector<SeasonStart> runs;
    for (const Change& change : changes) runs.push_back({&change.planting, start.planted});
    const std::vector<SeasonResult> results = run_seasons(runs, *start.place, season);
    for (std::size_t i = 0; i < results.size(); ++i) add_days(results[i].summary, after[i]);
  }
  const auto left_by = [](const ShortDays& days) {
    return Trial{.suffices = days.wilting == 0 && days.dry == 0,
                 .left = days.wilting,
                 .left_worse = days.dry};
  };
  std::vector<Remedy> result;
  for (const Trial& trial :
       chosen(changes, left_by(before), [&](std::size_t i) { return left_by(after[i]); })) {
    result.push_back({std::move(changes[trial.change]), before, after[trial.change]});
  }
  return result;
}

std::vector<PlantingRemedies> remedies(Plantings garden, Places places, const Catalogue& catalogue,
                                       const RemedyOptions& options) {
  (void)common_model(places);  // throws, for an empty garden too
  std::vector<PlantingRemedies> result;
  for (const Planting& planting : garden) {
    result.push_back({&planting, remedies(planting, places, catalogue, options)});
  }
  return result;
}

std::vector<AbsenceRemedy> absence_remedies(const Planting& planting, Places places,
                                            const Catalogue& catalogue,
                                            const AbsenceOptions& absence_options,
                                            const RemedyOptions& options) {
  const ModelParameters& model = common_model(places);
  const AbsencePot before = absence_windows(planting, places, absence_options).pots.front();
  if (before.windows == 0 || passes(before, absence_options.share)) return {};
  std::vector<Change> changes = changes_to(planting, catalogue, model, options);
  std::erase_if(changes, [](const Change& change) {
    return change.kind == RemedyKind::until_it_drains || change.kind == RemedyKind::every_visit ||
           change.kind >= RemedyKind::daily_visits;
  });
  // All together: what they share is worked out once.
  std::vector<Planting> changed;
  for (const Change& change : changes) changed.push_back(change.planting);
  const std::vector<AbsencePot> after = absence_windows(changed, places, absence_options).pots;
  const auto left_by = [&](const AbsencePot& pot) {
    return Trial{.suffices = passes(pot, absence_options.share), .left = pot.windows - pot.passed};
  };
  std::vector<AbsenceRemedy> result;
  for (const Trial& trial :
       chosen(changes, left_by(before), [&](std::size_t i) { return left_by(after[i]); })) {
    result.push_back({.change = std::move(changes[trial.change]),
                      .windows_before = before.windows,
                      .passed_before = before.passed,
                      .windows_after = after[trial.change].windows,
                      .passed_after = after[trial.change].passed,
                      .suffices = trial.suffices});
  }
  return result;
}

}  // namespace wiltline

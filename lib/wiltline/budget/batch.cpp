#include "wiltline/budget/batch.hpp"

#include <algorithm>

namespace wiltline {

struct PotChunk::Data {
  // Parameters.
  Lanes size_factor;
  Lanes total_available;
  Lanes threshold_fraction;
  Lanes wilting_fraction;
  Lanes dry_fraction;
  Lanes plain_rew;         // of the top layer; beyond reach in a single store
  Lanes single_store_rew;  // of a single store; else beyond reach
  Lanes tew;
  Lanes per_tew_rew;
  Lanes single_store;
  Lanes top_layer_share;
  Lanes top_dry_limit;
  Lanes root_odds_decay;
  Lanes root_fill_days;
  Lanes top_m2;
  Lanes per_top_m2;
  Lanes wall_per_mm;
  Lanes mulch_factor;
  Lanes mulched;
  Lanes refilled;
  Lanes rewet;
  Lanes surplus_store;
  Lanes watered_store;
  Lanes mulch_store;
  Lanes per_kept;
  Lanes first_uptake;
  Lanes second_uptake;

  // State, and as it was when the day began.
  struct State {
    Lanes rooted;
    Lanes unrooted;
    Lanes top;
    Lanes mulch_water;
    Lanes rooted_share;
    Lanes yesterday_use;
    Lanes last_refill_days;
    Lanes longest_gap_days;
  };
  State now;
  State morning;

  // Crowns of several plants that share a disc, as they are and at full size.
  struct Crowns {
    Lanes plan_m2;
    Lanes litres;
    Lanes under_crown;
    Lanes interception_mm;
  };
  Crowns crown;
  Crowns full_crown;

  // The day.
  Lanes transpiration;
  Lanes wall;
  Lanes top_rate;
  Lanes mulch_rate;
  Lanes per_top_litre;
  Lanes unrooted_raw;
  Lanes first_edge;
  Lanes plain;  // 1 so long as the day's course is plain

  // The interval.
  Lanes top_in_line;
  Lanes top_remaining;

  ChunkDay day;
};

namespace {

using Data = PotChunk::Data;

constexpr double hours_per_day = 24.0;

/// A day as all pots of the chunk share it.
struct SharedDay {
  std::size_t lanes = 0;  // whole vectors: the last pot fills them up
  const CropDay* crop = nullptr;
  double capture_factor = 1.0;
  double top_coefficient = 1.0;
  double age_days = 0.0;
  const DayPlan* plan = nullptr;
  double midnight_days = 0.0;             // since planting
  std::span<const double> visit_at_days;  // since planting, one for each visit
  bool crowns_in_lanes = false;
  bool roots_grow = false;
};

#define WILTLINE_LOOP [[gnu::always_inline]] inline

WILTLINE_KERNEL kernel::Depletions depletions_of(const Data& d, std::size_t i) {
  return {d.now.rooted[i], d.now.unrooted[i], d.now.top[i], d.now.mulch_water[i]};
}

WILTLINE_LOOP void set_depletions(Data& d, std::size_t i, const kernel::Depletions& to) {
  d.now.rooted[i] = to.rooted;
  d.now.unrooted[i] = to.unrooted;
  d.now.top[i] = to.top;
  d.now.mulch_water[i] = to.mulch_water;
}

WILTLINE_KERNEL kernel::Vessel vessel_of(const Data& d, std::size_t i) {
  return {.refilled = d.refilled[i],
          .rewet = d.rewet[i],
          .surplus_store = d.surplus_store[i],
          .watered_store = d.watered_store[i],
          .mulch_store = d.mulch_store[i],
          .per_kept = d.per_kept[i]};
}

WILTLINE_LOOP void note_refill(Data& d, std::size_t i, double poured, double at_days) {
  const kernel::RefillGap gap = kernel::refilled(
      {.last_days = d.now.last_refill_days[i], .longest_days = d.now.longest_gap_days[i]},
      poured * kernel::is_refill(d.now.rooted[i], d.day.taw[i]), at_days);
  d.now.last_refill_days[i] = gap.last_days;
  d.now.longest_gap_days[i] = gap.longest_days;
}

/// What a day brings to every pot of the chunk alike.
struct Weather {
  double et0_mm;
  double rain_mm;
  double capture_factor;
  double top_coefficient;
};

struct LaneCrown {
  double plan_m2;
  double litres;
  double under_crown;
  double interception_mm;
};

WILTLINE_KERNEL kernel::PotDemand lane_demand(const Data& d, std::size_t i, const Weather& weather,
                                              const LaneCrown& crown) {
  return kernel::pot_demand({.et0_mm = weather.et0_mm,
                             .rain_mm = weather.rain_mm,
                             .transpiration = crown.litres,
                             .plan_m2 = crown.plan_m2,
                             .under_crown = crown.under_crown,
                             .interception_mm = crown.interception_mm,
                             .capture_factor = weather.capture_factor,
                             .top_m2 = d.top_m2[i],
                             .per_top_m2 = d.per_top_m2[i],
                             .wall_per_mm = d.wall_per_mm[i],
                             .top_coefficient = weather.top_coefficient,
                             .mulch_factor = d.mulch_factor[i],
                             .mulched = d.mulched[i]});
}

/// Demand of the day, for one plant a pot or for crowns worked out pot by pot.
template <bool crowns_in_lanes>
WILTLINE_LOOP void set_demand(Data& d, const SharedDay& shared) {
  const CrownOverPot one = shared.crop->one_plant;
  const Weather weather{.et0_mm = shared.crop->et0_mm,
                        .rain_mm = shared.crop->rain_mm,
                        .capture_factor = shared.capture_factor,
                        .top_coefficient = shared.top_coefficient};
  const std::size_t lanes = shared.lanes;
  for (std::size_t i = 0; i < lanes; ++i) {  // vector loop
    const double size = d.size_factor[i];
    const LaneCrown crown = crowns_in_lanes
                                ? LaneCrown{d.crown.plan_m2[i], d.crown.litres[i],
                                            d.crown.under_crown[i], d.crown.interception_mm[i]}
                                : LaneCrown{one.plan_area_m2 * size, one.litres * size,
                                            one.under_crown, one.interception_mm};
    const LaneCrown full =
        crowns_in_lanes
            ? LaneCrown{d.full_crown.plan_m2[i], d.full_crown.litres[i],
                        d.full_crown.under_crown[i], d.full_crown.interception_mm[i]}
            : LaneCrown{one.plan_area_m2, one.litres, one.under_crown, one.interception_mm};
    const kernel::PotDemand demand = lane_demand(d, i, weather, crown);
    const kernel::PotDemand at_full = lane_demand(d, i, weather, full);
    d.transpiration[i] = demand.rates.transpiration;
    d.wall[i] = demand.rates.wall;
    d.top_rate[i] = demand.rates.top;
    d.mulch_rate[i] = demand.rates.mulch;
    d.per_top_litre[i] = kernel::per_litre(demand.rates.top);
    d.day.rain[i] = demand.rain;
    d.day.potential_use[i] = kernel::potential_use(demand.rates);
    d.day.full_size_use[i] = kernel::potential_use(at_full.rates);
  }
}

/// Keeps the morning's state for pots whose day turns out not to be plain, and sets sums to zero.
WILTLINE_LOOP void begin_day(Data& d, const SharedDay& shared) {
  const std::size_t lanes = shared.lanes;
  for (std::size_t i = 0; i < lanes; ++i) {  // vector loop
    d.morning.rooted[i] = d.now.rooted[i];
    d.morning.unrooted[i] = d.now.unrooted[i];
    d.morning.top[i] = d.now.top[i];
    d.morning.mulch_water[i] = d.now.mulch_water[i];
    d.morning.rooted_share[i] = d.now.rooted_share[i];
    d.morning.yesterday_use[i] = d.now.yesterday_use[i];
    d.morning.last_refill_days[i] = d.now.last_refill_days[i];
    d.morning.longest_gap_days[i] = d.now.longest_gap_days[i];
    d.day.watered[i] = 0.0;
    d.day.drained[i] = 0.0;
    d.day.transpired[i] = 0.0;
    d.day.evaporated[i] = 0.0;
    d.day.waterings[i] = 0.0;
    d.day.sheds[i] = 0.0;
  }
}

WILTLINE_LOOP void grow_roots(Data& d, const SharedDay& shared) {
  const double age_days = shared.age_days;
  const std::size_t lanes = shared.lanes;
  for (std::size_t i = 0; i < lanes; ++i) {  // vector loop
    const double filled = kernel::flag(age_days >= d.root_fill_days[i]);
    const kernel::Rooted grown = kernel::grow(d.now.rooted_share[i], d.root_odds_decay[i], filled,
                                              d.now.rooted[i], d.now.unrooted[i]);
    d.now.rooted_share[i] = grown.share;
    d.now.rooted[i] = grown.rooted_depletion;
    d.now.unrooted[i] = grown.unrooted_depletion;
  }
}

WILTLINE_LOOP void set_limits(Data& d, const SharedDay& shared) {
  const double p = shared.crop->depletion_fraction;
  const std::size_t lanes = shared.lanes;
  for (std::size_t i = 0; i < lanes; ++i) {  // vector loop
    d.day.highest_depletion[i] = kernel::most(d.now.rooted[i], 0.0);
    const kernel::DayLimits limits =
        kernel::day_limits(d.total_available[i], p, d.now.rooted_share[i],
                           {.threshold = d.threshold_fraction[i],
                            .wilting = d.wilting_fraction[i],
                            .dry = d.dry_fraction[i]});
    d.day.taw[i] = limits.taw;
    d.day.threshold[i] = limits.lines.threshold;
    d.unrooted_raw[i] = limits.unrooted_raw;
    d.first_edge[i] = kernel::first_edge(limits.raw, limits.lines, d.single_store_rew[i]);
  }
}

WILTLINE_LOOP void take_rain(Data& d, const SharedDay& shared) {
  const double at_days = shared.midnight_days;
  const std::size_t lanes = shared.lanes;
  for (std::size_t i = 0; i < lanes; ++i) {  // vector loop
    const double litres = d.day.rain[i];
    const double falls = kernel::flag(litres > 0.0);
    const kernel::Poured poured = kernel::pour(vessel_of(d, i), d.now.rooted_share[i],
                                               d.first_uptake[i], depletions_of(d, i), litres);
    set_depletions(d, i, poured.after);
    d.day.drained[i] = poured.drained;
    d.day.sheds[i] = falls * poured.sheds;
    note_refill(d, i, falls, at_days);
  }
}

WILTLINE_LOOP void look_in_the_morning(Data& d, const SharedDay& shared) {
  const double as_needed = shared.plan->as_needed ? 1.0 : 0.0;
  const std::size_t lanes = shared.lanes;
  for (std::size_t i = 0; i < lanes; ++i) {  // vector loop
    const double past = kernel::flag(d.now.rooted[i] >= d.day.threshold[i]);
    d.day.top_felt_dry[i] =
        kernel::top_feels_dry(depletions_of(d, i), d.top_layer_share[i], d.top_dry_limit[i]);
    d.day.past_threshold[i] = past;
    d.plain[i] = 1.0 - past * as_needed;
  }
}

WILTLINE_KERNEL kernel::PlainLimits limits_of(const Data& d, std::size_t i) {
  return {.rooted_share = d.now.rooted_share[i],
          .first_edge = d.first_edge[i],
          .unrooted_raw = d.unrooted_raw[i],
          .rew = d.plain_rew[i],
          .tew = d.tew[i],
          .per_tew_rew = d.per_tew_rew[i],
          .single_store = d.single_store[i]};
}

/// In three loops of short chains of operations: the processor then works on many pots at a time.
WILTLINE_LOOP void dry(Data& d, const SharedDay& shared, double dx) {
  const std::size_t lanes = shared.lanes;
  for (std::size_t i = 0; i < lanes; ++i) {  // vector loop
    const kernel::TopDrying drying =
        kernel::top_drying(d.top_rate[i], d.per_top_litre[i], limits_of(d, i), d.now.top[i], dx);
    d.top_in_line[i] = drying.in_line;
    d.top_remaining[i] = drying.exponent;
  }
  for (std::size_t i = 0; i < lanes; ++i) {  // vector loop
    d.top_remaining[i] = kernel::exponential(d.top_remaining[i]);
  }
  for (std::size_t i = 0; i < lanes; ++i) {  // vector loop
    const kernel::PlainInterval interval =
        kernel::plain_interval({.transpiration = d.transpiration[i],
                                .wall = d.wall[i],
                                .top = d.top_rate[i],
                                .mulch = d.mulch_rate[i]},
                               limits_of(d, i), depletions_of(d, i), dx,
                               {.in_line = d.top_in_line[i], .exponent = 0.0}, d.top_remaining[i]);
    d.now.rooted[i] = interval.after.rooted;
    d.now.unrooted[i] = interval.after.unrooted;
    d.now.top[i] = interval.after.top;
    d.now.mulch_water[i] = interval.after.mulch_water;
    d.day.transpired[i] += interval.lost.transpired;
    d.day.evaporated[i] += interval.lost.top + interval.lost.wall + interval.lost.mulch;
    d.day.highest_depletion[i] = kernel::most(d.day.highest_depletion[i], interval.after.rooted);
    d.plain[i] = kernel::least(d.plain[i], interval.plain);
  }
}

template <VisitRule rule>
WILTLINE_LOOP void visit(Data& d, const SharedDay& shared, const Visit& visit, double at_days) {
  const double until_next = visit.until_next;
  const double gives = shared.plan->give_l ? 1.0 : 0.0;
  const double give = shared.plan->give_l.value_or(0.0);
  const Lanes& uptake =

      shared.plan->pouring == Pouring::once ? d.first_uptake : d.second_uptake;
  const std::size_t lanes = shared.lanes;
  for (std::size_t i = 0; i < lanes; ++i) {  // vector loop
    const kernel::Vessel vessel = vessel_of(d, i);
    const kernel::Depletions before = depletions_of(d, i);
    double wants = 1.0;
    if constexpr (rule == VisitRule::check_top) {
      wants = kernel::top_feels_dry(before, d.top_layer_share[i], d.top_dry_limit[i]);
    } else if constexpr (rule == VisitRule::check) {
      wants = kernel::wants_water(before.rooted, d.day.threshold[i], d.now.yesterday_use[i],
                                  d.day.potential_use[i], until_next);
    }
    const double until_drained =
        kernel::until_drained(vessel, d.now.rooted_share[i], uptake[i], before);
    const double wanted = wants * kernel::choose(gives, give, until_drained);
    const double litres = kernel::most(wanted, 0.0);
    const double pours = kernel::flag(litres > 0.0);
    const kernel::Poured poured =
        kernel::pour(vessel, d.now.rooted_share[i], uptake[i], before, litres);
    set_depletions(d, i, poured.after);
    d.day.watered[i] += litres;
    d.day.drained[i] += poured.drained;
    d.day.sheds[i] = kernel::most(d.day.sheds[i], pours * poured.sheds);
    d.day.waterings[i] += pours;
    note_refill(d, i, pours, at_days);
  }
}

WILTLINE_LOOP void run_plainly(Data& d, const SharedDay& shared) {
  begin_day(d, shared);
  if (shared.crowns_in_lanes) {
    set_demand<true>(d, shared);
  } else {
    set_demand<false>(d, shared);
  }
  if (shared.roots_grow) grow_roots(d, shared);
  set_limits(d, shared);
  if (shared.crop->rain_mm > 0.0) take_rain(d, shared);
  look_in_the_morning(d, shared);
  double x = 0.0;
  if (!shared.plan->as_needed) {
    for (std::size_t v = 0; v < shared.plan->visits.size(); ++v) {
      const Visit& next = shared.plan->visits[v];
      if (next.at > x) {
        dry(d, shared, next.at - x);
        x = next.at;
      }
      switch (shared.plan->rule) {
        case VisitRule::always:
          visit<VisitRule::always>(d, shared, next, shared.visit_at_days[v]);
          break;
        case VisitRule::check:
          visit<VisitRule::check>(d, shared, next, shared.visit_at_days[v]);
          break;
        case VisitRule::check_top:
          visit<VisitRule::check_top>(d, shared, next, shared.visit_at_days[v]);
          break;
      }
    }
  }
  if (x < 1.0) dry(d, shared, 1.0 - x);
  const std::size_t lanes = shared.lanes;
  for (std::size_t i = 0; i < lanes; ++i) {
    d.now.yesterday_use[i] = d.day.potential_use[i];
  }
}

}  // namespace

PotChunk::PotChunk(std::span<const PlantingSetting* const> settings, const ModelParameters& model,
                   InstructionSet set)
    : settings_(settings.begin(), settings.end()),
      model_(&model),
      set_(set),
      data_(std::make_unique<Data>()) {
  Data& d = *data_;
  several_plants_ = std::any_of(settings_.begin(), settings_.end(),
                                [](const PlantingSetting* one) { return one->stand.plants != 1; });
  for (std::size_t i = 0; i < chunk_pots; ++i) {
    const PlantingSetting& setting = *settings_[std::min(i, settings_.size() - 1)];
    const PotParameters& pot = setting.pot;
    const kernel::Vessel holds = vessel(pot);
    const kernel::PotDay day = pot_day(setting, {}, {}, model);
    const kernel::LineFractions lines = line_fractions(pot);
    d.size_factor[i] = setting.size_factor;
    d.total_available[i] = pot.total_available_l;
    d.threshold_fraction[i] = lines.threshold;
    d.wilting_fraction[i] = lines.wilting;
    d.dry_fraction[i] = lines.dry;
    d.plain_rew[i] = pot.single_store ? kernel::out_of_reach : pot.readily_evaporable_l;
    d.single_store_rew[i] = pot.single_store ? pot.readily_evaporable_l : kernel::out_of_reach;
    d.tew[i] = pot.total_evaporable_l;
    d.per_tew_rew[i] = 1.0 / (pot.total_evaporable_l - pot.readily_evaporable_l);
    d.single_store[i] = pot.single_store ? 1.0 : 0.0;
    d.top_layer_share[i] = pot.top_layer_share;
    d.top_dry_limit[i] = top_dry_limit_l(pot);
    d.root_odds_decay[i] = pot.root_odds_decay;
    d.root_fill_days[i] = pot.root_fill_days;
    last_fill_days_ = std::max(last_fill_days_, pot.root_fill_days);
    d.top_m2[i] = day.top_m2;
    d.per_top_m2[i] = day.per_top_m2;
    d.wall_per_mm[i] = day.wall_per_mm;
    d.mulch_factor[i] = day.mulch_factor;
    d.mulched[i] = day.mulched;
    d.refilled[i] = holds.refilled;
    d.rewet[i] = holds.rewet;
    d.surplus_store[i] = holds.surplus_store;
    d.watered_store[i] = holds.watered_store;
    d.mulch_store[i] = holds.mulch_store;
    d.per_kept[i] = holds.per_kept;
    d.first_uptake[i] = uptake_when_dry(pot, Pouring::once);
    d.second_uptake[i] = uptake_when_dry(pot, Pouring::soaked_twice);
    d.now.rooted_share[i] = pot.initial_rooted_share;
  }
}

PotChunk::~PotChunk() = default;

void PotChunk::share_crown(const CropDay& crop) {
  const auto set = [](Data::Crowns& crowns, std::size_t i, const CrownOverPot& crown) {
    crowns.plan_m2[i] = crown.plan_area_m2;
    crowns.litres[i] = crown.litres;
    crowns.under_crown[i] = crown.under_crown;
    crowns.interception_mm[i] = crown.interception_mm;
  };
  for (std::size_t i = 0; i < settings_.size(); ++i) {
    set(data_->crown, i, crown_over_pot(*settings_[i], crop, *model_));
    set(data_->full_crown, i, crown_over_pot(at_full_size(*settings_[i]), crop, *model_));
  }
}

const ChunkDay& PotChunk::run_day(const CropDay& crop, double age_days, const DayPlan& plan,
                                  const DemandCurve& curve) {
  constexpr std::size_t widest_vector = 8;
  const auto at_days = [&](double x) { return age_days + curve.hours_at(x) / hours_per_day; };
  visit_at_days_.clear();
  for (const Visit& visit : plan.visits) visit_at_days_.push_back(at_days(visit.at));
  if (several_plants_) share_crown(crop);

  SharedDay shared;
  shared.lanes = (settings_.size() + widest_vector - 1) / widest_vector * widest_vector;
  shared.crop = &crop;
  shared.capture_factor = settings_.front()->crop.crop->capture_factor;
  shared.top_coefficient = model_->top_evaporation_coefficient;
  shared.age_days = age_days;
  shared.plan = &plan;
  shared.midnight_days = at_days(0.0);
  shared.visit_at_days = visit_at_days_;
  shared.crowns_in_lanes = several_plants_;
  // From the day all pots are filled on, growing again would change nothing.
  shared.roots_grow = age_days >= 1.0 && !all_rooted_;
  all_rooted_ = all_rooted_ || (shared.roots_grow && age_days >= last_fill_days_);
  Data& d = *data_;
  run_with(
      set_, [&d, &shared ]() __attribute__((always_inline)) { run_plainly(d, shared); });

  d.day.exact.clear();
  for (std::size_t i = 0; i < settings_.size(); ++i) {
    if (d.plain[i] < 0.5) run_exactly(i, crop, age_days, plan, curve);
  }
  return d.day;
}

/// A pot whose day was not plain, from the morning on.
void PotChunk::run_exactly(std::size_t i, const CropDay& crop, double age_days, const DayPlan& plan,
                           const DemandCurve& curve) {
  Data& d = *data_;
  const PlantingSetting& setting = *settings_[i];
  const PotState morning{.rooted_depletion_l = d.morning.rooted[i],
                         .top_depletion_l = d.morning.top[i],
                         .unrooted_depletion_l = d.morning.unrooted[i],
                         .rooted_share = d.morning.rooted_share[i],
                         .mulch_water_l = d.morning.mulch_water[i],
                         .yesterday_demand_l = d.morning.yesterday_use[i]};
  const DayForcing forcing{.demand = {.transpiration_l = d.transpiration[i],
                                      .wall_l = d.wall[i],
                                      .top_l = d.top_rate[i],
                                      .mulch_l = d.mulch_rate[i]},
                           .rain_l = d.day.rain[i],
                           .depletion_fraction = crop.depletion_fraction,
                           .roots_grow = age_days >= 1.0,
                           .roots_filled = age_days >= setting.pot.root_fill_days};
  const DayResult day = wiltline::run_day(setting.pot, morning, forcing, plan);
  ++exact_pot_days_;
  d.day.exact.push_back(i);

  d.now.rooted[i] = day.state.rooted_depletion_l;
  d.now.unrooted[i] = day.state.unrooted_depletion_l;
  d.now.top[i] = day.state.top_depletion_l;
  d.now.mulch_water[i] = day.state.mulch_water_l;
  d.now.rooted_share[i] = day.state.rooted_share;
  d.now.yesterday_use[i] = day.state.yesterday_demand_l;
  kernel::RefillGap gap{.last_days = d.morning.last_refill_days[i],
                        .longest_days = d.morning.longest_gap_days[i]};
  for (const Refill& refill : day.refills) {
    gap = kernel::refilled(gap, kernel::is_refill(refill.depletion_after_l, day.taw_l),
                           age_days + curve.hours_at(refill.at) / hours_per_day);
  }
  d.now.last_refill_days[i] = gap.last_days;
  d.now.longest_gap_days[i] = gap.longest_days;

  d.day.watered[i] = day.watered_l;
  d.day.drained[i] = day.drained_l;
  d.day.transpired[i] = day.transpired_l;
  d.day.evaporated[i] = day.evaporated_l;
  d.day.waterings[i] = day.waterings;
  d.day.stressed[i] = kernel::flag(day.stressed_at.has_value());
  d.day.wilting[i] = kernel::flag(day.wilting_at.has_value());
  d.day.dry[i] = kernel::flag(day.dry_at.has_value());
  d.day.highest_depletion[i] = day.highest_depletion_l;
  d.day.taw[i] = day.taw_l;
  d.day.threshold[i] = day.threshold_l;
  d.day.sheds[i] = kernel::flag(day.shed_water);
  d.day.top_felt_dry[i] = kernel::flag(day.top_felt_dry);
  d.day.past_threshold[i] = kernel::flag(day.past_threshold);
}

double PotChunk::longest_gap_days(std::size_t pot, double age_days) const {
  return kernel::refilled({.last_days = data_->now.last_refill_days[pot],
                           .longest_days = data_->now.longest_gap_days[pot]},
                          1.0, age_days)
      .longest_days;
}

PotState PotChunk::state(std::size_t pot) const {
  const Data::State& now = data_->now;
  return {.rooted_depletion_l = now.rooted[pot],
          .top_depletion_l = now.top[pot],
          .unrooted_depletion_l = now.unrooted[pot],
          .rooted_share = now.rooted_share[pot],
          .mulch_water_l = now.mulch_water[pot],
          .yesterday_demand_l = now.yesterday_use[pot]};
}

}  // namespace wiltline

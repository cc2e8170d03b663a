#include "wiltline/budget/batch/loops.hpp"

#include "wiltline/budget/batch/edge_loops.hpp"

namespace wiltline {
namespace {

using Data = PotChunk::Data;
using kernel::Rooting;

template <Rooting rooting>
WILTLINE_KERNEL kernel::Depletions depletions_of(const Data& d, std::size_t i) {
  const double unrooted = rooting == Rooting::whole ? 0.0 : d.now.unrooted[i];
  return {d.now.rooted[i], unrooted, d.now.top[i], d.now.mulch_water[i]};
}

template <Rooting rooting>
WILTLINE_LOOP void set_depletions(Data& d, std::size_t i, const kernel::Depletions& to) {
  d.now.rooted[i] = to.rooted;
  if constexpr (rooting == Rooting::part) d.now.unrooted[i] = to.unrooted;
  d.now.top[i] = to.top;
  d.now.mulch_water[i] = to.mulch_water;
}

WILTLINE_LOOP void note_refill(Data& d, std::size_t i, double poured, double at_days) {
  const double refill = poured * kernel::is_refill(d.now.rooted[i], d.day.taw[i]);
  d.now.gap.set(i, kernel::refilled(d.now.gap.of(i), refill, at_days));
}

/// What a day brings to every pot of the chunk alike.
struct Weather {
  double surface_mm;
  double rain_mm;
  double capture_factor;
  double top_coefficient;
};

template <bool rains>
WILTLINE_KERNEL kernel::PotUse lane_use(const Data& d, std::size_t i, const Weather& weather,
                                        const CrownOverPot& crown) {
  return kernel::pot_use<rains>({.surface_mm = weather.surface_mm,
                                 .rain_mm = weather.rain_mm,
                                 .transpiration = crown.litres,
                                 .plan_m2 = crown.plan_area_m2,
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

/// Demand of the day.
template <CrownsOf crowns, bool rains>
WILTLINE_LOOP void set_rates(Data& d, const SharedDay& shared) {
  const CrownOverPot one = shared.crop->one_plant;
  const Weather weather{.surface_mm = shared.crop->surface_mm,
                        .rain_mm = shared.crop->rain_mm,
                        .capture_factor = shared.crop->capture_factor,
                        .top_coefficient = shared.top_coefficient};
  const std::size_t lanes = shared.lanes();
  for (std::size_t i = 0; i < lanes; ++i) {  // vector loop
    CrownOverPot crown = one;
    CrownOverPot full = one;
    if constexpr (crowns == CrownsOf::one_plant) {
      const double size = d.size_factor[i];
      crown.plan_area_m2 *= size;
      crown.litres *= size;
      crown.litres *= d.use_factor[i];
      full.litres *= d.use_factor[i];
    } else if constexpr (crowns == CrownsOf::several) {
      crown = d.crown.of(i);
      full = d.full_crown.of(i);
    }
    const kernel::PotUse pot = lane_use<rains>(d, i, weather, crown);
    const double use = kernel::potential_use(pot.rates);
    d.rates.set(i, pot.rates);
    d.per_top_litre[i] = kernel::per_litre(pot.rates.top);
    d.day.rain[i] = pot.rain;
    d.day.potential_use[i] = use;
    if constexpr (crowns == CrownsOf::full_plant) {
      d.day.full_size_use[i] = use;
    } else {
      d.day.full_size_use[i] = kernel::potential_use(lane_use<rains>(d, i, weather, full).rates);
    }
  }
}

template <bool rains>
WILTLINE_LOOP void set_rates_under(Data& d, const SharedDay& shared) {
  switch (shared.crowns) {
    case CrownsOf::full_plant:
      return set_rates<CrownsOf::full_plant, rains>(d, shared);
    case CrownsOf::one_plant:
      return set_rates<CrownsOf::one_plant, rains>(d, shared);
    case CrownsOf::several:
      return set_rates<CrownsOf::several, rains>(d, shared);
  }
}

/// Sets sums to zero.
WILTLINE_LOOP void begin_day(Data& d, const SharedDay& shared) {
  const std::size_t lanes = shared.lanes();
  for (std::size_t i = 0; i < lanes; ++i) {
    d.day.watered[i] = 0.0;
    d.day.drained[i] = 0.0;
    d.day.transpired[i] = 0.0;
    d.day.evaporated[i] = 0.0;
    d.day.waterings[i] = 0.0;
    d.day.sheds[i] = 0.0;
    d.exact[i] = 0.0;
  }
}

WILTLINE_LOOP void grow_roots(Data& d, const SharedDay& shared) {
  const double age_days = shared.age_days;
  const std::size_t lanes = shared.lanes();
  for (std::size_t i = 0; i < lanes; ++i) {  // vector loop
    const double filled = kernel::flag(age_days >= d.root_fill_days[i]);
    const kernel::Rooted after_night = kernel::exchange({.share = d.now.rooted_share[i],
                                                         .rooted_depletion = d.now.rooted[i],
                                                         .unrooted_depletion = d.now.unrooted[i]},
                                                        d.exchanged_overnight[i]);
    const kernel::Rooted grown = kernel::grow(after_night, d.root_odds_decay[i], filled);
    d.now.rooted_share[i] = grown.share;
    d.now.rooted[i] = grown.rooted_depletion;
    d.now.unrooted[i] = grown.unrooted_depletion;
  }
}

template <Rooting rooting>
WILTLINE_LOOP void set_limits(Data& d, const SharedDay& shared) {
  const double p = shared.crop->depletion_fraction;
  const std::size_t lanes = shared.lanes();
  for (std::size_t i = 0; i < lanes; ++i) {  // vector loop
    d.day.highest_depletion[i] = kernel::most(d.now.rooted[i], 0.0);
    const kernel::DayLimits limits = limits_of<rooting>(d, i, p);
    d.day.taw[i] = limits.taw;
    d.day.threshold[i] = limits.lines.threshold;
    double use = d.day.potential_use[i];
    if constexpr (rooting == Rooting::part) {
      const double share = d.now.rooted_share[i];
      const double top_share = kernel::rooted_top_share(share, d.ball_top_factor[i]);
      use = kernel::rooted_use(d.rates.of(i), share, top_share);
      d.day.settling[i] = kernel::flag(share < settled_share);
      d.unrooted_raw[i] = limits.unrooted_raw;
      d.rooted_top_share[i] = top_share;
    }
    d.rooted_use[i] = use;
    d.first_edge[i] = kernel::first_edge(limits.raw, limits.lines, d.single_store_rew[i]);
  }
}

template <Rooting rooting>
WILTLINE_LOOP void take_rain(Data& d, const SharedDay& shared) {
  const double at_days = shared.rain_at_days;
  const std::size_t lanes = shared.lanes();
  for (std::size_t i = 0; i < lanes; ++i) {  // vector loop
    const double litres = d.day.rain[i];
    const double falls = kernel::flag(litres > 0.0);
    const kernel::Poured poured =
        kernel::pour<rooting>(d.watering_limits.of(i), rooted_share<rooting>(d, i),
                              d.first_uptake[i], depletions_of<rooting>(d, i), litres);
    set_depletions<rooting>(d, i, poured.after);
    d.day.drained[i] = poured.drained;
    d.day.sheds[i] = falls * poured.sheds;
    note_refill(d, i, falls, at_days);
  }
}

/// The lines that pots are beyond in the morning.
template <Rooting rooting>
WILTLINE_LOOP void note_lines(Data& d, const SharedDay& shared) {
  d.day.lines_passed = true;
  const double p = shared.crop->depletion_fraction;
  const std::size_t lanes = shared.lanes();
  for (std::size_t i = 0; i < lanes; ++i) {  // vector loop
    const kernel::DayLimits limits = limits_of<rooting>(d, i, p);
    d.day.stressed[i] = kernel::flag(d.now.rooted[i] > limits.raw);
    d.day.wilting[i] = kernel::flag(d.now.rooted[i] > limits.lines.wilting);
    d.day.dry[i] = kernel::flag(d.now.rooted[i] > limits.lines.dry);
  }
}

template <Rooting rooting>
WILTLINE_LOOP void look_in_the_morning(Data& d, const SharedDay& shared) {
  const std::size_t lanes = shared.lanes();
  for (std::size_t i = 0; i < lanes; ++i) {  // vector loop
    d.day.top_felt_dry[i] = kernel::top_feels_dry(depletions_of<rooting>(d, i), d.top_draw_share[i],
                                                  d.top_dry_limit[i]);
    d.day.past_threshold[i] = kernel::flag(d.now.rooted[i] >= d.day.threshold[i]);
  }
}

/// Which lines were passed before the day's drying.
template <Rooting rooting>
WILTLINE_LOOP void begin_lines(Data& d, const SharedDay& shared) {
  const std::size_t lanes = shared.lanes();
  std::uint64_t past_edges = 0;
  for (std::size_t i = 0; i < lanes; ++i) {  // vector loop
    note(past_edges, kernel::flag(d.now.rooted[i] > d.first_edge[i]));
  }
  d.day.lines_passed = false;
  if (past_edges != 0) note_lines<rooting>(d, shared);
}

template <Rooting rooting>
WILTLINE_KERNEL kernel::PlainLimits plain_limits_of(const Data& d, std::size_t i) {
  return {.rooted_share = rooted_share<rooting>(d, i),
          .rooted_top_share = rooting == Rooting::whole ? 1.0 : d.rooted_top_share[i],
          .first_edge = d.first_edge[i],
          .unrooted_raw = rooting == Rooting::whole ? 0.0 : d.unrooted_raw[i],
          .rew = d.plain_rew[i],
          .tew = d.tew[i],
          .per_tew_rew = d.per_tew_rew[i],
          .single_store = d.single_store[i]};
}

WILTLINE_LOOP void take_exponentials(Data& d, std::size_t lanes) {
  for (std::size_t i = 0; i < lanes; ++i) {  // vector loop
    d.top_remaining[i] = kernel::exponential(d.top_remaining[i]);
  }
}

/// The same interval for all pots.
struct ForAll {
  double dx;
  [[gnu::always_inline]] double operator()(const Data&, std::size_t) const { return dx; }
  [[gnu::always_inline]] double takes_part(const Data&, std::size_t) const { return 1.0; }
};
/// An interval for each that waits and is not to be watered first.
struct ForEach {
  [[gnu::always_inline]] double operator()(const Data& d, std::size_t i) const {
    return d.to[i] - d.from[i];
  }
  [[gnu::always_inline]] double takes_part(const Data& d, std::size_t i) const {
    return d.waits[i] * (1.0 - d.thirsty[i]);
  }
};

/// The last of the loops of dry_plainly. `falls_off`: false only if every top dries on its line.
template <Rooting rooting, bool falls_off, typename Interval>
WILTLINE_LOOP bool move_plainly(Data& d, std::size_t lanes, const Interval& interval_of) {
  std::uint64_t edged = 0;
  for (std::size_t i = 0; i < lanes; ++i) {  // vector loop
    const kernel::Depletions before = depletions_of<rooting>(d, i);
    const kernel::PlainInterval interval = kernel::plain_interval<rooting, falls_off>(
        d.rates.of(i), plain_limits_of<rooting>(d, i), before, interval_of(d, i),
        {.in_line = d.top_in_line[i], .exponent = 0.0}, d.top_remaining[i]);
    const double here = interval_of.takes_part(d, i);
    const double plain = here * interval.plain;
    const kernel::Depletions& after = interval.after;
    set_depletions<rooting>(
        d, i,
        {.rooted = kernel::choose(plain, after.rooted, before.rooted),
         .unrooted = kernel::choose(plain, after.unrooted, before.unrooted),
         .top = kernel::choose(plain, after.top, before.top),
         .mulch_water = kernel::choose(plain, after.mulch_water, before.mulch_water)});
    d.day.transpired[i] += plain * interval.lost.transpired;
    d.day.evaporated[i] += plain * (interval.lost.top + interval.lost.wall + interval.lost.mulch);
    d.day.highest_depletion[i] = kernel::most(d.day.highest_depletion[i], d.now.rooted[i]);
    const double passes_edges = here - plain;
    d.plain[i] = 1.0 - passes_edges;
    note(edged, passes_edges);
  }
  return edged != 0;
}

/// Dries pots whose course is plain; `plain` says of which it is. True if of some it is not. In
/// three loops of short chains of operations: the processor then works on many pots at a time.
template <Rooting rooting, typename Interval>
WILTLINE_LOOP bool dry_plainly(Data& d, std::size_t lanes, const Interval& interval_of) {
  std::uint64_t exponents = 0;
  for (std::size_t i = 0; i < lanes; ++i) {  // vector loop
    const kernel::TopDrying drying =
        kernel::top_drying(d.rates.of(i).top, d.per_top_litre[i], plain_limits_of<rooting>(d, i),
                           d.now.top[i], interval_of(d, i));
    d.top_in_line[i] = drying.in_line;
    d.top_remaining[i] = drying.exponent;
    exponents |= std::bit_cast<std::uint64_t>(drying.exponent) << 1U;  // without the sign of -0
  }
  if (exponents == 0) return move_plainly<rooting, false>(d, lanes, interval_of);
  take_exponentials(d, lanes);
  return move_plainly<rooting, true>(d, lanes, interval_of);
}

template <Rooting rooting>
WILTLINE_LOOP void dry(Data& d, const SharedDay& shared, double from, double to) {
  const std::size_t lanes = shared.lanes();
  if (!dry_plainly<rooting>(d, lanes, ForAll{to - from})) return;
  begin_passing(d.day);
  for (std::size_t i = 0; i < lanes; ++i) {
    d.from[i] = from;
    d.to[i] = to;
  }
  dry_through_edges(d, shared);
}

/// How the day's plan has all pots watered.
struct Can {
  double gives;  // 1: so many litres; 0: until it drains
  double litres;
  const Lanes& uptake;

  Can(const Data& d, const DayPlan& plan)
      : gives(plan.give_l ? 1.0 : 0.0),
        litres(plan.give_l.value_or(0.0)),
        uptake(plan.pouring == Pouring::once ? d.first_uptake : d.second_uptake) {}
};

/// Waters a pot that wants it; 1 if it got any.
template <Rooting rooting>
WILTLINE_KERNEL double pour_from(const Can& can, Data& d, std::size_t i, double wants) {
  const double uptake = can.uptake[i];
  const kernel::WateringLimits watering_limits = d.watering_limits.of(i);
  const double share = rooted_share<rooting>(d, i);
  const kernel::Depletions before = depletions_of<rooting>(d, i);
  const double until_drained =
      kernel::until_drained<rooting>(watering_limits, share, uptake, before);
  const double wanted = wants * kernel::choose(can.gives, can.litres, until_drained);
  const double litres = kernel::most(wanted, 0.0);
  const double pours = kernel::flag(litres > 0.0);
  const kernel::Poured poured =
      kernel::pour<rooting>(watering_limits, share, uptake, before, litres);
  set_depletions<rooting>(d, i, poured.after);
  d.day.watered[i] += litres;
  d.day.drained[i] += poured.drained;
  d.day.sheds[i] = kernel::most(d.day.sheds[i], pours * poured.sheds);
  d.day.waterings[i] += pours;
  return pours;
}

template <VisitRule rule, Rooting rooting>
WILTLINE_LOOP void visit(Data& d, const SharedDay& shared, const Visit& visit) {
  const double until_next = visit.until_next;
  const double at_days = visit.at_days;
  const Can can(d, *shared.plan);
  const std::size_t lanes = shared.lanes();
  for (std::size_t i = 0; i < lanes; ++i) {  // vector loop
    double wants = 1.0;
    if constexpr (rule == VisitRule::check_top) {
      wants = kernel::top_feels_dry(depletions_of<rooting>(d, i), d.top_draw_share[i],
                                    d.top_dry_limit[i]);
    } else if constexpr (rule == VisitRule::check) {
      wants = kernel::wants_water(d.now.rooted[i], d.day.threshold[i], d.now.yesterday_use[i],
                                  d.rooted_use[i], until_next);
    }
    const double pours = pour_from<rooting>(can, d, i, wants);
    note_refill(d, i, pours, at_days);
  }
}

template <Rooting rooting>
WILTLINE_LOOP void run_visits(Data& d, const SharedDay& shared) {
  double x = 0.0;
  for (const Visit& next : shared.plan->visits) {
    if (next.at > x) {
      dry<rooting>(d, shared, x, next.at);
      x = next.at;
    }
    switch (shared.plan->rule) {
      case VisitRule::always:
        visit<VisitRule::always, rooting>(d, shared, next);
        break;
      case VisitRule::check:
        visit<VisitRule::check, rooting>(d, shared, next);
        break;
      case VisitRule::check_top:
        visit<VisitRule::check_top, rooting>(d, shared, next);
        break;
    }
  }
  if (x < 1.0) dry<rooting>(d, shared, x, 1.0);
}

/// As needed: waters those that are thirsty.
template <Rooting rooting>
WILTLINE_LOOP void water_thirsty(Data& d, const SharedDay& shared) {
  const std::size_t lanes = shared.lanes();
  const Can can(d, *shared.plan);
  Lanes at_days;
  for (std::size_t i = 0; i < lanes; ++i) {
    at_days[i] = d.thirsty[i] > 0.5 ? days_since_planting(shared.age_days, *shared.curve, d.from[i])
                                    : shared.age_days + 1.0;
  }
  for (std::size_t i = 0; i < lanes; ++i) {  // vector loop
    const double thirsty = d.thirsty[i];
    const double pours = pour_from<rooting>(can, d, i, thirsty);
    note_refill(d, i, pours, at_days[i]);
    // Not if it takes no more.
    d.can_have[i] *=
        (1.0 - thirsty * (1.0 - pours)) * kernel::flag(d.day.waterings[i] < d.waterings_cap[i]);
  }
}

/// A new p or new roots can put a pot past its threshold at 00:00: water is there at once.
template <Rooting rooting>
WILTLINE_LOOP void begin_as_needed(Data& d, const SharedDay& shared) {
  const std::size_t lanes = shared.lanes();
  std::uint64_t some_thirsty = 0;
  for (std::size_t i = 0; i < lanes; ++i) {  // vector loop
    const double past = d.day.past_threshold[i];
    d.waits[i] = 1.0;
    d.can_have[i] = kernel::flag(d.waterings_cap[i] > 0.0);
    d.thirsty[i] = past;
    d.from[i] = 0.0;
    note(some_thirsty, d.thirsty[i]);
  }
  if (some_thirsty == 0) return;
  water_thirsty<rooting>(d, shared);
  // Before that only rain looks at the depletion.
  for (std::size_t i = 0; i < lanes; ++i) {  // vector loop
    const double looked = kernel::most(1.0 - d.thirsty[i], kernel::flag(d.day.rain[i] > 0.0));
    const double highest = looked * d.day.highest_depletion[i];
    d.day.highest_depletion[i] = kernel::most(highest, d.now.rooted[i]);
  }
}

/// What is left of the day, watered as needed: up to the threshold, water, and on from there.
template <Rooting rooting>
WILTLINE_LOOP void run_as_needed(Data& d, const SharedDay& shared) {
  const std::size_t lanes = shared.lanes();
  for (std::uint64_t some_wait = 1; some_wait != 0;) {
    for (std::size_t i = 0; i < lanes; ++i) {  // vector loop
      d.thirsty[i] =
          d.waits[i] * d.can_have[i] * kernel::flag(d.now.rooted[i] >= d.day.threshold[i]);
      d.to[i] = 1.0;
      d.aim[i] = 0.0;
    }
    bool edged = dry_plainly<rooting>(d, lanes, ForEach{});
    std::uint64_t some_seek = 0;
    for (std::size_t i = 0; i < lanes; ++i) {  // vector loop
      const double edge = 1.0 - d.plain[i];
      d.waits[i] = d.thirsty[i] + edge;
      d.crosses[i] = 0.0;
      d.crossing[i] = 0.0;
      const double seeks = edge * d.can_have[i] * kernel::flag(d.from[i] < 1.0);
      d.plain[i] = 1.0 - seeks;
      note(some_seek, seeks);
    }
    if (edged) {
      begin_passing(d.day);
      if (some_seek != 0) find_crossings(d, shared);
      for (std::size_t i = 0; i < lanes; ++i) {  // vector loop
        const double crosses = d.crosses[i];
        d.waits[i] *= 1.0 - d.alone[i];
        d.to[i] = crosses * (d.from[i] + d.crossing[i]) + (1.0 - crosses);
        d.aim[i] = crosses * d.day.threshold[i];
      }
      if (dry_plainly<rooting>(d, lanes, ForEach{})) dry_through_edges(d, shared);
      for (std::size_t i = 0; i < lanes; ++i) {  // vector loop
        const double aims = d.waits[i] * d.crosses[i];
        d.exact[i] = kernel::most(d.exact[i], d.waits[i] * (1.0 - d.thirsty[i]));
        d.waits[i] *= kernel::most(d.crosses[i], d.thirsty[i]);
        d.from[i] = aims * d.to[i] + (1.0 - aims) * d.from[i];
        d.thirsty[i] += aims;
      }
    }
    some_wait = 0;
    for (std::size_t i = 0; i < lanes; ++i) note(some_wait, d.waits[i]);
    if (some_wait != 0) water_thirsty<rooting>(d, shared);
  }
}

/// The day after the roots have grown.
template <Rooting rooting>
WILTLINE_LOOP void run_grown(Data& d, const SharedDay& shared) {
  set_limits<rooting>(d, shared);
  if (shared.crop->rain_mm > 0.0) take_rain<rooting>(d, shared);
  look_in_the_morning<rooting>(d, shared);
  if (shared.plan->as_needed) {
    begin_as_needed<rooting>(d, shared);
    begin_lines<rooting>(d, shared);
    run_as_needed<rooting>(d, shared);
  } else {
    begin_lines<rooting>(d, shared);
    run_visits<rooting>(d, shared);
  }
}

WILTLINE_LOOP void run_day_loops(Data& d, const SharedDay& shared) {
  begin_day(d, shared);
  if (shared.plan->as_needed) {
    d.morning = d.now;  // for pots whose day turns out to be for `run_day` alone
    d.alone = Lanes{};
  }
  if (shared.crop->rain_mm > 0.0) {
    set_rates_under<true>(d, shared);
  } else {
    set_rates_under<false>(d, shared);
  }
  if (shared.roots_grow) grow_roots(d, shared);
  if (shared.all_rooted) {
    run_grown<Rooting::whole>(d, shared);
  } else {
    run_grown<Rooting::part>(d, shared);
  }
  const std::size_t lanes = shared.lanes();
  for (std::size_t i = 0; i < lanes; ++i) {  // vector loop
    d.now.yesterday_use[i] = d.rooted_use[i];
    d.exact_days[i] += d.exact[i];
  }
}

}  // namespace

void begin_passing(ChunkDay& day) {
  if (day.lines_passed) return;
  day.lines_passed = true;
  day.stressed = day.wilting = day.dry = Lanes{};
}

PotState state_of(const Data::State& lanes, std::size_t i) {
  return {.rooted_depletion_l = lanes.rooted[i],
          .top_depletion_l = lanes.top[i],
          .unrooted_depletion_l = lanes.unrooted[i],
          .rooted_share = lanes.rooted_share[i],
          .mulch_water_l = lanes.mulch_water[i],
          .yesterday_use_l = lanes.yesterday_use[i]};
}

void set_state(Data::State& lanes, std::size_t i, const PotState& to) {
  lanes.rooted[i] = to.rooted_depletion_l;
  lanes.unrooted[i] = to.unrooted_depletion_l;
  lanes.top[i] = to.top_depletion_l;
  lanes.mulch_water[i] = to.mulch_water_l;
  lanes.rooted_share[i] = to.rooted_share;
  lanes.yesterday_use[i] = to.yesterday_use_l;
}

FullRates full_rates_of(const Data& d, std::size_t i) {
  const kernel::Rates rates = d.rates.of(i);
  return {.transpiration_l = rates.transpiration,
          .wall_l = rates.wall,
          .top_l = rates.top,
          .mulch_l = rates.mulch};
}

void run_lanes(PotChunk::Data& data, const SharedDay& shared) {
  run_with(
      shared.set,
      [&data, &shared ]() __attribute__((always_inline)) { run_day_loops(data, shared); });
}

}  // namespace wiltline

#include "wiltline/budget/batch/pot_chunk.hpp"

#include <algorithm>

#include "wiltline/budget/batch/loops.hpp"

namespace wiltline {
PotChunk::PotChunk(std::span<const PlantingSetting* const> settings, const ModelParameters& model,
                   InstructionSet set)
    : settings_(settings.begin(), settings.end()),
      model_(&model),
      set_(set),
      data_(std::make_unique<Data>()) {
  Data& d = *data_;
  const auto all = [this](const auto& are) {
    return std::all_of(settings_.begin(), settings_.end(),
                       [&](const PlantingSetting* one) { return are(*one); });
  };
  if (all([](const PlantingSetting& one) { return one.stand.plants == 1; })) {
    const bool full = all(
        [](const PlantingSetting& one) { return one.size_factor == 1.0 && one.use_factor == 1.0; });
    crowns_ = full ? CrownsOf::full_plant : CrownsOf::one_plant;
  }
  all_rooted_ = all([](const PlantingSetting& one) { return one.pot.initial_rooted_share == 1.0; });
  for (std::size_t i = 0; i < chunk_pots; ++i) {
    const PlantingSetting& setting = *settings_[std::min(i, settings_.size() - 1)];
    const PotParameters& pot = setting.pot;
    const kernel::PotDay day = pot_day(setting, {}, {}, model);
    d.size_factor[i] = setting.size_factor;
    d.use_factor[i] = setting.use_factor;
    d.total_available[i] = pot.total_available_l;
    d.lines.set(i, line_fractions(pot));
    d.plain_rew[i] = pot.single_store ? kernel::out_of_reach : pot.readily_evaporable_l;
    d.single_store_rew[i] = pot.single_store ? pot.readily_evaporable_l : kernel::out_of_reach;
    d.air_dry[i] = pot.refilled_l - pot.air_dry_l;
    d.tew[i] = pot.total_evaporable_l;
    d.per_tew_rew[i] = 1.0 / (pot.total_evaporable_l - pot.readily_evaporable_l);
    d.single_store[i] = pot.single_store ? 1.0 : 0.0;
    d.some_single_store |= pot.single_store;
    d.top_draw_share[i] = pot.top_draw_share;
    d.top_dry_limit[i] = pot.top_dry_limit_l;
    d.root_odds_decay[i] = pot.root_odds_decay;
    d.ball_top_factor[i] = pot.ball_top_factor;
    d.root_fill_days[i] = pot.root_fill_days;
    d.exchanged_overnight[i] = pot.exchanged_overnight;
    last_fill_days_ = std::max(last_fill_days_, pot.root_fill_days);
    d.top_m2[i] = day.top_m2;
    d.per_top_m2[i] = day.per_top_m2;
    d.wall_per_mm[i] = day.wall_per_mm;
    d.mulch_factor[i] = day.mulch_factor;
    d.mulched[i] = day.mulched;
    d.watering_limits.set(i, watering_limits(pot));
    d.first_uptake[i] = uptake_when_dry(pot, Pouring::once);
    d.second_uptake[i] = uptake_when_dry(pot, Pouring::soaked_twice);
    d.waterings_cap[i] = pot.waterings_cap_per_day;
    d.now.rooted_share[i] = pot.initial_rooted_share;
  }
}

PotChunk::~PotChunk() = default;

void PotChunk::share_crown(const CropDay& crop) {
  for (std::size_t i = 0; i < settings_.size(); ++i) {
    data_->crown.set(i, crown_over_pot(*settings_[i], crop, *model_));
    data_->full_crown.set(i, crown_over_pot(at_full_size(*settings_[i]), crop, *model_));
  }
}

const ChunkDay& PotChunk::run_day(const CropDay& crop, double age_days, const DayPlan& plan,
                                  const DemandCurve& curve) {
  if (crowns_ == CrownsOf::several) share_crown(crop);

  SharedDay shared;
  shared.set = set_;
  shared.settings = settings_;
  shared.vectors = vectors_in_use(settings_.size());
  shared.crop = &crop;
  shared.top_coefficient = model_->top_evaporation_coefficient;
  shared.age_days = age_days;
  shared.plan = &plan;
  shared.curve = &curve;
  if (crop.rain_mm > 0.0) shared.rain_at_days = days_since_planting(age_days, curve, 0.0);
  shared.crowns = crowns_;
  // From the day all pots are filled on, growing again would change nothing.
  shared.roots_grow = age_days >= 1.0 && !all_rooted_;
  all_rooted_ = all_rooted_ || (shared.roots_grow && age_days >= last_fill_days_);
  shared.all_rooted = all_rooted_;
  Data& d = *data_;
  d.day.rooting = !all_rooted_;
  run_lanes(d, shared);
  if (plan.as_needed) {
    for (std::size_t i = 0; i < settings_.size(); ++i) {
      if (d.alone[i] > 0.5) run_exactly(i, shared, curve);
    }
  }
  return d.day;
}

namespace {

/// When a refill came, days since planting: mostly at a visit, which knows it.
double refill_at_days(const Refill& refill, double age_days, const DayPlan& plan,
                      const DemandCurve& curve) {
  for (const Visit& visit : plan.visits) {
    if (visit.at == refill.at) return visit.at_days;
  }
  return days_since_planting(age_days, curve, refill.at);
}

}  // namespace

kernel::RefillGap after_refills(kernel::RefillGap gap, const DayResult& day, double age_days,
                                const DayPlan& plan, const DemandCurve& curve) {
  for (const Refill& refill : day.refills) {
    gap = kernel::refilled(gap, kernel::is_refill(refill.depletion_after_l, day.taw_l),
                           refill_at_days(refill, age_days, plan, curve));
  }
  return gap;
}

/// A pot that is watered as needed and is for run_day alone, from the morning on.
void PotChunk::run_exactly(std::size_t i, const SharedDay& shared, const DemandCurve& curve) {
  Data& d = *data_;
  const double age_days = shared.age_days;
  const PlantingSetting& setting = *settings_[i];
  const DayForcing forcing{.full_rates = full_rates_of(d, i),
                           .rain_l = d.day.rain[i],
                           .depletion_fraction = shared.crop->depletion_fraction,
                           .roots_grow = age_days >= 1.0,
                           .roots_filled = age_days >= setting.pot.root_fill_days};
  const DayResult day =
      wiltline::run_day(setting.pot, state_of(d.morning, i), forcing, *shared.plan);
  begin_passing(d.day);
  d.exact_days[i] += 1.0 - d.exact[i];

  set_state(d.now, i, day.state);
  d.now.gap.set(i, after_refills(d.morning.gap.of(i), day, age_days, *shared.plan, curve));
  put_day(day, i, d.day);
}

std::size_t PotChunk::exact_pot_days() const {
  double days = 0.0;
  for (std::size_t i = 0; i < settings_.size(); ++i) days += data_->exact_days[i];
  return static_cast<std::size_t>(days);
}

double PotChunk::longest_gap_days(std::size_t pot, double age_days) const {
  return kernel::refilled(data_->now.gap.of(pot), 1.0, age_days).longest_days;
}

}  // namespace wiltline

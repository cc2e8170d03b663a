#include "wiltline/questions/sweep.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "wiltline/base/errors.hpp"
#include "wiltline/container/capacity.hpp"
#include "wiltline/questions/draws.hpp"

namespace wiltline {
namespace {

template <typename Value>
void add_names(std::string& text, const char* what, const std::vector<Value>& values) {
  for (const Value& value : values) text += std::string(what) + ' ' + value.name + '\n';
}

std::string in_words(const PlantingDay& day) {
  if (const Date* const date = std::get_if<Date>(&day)) return to_string(*date);
  const MonthDay every_year = std::get<MonthDay>(day);
  return std::to_string(every_year.month) + '-' + std::to_string(every_year.day);
}

}  // namespace

SweepPlan::SweepPlan(SweepAxes axes, std::size_t records, const ModelParameters& model)
    : axes_(std::move(axes)),
      records_(records),
      cases_(axes_.crops.size() * axes_.spots.size() * axes_.pots.size() * axes_.mixes.size() *
             axes_.plants.size()),
      blocks_per_draw_((cases_ + most_in_block - 1) / most_in_block) {
  if (cases_ == 0) throw RequestError("sweep: found nothing to cross; expected no empty list");
  for (const std::optional<int>& plants : axes_.plants) {
    if (plants.value_or(1) >= 1) continue;
    throw RequestError(fmt::format("sweep: found {} plants; expected 1 or more", *plants));
  }
  holds_water_.reserve(axes_.pots.size() * axes_.mixes.size());
  for (const Pot& pot : axes_.pots) {
    for (const Mix& mix : axes_.mixes) {
      holds_water_.push_back(held_water(pot, mix, model.refill_share).available_l() > 0.0);
    }
  }
}

SweepBlock SweepPlan::block(std::size_t index) const {
  if (index >= blocks()) throw RequestError("sweep: found a block after the last");
  const std::size_t first = index % blocks_per_draw_ * most_in_block;
  const std::size_t record_and_draw = index / blocks_per_draw_;
  return {.record = record_and_draw / draws(),
          .draw = record_and_draw % draws(),
          .first = first,
          .size = std::min(most_in_block, cases_ - first)};
}

BlockRange SweepPlan::part(std::size_t k, std::size_t n) const {
  if (k < 1 || k > n) throw RequestError("sweep: found no such part; expected 1 to their number");
  // As floor(blocks k / n), without a product that could overflow.
  const std::size_t whole = blocks() / n;
  const std::size_t rest = blocks() % n;
  const auto end_of = [&](std::size_t i) { return whole * i + rest * i / n; };
  return {end_of(k - 1), end_of(k)};
}

SweepCase SweepPlan::at(std::size_t index) const {
  if (index >= cases_) throw RequestError("sweep: found a crossing after the last");
  const auto next = [&index](std::size_t size) {
    const std::size_t place = index % size;
    index /= size;
    return place;
  };
  SweepCase crossing;
  crossing.plants = next(axes_.plants.size());
  crossing.mix = next(axes_.mixes.size());
  crossing.pot = next(axes_.pots.size());
  crossing.spot = next(axes_.spots.size());
  crossing.crop = next(axes_.crops.size());
  return crossing;
}

void SweepPlan::check(const SweepCase& crossing) const {
  if (crossing.crop < axes_.crops.size() && crossing.spot < axes_.spots.size() &&
      crossing.pot < axes_.pots.size() && crossing.mix < axes_.mixes.size() &&
      crossing.plants < axes_.plants.size()) {
    return;
  }
  throw RequestError("sweep: found a crossing outside the lists; expected places in them");
}

bool SweepPlan::holds_water(const SweepCase& crossing) const {
  check(crossing);
  return holds_water_[crossing.pot * axes_.mixes.size() + crossing.mix];
}

std::size_t SweepPlan::left_out() const {
  const auto dry = static_cast<std::size_t>(std::ranges::count(holds_water_, false));
  return dry * (cases_ / holds_water_.size());
}

PlantingDay SweepPlan::planted(const Site& site) const {
  if (axes_.planted) return *axes_.planted;
  return usual_planting_day(site.latitude_deg < 0.0);
}

Planting SweepPlan::planting(const SweepCase& crossing, const Site& site) const {
  check(crossing);
  const Crop& crop = axes_.crops[crossing.crop];
  return {.name = crop.name,
          .crop = crop,
          .pot = axes_.pots[crossing.pot],
          .mix = axes_.mixes[crossing.mix],
          .plants = axes_.plants[crossing.plants].value_or(usual_plants(crop)),
          .planted = planted(site),
          .ends = {},
          .spot = axes_.spots[crossing.spot],
          .routine = axes_.routine,
          .pruned = {},
          .threshold_fraction = {},
          .tare_kg = {}};
}

std::string SweepPlan::text() const {
  std::string text;
  add_names(text, "crop", axes_.crops);
  add_names(text, "spot", axes_.spots);
  add_names(text, "pot", axes_.pots);
  add_names(text, "mix", axes_.mixes);
  for (const std::optional<int>& plants : axes_.plants) {
    text += "plants " + (plants ? std::to_string(*plants) : "usual") + '\n';
  }
  text += "planted " + (axes_.planted ? in_words(*axes_.planted) : "by hemisphere") + '\n';
  text += "routine " + axes_.routine.text + '\n';
  if (axes_.draws > 0) {
    text += "draws " + std::to_string(axes_.draws) + " of " + std::to_string(axes_.seed) + '\n';
  }
  return text;
}

SweepSeasons run_block(const SweepPlan& plan, const SweepBlock& block, const Place& place,
                       const Catalogue& catalogue, const SeasonOptions& options,
                       std::optional<Place>* drawn) {
  if (block.draw >= plan.draws()) {
    throw RequestError(
        fmt::format("sweep: found draw {}; expected one of 0 to {}", block.draw, plan.draws() - 1));
  }
  std::vector<SweepCase> crossings;
  std::vector<Planting> plantings;
  const WeatherRecord& record = place.record();
  for (std::size_t i = block.first; i < block.first + block.size; ++i) {
    const SweepCase crossing = plan.at(i);
    if (!plan.holds_water(crossing)) continue;
    crossings.push_back(crossing);
    plantings.push_back(plan.planting(crossing, record.site()));
  }
  std::size_t waterless = 0;
  std::optional<Place> under;  // the drawn model; empty: under its own
  if (block.draw > 0) {
    check_drawn(place.model(), catalogue);
    DrawnGarden garden =
        draw_garden(plantings, place.model(), catalogue, plan.axes().seed, block.draw);
    waterless = garden.waterless.size();
    std::vector<SweepCase> kept;
    for (const std::size_t i : garden.leave_out_waterless()) kept.push_back(crossings[i]);
    crossings = std::move(kept);
    plantings = std::move(garden.plantings);
    const bool known =
        drawn != nullptr && *drawn && (*drawn)->shared_record() == place.shared_record();
    under = (known ? **drawn : place).with_model(garden.model);
  }
  const std::vector<SeasonStart> starts = season_starts(plantings, record);
  std::vector<SweepCase> cases;
  for (const SeasonStart& start : starts) {
    cases.push_back(crossings[static_cast<std::size_t>(start.planting - plantings.data())]);
  }
  std::vector<SeasonResult> seasons = run_seasons(starts, under ? *under : place, options);
  if (drawn != nullptr && under) *drawn = std::move(under);
  return {std::move(plantings), std::move(cases), std::move(seasons), waterless};
}

}  // namespace wiltline

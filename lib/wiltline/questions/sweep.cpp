#include "wiltline/questions/sweep.hpp"

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

bool SweepPlan::holds_water(const SweepCase& crossing) const {
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

SweepSeasons run_block(const SweepPlan& plan, const SweepBlock& block, Place& place,
                       const Catalogue& catalogue, const SeasonOptions& options) {
  SweepSeasons result;
  std::vector<SweepCase> crossings;
  const WeatherRecord& record = place.record();
  for (std::size_t i = block.first; i < block.first + block.size; ++i) {
    const SweepCase crossing = plan.at(i);
    if (!plan.holds_water(crossing)) continue;
    crossings.push_back(crossing);
    result.plantings.push_back(plan.planting(crossing, record.site()));
  }
  ModelParameters model = catalogue.parameters;
  if (block.draw > 0) {
    DrawnGarden drawn =
        draw_garden(result.plantings, model, catalogue, plan.axes().seed, block.draw);
    result.waterless = drawn.waterless.size();
    std::vector<SweepCase> kept;
    for (const std::size_t i : drawn.leave_out_waterless()) kept.push_back(crossings[i]);
    crossings = std::move(kept);
    result.plantings = std::move(drawn.plantings);
    model = drawn.model;
  }
  const std::vector<SeasonStart> starts = season_starts(result.plantings, record);
  for (const SeasonStart& start : starts) {
    result.cases.push_back(
        crossings[static_cast<std::size_t>(start.planting - result.plantings.data())]);
  }
  place = place.with_model(model);
  result.seasons = run_seasons(starts, place, options);
  return result;
}

}  // namespace wiltline

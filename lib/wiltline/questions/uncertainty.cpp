#include "wiltline/questions/uncertainty.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <numeric>
#include <string_view>

#include "wiltline/base/random.hpp"
#include "wiltline/container/capacity.hpp"

namespace wiltline {
namespace {

/// Parameters that word advice or guard a loop: no water goes by them.
constexpr std::array<std::string_view, 11> not_drawn{
    "as_needed_cap_per_day",
    "frost_tender_c",
    "frost_light_c",
    "frost_hard_c",
    "rot_line",
    "feed_start_days",
    "feed_interval_days",
    "feed_small_interval_days",
    "feed_leached_mixes",
    "hot_root_tmax_c",
    "wilting_line"};  // wilting_line goes with dry_line

double within(const Ranged& range, double level) {
  return range.value +
         (level >= 0.0 ? level * (range.high - range.value) : -level * (range.low - range.value));
}

/// What is drawn from random numbers of its own, so that plantings that share it draw it alike.
enum class Part : std::uint64_t { model, crop, spot, pot, mix };
constexpr std::uint64_t part_count = 5;

struct Draw {
  Planting planting;
  ModelParameters model;
  std::vector<DrawnInput> inputs;
};

class Drawing {
 public:
  Drawing(const Planting& planting, const ModelParameters& model, const Catalogue& catalogue)
      : catalogue_(catalogue), draw_{planting, model, {}} {}

  Draw draw(std::uint64_t seed, std::uint64_t number) {
    const auto from = [&](Part part) {
      random_ = RandomBits(seed, number * part_count + static_cast<std::uint64_t>(part));
    };
    from(Part::model);
    draw_model();
    from(Part::crop);
    draw_crop(draw_.planting.crop);
    from(Part::spot);
    draw_spot(draw_.planting.spot);
    from(Part::pot);
    draw_pot(draw_.planting.pot);
    from(Part::mix);
    draw_in_pot();
    return std::move(draw_);
  }

 private:
  double level(std::string name) {
    const double drawn = 2.0 * random_.uniform() - 1.0;
    draw_.inputs.push_back({std::move(name), drawn});
    return drawn;
  }

  /// True of a parameter that has no say in this planting.
  [[nodiscard]] bool idle(std::string_view parameter) const {
    return parameter.starts_with("mulch") && !draw_.planting.mulch;
  }

  void draw_model() {
    for (const ModelParameterName& parameter : model_parameter_names()) {
      if (std::find(not_drawn.begin(), not_drawn.end(), parameter.name) != not_drawn.end())
        continue;
      const ParameterRow* const row = catalogue_.parameter_rows.find(parameter.name);
      if (row == nullptr || row->low >= row->high) continue;
      const double drawn = level(std::string(parameter.name));
      if (idle(parameter.name)) draw_.inputs.pop_back();  // drawn all the same: for the others
      draw_.model.*(parameter.member) = within({row->value, row->low, row->high}, drawn);
      if (parameter.name == "dry_line") {
        if (const ParameterRow* const wilting = catalogue_.parameter_rows.find("wilting_line")) {
          draw_.model.wilting_line = std::min(
              within({wilting->value, wilting->low, wilting->high}, drawn), draw_.model.dry_line);
        }
      }
    }
  }

  void vary(Ranged& range, double drawn) { range.value = within(range, drawn); }
  void vary(Ranged& range, std::string name) {
    if (range.low < range.high) vary(range, level(std::move(name)));
  }

  void draw_crop(Crop& crop) {
    if (crop.canopy_diameter_m.low < crop.canopy_diameter_m.high ||
        crop.crown_height_m.low < crop.crown_height_m.high) {
      const double size = level("crown size");
      vary(crop.canopy_diameter_m, size);
      vary(crop.crown_height_m, size);
    }
    vary(crop.leaf_area_m2, "leaf area");
    vary(crop.days_to_full, "days to full canopy");
    vary(crop.depletion_fraction, "depletion fraction");
    vary(crop.preferred_l, "preferred litres");
    if (crop.wilting_line && crop.dry_line) {
      const double lines = level("wilting and dry lines");
      vary(*crop.wilting_line, lines);
      vary(*crop.dry_line, lines);
      crop.wilting_line->value = std::min(crop.wilting_line->value, crop.dry_line->value);
    }
  }

  void draw_spot(Spot& spot) {
    if (!spot.ranges) return;
    const auto one = [&](const Ranged& range, double& value, const char* name) {
      if (range.low < range.high) value = within(range, level(name));
    };
    one(spot.ranges->sky_view, spot.sky_view, "sky view");
    one(spot.ranges->wind_share, spot.wind_share, "wind share");
    one(spot.ranges->rain_share, spot.rain_share, "rain share");
    one(spot.ranges->advection, spot.advection, "advection");
  }

  void draw_pot(Pot& pot) {
    Wall& wall = pot.wall;
    if (wall.evaporation_share_low < wall.evaporation_share_high) {
      wall.evaporation_share =
          within({wall.evaporation_share, wall.evaporation_share_low, wall.evaporation_share_high},
                 level("wall evaporation"));
    }
    const double mix_l = pot.mix_l();
    if (pot.mix_low_l < mix_l && mix_l < pot.mix_high_l) {
      pot = pot.scaled_to(within({mix_l, pot.mix_low_l, pot.mix_high_l}, level("pot volume")));
    }
  }

  /// The mix, drawn again where the pot would hold nothing a plant can use.
  void draw_in_pot() {
    constexpr int most_tries = 100;
    const Mix as_in_tables = draw_.planting.mix;
    const std::size_t inputs_before = draw_.inputs.size();
    for (int i = 0; i < most_tries; ++i) {
      draw_.inputs.resize(inputs_before);
      draw_.planting.mix = as_in_tables;
      draw_mix(draw_.planting.mix);
      const HeldWater held =
          held_water(draw_.planting.pot, draw_.planting.mix, draw_.model.refill_share);
      if (held.available_l() > 0.0) return;
    }
    // It hardly ever holds anything: as the tables have it.
    draw_.planting.mix = as_in_tables;
    for (std::size_t i = inputs_before; i < draw_.inputs.size(); ++i) draw_.inputs[i].level = 0.0;
  }

  /// Whole curves are added by volume, the central one and the low or high one in proportion to how
  /// far the draw lies from the middle.
  void draw_mix(Mix& mix) {
    const double held = level("water the mix holds");
    const double surface = level("surface drying");
    double shrinkage = mix.shrinkage;
    if (const MixRecipe* const recipe = catalogue_.mixes.find(mix.name)) {
      const Ranged range{recipe->shrinkage, recipe->shrinkage_low, recipe->shrinkage_high};
      if (range.low < range.high) shrinkage = within(range, level("shrinkage of the mix"));
    }
    const double rewet = level("re-wetting limit");
    const double outer = std::abs(held);
    Composition composition;
    std::vector<MixComponent> parts;
    for (const CompositionPart& part : mix.composition) {
      const MixComponent* const component = catalogue_.components.find(part.component);
      if (component == nullptr) return;  // made by hand: nothing is known of its ranges
      MixComponent central = *component;
      central.rew_mm = within(central.rew_range_mm, surface);
      central.tew_mm = std::max(within(central.tew_range_mm, surface), central.rew_mm);
      if (central.rewet_m3_m3) central.rewet_m3_m3->value = within(*component->rewet_m3_m3, rewet);
      MixComponent end = central;
      end.curve = held < 0.0 ? component->low_curve : component->high_curve;
      composition.push_back({part.component, part.percent * (1.0 - outer)});
      parts.push_back(std::move(central));
      composition.push_back({part.component, part.percent * outer});
      parts.push_back(std::move(end));
    }
    Composition as_written = mix.composition;
    mix = blend(mix.name, std::move(composition), parts, shrinkage,
                draw_.model.lower_limit_suction_kpa);
    mix.composition = std::move(as_written);
  }

  const Catalogue& catalogue_;
  RandomBits random_{0};
  Draw draw_;
};

/// Ranks from 0, equal values sharing the middle of theirs.
std::vector<double> ranks(std::span<const double> values) {
  std::vector<std::size_t> order(values.size());
  std::iota(order.begin(), order.end(), std::size_t{0});
  std::stable_sort(order.begin(), order.end(),
                   [&](std::size_t a, std::size_t b) { return values[a] < values[b]; });
  std::vector<double> result(values.size());
  for (std::size_t begin = 0; begin < order.size();) {
    std::size_t end = begin + 1;
    while (end < order.size() && values[order[end]] == values[order[begin]]) ++end;
    const double shared = static_cast<double>(begin + end - 1) / 2.0;
    for (std::size_t i = begin; i < end; ++i) result[order[i]] = shared;
    begin = end;
  }
  return result;
}

/// Pearson's correlation; 0 where one side does not vary.
double correlation(const std::vector<double>& a, const std::vector<double>& b) {
  const auto n = static_cast<double>(a.size());
  const double mean_a = std::accumulate(a.begin(), a.end(), 0.0) / n;
  const double mean_b = std::accumulate(b.begin(), b.end(), 0.0) / n;
  double together = 0.0;
  double alone_a = 0.0;
  double alone_b = 0.0;
  for (std::size_t i = 0; i < a.size(); ++i) {
    together += (a[i] - mean_a) * (b[i] - mean_b);
    alone_a += (a[i] - mean_a) * (a[i] - mean_a);
    alone_b += (b[i] - mean_b) * (b[i] - mean_b);
  }
  return alone_a > 0.0 && alone_b > 0.0 ? together / std::sqrt(alone_a * alone_b) : 0.0;
}

}  // namespace

DrawnGarden draw_garden(std::span<const Planting> plantings, const ModelParameters& model,
                        const Catalogue& catalogue, std::uint64_t seed, std::uint64_t number) {
  DrawnGarden garden{model, {}, {}};
  garden.plantings.reserve(plantings.size());
  for (const Planting& planting : plantings) {
    Draw draw = Drawing(planting, model, catalogue).draw(seed, number);
    garden.model = draw.model;  // the same each time
    garden.plantings.push_back(std::move(draw.planting));
    garden.inputs.push_back(std::move(draw.inputs));
  }
  return garden;
}

std::optional<Influence> most_influential(std::span<const std::vector<DrawnInput>> draws,
                                          std::span<const double> answers) {
  constexpr std::size_t fewest_draws = 3;
  if (draws.size() < fewest_draws || draws.front().empty()) return std::nullopt;
  const std::vector<double> answer_ranks = ranks(answers);
  // Of some forty inputs that have nothing to do with the answer, one comes this far by chance in
  // one of twenty cases: the normal distribution's 1 - 0.05 / 80 over the root of draws - 1.
  const double least = 3.23 / std::sqrt(static_cast<double>(draws.size() - 1));
  std::optional<Influence> most;
  std::vector<double> levels(draws.size());
  for (std::size_t input = 0; input < draws.front().size(); ++input) {
    for (std::size_t i = 0; i < draws.size(); ++i) levels[i] = draws[i][input].level;
    const double together = correlation(ranks(levels), answer_ranks);
    if (std::abs(together) < least) continue;
    if (!most || std::abs(together) > std::abs(most->correlation)) {
      most = {draws.front()[input].name, together};
    }
  }
  return most;
}

Spread spread_of(std::vector<double> answers) {
  constexpr double tenth = 0.1;
  std::sort(answers.begin(), answers.end());
  return {.p10 = at_share(answers, tenth),
          .p50 = at_share(answers, 0.5),
          .p90 = at_share(answers, 1.0 - tenth)};
}

}  // namespace wiltline

#include "wiltline/questions/draws.hpp"

#include <fmt/format.h>

#include <Eigen/Core>
#include <algorithm>
#include <array>
#include <cmath>
#include <numeric>
#include <string_view>

#include "wiltline/base/normal_draw.hpp"
#include "wiltline/base/random.hpp"
#include "wiltline/base/sobol.hpp"
#include "wiltline/container/capacity.hpp"

namespace wiltline {
namespace {

/// What is drawn from dimensions of its own, so that plantings that share it draw it alike.
enum class Part : std::uint64_t { crop, spot, pot, mix, learned, model };
/// Where the dimensions of each part begin in the point of a draw. Those of the fewest inputs that
/// matter most come first: there a Sobol sequence is evenest.
constexpr std::array<std::size_t, 7> part_dimensions{0, 12, 20, 22, 26, 28, draw_coordinates};

/// The input with which the model's lines of wilting and dryness are drawn, and a crop's own.
constexpr std::string_view model_lines = "dry_line";
constexpr std::string_view line_drawn_beside = "wilting_line";
constexpr std::string_view crop_lines = "wilting and dry lines";

struct Draw {
  Planting planting;
  ModelParameters model;
  std::vector<DrawnInput> inputs;
  bool waterless = false;
};

/// A mix as one draw has it. Plantings of a mix draw it alike, mostly.
struct DrawnMix {
  std::string name;
  Composition composition;
  std::array<double, 4> drawn{};
  Mix mix;

  [[nodiscard]] bool is(const Mix& written, const std::array<double, 4>& as_drawn) const {
    return drawn == as_drawn && name == written.name &&
           std::equal(composition.begin(), composition.end(), written.composition.begin(),
                      written.composition.end(),
                      [](const CompositionPart& one, const CompositionPart& other) {
                        return one.component == other.component && one.percent == other.percent;
                      });
  }
};

/// A parameter of the model that is drawn, and its range.
struct DrawnParameter {
  const ModelParameterName* parameter = nullptr;
  const ParameterRow* row = nullptr;
};
std::vector<DrawnParameter> drawn_parameters(const Catalogue& catalogue) {
  std::vector<DrawnParameter> drawn;
  for (const ModelParameterName& parameter : model_parameter_names()) {
    if (!parameter.drawn) continue;
    const ParameterRow* const row = catalogue.parameter_rows.find(parameter.name);
    if (row != nullptr && row->number.varies()) drawn.push_back({&parameter, row});
  }
  return drawn;
}

/// What the plantings of a draw have in common.
struct DrawnTogether {
  std::vector<DrawnParameter> parameters;
  std::vector<DrawnMix> mixes{};
};

class Drawing {
 public:
  /// `point`: of as many dimensions as the parts have together; `together`: of the draw so far.
  Drawing(const Planting& planting, const ModelParameters& model, const Catalogue& catalogue,
          std::span<const double> point, DrawnTogether& together)
      : catalogue_(catalogue), point_(point), together_(together), draw_{planting, model, {}} {}

  Draw draw(std::uint64_t seed, std::uint64_t number) {
    const auto from = [&](Part part) {
      const auto which = static_cast<std::size_t>(part);
      dimension_ = part_dimensions[which];
      end_ = part_dimensions[which + 1];
      random_ = RandomBits(seed, number * (part_dimensions.size() - 1) + which);
    };
    from(Part::model);
    draw_model();
    from(Part::learned);
    draw_learned(draw_.planting.learned);
    from(Part::crop);
    draw_crop(draw_.planting.crop, "");
    for (CropPlants& other : draw_.planting.beside) draw_crop(other.crop, " of " + other.crop.name);
    from(Part::spot);
    draw_spot(draw_.planting.spot);
    from(Part::pot);
    draw_pot(draw_.planting.pot);
    from(Part::mix);
    draw_in_pot();
    if (std::optional<double>& usable_l = draw_.planting.learned.usable_l) {
      const Planting& drawn = draw_.planting;
      usable_l =
          std::min(*usable_l, held_water(drawn.pot, drawn.mix, draw_.model.refill_share).room_l());
    }
    return std::move(draw_);
  }

 private:
  double level(std::string name) {
    // What a part has beyond its dimensions (many crops in a pot, a mix drawn again) is random.
    const auto coordinate = dimension_ < end_ ? std::optional(dimension_++) : std::nullopt;
    const double share = coordinate ? point_[*coordinate] : random_.uniform();
    const double drawn = 2.0 * share - 1.0;
    if (known_) return 0.0;  // the number is taken even so: later ones stay as they are
    draw_.inputs.push_back({std::move(name), drawn, coordinate});
    return drawn;
  }

  /// A number drawn from the normal distribution of mean 0 and variance 1.
  double normal(std::string name) { return normal_at_level(level(std::move(name))); }

  /// True of a parameter without effect on this planting.
  [[nodiscard]] bool idle(std::string_view parameter) const {
    if (parameter == model_lines) {
      return !any_crop(draw_.planting,
                       [](const Crop& crop) { return !crop.wilting_line || !crop.dry_line; });
    }
    return parameter.starts_with("mulch") && !draw_.planting.mulch;
  }

  void draw_model() {
    for (const auto& [parameter, row] : together_.parameters) {
      const double drawn = level(std::string(parameter->name));
      if (idle(parameter->name)) draw_.inputs.pop_back();  // keeps later numbers
      draw_.model.*(parameter->member) = row->number.at(drawn);
      if (parameter->name == model_lines) {
        if (const ParameterRow* const wilting = catalogue_.parameter_rows.find(line_drawn_beside)) {
          draw_.model.wilting_line = std::min(wilting->number.at(drawn), draw_.model.dry_line);
        }
      }
    }
  }

  void vary(Ranged& range, std::string name) {
    if (range.varies()) range.value = range.at(level(std::move(name)));
  }

  /// What was learned of the pot takes the place of what the tables say of its like: normally
  /// distributed about it on the scale of logarithms.
  void draw_learned(Learned& learned) {
    double use_off = 0.0;  // in standard errors
    if (learned.use_factor_sd > 0.0) {
      use_off = normal("water use of the plant");
      learned.use_factor *= std::exp(learned.use_factor_sd / learned.use_factor * use_off);
    }
    if (learned.usable_l && learned.usable_sd_l > 0.0) {
      const double with_use = learned.correlation();
      const double off = with_use * use_off + std::sqrt(1.0 - with_use * with_use) *
                                                  normal("water the pot holds for the plant");
      *learned.usable_l *= std::exp(learned.usable_sd_l / *learned.usable_l * off);
    }
  }

  void draw_crop(Crop& crop, const std::string& whose) {
    known_ = use_is_learned();
    if (crop.canopy_diameter_m.varies() || crop.crown_height_m.varies()) {
      const double size = level("crown size" + whose);
      crop.canopy_diameter_m.value = crop.canopy_diameter_m.at(size);
      crop.crown_height_m.value = crop.crown_height_m.at(size);
    }
    vary(crop.leaf_area_m2, "leaf area" + whose);
    known_ = false;
    vary(crop.days_to_full, "days to full canopy" + whose);
    vary(crop.depletion_fraction, "depletion fraction" + whose);
    known_ = use_is_learned();
    vary(crop.preferred_l, "preferred litres" + whose);
    known_ = false;
    if (crop.wilting_line && crop.dry_line) {
      const double lines = level(std::string(crop_lines) + whose);
      crop.dry_line->value = crop.dry_line->at(lines);
      Ranged& wilting = *crop.wilting_line;
      wilting.value = std::min(wilting.at(lines), crop.dry_line->value);
      wilting.low = std::min(wilting.low, wilting.value);  // it may be cut below its own range
    }
  }

  void draw_spot(Spot& spot) {
    known_ = use_is_learned();
    vary(spot.sky_view, "sky view");
    vary(spot.reflected, "reflected sun");
    vary(spot.warm_surfaces, "warm surfaces");
    vary(spot.wind_share, "wind share");
    known_ = false;
    vary(spot.rain_share, "rain share");
    known_ = use_is_learned();
    vary(spot.advection, "advection");
    vary(spot.closure, "closure");
    known_ = false;
  }

  [[nodiscard]] bool use_is_learned() const {
    const Learned& learned = draw_.planting.learned;
    return learned.use_factor != 1.0 || learned.use_factor_sd > 0.0;
  }

  void draw_pot(Pot& pot) {
    const Learned& learned = draw_.planting.learned;
    known_ = learned.wall_factor != 1.0;
    vary(pot.wall.evaporation_share, "wall evaporation");
    known_ = learned.usable_l.has_value();
    Ranged mix_l = pot.sold_mix_l;
    mix_l.value = pot.mix_l();
    if (mix_l.low < mix_l.value && mix_l.value < mix_l.high) {
      pot = pot.scaled_to(mix_l.at(level("pot volume")));
    }
    known_ = false;
  }

  /// The mix, drawn again where the pot would hold nothing a plant can use.
  void draw_in_pot() {
    constexpr int most_tries = 100;
    const Mix as_in_tables = draw_.planting.mix;
    const std::size_t inputs_before = draw_.inputs.size();
    for (int i = 0; i < most_tries; ++i) {
      if (i > 0) dimension_ = end_;
      draw_.inputs.resize(inputs_before);
      draw_.planting.mix = as_in_tables;
      draw_mix(draw_.planting.mix);
      if (holds_water()) return;
    }
    // It hardly ever holds anything: as the tables have it.
    draw_.planting.mix = as_in_tables;
    draw_.waterless = !holds_water();
    for (std::size_t i = inputs_before; i < draw_.inputs.size(); ++i) draw_.inputs[i].level = 0.0;
  }

  [[nodiscard]] bool holds_water() const {
    return held_water(draw_.planting.pot, draw_.planting.mix, draw_.model.refill_share)
               .available_l() > 0.0;
  }

  /// Whole curves are added by volume, the central one and the low or high one in proportion to how
  /// far the draw lies from the middle.
  void draw_mix(Mix& mix) {
    known_ = draw_.planting.learned.usable_l.has_value();
    const double held = level("water the mix holds");
    known_ = false;
    const double surface = level("surface drying");
    double shrinkage = mix.shrinkage;
    const MixRecipe* const recipe = catalogue_.mixes.find(mix.name);
    if (recipe != nullptr && recipe->shrinkage.varies()) {
      shrinkage = recipe->shrinkage.at(level("shrinkage of the mix"));
    }
    const double rewet = level("re-wetting limit");
    const std::array drawn{held, surface, shrinkage, rewet};
    const auto known = std::ranges::find_if(
        together_.mixes, [&](const DrawnMix& one) { return one.is(mix, drawn); });
    if (known != together_.mixes.end()) {
      mix = known->mix;
      return;
    }
    const double outer = std::abs(held);
    Composition composition;
    std::vector<MixComponent> parts;
    for (const CompositionPart& part : mix.composition) {
      const MixComponent* const component = catalogue_.components.find(part.component);
      if (component == nullptr) return;  // made by hand: nothing is known of its ranges
      MixComponent central = *component;
      central.rew_mm.value = central.rew_mm.at(surface);
      central.tew_mm.value = std::max(central.tew_mm.at(surface), central.rew_mm.value);
      if (central.rewet_m3_m3) central.rewet_m3_m3->value = component->rewet_m3_m3->at(rewet);
      MixComponent end = central;
      end.curve.value = held < 0.0 ? component->curve.low : component->curve.high;
      composition.push_back({part.component, part.percent * (1.0 - outer)});
      parts.push_back(std::move(central));
      composition.push_back({part.component, part.percent * outer});
      parts.push_back(std::move(end));
    }
    Composition as_written = mix.composition;
    mix = blend(mix.name, std::move(composition), parts, shrinkage,
                draw_.model.lower_limit_suction_kpa);
    mix.composition = std::move(as_written);
    together_.mixes.push_back({mix.name, mix.composition, drawn, mix});
  }

  const Catalogue& catalogue_;
  std::span<const double> point_;
  DrawnTogether& together_;
  std::size_t dimension_ = 0;  // the next, of the part at hand
  std::size_t end_ = 0;
  RandomBits random_{0};
  bool known_ = false;  // what is drawn next was measured
  Draw draw_;
};

void refuse_nan(std::span<const double> answers) {
  if (std::none_of(answers.begin(), answers.end(), [](double one) { return std::isnan(one); })) {
    return;
  }
  throw RequestError("found an answer that is no number; expected numbers");
}

/// Ranks from 0 less their mean, equal values sharing the middle of theirs, as a direction: of
/// length 1, or all 0 where nothing varies. The product of two is Spearman's correlation.
Eigen::VectorXd rank_direction(const Eigen::VectorXd& values) {
  const Eigen::Index size = values.size();
  std::vector<Eigen::Index> order(static_cast<std::size_t>(size));
  std::iota(order.begin(), order.end(), Eigen::Index{0});
  std::ranges::stable_sort(order, {}, [&](Eigen::Index at) { return values[at]; });
  Eigen::VectorXd ranks(size);
  for (auto begin = order.begin(); begin != order.end();) {
    const auto end = std::find_if(begin, order.end(),
                                  [&](Eigen::Index at) { return values[at] != values[*begin]; });
    const auto shared = static_cast<double>((begin - order.begin()) + (end - order.begin()) - 1);
    std::for_each(begin, end, [&](Eigen::Index at) { ranks[at] = shared / 2.0; });
    begin = end;
  }
  ranks.array() -= ranks.mean();
  return ranks.stableNormalized();
}

}  // namespace

void check_drawn(const ModelParameters& model, const Catalogue& catalogue) {
  for (const ModelParameterName& parameter : model_parameter_names()) {
    const ParameterRow* const row = catalogue.parameter_rows.find(parameter.name);
    const bool drawn = parameter.drawn || parameter.name == line_drawn_beside;
    if (!drawn || row == nullptr || !row->number.varies()) continue;
    const double value = model.*(parameter.member);
    if (value == row->number.value) continue;
    throw RequestError(
        fmt::format("found a model with {} {:g}; expected {:g}, the catalogue's value, about which "
                    "it is drawn",
                    parameter.name, value, row->number.value));
  }
}

DrawnGarden draw_garden(std::span<const Planting> plantings, const ModelParameters& model,
                        const Catalogue& catalogue, std::uint64_t seed, std::uint64_t number) {
  return draw_garden(plantings, model, catalogue,
                     shifted_sobol_point(draw_coordinates, number, seed), seed, number);
}

DrawnGarden draw_garden(std::span<const Planting> plantings, const ModelParameters& model,
                        const Catalogue& catalogue, std::span<const double> point,
                        std::uint64_t seed, std::uint64_t number) {
  if (point.size() != draw_coordinates) {
    throw RequestError(fmt::format("found a draw's point of {} coordinates; expected {}",
                                   point.size(), draw_coordinates));
  }
  for (const double coordinate : point) {
    if (coordinate >= 0.0 && coordinate < 1.0) continue;
    throw RequestError(fmt::format(
        "found {:g} as a coordinate of a draw's point; expected 0 to less than 1", coordinate));
  }
  DrawnGarden garden{model, {}, {}};
  DrawnTogether together{.parameters = drawn_parameters(catalogue)};
  garden.plantings.reserve(plantings.size());
  for (const Planting& planting : plantings) {
    Draw draw = Drawing(planting, model, catalogue, point, together).draw(seed, number);
    garden.model = draw.model;  // the same each time
    if (draw.waterless) garden.waterless.push_back(garden.plantings.size());
    garden.plantings.push_back(std::move(draw.planting));
    garden.inputs.push_back(std::move(draw.inputs));
  }
  return garden;
}

std::vector<std::size_t> DrawnGarden::leave_out_waterless() {
  std::vector<std::size_t> index(plantings.size());
  std::iota(index.begin(), index.end(), std::size_t{0});
  for (auto gone = waterless.rbegin(); gone != waterless.rend(); ++gone) {
    const auto at = static_cast<std::ptrdiff_t>(*gone);
    plantings.erase(plantings.begin() + at);
    inputs.erase(inputs.begin() + at);
    index.erase(index.begin() + at);
  }
  waterless.clear();
  return index;
}

RequestError no_water_in_any_draw(const Planting& planting, std::size_t draws) {
  return RequestError(
      fmt::format("{}: found no water that plants can use in any of {} draws; expected a pot that "
                  "holds some in one at least",
                  planting.name, draws));
}

std::vector<std::vector<DrawnInput>> inputs_of(Line asked,
                                               std::vector<std::vector<DrawnInput>> draws) {
  const auto is_lines = [](const DrawnInput& input) {
    return input.name == model_lines || input.name.starts_with(crop_lines);
  };
  for (std::vector<DrawnInput>& draw : draws) {
    if (asked != Line::wilting && asked != Line::dry) {
      std::erase_if(draw, is_lines);
      continue;
    }
    for (DrawnInput& input : draw) {
      if (is_lines(input)) input.name = asked == Line::wilting ? "wilting_line" : "dry_line";
    }
  }
  return draws;
}

std::optional<Influence> most_influential(std::span<const std::vector<DrawnInput>> draws,
                                          std::span<const double> answers) {
  if (draws.size() != answers.size()) {
    throw RequestError(fmt::format("found {} answers to {} draws; expected one for each",
                                   answers.size(), draws.size()));
  }
  refuse_nan(answers);
  constexpr std::size_t fewest_draws = 3;
  if (draws.size() < fewest_draws || draws.front().empty()) return std::nullopt;
  const auto count = static_cast<Eigen::Index>(draws.size());
  for (const std::vector<DrawnInput>& draw : draws) {
    if (draw.size() == draws.front().size()) continue;
    throw RequestError(
        fmt::format("found {} inputs of a draw; expected {}, as many as of the first", draw.size(),
                    draws.front().size()));
  }
  const auto inputs = static_cast<Eigen::Index>(draws.front().size());
  Eigen::MatrixXd directions(count, inputs);  // draws x inputs
  for (Eigen::Index input = 0; input < inputs; ++input) {
    directions.col(input) = rank_direction(Eigen::VectorXd::NullaryExpr(count, [&](Eigen::Index i) {
      return draws[static_cast<std::size_t>(i)][static_cast<std::size_t>(input)].level;
    }));
  }
  const Eigen::VectorXd correlations =
      directions.transpose() *
      rank_direction(Eigen::Map<const Eigen::VectorXd>(answers.data(), count));
  Eigen::Index most = 0;
  const double strongest = correlations.cwiseAbs().maxCoeff(&most);
  // Of some forty inputs that have nothing to do with the answer, one comes this far by chance in
  // one of twenty cases: the normal distribution's 1 - 0.05 / 80 over the root of draws - 1.
  const double least = 3.23 / std::sqrt(static_cast<double>(draws.size() - 1));
  if (strongest < least) return std::nullopt;
  return Influence{draws.front()[static_cast<std::size_t>(most)].name, correlations[most]};
}

Spread spread_of(std::vector<double> answers) {
  constexpr double tenth = 0.1;
  refuse_nan(answers);
  std::ranges::sort(answers);
  return {.p10 = at_share(answers, tenth),
          .p50 = at_share(answers, 0.5),
          .p90 = at_share(answers, 1.0 - tenth)};
}

}  // namespace wiltline

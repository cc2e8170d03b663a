#include "wiltline/container/mix.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <unordered_set>
#include <utility>

#include "wiltline/base/numbers.hpp"
#include "wiltline/base/text.hpp"

namespace wiltline {
namespace {

const VanGenuchten& chosen(const MixComponent& component, CurveChoice choice) {
  if (choice == CurveChoice::low) return component.curve.low;
  return choice == CurveChoice::high ? component.curve.high : component.curve.value;
}

}  // namespace

Result<Composition> parse_composition(std::string_view text) {
  constexpr std::string_view example = "names and percent, such as peat 60 perlite 40";
  Composition result;
  std::string name;
  double sum = 0.0;
  std::unordered_set<std::string> seen;
  for (const std::string_view word : words(text)) {
    const auto number = parse_number(word);
    if (!number) {
      if (!name.empty()) name += ' ';
      name += word;
      continue;
    }
    if (name.empty()) {
      return Fault{fmt::format("{} without a name before it", word), std::string(example)};
    }
    if (*number <= 0.0) {
      return Fault{fmt::format("{} percent of {}", word, in_quotes(name)), "more than nothing"};
    }
    if (!seen.insert(folded(name)).second) {
      return Fault{fmt::format("{} a second time", in_quotes(name)), "every component once"};
    }
    result.push_back({std::exchange(name, {}), *number});
    sum += *number;
  }
  if (!name.empty()) {
    return Fault{fmt::format("{} without a percentage", in_quotes(name)), std::string(example)};
  }
  if (result.empty()) return Fault{"an empty mix", std::string(example)};
  constexpr double rounding = 1e-9;  // 3 x 33.33 is off by a hundredth and a rounding
  if (!(std::abs(sum - 100.0) <= 0.01 + rounding)) {
    return Fault{fmt::format("parts that add up to {:.10g}", sum), "100 percent"};
  }
  return result;
}

Mix blend(std::string name, Composition composition, const std::vector<MixComponent>& parts,
          double shrinkage, double lower_limit_suction_kpa, CurveChoice choice) {
  const double packing = 1.0 / (1.0 - shrinkage);
  std::vector<ReleaseCurve::Part> curves;
  double wilting = 0.0;
  double rewet = 0.0;
  double second_uptake = 1.0;
  double density = 0.0;
  double holding = 0.0;
  double rew_mm = 0.0;
  double tew_mm = 0.0;
  for (std::size_t i = 0; i < parts.size(); ++i) {
    const MixComponent& part = parts[i];
    const double fraction = composition[i].percent / 100.0;
    curves.push_back({fraction, chosen(part, choice)});
    wilting += fraction * part.wilting_m3_m3;
    if (part.rewet_m3_m3) rewet += fraction * part.rewet_m3_m3->value;
    if (part.second_uptake) second_uptake = std::min(second_uptake, *part.second_uptake);
    density += fraction * part.bulk_density_kg_l;
    if (part.water_holding) holding += fraction;
    rew_mm += fraction * part.rew_mm.value;
    tew_mm += fraction * part.tew_mm.value;
  }
  ReleaseCurve curve(std::move(curves), shrinkage);
  wilting *= packing;
  const double at_limit = curve.water_content(lower_limit_suction_kpa);
  return {.name = std::move(name),
          .composition = std::move(composition),
          .curve = std::move(curve),
          .shrinkage = shrinkage,
          .lower_limit_m3_m3 = std::max(at_limit, wilting),
          .wilting_m3_m3 = wilting,
          .rewet_m3_m3 = rewet * packing,
          .second_uptake = second_uptake,
          .bulk_density_kg_l = density * packing,
          .water_holding_share = holding,
          .rew_mm = rew_mm,
          .tew_mm = tew_mm};
}

double estimated_shrinkage(const Composition& composition, const std::vector<MixComponent>& parts,
                           double factor) {
  double coarse = 0.0;
  for (std::size_t i = 0; i < parts.size(); ++i) {
    if (parts[i].coarse) coarse += composition[i].percent / 100.0;
  }
  return factor * coarse * (1.0 - coarse);
}

}  // namespace wiltline

// A potting mix: what it is made of and what follows from that.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "wiltline/base/ranged.hpp"
#include "wiltline/base/result.hpp"
#include "wiltline/container/release_curve.hpp"

namespace wiltline {

/// One material a mix can hold. Water contents in m3/m3.
struct MixComponent {
  std::string name;
  RangedOf<VanGenuchten> curve;         // with the plausible ones that hold least and most
  double wilting_m3_m3 = 0.0;           // measured at 1500 kPa: a floor under the lower limit
  std::optional<Ranged> rewet_m3_m3;    // below it, dry mix resists wetting; empty: wets readily
  std::optional<double> second_uptake;  // share of the deficit taken up at a second watering
  double bulk_density_kg_l = 0.0;
  bool water_holding = false;
  bool coarse = false;
  Ranged rew_mm;  // readily evaporable water of the top 5 cm
  Ranged tew_mm;  // total evaporable water of the top 5 cm
};

/// A mix as people write it: component names and percent of the volume before mixing.
struct CompositionPart {
  std::string component;
  double percent = 0.0;
};
using Composition = std::vector<CompositionPart>;

/// Reads `peat 60 perlite 30 compost 10`. Names may be several words. A fault if it is not that, or
/// does not add up to 100 (to 0.01).
[[nodiscard]] Result<Composition> parse_composition(std::string_view text);

/// A mix ready to fill pots.
struct Mix {
  std::string name;
  Composition composition;
  ReleaseCurve curve;
  double shrinkage = 0.0;
  double lower_limit_m3_m3 = 0.0;  // at the limiting suction, floored by the wilting content
  double wilting_m3_m3 = 0.0;      // at 1500 kPa
  double rewet_m3_m3 = 0.0;        // zero: wets readily however dry
  double second_uptake = 1.0;
  double bulk_density_kg_l = 0.0;
  double water_holding_share = 0.0;
  double rew_mm = 0.0;
  double tew_mm = 0.0;
};

/// Which of the plausible curves of each component to blend.
enum class CurveChoice { central, low, high };

/// Blends whole curves by volume. `parts` in the order of `composition`; `lower_limit_suction_kpa`
/// usually 100. Contents and density blend by volume over 1 - shrinkage, evaporable depths by
/// volume alone. The re-wetting limit is the blend of the limits of the
/// components that have one.
[[nodiscard]] Mix blend(std::string name, Composition composition,
                        const std::vector<MixComponent>& parts, double shrinkage,
                        double lower_limit_suction_kpa, CurveChoice choice = CurveChoice::central);

/// Volume lost when fine and coarse parts are mixed and nothing better is known: `factor` x fine
/// share x coarse share, so a quarter of it at half and half.
[[nodiscard]] double estimated_shrinkage(const Composition& composition,
                                         const std::vector<MixComponent>& parts, double factor);

}  // namespace wiltline

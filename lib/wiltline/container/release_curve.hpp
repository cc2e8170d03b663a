// How tightly a mix holds its water: volumetric water content against suction.
#pragma once

#include <memory>
#include <span>
#include <vector>

namespace wiltline {

/// One material's curve in van Genuchten's form, theta = theta_r + (theta_s - theta_r)
/// (1 + (alpha h)^n)^-(1 - 1/n), h in kPa (van Genuchten 1980, Soil Sci. Soc. Am. J. 44:892).
struct VanGenuchten {
  double theta_s = 0.0;        // at saturation, m3/m3
  double theta_r = 0.0;        // [0, theta_s)
  double alpha_per_kpa = 0.0;  // > 0
  double n = 0.0;              // > 1

  /// `suction_kpa` >= 0.
  [[nodiscard]] double water_content(double suction_kpa) const;
};

/// The curve of a mix: whole curves added by volume at each suction, never their parameters
/// blended.
class ReleaseCurve {
 public:
  struct Part {
    double fraction = 0.0;  // of the component volumes before mixing; all add up to 1
    VanGenuchten curve;
  };

  /// `shrinkage`: share of the volume lost on mixing, fines filling gaps, in [0, 0.5).
  explicit ReleaseCurve(std::vector<Part> parts, double shrinkage = 0.0);

  /// Water content, m3/m3, never above total porosity.
  [[nodiscard]] double water_content(double suction_kpa) const;
  /// The same at many suctions together, to the same bits: each in `values` gives way to its
  /// content.
  void water_contents(std::span<double> values) const;
  /// What lies below a suction, which grows with the height above water: the integrals from 0 to it
  /// of content, content times suction and content times its square, in kPa, kPa2 and kPa3. For
  /// curves of potting mixes within 1e-8 of the content at 0, divided by the power of the suction.
  struct Below {
    double content = 0.0;
    double times_suction = 0.0;
    double times_square = 0.0;
  };
  /// `suction_kpa` >= 0.
  [[nodiscard]] Below below(double suction_kpa) const;
  /// 1 - sum(fraction (1 - theta_s)) / (1 - shrinkage): solids are conserved exactly.
  [[nodiscard]] double total_porosity() const { return total_porosity_; }

 private:
  std::vector<Part> parts_;
  double packing_;  // 1 / (1 - shrinkage)
  double total_porosity_;
  struct Steps;  // `below` at some suctions; copies share it
  std::shared_ptr<const Steps> steps_;
};

}  // namespace wiltline

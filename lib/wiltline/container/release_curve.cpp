#include "wiltline/container/release_curve.hpp"

#include <algorithm>
#include <array>
#include <utility>

#include "wiltline/base/instruction_set.hpp"
#include "wiltline/base/kernel_math.hpp"

namespace wiltline {
namespace {

/// A curve as it is worked out: powers by logarithms.
struct Powers {
  double theta_r;
  double above_r;
  double log_alpha;
  double n;
  double exponent;

  explicit Powers(const VanGenuchten& curve)
      : theta_r(curve.theta_r),
        above_r(curve.theta_s - curve.theta_r),
        log_alpha(kernel::logarithm(curve.alpha_per_kpa)),
        n(curve.n),
        exponent(-(1.0 - 1.0 / curve.n)) {}

  [[gnu::always_inline]] [[nodiscard]] double content(double log_suction) const {
    const double power = kernel::exponential(n * (log_alpha + log_suction));
    return theta_r + above_r * kernel::exponential(exponent * kernel::log_of_one_and(power));
  }
};

constexpr std::size_t at_once = 96;  // suctions

}  // namespace

double VanGenuchten::water_content(double suction_kpa) const {
  return Powers(*this).content(kernel::logarithm(suction_kpa));
}

ReleaseCurve::ReleaseCurve(std::vector<Part> parts, double shrinkage)
    : parts_(std::move(parts)), packing_(1.0 / (1.0 - shrinkage)) {
  double solids = 0.0;
  for (const Part& part : parts_) solids += part.fraction * (1.0 - part.curve.theta_s);
  total_porosity_ = 1.0 - solids * packing_;
}

double ReleaseCurve::water_content(double suction_kpa) const {
  double water = 0.0;
  for (const Part& part : parts_) water += part.fraction * part.curve.water_content(suction_kpa);
  return std::min(water * packing_, total_porosity_);
}

void ReleaseCurve::water_contents(std::span<double> values) const {
  for (std::size_t begin = 0; begin < values.size(); begin += at_once) {
    const std::span<double> some = values.subspan(begin, std::min(at_once, values.size() - begin));
    std::array<double, at_once> logarithms{};
    std::array<double, at_once> water{};
    std::copy(some.begin(), some.end(), logarithms.begin());
    run_with(
        widest_instruction_set(), [&]() __attribute__((always_inline)) {
          for (std::size_t i = 0; i < at_once; ++i) {  // vector loop
            logarithms[i] = kernel::logarithm(logarithms[i]);
          }
          for (const Part& part : parts_) {
            const Powers powers(part.curve);
            const double fraction = part.fraction;
            for (std::size_t i = 0; i < at_once; ++i) {  // vector loop
              water[i] += fraction * powers.content(logarithms[i]);
            }
          }
        });
    for (std::size_t i = 0; i < some.size(); ++i) {
      some[i] = std::min(water[i] * packing_, total_porosity_);
    }
  }
}

}  // namespace wiltline

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

constexpr std::size_t vector_width = 8;  // doubles in a vector of the widest instruction set
constexpr std::size_t at_once = 12 * vector_width;  // suctions

/// Gauss-Legendre with 8 points on (0, 1).
struct Point {
  double at;
  double weight;
};
constexpr std::array<Point, vector_width> points = [] {
  constexpr std::array<Point, 4> from_middle{{{0.183434642495649805, 0.362683783378361983},
                                              {0.525532409916328986, 0.313706645877887287},
                                              {0.796666477413626740, 0.222381034453374471},
                                              {0.960289856497536232, 0.101228536290376259}}};
  std::array<Point, 8> all{};
  for (std::size_t i = 0; i < from_middle.size(); ++i) {
    const Point& one = from_middle[i];
    all[3 - i] = {(1.0 - one.at) / 2.0, one.weight / 2.0};
    all[4 + i] = {(1.0 + one.at) / 2.0, one.weight / 2.0};
  }
  return all;
}();

/// What lies between two suctions, from the contents at the points between them.
ReleaseCurve::Below between(double from, double to, std::span<const double> contents) {
  ReleaseCurve::Below sum;
  for (std::size_t i = 0; i < points.size(); ++i) {
    const double suction = from + (to - from) * points[i].at;
    const double content = (to - from) * points[i].weight * contents[i];
    sum.content += content;
    sum.times_suction += content * suction;
    sum.times_square += content * suction * suction;
  }
  return sum;
}

ReleaseCurve::Below operator+(const ReleaseCurve::Below& a, const ReleaseCurve::Below& b) {
  return {.content = a.content + b.content,
          .times_suction = a.times_suction + b.times_suction,
          .times_square = a.times_square + b.times_square};
}

/// The same content at all suctions up to one.
ReleaseCurve::Below evenly(double content, double suction) {
  return {.content = content * suction,
          .times_suction = content * suction * suction / 2.0,
          .times_square = content * suction * suction * suction / 3.0};
}

}  // namespace

double VanGenuchten::water_content(double suction_kpa) const {
  return Powers(*this).content(kernel::logarithm(suction_kpa));
}

/// A curve bends most where pores that shrinkage has filled begin to empty, and next to nothing:
/// the first step ends there, and each of the others at twice the suction of the one before.
struct ReleaseCurve::Steps {
  std::vector<double> ends_kpa;
  std::vector<Below> below;

  explicit Steps(const ReleaseCurve& curve) {
    constexpr double first_kpa = 1e-3;  // a tenth of a millimetre up, next to nothing has drained
    ends_kpa.push_back(full_up_to(curve));
    while (ends_kpa.back() < highest_kpa) {
      ends_kpa.push_back(std::max(2.0 * ends_kpa.back(), first_kpa));
    }
    std::vector<double> contents;
    for (std::size_t i = 1; i < ends_kpa.size(); ++i) {
      for (const Point& point : points) {
        contents.push_back(ends_kpa[i - 1] + (ends_kpa[i] - ends_kpa[i - 1]) * point.at);
      }
    }
    curve.water_contents(contents);
    below.push_back(evenly(curve.total_porosity(), ends_kpa.front()));
    for (std::size_t i = 1; i < ends_kpa.size(); ++i) {
      below.push_back(below.back() + between(ends_kpa[i - 1], ends_kpa[i],
                                             std::span(contents).subspan((i - 1) * points.size())));
    }
  }

 private:
  static constexpr double highest_kpa = 50.0;

  /// The suction up to which every pore is full, within a millionth of a kPa.
  static double full_up_to(const ReleaseCurve& curve) {
    double low = 0.0;
    double high = highest_kpa;
    constexpr int rounds = 8;  // each to a ninth
    for (int round = 0; round < rounds; ++round) {
      const double part = (high - low) / (vector_width + 1);
      std::array<double, vector_width> contents{};
      for (std::size_t i = 0; i < vector_width; ++i) {
        contents[i] = low + part * static_cast<double>(i + 1);
      }
      curve.water_contents(contents);
      const auto full = std::count(contents.begin(), contents.end(), curve.total_porosity());
      low += part * static_cast<double>(full);
      high = low + part;
    }
    return low;
  }
};

ReleaseCurve::ReleaseCurve(std::vector<Part> parts, double shrinkage)
    : parts_(std::move(parts)), packing_(1.0 / (1.0 - shrinkage)) {
  double solids = 0.0;
  for (const Part& part : parts_) solids += part.fraction * (1.0 - part.curve.theta_s);
  total_porosity_ = 1.0 - solids * packing_;
  steps_ = std::make_shared<const Steps>(*this);
}

double ReleaseCurve::water_content(double suction_kpa) const {
  double water = 0.0;
  for (const Part& part : parts_) water += part.fraction * part.curve.water_content(suction_kpa);
  return std::min(water * packing_, total_porosity_);
}

void ReleaseCurve::water_contents(std::span<double> values) const {
  for (std::size_t begin = 0; begin < values.size(); begin += at_once) {
    const std::span<double> some = values.subspan(begin, std::min(at_once, values.size() - begin));
    const std::size_t vectors = (some.size() + vector_width - 1) / vector_width;
    std::array<double, at_once> logarithms{};
    std::array<double, at_once> water{};
    std::copy(some.begin(), some.end(), logarithms.begin());
    run_with(
        widest_instruction_set(), [&]() __attribute__((always_inline)) {
          for (std::size_t i = 0; i < vectors * vector_width; ++i) {  // vector loop
            logarithms[i] = kernel::logarithm(logarithms[i]);
          }
          for (const Part& part : parts_) {
            const Powers powers(part.curve);
            const double fraction = part.fraction;
            for (std::size_t i = 0; i < vectors * vector_width; ++i) {  // vector loop
              water[i] += fraction * powers.content(logarithms[i]);
            }
          }
        });
    for (std::size_t i = 0; i < some.size(); ++i) {
      some[i] = std::min(water[i] * packing_, total_porosity_);
    }
  }
}

ReleaseCurve::Below ReleaseCurve::below(double suction_kpa) const {
  const std::vector<double>& ends = steps_->ends_kpa;
  if (suction_kpa <= ends.front()) return evenly(total_porosity_, suction_kpa);
  const auto next = std::upper_bound(ends.begin(), ends.end(), suction_kpa);
  const double from = *(next - 1);
  std::array<double, points.size()> contents{};
  for (std::size_t i = 0; i < points.size(); ++i) {
    contents[i] = from + (suction_kpa - from) * points[i].at;
  }
  water_contents(contents);
  return steps_->below[static_cast<std::size_t>(next - 1 - ends.begin())] +
         between(from, suction_kpa, contents);
}

}  // namespace wiltline

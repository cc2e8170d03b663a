// Exponential and logarithm of the interval step and the release curve: our own polynomials, so
// that one pot and a vector of pots give the same bits on every processor. Only + - x / and
// compare-select.
#pragma once

#include <array>
#include <bit>
#include <cstdint>
#include <numbers>

namespace wiltline::kernel {

/// 1 + c[0] w + c[1] w^2 + … + c[12] w^13, in pairs of pairs (Estrin), so that the processor need
/// not wait for one term after another; the largest terms come last.
[[gnu::always_inline]] [[nodiscard]] inline double one_and_series(double w,
                                                                  const std::array<double, 13>& c) {
  const double w2 = w * w;
  const double w4 = w2 * w2;
  const double from_12 = c[11] + w * c[12];
  const double from_10 = c[9] + w * c[10];
  const double from_8 = c[7] + w * c[8];
  const double from_6 = c[5] + w * c[6];
  const double from_4 = c[3] + w * c[4];
  const double from_2 = c[1] + w * c[2];
  const double high = from_8 + w2 * (from_10 + w2 * from_12);
  const double middle = from_4 + w2 * from_6;
  return 1.0 + (w * c[0] + w2 * (from_2 + w2 * (middle + w4 * high)));
}

/// e^x within 1 unit in the last place of a double, for |x| up to 700 (held there beyond).
[[gnu::always_inline]] [[nodiscard]] inline double exponential(double x) {
  constexpr double limit = 700.0;
  constexpr double log2_e = 1.44269504088896338700;
  constexpr double ln2_high = 6.93147180369123816490e-01;  // 33 bits, exact times small integers
  constexpr double ln2_low = 1.90821492927058770002e-10;
  constexpr double round_to_integer = 0x1.8p52;  // adding it leaves the integer in the low bits
  x = x > limit ? limit : x;
  x = x < -limit ? -limit : x;
  const double shifted = x * log2_e + round_to_integer;
  const double n = shifted - round_to_integer;
  const double r = (x - n * ln2_high) - n * ln2_low;  // [-0.347, 0.347]
  // Taylor to r^13 / 13!: the first term left out is below 2e-17.
  constexpr std::array<double, 13> per_factorial{1.0,
                                                 1.0 / 2.0,
                                                 1.0 / 6.0,
                                                 1.0 / 24.0,
                                                 1.0 / 120.0,
                                                 1.0 / 720.0,
                                                 1.0 / 5040.0,
                                                 1.0 / 40320.0,
                                                 1.0 / 362880.0,
                                                 1.0 / 3628800.0,
                                                 1.0 / 39916800.0,
                                                 1.0 / 479001600.0,
                                                 1.0 / 6227020800.0};
  const double p = one_and_series(r, per_factorial);
  // 2^n: n sits in the low bits of `shifted`; move it to the exponent and add the bias.
  const std::uint64_t power_bits = (std::bit_cast<std::uint64_t>(shifted) + 1023U) << 52U;
  return p * std::bit_cast<double>(power_bits);
}

/// 1 if z is so near 0 that mean_decay_of takes its series: the difference would cancel.
[[gnu::always_inline]] [[nodiscard]] inline double near_zero(double z) {
  constexpr double series_limit = 0.35;
  return z * z < series_limit * series_limit ? 1.0 : 0.0;
}
/// (1 - e^-z) / z near 0. Taylor: sum of (-z)^k / (k + 1)!, to k = 13: below 1e-17 at the limit.
[[gnu::always_inline]] [[nodiscard]] inline double mean_decay_series(double z) {
  constexpr std::array<double, 13> per_next_factorial{
      1.0 / 2.0,         1.0 / 6.0,          1.0 / 24.0,         1.0 / 120.0,     1.0 / 720.0,
      1.0 / 5040.0,      1.0 / 40320.0,      1.0 / 362880.0,     1.0 / 3628800.0, 1.0 / 39916800.0,
      1.0 / 479001600.0, 1.0 / 6227020800.0, 1.0 / 87178291200.0};
  return one_and_series(-z, per_next_factorial);
}
/// (1 - e^-z) / z, 1 at z = 0: the mean of e^-s over s from 0 to z. `left`: e^-z.
[[gnu::always_inline]] [[nodiscard]] inline double mean_decay_of(double z, double left) {
  return near_zero(z) > 0.5 ? mean_decay_series(z) : (1.0 - left) / z;
}

/// A number above 0 and below infinity as 2^n (1 + rest), rest from 1 / sqrt 2 - 1 to sqrt 2 - 1.
struct Binary {
  double n;
  double rest;
};
[[gnu::always_inline]] [[nodiscard]] inline Binary binary(double x) {
  constexpr std::uint64_t fraction = (std::uint64_t{1} << 52U) - 1;
  constexpr std::uint64_t exponent_of_one = std::uint64_t{1023} << 52U;
  // A number below 2^52 in the low bits of 2^52 adds itself.
  constexpr std::uint64_t bits_of_2_to_52 = std::uint64_t{1023 + 52} << 52U;
  const auto bits = std::bit_cast<std::uint64_t>(x);
  const double exponent = std::bit_cast<double>((bits >> 52U) | bits_of_2_to_52) - 0x1p52 - 1023.0;
  const double m = std::bit_cast<double>((bits & fraction) | exponent_of_one);
  const double above = m > std::numbers::sqrt2 ? 1.0 : 0.0;
  return {.n = exponent + above, .rest = (above > 0.5 ? m * 0.5 : m) - 1.0};
}
/// Its logarithm: ln(1 + z) = 2 artanh s, s = z / (2 + z): 2 (s + s^3 / 3 + …), |s| <= 0.172; to
/// s^21.
[[gnu::always_inline]] [[nodiscard]] inline double logarithm_of(const Binary& x) {
  const double s = x.rest / (2.0 + x.rest);
  const double s2 = s * s;
  const double s4 = s2 * s2;
  const double s8 = s4 * s4;
  const double from_3 = 1.0 / 3.0 + s2 * (1.0 / 5.0);
  const double from_7 = 1.0 / 7.0 + s2 * (1.0 / 9.0);
  const double from_11 = 1.0 / 11.0 + s2 * (1.0 / 13.0);
  const double from_15 = 1.0 / 15.0 + s2 * (1.0 / 17.0);
  const double from_19 = 1.0 / 19.0 + s2 * (1.0 / 21.0);
  const double series = (from_3 + s4 * from_7) + s8 * ((from_11 + s4 * from_15) + s8 * from_19);
  return x.n * std::numbers::ln2 + (2.0 * s + 2.0 * s * s2 * series);
}
/// ln x within 2 units in the last place of a double, or of 1 near x = 1, for x > 0; of 0 about
/// -709, so that e to it is next to nothing.
[[gnu::always_inline]] [[nodiscard]] inline double logarithm(double x) {
  return logarithm_of(binary(x));
}
/// ln(1 + z) within 2 units in the last place of a double, for 0 <= z <= 1e307.
[[gnu::always_inline]] [[nodiscard]] inline double log_of_one_and(double z) {
  const Binary sum = binary(1.0 + z);
  // A small z as it is: adding 1 would cost digits.
  const double small = z > std::numbers::sqrt2 - 1.0 ? 0.0 : 1.0;
  return logarithm_of({.n = small > 0.5 ? 0.0 : sum.n, .rest = small > 0.5 ? z : sum.rest});
}

}  // namespace wiltline::kernel

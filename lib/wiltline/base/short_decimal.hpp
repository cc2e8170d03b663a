// The quick way through long tables of numbers: eight bytes of a text looked at together.
#pragma once

#include <array>
#include <bit>
#include <cstddef>
#include <cstdint>
#include <cstring>
#include <limits>

namespace wiltline {

/// Eight bytes from `begin` on; the first is the lowest of the number on every processor.
[[nodiscard]] inline std::uint64_t eight_bytes(const char* begin) {
  std::uint64_t bytes = 0;
  std::memcpy(&bytes, begin, sizeof bytes);
  return std::endian::native == std::endian::little ? bytes : __builtin_bswap64(bytes);
}

/// The same byte eight times.
[[nodiscard]] constexpr std::uint64_t eight_times(unsigned char byte) {
  return 0x0101010101010101U * byte;
}

/// Powers of ten, from 10^0; the second eight of the other sign.
inline constexpr std::array<double, 16> short_powers_of_ten{
    1e0, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7, -1e0, -1e1, -1e2, -1e3, -1e4, -1e5, -1e6, -1e7};

/// What parse_number() gives for a plain decimal of 1 to 8 characters, such as `-12.5`: what nearly
/// every cell of a long table holds. NaN for every other text. Eight bytes from `begin` on may be
/// read, of which `size`, 1 to 8, count. Texts of all lengths take the same way through, which the
/// processor foresees; digits and power of ten are exact, and their quotient is rounded once.
[[nodiscard]] inline double short_decimal(const char* begin, std::size_t size) {
  constexpr double none = std::numeric_limits<double>::quiet_NaN();
  constexpr std::uint64_t high_bits = eight_times(0x80);
  const std::uint64_t minus = *begin == '-' ? 1 : 0;
  // Digits as their values, the last in the highest byte; zero bytes before the first digit and in
  // place of a minus.
  std::uint64_t digits = (eight_bytes(begin) ^ eight_times('0') ^ minus * ('-' ^ '0'))
                         << ((0 - 8 * size) % 64);
  // The high bit of the first byte that is a point; above it bits may be wrong.
  const std::uint64_t unlike_point = digits ^ eight_times('.' ^ '0');
  const std::uint64_t points = (unlike_point - eight_times(1)) & ~unlike_point & high_bits;
  std::size_t after_point = 0;
  if (points != 0) {
    after_point = 7 - static_cast<std::size_t>(std::countr_zero(points)) / 8;
    // The digits before the point move up to those after it. A second point stays: no digit.
    const std::uint64_t high_bit = points & (~points + 1);
    digits = (digits & ((high_bit >> 7) - 1)) << 8 | (digits & (~(high_bit << 1) + 1));
    --size;
  }
  if (size == minus || ((digits | (digits + eight_times(0x7F - 9))) & high_bits) != 0) return none;
  // Pairs of digits, then fours, then all eight: one multiplication adds a number to ten (a
  // hundred, ten thousand) times the one before it.
  digits = digits * (1 + (10U << 8)) >> 8 & 0x00FF00FF00FF00FF;
  digits = digits * (1 + (100U << 16)) >> 16 & 0x0000FFFF0000FFFF;
  digits = digits * (1 + (std::uint64_t{10000} << 32)) >> 32;
  return static_cast<double>(static_cast<std::int64_t>(digits)) /
         short_powers_of_ten[after_point + 8 * minus];
}

}  // namespace wiltline

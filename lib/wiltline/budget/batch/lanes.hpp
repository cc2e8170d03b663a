// Quantities of many pots for vector loops: one array a quantity, pots side by side.
#pragma once

#include <array>
#include <bit>
#include <cstddef>
#include <type_traits>
#include <utility>

#include "wiltline/budget/kernel.hpp"

namespace wiltline {

/// Doubles in a vector of the widest instruction set. A loop over a multiple of it, written as a
/// product, has no rest that the compiler must see to.
inline constexpr std::size_t widest_vector = 8;

/// Whole vectors that hold so many pots; a chunk's last pot fills them up.
[[nodiscard]] constexpr std::size_t vectors_in_use(std::size_t pots) {
  return (pots + widest_vector - 1) / widest_vector;
}

/// One value for each of `width` pots.
template <std::size_t width>
struct alignas(width >= widest_vector ? 64 : alignof(double)) LanesOf {
  std::array<double, width> at{};

  double& operator[](std::size_t i) { return at[i]; }
  double operator[](std::size_t i) const { return at[i]; }
};

/// One value for each pot of a vector, not set to 0 first.
struct alignas(64) Eight {
  std::array<double, widest_vector> at;

  double& operator[](std::size_t i) { return at[i]; }
  double operator[](std::size_t i) const { return at[i]; }
};

/// A record, all of whose members are doubles, for each of `width` pots: one array for each member,
/// but put in and taken out pot by pot. What is taken out and not used costs nothing. Not set to 0
/// first.
template <typename Record, std::size_t width>
struct alignas(64) RecordsOf {
  static_assert(std::is_trivially_copyable_v<Record> && sizeof(Record) % sizeof(double) == 0);
  static constexpr std::size_t members = sizeof(Record) / sizeof(double);
  std::array<std::array<double, width>, members> of_member;

  WILTLINE_KERNEL Record of(std::size_t i) const {
    return take(i, std::make_index_sequence<members>{});
  }
  WILTLINE_LOOP void set(std::size_t i, const Record& to) {
    put(i, std::bit_cast<std::array<double, members>>(to), std::make_index_sequence<members>{});
  }

 private:
  template <std::size_t... member>
  WILTLINE_KERNEL Record take(std::size_t i, std::index_sequence<member...>) const {
    return std::bit_cast<Record>(std::array{of_member[member][i]...});
  }
  template <std::size_t... member>
  WILTLINE_LOOP void put(std::size_t i, const std::array<double, members>& to,
                         std::index_sequence<member...>) {
    ((of_member[member][i] = to[member]), ...);
  }
};
/// Of the pots of a vector.
template <typename Record>
using EightRecords = RecordsOf<Record, widest_vector>;

}  // namespace wiltline

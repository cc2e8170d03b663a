// Options of no one subject.
#pragma once

#include <array>
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "command.hpp"
#include "wiltline/base/date.hpp"

namespace wiltline::cli {

/// Options that name a file to be read, besides --weather and the tables.
inline constexpr std::array<const char*, 9> input_file_options{
    "garden", "site", "forecast", "log", "state", "columns", "typical", "weighings", "seen"};

/// The whole number in these limits that an option's text, or a part of it, says.
[[nodiscard]] int whole_number(std::string_view option, std::string_view text, int least, int most);
/// An option that is one; empty if it is not given.
[[nodiscard]] std::optional<int> whole_number(const Arguments& arguments, const char* option,
                                              int least, int most);

/// An option that is a date; empty if it is not given.
[[nodiscard]] std::optional<Date> date_option(const Arguments& arguments, const char* name);

/// An option that is a volume, in litres: "10 l", "2 gal", "16 qt", "1.5 cu ft"; a bare number is
/// litres, and refused with --units us, where it would be taken for gallons. Empty if it is not
/// given.
[[nodiscard]] std::optional<double> volume_option_l(const Arguments& arguments, const char* option,
                                                    double least_l, double most_l,
                                                    std::string_view expected);

/// --share, of summers or trips: above 0, up to 1. Empty if it is not given.
[[nodiscard]] std::optional<double> share_option(const Arguments& arguments);

/// --seed; 1 where it is not given.
[[nodiscard]] std::uint64_t seed_option(const Arguments& arguments);

/// As asked, or 0: one for each core. The answer does not depend on it.
[[nodiscard]] std::size_t thread_count(const Arguments& arguments);

}  // namespace wiltline::cli

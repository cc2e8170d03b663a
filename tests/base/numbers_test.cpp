// Numbers as text: nothing that is not a whole, finite decimal number is taken for one.
#include <doctest/doctest.h>

#include <array>
#include <bit>
#include <charconv>
#include <cmath>
#include <cstdint>
#include <cstdio>
#include <limits>
#include <string>
#include <string_view>
#include <vector>

#include "support/random.hpp"
#include "wiltline/base/numbers.hpp"
#include "wiltline/base/short_decimal.hpp"

namespace wiltline::test {

TEST_CASE("numbers: decimal numbers are read exactly") {
  CHECK(parse_number("28") == 28.0);
  CHECK(parse_number("-0.5") == -0.5);
  CHECK(parse_number("3e2") == 300.0);
  CHECK(parse_number("3E2") == 300.0);
  CHECK(parse_number("25e-1") == 2.5);
  CHECK(parse_number("007.50") == 7.5);
  CHECK(parse_number("0.1") == 0.1);
  CHECK(parse_number("1e308") == 1e308);
  CHECK(parse_number("9007199254740993") == 9007199254740992.0);  // halfway: to even (IEEE 754)
  const auto minus_zero = parse_number("-0");
  REQUIRE(minus_zero);
  CHECK(*minus_zero == 0.0);
}

TEST_CASE("numbers: everything else is not a number") {
  const std::vector<std::string> texts{
      "",      "-",        ".",      "-.",     "e5",    "1e",    "1e+",     "1e-",
      "28C",   "28 C",     "28°C",   "nan",    "NaN",   "-nan",  "inf",     "INF",
      "-inf",  "infinity", "nan(1)", "0x1A",   "0x1p3", "1,5",   "1.234,5", "1'000",
      "1_000", "+5",       "+.5",    "++5",    "--5",   " 5",    "5 ",      "\t5",
      "5\n",   "5\r",      "1e999",  "-1e999", "1e400", "1.2.3", "1-2",     "5%",
      "T",     "trace",    "M",      "N/A",    "five",  "١"};
  for (const std::string& text : texts) {
    CAPTURE(text);
    CHECK_FALSE(parse_number(text));
  }
  CHECK_FALSE(parse_number(std::string_view("5\0", 2)));
}

TEST_CASE("numbers: only the given characters are looked at") {
  const std::string_view longer = "12.5678";
  CHECK(parse_number(longer.substr(0, 4)) == 12.5);
}

TEST_CASE("numbers: whole numbers without point or exponent") {
  CHECK(parse_integer("0") == 0);
  CHECK(parse_integer("007") == 7);
  CHECK(parse_integer("-12") == -12);
  CHECK(parse_integer("2147483647") == std::numeric_limits<int>::max());
  for (const char* text : {"", "-", "2.0", "2.", "2e1", "+2", " 2", "2 ", "2147483648",
                           "-2147483649", "99999999999999999999", "0x10", "two", "1,000"}) {
    CAPTURE(text);
    CHECK_FALSE(parse_integer(text));
  }
}

TEST_CASE("numbers: the shortest text reads back as the same double") {
  CHECK(shortest(0.1) == "0.1");
  CHECK(shortest(0.1 + 0.2) == "0.30000000000000004");
  CHECK(shortest(100.0) == "100");
  CHECK(shortest(-2.5) == "-2.5");

  Random random(20240501);
  int tried = 0;
  while (tried < 200000) {
    const double value = std::bit_cast<double>(random.next());
    if (!std::isfinite(value)) continue;
    ++tried;
    const std::string text = shortest(value);
    const auto back = parse_number(text);
    CAPTURE(text);
    REQUIRE(back);
    REQUIRE(std::bit_cast<std::uint64_t>(*back) == std::bit_cast<std::uint64_t>(value));
  }
  for (const double value : {std::numeric_limits<double>::max(), std::numeric_limits<double>::min(),
                             std::numeric_limits<double>::denorm_min(), -0.0}) {
    const auto back = parse_number(shortest(value));
    REQUIRE(back);
    CHECK(std::bit_cast<std::uint64_t>(*back) == std::bit_cast<std::uint64_t>(value));
  }
}

TEST_CASE("numbers: the quick way reads short decimals to the same bits, and nothing else") {
  // Beside the standard library's own parser, within a longer text.
  const auto check = [](const std::string& text, bool is_plain) {
    double value = 0.0;
    const char* const end = text.data() + text.size();
    const auto [stop, error] = std::from_chars(text.data(), end, value);
    const bool is_number = error == std::errc{} && stop == end && std::isfinite(value);
    for (const char* const after : {"00000000", ",17.5,-3", "........", "\xC2\xB0\xFF\0----"}) {
      const double quick = short_decimal((text + std::string(after, 8)).data(), text.size());
      CAPTURE(text);
      CAPTURE(after);
      if (std::isnan(quick)) {
        REQUIRE_FALSE(is_plain);
        continue;
      }
      REQUIRE(is_number);
      REQUIRE(std::bit_cast<std::uint64_t>(quick) == std::bit_cast<std::uint64_t>(value));
    }
  };
  // Every plain decimal of up to four digits.
  for (int digits = 1; digits <= 4; ++digits) {
    for (int number = 0; number < static_cast<int>(std::pow(10, digits)); ++number) {
      std::string text = std::to_string(number);
      text.insert(0, static_cast<std::size_t>(digits) - text.size(), '0');
      for (const char* const sign : {"", "-"}) {
        check(sign + text, true);
        for (std::size_t point = 1; point < text.size(); ++point) {
          check(sign + text.substr(0, point) + '.' + text.substr(point), true);
        }
      }
    }
  }
  Random random(31);
  const std::string_view digits = "0123456789";
  const std::string_view any = "0123456789012345678901234567890123456789..--+eE ,:/x\xB0";
  for (int i = 0; i < 50000; ++i) {
    const bool negative = random.chance(0.5);
    const std::size_t size = 1 + random.below(negative ? 7 : 8);
    std::string text = negative ? "-" : "";
    for (std::size_t k = 0; k < size; ++k) text += digits[random.below(digits.size())];
    if (size > 2 && random.chance(0.7)) text[text.size() - 1 - 1 - random.below(size - 2)] = '.';
    check(text, true);
    text.clear();
    const std::size_t any_size = 1 + random.below(8);
    for (std::size_t k = 0; k < any_size; ++k) text += any[random.below(any.size())];
    check(text, false);
  }
  for (const char* const text :
       {"-", ".", "-.", "--", "..", "--5", "1.2.3", "-1-2", "5.-", ".-5"}) {
    check(text, false);
  }
}

TEST_CASE("numbers: no shorter text would do") {
  // Of all texts with one digit less, the correctly rounded one lies nearest: it must miss already.
  Random random(7);
  for (int i = 0; i < 2000; ++i) {
    const double value = random.uniform(1.0, 10.0);
    const std::string text = shortest(value);
    CAPTURE(text);
    REQUIRE(text.size() > 2);
    const auto decimals = static_cast<int>(text.size()) - 2;  // after the one digit and the point
    std::array<char, 32> shorter{};
    std::snprintf(shorter.data(), shorter.size(), "%.*f", decimals - 1, value);
    const auto back = parse_number(shorter.data());
    REQUIRE(back);
    CHECK(*back != value);
  }
}

}  // namespace wiltline::test

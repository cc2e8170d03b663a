#include "shared_options.hpp"

#include "delivery.hpp"
#include "refuse.hpp"
#include "wiltline/base/numbers.hpp"
#include "wiltline/base/text.hpp"
#include "wiltline/garden/pot_names.hpp"

namespace wiltline::cli {

int whole_number(std::string_view option, std::string_view text, int least, int most) {
  const auto number = parse_integer(text);
  if (number && *number >= least && *number <= most) return *number;
  refuse("--{}: found {}; expected a whole number from {} to {}", option,
         parse_number(text) ? std::string(text) : in_quotes(text), least, most);
}

std::optional<int> whole_number(const Arguments& arguments, const char* option, int least,
                                int most) {
  const auto text = arguments.text(option);
  return text ? std::optional(whole_number(option, *text, least, most)) : std::nullopt;
}

std::optional<Date> date_option(const Arguments& arguments, const char* name) {
  const auto text = arguments.text(name);
  if (!text) return std::nullopt;
  const auto date = parse_date(*text);
  if (!date) {
    refuse("--{}: found {}; expected a date that exists, as 2024-05-31", name, in_quotes(*text));
  }
  return date;
}

std::optional<double> volume_option_l(const Arguments& arguments, const char* option,
                                      double least_l, double most_l, std::string_view expected) {
  const auto text = arguments.text(option);
  if (!text) return std::nullopt;
  if (parse_number(trim(*text)) && presentation(arguments).us_units) {
    refuse("--{}: found {} with --units us; expected a volume with its unit, as \"3 gal\"", option,
           in_quotes(*text));
  }
  const auto size = parse_pot_size(parse_number(trim(*text)) ? *text + " l" : *text);
  if (size && !size->across) {
    const double litres = size->value * size->unit;
    if (litres >= least_l && litres <= most_l) return litres;
  }
  refuse("--{}: found {}; expected {}", option, in_quotes(*text), expected);
}

std::optional<double> share_option(const Arguments& arguments) {
  const auto text = arguments.text("share");
  if (!text) return std::nullopt;
  const auto share = parse_number(*text);
  if (share && *share > 0.0 && *share <= 1.0) return share;
  refuse("--share: found {}; expected more than 0, up to 1",
         share ? std::string(*text) : in_quotes(*text));
}

std::uint64_t seed_option(const Arguments& arguments) {
  constexpr int largest = 2147483647;
  return static_cast<std::uint64_t>(whole_number(arguments, "seed", 0, largest).value_or(1));
}

std::size_t thread_count(const Arguments& arguments) {
  return static_cast<std::size_t>(whole_number(arguments, "threads", 1, 1024).value_or(0));
}

}  // namespace wiltline::cli

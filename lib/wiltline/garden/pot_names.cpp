#include "wiltline/garden/pot_names.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <utility>

#include "wiltline/base/numbers.hpp"
#include "wiltline/base/units.hpp"

namespace wiltline {
namespace {

constexpr std::string_view digits = "0123456789";

struct SizeUnit {
  std::string_view word;
  std::string_view symbol;
  bool across;
  double unit;
};
constexpr double gal = units::litres_per_us_gallon;
constexpr double in = units::cm_per_inch;
constexpr SizeUnit size_units[]{{"l", "l", false, 1.0},
                                {"litre", "l", false, 1.0},
                                {"litres", "l", false, 1.0},
                                {"liter", "l", false, 1.0},
                                {"liters", "l", false, 1.0},
                                {"ml", "ml", false, 0.001},
                                {"gal", "gal", false, gal},
                                {"gallon", "gal", false, gal},
                                {"gallons", "gal", false, gal},
                                {"qt", "qt", false, gal / 4.0},
                                {"cuft", "cu ft", false, units::litres_per_cubic_foot},
                                {"cu ft", "cu ft", false, units::litres_per_cubic_foot},
                                {"cm", "cm", true, 1.0},
                                {"in", "in", true, in},
                                {"inch", "in", true, in},
                                {"inches", "in", true, in}};

/// What people call a kind of the table; the empty kind is the plain plastic pot.
constexpr std::pair<std::string_view, std::string_view> other_kinds[]{
    {"", "nursery"},         {"plastic", "nursery"},   {"pot", "nursery"},  {"terracotta", "clay"},
    {"terra cotta", "clay"}, {"grow bag", "fabric"},   {"cloth", "fabric"}, {"felt", "fabric"},
    {"ceramic", "glazed"},   {"barrel", "half barrel"}};

std::string kind_of(std::string_view words) {
  const std::string kind = folded(trim(words));
  for (const auto& [called, known] : other_kinds) {
    if (kind == called) return std::string(known);
  }
  return kind;
}

/// The pots of a kind: those named by it and litres alone, without `tall`, `squat` or `deep`; else
/// all of the kind, and those whose names begin so.
std::vector<const Pot*> pots_of(const std::string& kind, const Catalogue& catalogue) {
  std::vector<const Pot*> plain;
  std::vector<const Pot*> all;
  for (const Entry<Pot>& entry : catalogue.pots.entries()) {
    const std::string name = folded(entry.name);
    const bool begins = name.starts_with(kind + ' ');
    if (!begins && folded(entry.value.kind) != kind) continue;
    all.push_back(&entry.value);
    const std::size_t next = kind.size() + 1;
    if (begins && name.find_first_of(digits, next) == next) plain.push_back(&entry.value);
  }
  return plain.empty() ? all : plain;
}

/// `5 trade gallons`, `nursery 5 trade gal` and `#5` as the table has them: `5 trade gal`. Other
/// texts as they are.
std::string with_trade_class(std::string_view text) {
  const std::size_t begin = std::min(text.find_first_of(digits), text.size());
  const std::size_t end = std::min(text.find_first_not_of(digits, begin), text.size());
  std::string_view before = trim(text.substr(0, begin));
  const std::string after = folded(trim(text.substr(end)));
  const bool hash = before.ends_with('#') && after.empty();
  if (hash) before = before.substr(0, before.size() - 1);
  const bool trade =
      hash || after == "trade gal" || after == "trade gallon" || after == "trade gallons";
  if (!trade || kind_of(before) != "nursery") return std::string(text);
  return fmt::format("{} trade gal", text.substr(begin, end - begin));
}

/// A row taken for what was asked.
Pot taken(const Pot& row, std::string_view asked) {
  Pot pot = row;
  if (folded(row.name) != folded(asked)) pot.name = fmt::format("{} ({})", row.name, trim(asked));
  return pot;
}

}  // namespace

std::optional<PotSize> parse_pot_size(std::string_view text) {
  text = trim(text);
  const std::size_t end = std::min(text.find_first_not_of("0123456789."), text.size());
  const auto number = parse_number(text.substr(0, end));
  const std::string word = folded(trim(text.substr(end)));
  for (const SizeUnit& unit : size_units) {
    if (number && *number > 0.0 && word == unit.word) {
      return PotSize{*number, unit.across, unit.unit, unit.symbol};
    }
  }
  return std::nullopt;
}

double size_of(const Pot& pot, const PotSize& kind_of_size) {
  return kind_of_size.across ? std::max(pot.shape.top_length_cm(), pot.shape.top_width_cm())
                             : pot.shape.volume_l();
}

Result<Pot> known_pot(std::string_view text, const Catalogue& catalogue) {
  constexpr double near_enough = 1.15;
  if (const Pot* const row = catalogue.pots.find(with_trade_class(text))) return taken(*row, text);
  const std::size_t begin = text.find_first_of(digits);
  const auto size =
      begin == std::string_view::npos ? std::nullopt : parse_pot_size(text.substr(begin));
  const auto pots =
      size ? pots_of(kind_of(text.substr(0, begin)), catalogue) : std::vector<const Pot*>{};
  if (pots.empty()) {
    const std::string nearest = nearest_hint(text, catalogue.pots.all_names());
    const bool sized = begin != std::string_view::npos && nearest.empty();
    return Fault{
        fmt::format("unknown pot {}", in_quotes(text)),
        "a known pot",
        {Advice::Kind::show_names, "pot",
         (sized ? " or a kind and a size, such as fabric 10 gal or clay 30 cm" : "") + nearest}};
  }
  const double asked = size->value * size->unit;
  const auto off = [&](const Pot* pot) { return std::abs(std::log(size_of(*pot, *size) / asked)); };
  const Pot& nearest = **std::ranges::min_element(pots, {}, off);
  if (off(&nearest) <= std::log(near_enough)) return taken(nearest, text);
  const auto smaller = [&](const Pot* a, const Pot* b) {
    return size_of(*a, *size) < size_of(*b, *size);
  };
  const auto [least, most] = std::minmax_element(pots.begin(), pots.end(), smaller);
  const double least_size = size_of(**least, *size);
  const double most_size = size_of(**most, *size);
  if (asked < least_size || asked > most_size) {
    return Fault{
        fmt::format("{}, a size in which no such pot comes", in_quotes(text)),
        fmt::format("{:.3g} to {:.3g} {} {}", least_size / size->unit, most_size / size->unit,
                    size->symbol, size->across ? "across the rim" : "to the rim")};
  }
  const double ratio = asked / size_of(nearest, *size);
  Pot pot = nearest.scaled_to(nearest.mix_l() * (size->across ? ratio * ratio * ratio : ratio));
  pot.name = fmt::format("{} (shaped as {})", trim(text), nearest.name);
  return pot;
}

}  // namespace wiltline

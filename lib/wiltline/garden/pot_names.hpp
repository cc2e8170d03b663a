// Pots by the names people use: a row of the table, or a kind and a size as shops give it.
#pragma once

#include <optional>
#include <string_view>

#include "wiltline/base/result.hpp"
#include "wiltline/garden/catalogue.hpp"

namespace wiltline {

/// A size as shops give it: what a pot holds to the rim, or its width across the rim inside.
struct PotSize {
  double value = 0.0;       // in its unit, above 0
  bool across = false;      // a length; else a volume
  double unit = 1.0;        // litres or cm
  std::string_view symbol;  // of the unit, as people write it
};

/// `38 l`, `10gal` (US gallons), `16 qt`, `1.5 cu ft`, `500 ml`, `30 cm` or `12 in`. Empty if it is
/// none of these.
[[nodiscard]] std::optional<PotSize> parse_pot_size(std::string_view text);

/// That size of a pot, litres or cm; of a rectangular one the longer side.
[[nodiscard]] double size_of(const Pot& pot, const PotSize& kind_of_size);

/// A row of the table by name or other name, such as `half barrel` or `10 trade gal` (a class of
/// nursery pots, smaller than ten gallons); else of `fabric 10 gal`, `clay 30 cm` or `20 l` (a
/// plain nursery pot) the row of that kind nearest in size, called `fabric 36 l (fabric 10 gal)`,
/// if it is within a seventh of it; else its shape at that size, if the kind comes in smaller and
/// larger.
[[nodiscard]] Result<Pot> known_pot(std::string_view text, const Catalogue& catalogue);

}  // namespace wiltline

#include "wiltline/tables/season_columns.hpp"

#include <fmt/format.h>

namespace wiltline::tables {

std::string care_text(const CareDays& care) {
  static constexpr std::pair<int CareDays::*, std::string_view> words[]{
      {&CareDays::feed, "feed"},
      {&CareDays::frost, "frost"},
      {&CareDays::too_warm, "too-warm"},
      {&CareDays::poor_fruit_set, "poor-fruit-set"},
      {&CareDays::blossom_end_rot, "blossom-end-rot"},
      {&CareDays::hot_roots, "hot-roots"},
      {&CareDays::sheds_water, "sheds-water"},
      {&CareDays::finger_only, "finger-only"},
      {&CareDays::root_only, "root-only"},
  };
  std::string joined;
  for (const auto& [flag, word] : words) {
    if (care.*flag > 0) joined += fmt::format("{}{}", joined.empty() ? "" : "+", word);
  }
  return joined.empty() ? "-" : joined;
}

}  // namespace wiltline::tables

// The last days of plantings and why they are, in words.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "wiltline/account/planting_end.hpp"

namespace wiltline::cli {

struct LastDay {
  std::string name;  // of the planting
  Date planted{};
  Date date{};
  EndedBy reason = EndedBy::record;
};

/// "Last day: 29 Oct (frost): tomato, pepper; 11 Aug (mature): bush bean." Several years of a
/// planting are one span, from the shortest life to the longest: a last day after New Year is later
/// than one before it. `several`: more than one planting can be meant, so that
/// names are said. `of`: what else the day is the last of, such as " of the worst summer".
[[nodiscard]] std::string last_days_text(const std::vector<LastDay>& ends, bool several,
                                         std::string_view of = "");

}  // namespace wiltline::cli

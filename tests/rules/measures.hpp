// What is read off a row's seasons, or off the library where a row is of a part of it.
#pragma once

#include <functional>
#include <map>
#include <string>

#include "setting.hpp"

namespace wiltline::test {

/// A number of a setting. By name:
///   waterings a week            mean of the summers, in `month`, or on days above `above_c` with a
///                               canopy of `canopy_from_m2`, else in the four weeks around the peak
///   smallest pot without wilting, … without stress
///                               litres of the smallest pot of the kind in which a rooted plant has
///                               no such day in any summer; 1000 if none has
///   mornings agreeing           share of mornings on which the top feels dry just if roots would
///   be short
///                               by the next morning
///   days to dry                 from `from`, in the worst summer
///   transpired a day, evaporated a day, used a day
///                               litres of the first season, in `month` or all of it
///   used in all                 litres of the first season
///   evaporated share            percent of what the first season uses
using Measure = std::function<double(const Setting&)>;
[[nodiscard]] const std::map<std::string, Measure>& season_measures();
/// Of parts of the library (library_measures.cpp says what each calls).
[[nodiscard]] const std::map<std::string, Measure>& library_measures();

}  // namespace wiltline::test

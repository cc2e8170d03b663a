// The options that name a garden and the tables of the model, and what they lead to.
#pragma once

#include <string>
#include <vector>

#include "command.hpp"
#include "wiltline/garden/reading.hpp"
#include "wiltline/questions/season.hpp"

namespace wiltline::cli {

/// The built-in catalogue or the folder of --models; `notes` says which tables came from where.
[[nodiscard]] Catalogue load_catalogue(const Arguments& arguments, std::vector<std::string>& notes);

/// A garden with the name of its file.
struct Garden {
  std::string file;
  std::vector<Planting> plantings;
};
[[nodiscard]] Garden load_garden(const Arguments& arguments, const Catalogue& catalogue);

/// What they say, added to the routine of each planting.
void take_time_away(const Arguments& arguments, Garden& garden);

/// Throws RequestError for a --helper whose days are none of the season of any planting in this
/// weather. After take_time_away.
void check_helpers(const Arguments& arguments, const Garden& garden,
                   const std::vector<Place>& places, GrowthClock growth);

/// Throws InputError if no record holds a planting day of one of the plantings.
void check_planting_days(const Garden& garden, const std::vector<Place>& places);

/// --growth: days or degree-days.
[[nodiscard]] GrowthClock growth_clock(const Arguments& arguments);

}  // namespace wiltline::cli

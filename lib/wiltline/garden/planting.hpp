// One row of a garden, with every name resolved.
#pragma once

#include <algorithm>
#include <cstddef>
#include <optional>
#include <string>
#include <variant>
#include <vector>

#include "wiltline/base/date.hpp"
#include "wiltline/base/one_or_many.hpp"
#include "wiltline/base/result.hpp"
#include "wiltline/container/mix.hpp"
#include "wiltline/container/pot.hpp"
#include "wiltline/crop/crop.hpp"
#include "wiltline/garden/routine.hpp"
#include "wiltline/garden/spot.hpp"

namespace wiltline {

/// A day: one date, or the same day of every year.
using PlantingDay = std::variant<Date, MonthDay>;

/// True if `date` is that day.
[[nodiscard]] bool falls_on(const PlantingDay& day, Date date);

/// 2024-05-10, or 05-10 for every year.
[[nodiscard]] std::string written(const PlantingDay& day);

/// The day on which warm-season crops are planted out where nothing else is said: 15 May, south of
/// the equator 15 November.
[[nodiscard]] MonthDay usual_planting_day(bool south);

/// As many plants as a crop's litres are for.
[[nodiscard]] int usual_plants(const Crop& crop);

/// Plants of a crop.
struct CropPlants {
  Crop crop;
  int plants = 1;

  bool operator==(const CropPlants&) const = default;
};

/// What the gardener's own pot showed, in place of what the tables say of its like. A standard
/// error of 0: taken as exact.
struct Learned {
  double use_factor = 1.0;         // on what the plants transpire
  double use_factor_sd = 0.0;      // its standard error
  std::optional<double> usable_l;  // water between refilled and the lower limit, of the whole mix
  double usable_sd_l = 0.0;
  double wall_factor = 1.0;  // on what evaporates through the wall
  /// Of the errors of use and usable water, as logarithms: weighings tell their ratio best.
  double use_usable_correlation = 0.0;
  std::optional<Instant> until;  // the last reading that it was learned from

  static constexpr double most_correlation = 0.999;  // whatever its sign
  /// The correlation where both were learned; else there is none.
  [[nodiscard]] double correlation() const {
    return use_factor_sd > 0.0 && usable_l ? use_usable_correlation : 0.0;
  }
  bool operator==(const Learned&) const = default;
};

/// What a planting's own numbers may be, ends included.
namespace planting_limits {
inline constexpr int most_plants = 1000;
inline constexpr int most_pots = 100000;
inline constexpr double least_threshold_fraction = 0.02;
inline constexpr double most_threshold_fraction = 0.95;
inline constexpr double most_saucer_l = 1000.0;
inline constexpr double most_tare_kg = 5000.0;
}  // namespace planting_limits

/// A pot, its mix, what grows in it, where it stands and who waters it. Checked by read_garden, and
/// by check_planting wherever a pot is built.
struct Planting {
  std::string name;
  Crop crop;  // with the row's canopy and root ball, if it gives them
  Pot pot;
  Mix mix;
  int plants = 1;  // of `crop`
  /// What else grows in the same pot, planted on the same day; no crop a second time.
  std::vector<CropPlants> beside = {};
  int count = 1;  // how many such pots; every answer is for one of them
  PlantingDay planted = MonthDay{};
  std::optional<PlantingDay> ends;
  Spot spot;
  Routine routine;
  bool mulch = false;
  bool hardened = false;            // raised on the dry side: less leaf
  bool leaf_by_leaf = false;        // picked so, and kept smaller than full size by it
  std::vector<PlantingDay> pruned;  // days on which it is cut back
  double saucer_l = 0.0;
  std::optional<double> threshold_fraction;  // of TAW; empty: readily available water
  std::optional<double> tare_kg;
  std::optional<double> sun_until_h{};  // solar hour at which a shade ends the sun; `spot` has it
  Learned learned{};
  std::size_t line = 0;  // of the garden file, for messages
};

/// True if it is true of any crop in the pot.
template <typename Is>
[[nodiscard]] bool any_crop(const Planting& planting, const Is& is) {
  return is(planting.crop) || std::any_of(planting.beside.begin(), planting.beside.end(),
                                          [&](const CropPlants& other) { return is(other.crop); });
}

/// Takes away what was learned of a planting's pot and mix: for one that stands in others. What its
/// plants use stays.
void forget_pot(Planting& planting);

/// All plants of a pot.
[[nodiscard]] int plants_in_pot(const Planting& planting);

/// Hours of direct sun a day below which crops that are grown for their fruit bear little:
/// extension guides ask for 6 to 8 (University of Maryland).
inline constexpr double least_sun_for_fruit_h = 6.0;
/// True of a planting with such a crop in a spot with fewer.
[[nodiscard]] bool too_dark_for_fruit(const Planting& planting);

/// A crop by its name; of a mixed pot as a garden has it: kale 2 + beet 4.
[[nodiscard]] std::string crop_text(const Planting& planting);

/// True if the same grows in both: of one crop any number, of several the same numbers.
[[nodiscard]] bool same_crops(const Planting& a, const Planting& b);

/// What is wrong with an end: before planting, or one date for a planting of every year.
[[nodiscard]] std::optional<Fault> end_fault(const PlantingDay& planted,
                                             const std::optional<PlantingDay>& ends);

/// Holds a planting that was made or changed in memory to what read_garden holds the cells of a row
/// to: its numbers and days, crops, wall and spot, a pot with room for mix above its drain holes,
/// visits in order, amounts up to most_given_l. Not looked at: the mix, names, and whether plants
/// and saucer go with the pot. Throws RequestError for the first fault.
void check_planting(const Planting& planting);

/// The plantings a question is asked about: a garden, or one. Answers point to them, so that they
/// must outlive the answer, and temporaries are refused.
class Plantings : public OneOrMany<Planting> {
 public:
  using OneOrMany::OneOrMany;
  Plantings(const Planting&&) = delete;
  Plantings(const std::vector<Planting>&&) = delete;
  template <std::size_t count>
  Plantings(Planting (&&)[count]) = delete;  // as of season({{a, b}}, place)
};

}  // namespace wiltline

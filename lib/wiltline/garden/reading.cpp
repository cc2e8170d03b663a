#include "wiltline/garden/reading.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <tuple>
#include <unordered_set>
#include <utility>

#include "wiltline/base/numbers.hpp"
#include "wiltline/base/text.hpp"
#include "wiltline/container/capacity.hpp"

namespace wiltline {
namespace {

constexpr int most_plants = 1000;
constexpr int most_pots = 100000;
constexpr std::size_t longest_name = 200;  // characters

std::optional<PlantingDay> parse_planting_day(std::string_view text) {
  if (const auto date = parse_date(text)) return PlantingDay{*date};
  if (const auto day = parse_month_day(text)) return PlantingDay{*day};
  return std::nullopt;
}

class Reader {
 public:
  Reader(const CsvTable& table, const Catalogue& catalogue)
      : table_(table),
        catalogue_(catalogue),
        volume_(optional("volume", unit_options::volume())),
        height_(optional("height", unit_options::length_cm())),
        top_diameter_(optional("top_diameter", unit_options::length_cm())),
        headspace_(optional("headspace", unit_options::length_cm())),
        saucer_(optional("saucer", unit_options::volume())),
        canopy_diameter_(optional("canopy_diameter", unit_options::length_m())),
        canopy_height_(optional("canopy_height", unit_options::length_m())),
        root_ball_(optional("root_ball", unit_options::volume())),
        threshold_(optional("threshold_fraction", unit_options::none())),
        tare_(optional("tare", unit_options::mass())) {}

  std::vector<Planting> read() {
    table_.refuse_unknown_columns(garden_columns(), problems_);
    for (const char* name :
         {"name", "crop", "pot", "mix", "plants", "planted", "spot", "routine"}) {
      if (!table_.column(name)) {
        problems_.add(
            table_.problem_in_header(0, fmt::format("no column {}", name), "that column"));
      }
    }
    problems_.throw_if_any();
    std::vector<Planting> plantings;
    for (row_ = 0; row_ < table_.rows() && !problems_.full(); ++row_) {
      if (auto planting = read_row()) plantings.push_back(std::move(*planting));
    }
    problems_.throw_if_any();
    return plantings;
  }

 private:
  NumberColumn optional(std::string_view stem, std::span<const UnitOption> units) {
    return {table_, stem, units, false, problems_};
  }

  std::optional<Planting> read_row() {
    const std::string name = read_name();
    const Crop* const crop = known("crop", catalogue_.crops);
    const Pot* const pot = known("pot", catalogue_.pots);
    const Spot* const spot = known("spot", catalogue_.spots);
    const auto mix = read_mix();
    const int plants = whole("plants", 1, most_plants);
    const int count =
        table_.column("count") && !cell("count").empty() ? whole("count", 1, most_pots) : 1;
    const auto planted = day("planted", true);
    const auto ends = table_.column("ends") ? day("ends", false) : std::nullopt;
    const auto routine = read_routine();
    const Given given = read_given();
    if (ends && planted) check_order(*planted, *ends);
    if (!crop || !pot || !spot || !mix || !planted || !routine) return std::nullopt;

    Planting planting{.name = name,
                      .crop = *crop,
                      .pot = *pot,
                      .mix = *mix,
                      .plants = plants,
                      .count = count,
                      .planted = *planted,
                      .ends = ends,
                      .spot = *spot,
                      .routine = *routine,
                      .mulch = given.mulch,
                      .hardened = given.hardened,
                      .leaf_by_leaf = given.leaf_by_leaf,
                      .pruned = given.pruned,
                      .saucer_l = given.saucer_l.value_or(0.0),
                      .threshold_fraction = given.threshold_fraction,
                      .tare_kg = given.tare_kg,
                      .line = table_.line(row_)};
    size_plant(given, planting.crop);
    if (shape_pot(given, planting.pot)) check_water(planting);
    return planting;
  }

  /// What the optional columns of a row say: read, and checked, whatever else is wrong in it.
  struct Given {
    const Wall* wall = nullptr;
    bool mulch = false;
    bool hardened = false;
    std::vector<PlantingDay> pruned;
    bool leaf_by_leaf = false;
    std::optional<double> volume_l, height_cm, top_cm, headspace_cm, saucer_l, canopy_diameter_m,
        canopy_height_m, root_ball_l, threshold_fraction, tare_kg;
  };

  Given read_given() {
    Given given;
    if (table_.column("wall") && !cell("wall").empty())
      given.wall = known("wall", catalogue_.walls);
    given.mulch = yes_no("mulch");
    given.hardened = yes_no("hardened");
    given.pruned = days_list("pruned");
    given.leaf_by_leaf = read_harvest();
    given.volume_l = number(volume_, 0.005, 5000.0, "0.005 to 5000 litres");
    given.height_cm = number(height_, 1.0, 500.0, "1 to 500 cm");
    given.top_cm = number(top_diameter_, 1.0, 500.0, "1 to 500 cm");
    given.headspace_cm = number(headspace_, 0.0, 100.0, "0 to 100 cm");
    given.saucer_l = number(saucer_, 0.0, 1000.0, "0 to 1000 litres");
    given.canopy_diameter_m = number(canopy_diameter_, 0.02, 10.0, "0.02 to 10 m");
    given.canopy_height_m = number(canopy_height_, 0.02, 10.0, "0.02 to 10 m");
    given.root_ball_l = number(root_ball_, 0.005, 1000.0, "0.005 to 1000 litres");
    given.threshold_fraction = number(threshold_, 0.02, 0.95, "0.02 to 0.95");
    given.tare_kg = number(tare_, 0.0, 5000.0, "0 to 5000 kg");
    return given;
  }

  void check_order(const PlantingDay& planted, const PlantingDay& ends) {
    const Date* const first = std::get_if<Date>(&planted);
    const Date* const last = std::get_if<Date>(&ends);
    if (first == nullptr || last == nullptr || *last >= *first) return;
    complain("ends", fmt::format("{} before {}", to_string(*last), to_string(*first)),
             "an end on or after the planting day");
  }

  std::string_view cell(std::string_view column) const {
    return table_.cell(row_, *table_.column(column));
  }

  std::string_view required(std::string_view column) {
    const std::string_view text = cell(column);
    if (text.empty()) complain(column, fmt::format("nothing in {}", column), "a value");
    return text;
  }

  /// A name tells answers apart, in tables and within sentences.
  /// Answers are told apart by name. Told at once, so that a file of a million equal rows ends at
  /// its first ones.
  std::string read_name() {
    const std::string_view name = required("name");
    if (!name.empty() && !names_.insert(name).second) {
      complain("name", fmt::format("{} a second time", in_quotes(name)), "every name once");
    }
    if (const std::size_t width = width_of(name); width > longest_name) {
      complain("name", fmt::format("a name of {} characters: {}", width, in_quotes(name)),
               fmt::format("at most {}; notes has room for more", longest_name));
    }
    return std::string(name);
  }

  template <typename Value>
  const Value* known(std::string_view column, const NamedTable<Value>& values) {
    const std::string_view text = required(column);
    if (text.empty()) return nullptr;
    const Value* const value = values.find(text);
    if (value == nullptr) {
      complain(column, fmt::format("unknown {} {}", column, in_quotes(text)),
               fmt::format("a known {} (wiltline list {}s){}", column, column,
                           nearest_hint(text, values.names())));
    }
    return value;
  }

  std::optional<Mix> read_mix() {
    const std::string_view text = required("mix");
    if (text.empty()) return std::nullopt;
    MixOrProblem result = catalogue_.mix(text);
    if (!result.mix) complain("mix", result.found, result.expected);
    return std::move(result.mix);
  }

  int whole(std::string_view column, int low, int high) {
    const std::string_view text = required(column);
    if (text.empty()) return low;
    const auto value = parse_integer(text);
    if (!value || *value < low || *value > high) {
      complain(column, fmt::format("{} in {}", in_quotes(text), column),
               fmt::format("a whole number from {} to {}", low, high));
      return low;
    }
    return *value;
  }

  std::optional<double> number(const NumberColumn& column, double low, double high,
                               std::string_view allowed) {
    return column.read(row_, problems_, low, high, allowed);
  }

  std::optional<PlantingDay> day(std::string_view column, bool needed) {
    const std::string_view text = needed ? required(column) : cell(column);
    if (text.empty()) return std::nullopt;
    const auto value = parse_planting_day(text);
    if (!value) {
      complain(column, in_quotes(text),
               "a date that exists, as 2024-05-10, or 05-10 for every year");
    }
    return value;
  }

  /// True if picked leaf by leaf.
  bool read_harvest() {
    if (!table_.column("harvest")) return false;
    const std::string_view how = cell("harvest");
    if (how == "leaf") return true;
    if (how.empty() || how == "whole") return false;
    complain("harvest", fmt::format("{} in harvest", in_quotes(how)),
             "leaf (picked leaf by leaf), whole (grows to full size) or nothing (the same)");
    return false;
  }

  /// Days separated by spaces.
  std::vector<PlantingDay> days_list(std::string_view column) {
    std::vector<PlantingDay> days;
    if (!table_.column(column)) return days;
    for (const std::string_view word : words(cell(column))) {
      if (const auto one = parse_planting_day(word)) {
        days.push_back(*one);
      } else {
        complain(column, in_quotes(word),
                 "dates that exist, as 2024-07-20, or days as 07-20 for every year");
      }
    }
    return days;
  }

  bool yes_no(std::string_view column) {
    if (!table_.column(column)) return false;
    const std::string_view text = cell(column);
    if (text.empty() || text == "no") return false;
    if (text == "yes") return true;
    complain(column, fmt::format("{} in {}", in_quotes(text), column), "yes, no or nothing");
    return false;
  }

  std::optional<Routine> read_routine() {
    const std::string_view text = required("routine");
    if (text.empty()) return std::nullopt;
    RoutineOrProblem result = parse_routine(text);
    if (!result.found.empty()) {
      complain("routine", result.found, result.expected);
      return std::nullopt;
    }
    return result.routine;
  }

  /// Applies wall, volume, height, top diameter and headspace to the named pot. False if they do
  /// not go together.
  bool shape_pot(const Given& given, Pot& pot) {
    if (given.wall != nullptr) pot.wall = *given.wall;
    const auto& [volume_l, height_cm, top_cm, headspace_cm] =
        std::tie(given.volume_l, given.height_cm, given.top_cm, given.headspace_cm);
    if (volume_l && (height_cm || top_cm || headspace_cm)) {
      problems_.add(table_.problem_at(row_, volume_.column(),
                                      fmt::format("both {} and a dimension", volume_.name()),
                                      "a volume, which scales the named pot, or dimensions"));
      return false;
    }
    if (top_cm && !pot.shape.is_round()) {
      problems_.add(table_.problem_at(row_, top_diameter_.column(),
                                      fmt::format("{} for a rectangular pot", top_diameter_.name()),
                                      "a round pot, or the volume instead"));
      return false;
    }
    if (height_cm || top_cm) {
      const PotShape& old = pot.shape;
      const double top = top_cm.value_or(old.top_length_cm());
      const double widening = top / old.top_length_cm();
      const double height = height_cm.value_or(old.height_cm());
      pot.shape = old.is_round() ? PotShape::round(top, old.bottom_length_cm() * widening, height)
                                 : PotShape::rectangular(old.top_length_cm(), old.top_width_cm(),
                                                         old.bottom_length_cm(),
                                                         old.bottom_width_cm(), height);
    }
    if (headspace_cm) pot.headspace_cm = *headspace_cm;
    if (height_cm || top_cm || headspace_cm) pot.mix_low_l = pot.mix_high_l = 0.0;
    if (pot.mix_depth_cm() <= 0.0 || pot.drain_level_cm >= pot.mix_depth_cm()) {
      complain("pot",
               fmt::format("a pot {} cm high with {} cm headspace", pot.shape.height_cm(),
                           pot.headspace_cm),
               "room for mix above the drain holes");
      return false;
    }
    if (volume_l) pot = pot.scaled_to(*volume_l);
    return true;
  }

  /// A canopy the gardener measured replaces the crop's: leaves go with the plan area, so that
  /// density stays the crop's own.
  static void size_plant(const Given& given, Crop& crop) {
    if (const auto diameter = given.canopy_diameter_m) {
      const double ratio = *diameter / crop.canopy_diameter_m.value;
      crop.canopy_diameter_m = {*diameter, *diameter, *diameter};
      crop.leaf_area_m2.value *= ratio * ratio;
      crop.leaf_area_m2.low *= ratio * ratio;
      crop.leaf_area_m2.high *= ratio * ratio;
    }
    if (const auto height = given.canopy_height_m) {
      crop.crown_height_m = {*height, *height, *height};
    }
    if (const auto ball = given.root_ball_l) {
      crop.root_ball_l = *ball;
    }
  }

  /// A mix that holds nothing for plants in this pot leaves nothing to account for.
  void check_water(const Planting& planting) {
    const double refill_share = catalogue_.parameters.refill_share;
    if (held_water(planting.pot, planting.mix, refill_share).available_l() > 0.0) return;
    complain("mix",
             fmt::format("{}, which holds no water that plants can use in this pot",
                         in_quotes(planting.mix.name)),
             "a mix that holds water");
  }

  void complain(std::string_view column, std::string found, std::string expected) {
    problems_.add(
        table_.problem_at(row_, *table_.column(column), std::move(found), std::move(expected)));
  }

  const CsvTable& table_;
  const Catalogue& catalogue_;
  ProblemList problems_;
  std::size_t row_ = 0;
  std::unordered_set<std::string_view> names_;  // of the rows so far, in the table
  NumberColumn volume_, height_, top_diameter_, headspace_, saucer_, canopy_diameter_,
      canopy_height_, root_ball_, threshold_, tare_;
};

}  // namespace

std::vector<Planting> read_garden(FileBytes file, const Catalogue& catalogue) {
  const CsvTable table(std::move(file));
  return Reader(table, catalogue).read();
}

const std::vector<std::string>& garden_columns() {
  static const std::vector<std::string> names = [] {
    std::vector<std::string> result{
        "name",  "crop", "pot",   "mix",  "plants",   "planted", "spot",    "routine",
        "count", "wall", "mulch", "ends", "hardened", "pruned",  "harvest", "threshold_fraction"};
    add_names(result, "volume", unit_options::volume());
    add_names(result, "height", unit_options::length_cm());
    add_names(result, "top_diameter", unit_options::length_cm());
    add_names(result, "headspace", unit_options::length_cm());
    add_names(result, "saucer", unit_options::volume());
    add_names(result, "canopy_diameter", unit_options::length_m());
    add_names(result, "canopy_height", unit_options::length_m());
    add_names(result, "root_ball", unit_options::volume());
    add_names(result, "tare", unit_options::mass());
    return result;
  }();
  return names;
}

}  // namespace wiltline

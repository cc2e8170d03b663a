// What a row of the rules runs: a planting, its place and its weather, as `name=value; name=value`.
#pragma once

#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "wiltline/questions/season.hpp"

namespace wiltline::test {

/// The names are a garden's columns, and besides
///   weather              a file of weather-samples/, without .csv
///   rain                 no: the record without its rain
///   kcb, diameter_m, crown_m, leaf_m2, days_to_full, preferred_l, plants_per_pot
///                        of the crop, in place of its table's
///   wall_share           of the wall, in place of its table's
/// and what a measure asks for (measures.hpp).
class Setting {
 public:
  /// Throws on a name twice or unknown.
  explicit Setting(std::string_view text);
  /// The same with some values changed.
  [[nodiscard]] Setting with(std::string_view changes) const;

  [[nodiscard]] std::optional<std::string> text(const std::string& name) const;
  [[nodiscard]] std::optional<double> number(const std::string& name) const;
  void set(const std::string& name, const std::string& value) { values_[name] = value; }

  [[nodiscard]] Planting planting() const;
  [[nodiscard]] const WeatherRecord& record() const;
  /// A season for each planting day of the record, with its ledger.
  [[nodiscard]] std::vector<SeasonResult> seasons(const Planting& planting) const;

 private:
  std::map<std::string, std::string> values_;
};

}  // namespace wiltline::test

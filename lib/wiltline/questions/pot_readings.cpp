#include "wiltline/questions/pot_readings.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <iterator>
#include <map>
#include <tuple>
#include <unordered_map>
#include <utility>

#include "wiltline/base/errors.hpp"
#include "wiltline/base/text.hpp"
#include "wiltline/base/units.hpp"
#include "wiltline/budget/state_correction.hpp"
#include "wiltline/questions/named_rows.hpp"
#include "wiltline/questions/reading_errors.hpp"

namespace wiltline {
namespace {

/// A row of either file.
struct Row {
  std::string name;
  std::optional<Instant> when;
  double weight_kg = 0.0;
  bool after = false;
  std::optional<bool> top_dry;
  std::optional<bool> wilting;
};

Fields<Row> named_instant() {
  Fields<Row> fields;
  fields.text("name", &Row::name, Need::value, name_example)
      .field(
          "when", Need::value, [](const Cell& cell, Row& row) { row.when = cell.instant(); },
          instant_example);
  return fields;
}

Fields<Row>::Put yes_no(std::optional<bool> Row::*into) {
  return [into](const Cell& cell, Row& row) {
    constexpr std::array<std::string_view, 2> words{"no", "yes"};
    if (const auto at = cell.choice(words, "yes, no or nothing")) row.*into = *at == 1;
  };
}

/// Lists of readings, and where the rows of a file put theirs.
class Readings {
 public:
  explicit Readings(const ReadingsOf& of) : of_(of), names_(of.garden) {
    if (!of.now && of.weather == nullptr) {
      throw RequestError("found no weather for readings; expected a record, or now of a forecast");
    }
    for (const Planting& planting : of.garden) all_.push_back({&planting, {}});
  }

  /// The planting of a row that can be used; null, after reporting the fault, of one that cannot.
  const Planting* planting_of(TableRows& rows, const Row& row) {
    const Planting* const planting = names_.named(rows);
    if (planting == nullptr || !row.when) return nullptr;
    if (of_.now) {
      if (*row.when <= *of_.now) return planting;
      rows.complain("when", fmt::format("{} after now", to_string(*row.when)),
                    fmt::format("a time up to {}", to_string(*of_.now)));
      return nullptr;
    }
    const WeatherRecord& weather = *of_.weather;
    if (!weather.contains(row.when->date)) {
      rows.complain("when", fmt::format("{} outside the weather", to_string(*row.when)),
                    fmt::format("a time from {} to {}", to_string(weather.first()),
                                to_string(weather.last())));
      return nullptr;
    }
    const auto planted = growing_since(*planting, row.when->date, weather.first(), of_.growth);
    if (!planted || !weather.contains(*planted)) {
      rows.complain("when",
                    fmt::format("{} at {}, when it does not grow or was planted before the weather "
                                "begins",
                                in_quotes(planting->name), to_string(*row.when)),
                    "a time between its planting and its end, in weather from planting on");
      return nullptr;
    }
    return planting;
  }

  void add(const Planting& planting, Reading reading) {
    all_[static_cast<std::size_t>(&planting - of_.garden.data())].readings.push_back(
        std::move(reading));
  }

  std::vector<PotReadings> take() { return std::move(all_); }

 private:
  const ReadingsOf& of_;
  ByName names_;
  std::vector<PotReadings> all_;
};

double middle_of(std::vector<double> numbers) {
  const auto middle = numbers.begin() + static_cast<std::ptrdiff_t>(numbers.size() / 2);
  std::nth_element(numbers.begin(), middle, numbers.end());
  return *middle;
}

double expected_kg(const Planting& planting, const ModelParameters& model) {
  const PotParameters pot = build_pot(planting, model);
  double leaf_m2 = planting.plants * planting.crop.leaf_area_m2.value;
  for (const CropPlants& one : planting.beside) leaf_m2 += one.plants * one.crop.leaf_area_m2.value;
  return planting.tare_kg.value_or(reading_errors::empty_kg_per_l * pot.mix_l) +
         dry_mix_kg(planting.mix, pot.mix_l) + pot.refilled_l - pot.total_available_l / 2.0 +
         reading_errors::plant_kg_per_leaf_m2 * leaf_m2;
}

}  // namespace

std::vector<PotReadings> read_weighings(FileBytes file, const ReadingsOf& of) {
  constexpr double scales_differ_kg = 0.2;
  if (of.model == nullptr) throw RequestError("found no model for weighings; expected one");
  Fields<Row> fields = named_instant();
  fields
      .number("weight", unit_options::mass, Need::value, &Row::weight_kg,
              {0.001, heaviest_pot_kg, "0.001 to 100000 kg"})
      .choice("watering", {"before", "after"}, &Row::after, Need::nothing,
              "before (the watering at that time), after or nothing (before)");
  TableRows rows(std::move(file));
  Readings readings(of);
  // Where each weighing stood, and what it was.
  std::map<std::tuple<const Planting*, Instant, bool>, std::pair<std::size_t, double>> known;
  fields.read(rows, [&](const Row& row) {
    const Planting* const planting = readings.planting_of(rows, row);
    if (planting == nullptr || row.weight_kg <= 0.0) return;
    const char* const column = rows.table().column("weight_kg") ? "weight_kg" : "weight_lb";
    if (planting->tare_kg && row.weight_kg < *planting->tare_kg) {
      rows.complain(column, *weight_fault(*planting, *of.model, row.weight_kg));
      return;
    }
    if (!planting->tare_kg) {
      constexpr double lightest_mix = 0.5;  // of the tables': mixes and how full a pot is differ
      const double dry_kg =
          lightest_mix * dry_mix_kg(planting->mix, build_pot(*planting, *of.model).mix_l);
      if (row.weight_kg < dry_kg) {
        rows.complain(column,
                      fmt::format("{:.4g} kg, less than half of what the dry mix of {} weighs",
                                  row.weight_kg, in_quotes(planting->name)),
                      fmt::format("{:.3g} kg or more, pot and all", dry_kg));
        return;
      }
    }
    if (const auto fault = overweight(*planting, *of.model, row.weight_kg)) {
      rows.complain(column, *fault);
      return;
    }
    const auto [at, is_new] = known.emplace(std::tuple(planting, *row.when, row.after),
                                            std::pair(rows.line(), row.weight_kg));
    if (!is_new && std::abs(at->second.second - row.weight_kg) > scales_differ_kg) {
      rows.complain(column,
                    fmt::format("{:.4g} kg, where line {} has {:.4g} kg of {} at the same time",
                                row.weight_kg, at->second.first, at->second.second,
                                in_quotes(planting->name)),
                    "one weight, or before and after in a column watering");
      return;
    }
    if (!is_new) return;  // weighed twice, it says no more than once
    readings.add(*planting,
                 {.when = *row.when,
                  .kind = row.after ? ReadingKind::weighed_after : ReadingKind::weighed_before,
                  .weight_kg = row.weight_kg});
  });
  return readings.take();
}

std::vector<PotReadings> read_sightings(FileBytes file, const ReadingsOf& of) {
  Fields<Row> fields = named_instant();
  fields.field("top_dry", Need::nothing, yes_no(&Row::top_dry))
      .field("wilting", Need::nothing, yes_no(&Row::wilting));
  TableRows rows(std::move(file));
  Readings readings(of);
  fields.read(rows, [&](const Row& row) {
    const Planting* const planting = readings.planting_of(rows, row);
    if (planting == nullptr) return;
    if (!row.top_dry && !row.wilting) {
      rows.complain("when", "nothing seen", "yes or no in a column top_dry or wilting");
      return;
    }
    const auto add = [&](const std::optional<bool>& seen, ReadingKind yes, ReadingKind no) {
      if (seen) readings.add(*planting, {.when = *row.when, .kind = *seen ? yes : no});
    };
    add(row.top_dry, ReadingKind::top_felt_dry, ReadingKind::top_felt_moist);
    add(row.wilting, ReadingKind::wilted, ReadingKind::not_wilted);
  });
  return readings.take();
}

std::optional<double> times_expected(std::span<const PotReadings> pots,
                                     const ModelParameters& model) {
  std::vector<double> times;
  for (const PotReadings& pot : pots) {
    check_readings(pot.planting, pot.readings);
    std::vector<double> weights;
    for (const Reading& one : pot.readings) {
      if (one.weighed()) weights.push_back(one.weight_kg);
    }
    if (weights.empty()) continue;
    times.push_back(middle_of(std::move(weights)) / expected_kg(*pot.planting, model));
  }
  return times.empty() ? std::nullopt : std::optional(middle_of(std::move(times)));
}

void check_readings(const Planting* planting, std::span<const Reading> readings) {
  if (planting == nullptr) throw RequestError("found no planting; expected one for its readings");
  const auto expect = [&](bool holds, double found, const char* what, const char* expected) {
    if (holds) return;
    throw RequestError(
        fmt::format("{}: found {:g} {}; expected {}", planting->name, found, what, expected));
  };
  const auto within = [](double found, double most) { return found >= 0.0 && found <= most; };
  for (const Reading& one : readings) {
    expect(within(one.when.hour, units::hours_per_day), one.when.hour, "as the hour of a reading",
           "0 to 24");
    expect(!one.weighed() || (one.weight_kg > 0.0 && one.weight_kg <= heaviest_pot_kg),
           one.weight_kg, "kg as a weight", "more than 0 and up to 100000");
    for (const std::optional<double>& litres : {one.given_l, one.drained_l}) {
      expect(within(litres.value_or(0.0), most_given_l), litres.value_or(0.0),
             "litres of a watering", "0 to 10000");
    }
  }
}

void add_readings(std::vector<PotReadings>& readings, std::vector<PotReadings> more) {
  const auto of_one = [](const PotReadings& a, const PotReadings& b) {
    return a.planting == b.planting;
  };
  if (!std::equal(readings.begin(), readings.end(), more.begin(), more.end(), of_one)) {
    throw RequestError("found readings of other plantings; expected a list for each of the same");
  }
  for (std::size_t i = 0; i < readings.size(); ++i) {
    std::vector<Reading>& to = readings[i].readings;
    to.insert(to.end(), std::make_move_iterator(more[i].readings.begin()),
              std::make_move_iterator(more[i].readings.end()));
  }
}

void add_log(std::vector<PotReadings>& readings, std::span<const LogEntry> log) {
  std::unordered_map<std::string_view, PotReadings*> of;
  for (PotReadings& one : readings) {
    check_readings(one.planting, {});
    of.emplace(one.planting->name, &one);
  }
  for (const LogEntry& entry : log) {
    if (of.contains(entry.name)) continue;
    throw RequestError(
        fmt::format("found a watering of {}; expected one of a planting that has "
                    "readings",
                    in_quotes(entry.name)));
  }
  for (const LogEntry& entry : log) {
    of.at(entry.name)
        ->readings.push_back({.when = entry.event.when,
                              .kind = ReadingKind::watered,
                              .given_l = entry.event.amount,
                              .drained_l = entry.drained_l});
  }
}

}  // namespace wiltline

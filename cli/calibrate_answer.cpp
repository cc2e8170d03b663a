#include "calibrate_answer.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "page/page.hpp"
#include "reading_options.hpp"
#include "words.hpp"

namespace wiltline::cli {
namespace {

using enum Quantity;
using R = const CalibrationRow&;

std::string outliers_text(const PotCalibration& pot) {
  std::vector<std::string> times;
  for (const Outlier& one : pot.outliers) times.push_back(to_string(one.when));
  return fmt::format("{}", fmt::join(times, " "));
}

constexpr Column<CalibrationRow> calibration_list[]{
    {"name", "planting", [](R row) { return row.pot->planting->name; }},
    {"crop", "crop", [](R row) { return crop_text(*row.pot->planting); }},
    {"parameter",
     "use_factor: on what the tables say the plants use; usable_l: litres between refilled and the "
     "lower limit; tare_kg: the empty pot; wall_factor: on what evaporates through the wall",
     [](R row) { return row.estimate->parameter; }},
    {"prior", number, 3, "by the tables", [](R row) { return row.estimate->prior.value; }},
    {"prior_low", number, 3, "the same: 19 in 20 are higher",
     [](R row) { return row.estimate->prior.low; }},
    {"prior_high", number, 3, "19 in 20 are lower", [](R row) { return row.estimate->prior.high; }},
    {"estimate", number, 3, "by the tables and the readings",
     [](R row) { return row.estimate->estimate.value; }},
    {"low", number, 3, "the same: 19 in 20 are higher",
     [](R row) { return row.estimate->estimate.low; }},
    {"high", number, 3, "19 in 20 are lower", [](R row) { return row.estimate->estimate.high; }},
    {"learned", number, 3, "share of the prior's variance that the readings removed",
     [](R row) { return row.estimate->learned; }},
    {"outliers", "times of the planting's readings that do not fit, separated by spaces",
     [](R row) { return outliers_text(*row.pot); }},
    {"standard_error", number, 3, "of the estimate",
     [](R row) { return row.estimate->standard_error; }},
};

constexpr double percent = 100.0;

/// False where a figure stays as the tables have it.
bool learned(const Estimate& estimate) {
  return estimate.learned >= least_learned;
}
const Ranged& known(const Estimate& estimate) {
  return learned(estimate) ? estimate.estimate : estimate.prior;
}

std::string use_sentence(const PotCalibration& pot) {
  const Estimate& use = pot.of("use_factor");
  const Ranged& factor = known(use);
  const std::string name = shown_name(*pot.planting);
  const double sure_to = percent * (factor.high - factor.low) / 2.0 / factor.value;
  if (!learned(use)) {
    return fmt::format(
        "{}: nothing learned of what it drinks; the table's figure holds, to ± {:.0f} %.", name,
        sure_to);
  }
  constexpr double alike = 0.05;
  const std::string drinks = std::abs(factor.value - 1.0) < alike
                                 ? "drinks what the table says"
                                 : fmt::format("drinks {:.2f} times the table", factor.value);
  return fmt::format("{}: your {} {}; sure to ± {:.0f} %.", name,
                     crop_in_words(crop_text(*pot.planting)), drinks, sure_to);
}

std::string outlier_sentence(const PotCalibration& pot, const Outlier& outlier, bool us) {
  const std::string misfit =
      fmt::format("{}, {}: {}", shown_name(*pot.planting), instant_in_words(outlier.when),
                  misfit_text(outlier.kind, outlier.off_kg, us));
  if (outlier.mistyped) return misfit + " by the readings before and after it; mistyped?";
  if (outlier.off_kg == 0.0) return misfit + ".";
  return fmt::format("{}; {}", misfit, weight_causes(outlier.off_kg));
}

/// What is taken off the variance of how long the pot lasts.
double gain(const PotCalibration& pot) {
  return std::pow(pot.lasting_error, 2) - std::pow(pot.lasting_error_then, 2);
}

/// What stays as the tables have it is for CSV alone.
bool told(const PotCalibration& pot) {
  return pot.readings > 0 || learned(pot.of("use_factor"));
}

const PotCalibration* most_to_learn(const CalibrationResult& result) {
  const auto found = std::ranges::max_element(result.pots, {}, gain);
  return found == result.pots.end() || gain(*found) <= 0.0 ? nullptr : &*found;
}

std::string measure_next(const PotCalibration& pot) {
  const std::string name = shown_name(*pot.planting);
  std::string what;
  switch (pot.next) {
    case NextMeasure::hot_day:
      what = fmt::format(
          "on a hot day weigh {} in the morning after watering it, and again in the evening before "
          "watering",
          name);
      break;
    case NextMeasure::until_wilting:
      what = fmt::format(
          "let {} dry until its leaves first hang in the daytime, write down when (wilting yes), "
          "weigh it then, water it until it drains and weigh it again",
          name);
      break;
    case NextMeasure::empty_pot:
      what = fmt::format(
          "weigh an empty pot like that of {} and write it into the garden (tare_kg)", name);
      break;
  }
  const auto sure = [](double error) { return percent * nine_in_ten_errors * error; };
  return fmt::format(
      "To learn most: {}. How long it lasts once watered is sure to ± {:.0f} %; that would make it "
      "about ± {:.0f} %.",
      what, sure(pot.lasting_error), sure(pot.lasting_error_then));
}

}  // namespace

std::vector<CalibrationRow> calibration_rows(const CalibrationResult& result) {
  std::vector<CalibrationRow> rows;
  for (const PotCalibration& pot : result.pots) {
    for (const Estimate& estimate : pot.estimates) rows.push_back({&pot, &estimate});
  }
  return rows;
}

Table<CalibrationRow> calibration_table() {
  Table<CalibrationRow> table;
  table.add(calibration_list);
  return table;
}

std::string calibration_text(const CalibrationResult& result, const Report& report, bool us) {
  std::vector<CalibrationRow> rows;
  for (R row : calibration_rows(result)) {
    if (told(*row.pot)) rows.push_back(row);
  }
  std::string out;
  const PotCalibration* last = nullptr;
  for (R row : rows) {
    if (row.pot != last) out += paragraph(use_sentence(*row.pot));
    last = row.pot;
  }
  if (rows.empty()) out += paragraph("Nothing was learned: the tables' figures hold.");
  const auto shown = [&](R row, double value) {
    const std::string_view name = row.estimate->parameter;
    if (name == "usable_l") return rough(in_units(litres, value, us));
    if (name == "tare_kg") return rough(in_units(mass_kg, value, us));
    return fmt::format("{:.2f}", value);
  };
  const auto range = [&](R row, const Ranged& of) {
    return fmt::format("{} ({}–{})", shown(row, of.value), shown(row, of.low), shown(row, of.high));
  };
  const auto what = [&](R row) {
    const std::string_view name = row.estimate->parameter;
    if (name == "use_factor") return std::string("use, times the table");
    if (name == "usable_l") return fmt::format("usable water, {}", unit_text(litres, us));
    if (name == "tare_kg") return fmt::format("empty pot, {}", unit_text(mass_kg, us));
    return std::string("wall, times the table");
  };
  using enum Side;
  const std::vector<TextColumn<CalibrationRow>> columns{
      {"planting", left, [](R row) { return shown_name(*row.pot->planting); }},
      {"what", left, what},
      {"by the tables\n(9 in 10)", right, [&](R row) { return range(row, row.estimate->prior); }},
      {"by your readings\n(9 in 10)", right,
       [&](R row) {
         return learned(*row.estimate) ? range(row, row.estimate->estimate) : "as the tables";
       }},
      {"learned", right,
       [](R row) { return fmt::format("{:.0f} %", percent * row.estimate->learned); }},
      {"readings", right, [](R row) { return fmt::format("{}", row.pot->readings); }}};
  if (!rows.empty()) out += '\n' + text_table(columns, rows) + '\n';
  bool weight_outlies = false;
  for (const PotCalibration& pot : result.pots) {
    for (const Outlier& one : pot.outliers) {
      out += paragraph(outlier_sentence(pot, one, us));
      weight_outlies = weight_outlies || is_weighing(one.kind);
    }
  }
  if (weight_outlies) {
    out += paragraph(fmt::format(
        "A weight is named where it is further off than {} times what is usual here, by all "
        "readings together; forecast, which uses only earlier readings, doubts fewer.",
        outlying_weight));
  }
  if (const PotCalibration* const pot = most_to_learn(result)) out += paragraph(measure_next(*pot));
  return out + notes_text(report);
}

void add_calibration_pictures(const CalibrationResult& result, bool us, Report& report) {
  report.title = "What your own pots say";
  std::vector<PotWeights> weighed;
  std::vector<RangeRow> uses;
  for (const PotCalibration& pot : result.pots) {
    const std::string name = shown_name(*pot.planting);
    if (std::ranges::any_of(pot.account, [](const AccountPoint& one) {
          return one.kind != ReadingKind::watered;
        })) {
      weighed.push_back({name, &pot.account});
    }
    if (!told(pot)) continue;
    report.answer += (report.answer.empty() ? "" : " ") + use_sentence(pot);
    const Ranged& use = known(pot.of("use_factor"));
    uses.push_back({.label = name,
                    .value = use.value,
                    .low = use.low,
                    .high = use.high,
                    .text = fmt::format("{:.2f} ({:.2f}–{:.2f})", use.value, use.low, use.high)});
  }
  if (!weighed.empty()) {
    report.pictures.push_back(weights_picture(
        {"Your weights and the account",
         "What each pot weighed, and what its account foretold from the weighing before."},
        weighed, us));
  }
  if (!uses.empty()) {
    report.pictures.push_back(
        ranges_picture({"What they drink, times the table",
                        "1 is what the tables say; bars hold the true figure in 9 of 10 cases."},
                       "times the table", uses));
  }
}

void add_calibration_notes(const CalibrationResult& result, Report& report) {
  const auto note_few = [&](std::size_t least, std::size_t most, std::string_view what) {
    const std::vector<std::string> few = names_where(
        result.pots,
        [&](const PotCalibration& pot) { return pot.readings >= least && pot.readings <= most; },
        [](const PotCalibration& pot) { return pot.planting->name; });
    if (!few.empty()) report.notes.push_back(fmt::format("{}: {}", what, fmt::join(few, "; ")));
  };
  note_few(0, 1,
           "too few readings, so the tables' figures, moved at most by other pots of the crop");
  note_few(2, 3,
           "too few readings to tell, so that the next can move a figure as far as its range goes");
  for (const PotCalibration& pot : result.pots) {
    if (pot.after_its_end == 0) continue;
    report.notes.push_back(fmt::format("{}: {} reading{} left out, outside the time its crop grows",
                                       pot.planting->name, pot.after_its_end,
                                       pot.after_its_end == 1 ? "" : "s"));
  }
  if (!result.converged) {
    report.notes.emplace_back(
        "the fit did not settle: the figures are the best found, and may be off");
  }
}

}  // namespace wiltline::cli

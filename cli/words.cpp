#include "words.hpp"
#include "report.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <string_view>
#include <variant>

#include "texts.hpp"
#include "wiltline/base/fields.hpp"
#include "wiltline/questions/range_of_use.hpp"

namespace wiltline::cli {
namespace {

/// A row of input_words.csv.
struct InputWords {
  std::string name;
  std::string words;
  std::string measure;  // what to do to know it better
};
const std::vector<InputWords>& input_words() {
  static const std::vector<InputWords> all = [] {
    std::vector<InputWords> result;
    TableRows rows(program_texts().at("input_words.csv"));
    Fields<InputWords>()
        .text("name", &InputWords::name)
        .text("words", &InputWords::words)
        .text("measure", &InputWords::measure, Need::column)
        .read(rows, [&](InputWords one) { result.push_back(std::move(one)); });
    return result;
  }();
  return all;
}

/// The unit an amount is told in.
struct VolumeUnit {
  std::string_view name;
  double per_litre;
};

VolumeUnit volume_unit(double litres, bool us) {
  constexpr double ml_per_l = 1000.0;
  constexpr double fl_oz_per_gallon = 128.0;
  constexpr double rounds_to_one = 0.995;
  constexpr double rounds_to_half = 0.495;
  const double per_litre = in_units(Quantity::litres, 1.0, us);
  if (litres <= 0.0 || litres * per_litre >= (us ? rounds_to_half : rounds_to_one)) {
    return {unit_text(Quantity::litres, us), per_litre};
  }
  return us ? VolumeUnit{"fl oz", per_litre * fl_oz_per_gallon} : VolumeUnit{"mL", ml_per_l};
}

}  // namespace

std::string rough(double value) {
  if (value <= 0.0) return "0";
  if (value >= 99.5) {
    const double step = std::pow(10.0, std::floor(std::log10(value)) - 1.0);
    return fmt::format("{:.0f}", std::round(value / step) * step);
  }
  const int digits = value >= 9.95 ? 0 : value >= 0.995 ? 1 : 2;
  return fmt::format("{:.{}f}", value, digits);
}

std::string volume_text(double litres, bool us) {
  return volume_range_text(litres, litres, us);
}

std::string volume_range_text(double low_l, double high_l, bool us) {
  const VolumeUnit unit = volume_unit(high_l, us);
  const std::string low = rough(low_l * unit.per_litre);
  const std::string high = rough(high_l * unit.per_litre);
  return fmt::format("{}{} {}", low == high ? "" : low + "–", high, unit.name);
}

std::string volume_text_beside(double litres, double high_l, bool us) {
  const VolumeUnit unit = volume_unit(high_l, us);
  return fmt::format("{} {}", rough(litres * unit.per_litre), unit.name);
}

std::string use_text(double litres, bool us) {
  const Ranged range = range_of_use(litres);
  return volume_range_text(range.low, range.high, us);
}

std::string_view month_name(unsigned month) {
  static constexpr std::array<std::string_view, 12> names{
      "January", "February", "March",     "April",   "May",      "June",
      "July",    "August",   "September", "October", "November", "December"};
  return names[month - 1];
}

std::string_view short_month_name(unsigned month) {
  constexpr std::size_t letters = 3;
  return month_name(month).substr(0, letters);
}

std::string date_in_words(Date date) {
  const std::chrono::year_month_day civil{date};
  return fmt::format("{} {}", static_cast<unsigned>(civil.day()), short_month_name(month_of(date)));
}

std::string full_date_in_words(Date date) {
  return fmt::format("{} {}", date_in_words(date), year_of(date));
}

std::string instant_in_words(const Instant& instant) {
  return fmt::format("{}, {}", full_date_in_words(instant.date), clock_string(instant.hour));
}

std::string planted_in_words(const PlantingDay& planted) {
  if (const auto* date = std::get_if<Date>(&planted)) return full_date_in_words(*date);
  constexpr int a_leap_year = 2024;
  return date_in_words(std::get<MonthDay>(planted).in_year(a_leap_year).value());
}

bool comes_daily(const Routine& routine) {
  return routine.as_needed || routine.days == VisitDays::daily;
}

std::string first_weeks(const std::optional<Date>& settled, const Routine& routine) {
  const std::string until = settled
                                ? fmt::format("until {}", date_in_words(*settled))
                                : std::string("to the end, for its roots never hold half the mix");
  return comes_daily(routine)
             ? fmt::format("it wilts in its first weeks: shade it or water more often {}", until)
             : fmt::format("in its first weeks water daily {}", until);
}

std::string young_roots_text() {
  return "A young plant has little but the water of its root ball: a bigger pot hardly helps, "
         "and roots take longer to hold half of it.";
}

std::string counted(int number, std::string_view thing) {
  return fmt::format("{} {}{}", number, thing, number == 1 ? "" : "s");
}

std::string days_in_words(int days) {
  return counted(days, "day");
}

std::string crop_in_words(std::string_view crop) {
  constexpr std::string_view of_table = "tomato dwarf";
  std::string words = printable(crop);
  if (const std::size_t at = words.find(of_table); at != std::string::npos) {
    words.replace(at, of_table.size(), "dwarf tomato");
  }
  return words;
}

std::string joined_or(std::string_view none, const std::vector<std::string>& names,
                      std::string_view between) {
  return names.empty() ? std::string(none) : fmt::format("{}", fmt::join(names, between));
}

std::string paragraph_of(std::string_view what, const std::vector<std::string>& names,
                         std::string_view between) {
  if (names.empty()) return "";
  return paragraph(fmt::format("{}: {}.", what, fmt::join(names, between)));
}

std::string count_or_dash(int count) {
  return count == 0 ? "-" : fmt::format("{}", count);
}

std::string yes_no(bool yes) {
  return yes ? "yes" : "no";
}

std::string caution_text(std::string_view before) {
  return fmt::format(
      "These are estimates: check the mix by hand before {}, and follow local water rules.",
      before);
}

std::string_view part_of_day(double clock_h) {
  if (clock_h < 5.0 || clock_h >= 22.0) return "night";
  if (clock_h < 12.0) return "morning";
  return clock_h < 18.0 ? "afternoon" : "evening";
}

std::string stress_wilting_dry_text() {
  return "Stress: growth slows. Wilting: leaves droop by day and usually recover. Dry: roots "
         "cannot "
         "draw enough, expect damage.";
}

std::string two_figures_text() {
  return "Use is given as two figures: 8 in 10 such pots lie between them, as plant size, shelter "
         "and mix differ. Weigh a pot morning and evening to narrow them.";
}

std::string heavy_pots_text(bool us) {
  return fmt::format(
      "A wet pot is heavy: {} of wet mix weighs up to about {}. On a balcony or roof ask what the "
      "floor "
      "may carry before you take a bigger one.",
      us ? "a gallon" : "a litre", us ? "8 pounds" : "a kilogram");
}

std::string standing_water_text() {
  return "Water that stands for days drowns roots and breeds mosquitoes: fill a saucer no further "
         "than the plant empties it within a day, except for days away, and empty it after rain.";
}

std::vector<std::string> lines_of(std::string_view text) {
  std::vector<std::string> lines;
  while (!text.empty()) {
    const std::size_t end = std::min(text.find('\n'), text.size());
    lines.emplace_back(text.substr(0, end));
    text.remove_prefix(std::min(end + 1, text.size()));
  }
  return lines;
}

std::string term_in_words(std::string_view name) {
  for (const InputWords& known : input_words()) {
    if (known.name == name) return known.words;
  }
  std::string words(name);
  std::ranges::replace(words, '_', ' ');
  return words;
}

std::string_view how_to_measure(std::string_view input) {
  for (const InputWords& known : input_words()) {
    if (!known.measure.empty() && input.starts_with(known.name)) return known.measure;
  }
  return {};
}

std::string shown_name(const Planting& planting) {
  const std::string name = printable(planting.name);
  return planting.count == 1 ? name : fmt::format("{} ×{}", name, planting.count);
}

}  // namespace wiltline::cli

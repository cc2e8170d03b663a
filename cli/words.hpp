// Numbers and days as people are told them.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "wiltline/base/date.hpp"
#include "wiltline/garden/planting.hpp"

namespace wiltline::cli {

/// Two significant digits.
[[nodiscard]] std::string rough(double value);

/// An amount in two digits with its unit behind it: litres, below one of them mL, such as 4.5 L,
/// 320 mL; us: gallons, below half of one fl oz. In a table too: its columns hold both.
[[nodiscard]] std::string volume_text(double litres, bool us);
/// A range in the unit of its upper end, such as 0.8–1.3 L; one amount if both ends read alike.
[[nodiscard]] std::string volume_range_text(double low_l, double high_l, bool us);
/// An amount in the unit of the range it stands beside, whose upper end is `high_l`.
[[nodiscard]] std::string volume_text_beside(double litres, double high_l, bool us);
/// A use as the two figures between which it lies in 8 cases of 10.
[[nodiscard]] std::string use_text(double litres, bool us);

/// The name of a month, 1 to 12.
[[nodiscard]] std::string_view month_name(unsigned month);
/// The same in three letters.
[[nodiscard]] std::string_view short_month_name(unsigned month);

/// A day without its year, such as 14 Jul.
[[nodiscard]] std::string date_in_words(Date date);

/// A day with its year, such as 14 Jul 2021.
[[nodiscard]] std::string full_date_in_words(Date date);

/// A day and hour, such as 14 Jul 2021, 09:00.
[[nodiscard]] std::string instant_in_words(const Instant& instant);

/// When something is planted: 14 Jul 2021, or 14 Jul of every year.
[[nodiscard]] std::string planted_in_words(const PlantingDay& planted);

/// A number of things: "1 visit", "3 visits".
[[nodiscard]] std::string counted(int number, std::string_view thing);

/// A number of days: "1 day", "3 days".
[[nodiscard]] std::string days_in_words(int days);

/// True if somebody comes every day, or whenever the pot asks.
[[nodiscard]] bool comes_daily(const Routine& routine);
/// What to do until a planting has settled in: "in its first weeks water daily until 12 Jun", or
/// more where that is done already. No day: it does not settle in before its season ends.
[[nodiscard]] std::string first_weeks(const std::optional<Date>& settled, const Routine& routine);
/// Why the first weeks are hard, in a big pot too.
[[nodiscard]] std::string young_roots_text();

/// The lines of a text; a line end at its end begins no other.
[[nodiscard]] std::vector<std::string> lines_of(std::string_view text);

/// A drawn input or an answer as people read it (input_words.csv).
[[nodiscard]] std::string term_in_words(std::string_view name);
/// What a gardener can do to know an input better; empty if nothing simple is known.
[[nodiscard]] std::string_view how_to_measure(std::string_view input);

/// A crop as one speaks of it: of "tomato dwarf", which stands so to be found beside tomato, "dwarf
/// tomato".
[[nodiscard]] std::string crop_in_words(std::string_view crop);

/// The names of those for which `belongs` is true, each as `named` has it.
template <typename Row, typename Belongs, typename Name>
[[nodiscard]] std::vector<std::string> names_where(const std::vector<Row>& rows,
                                                   const Belongs& belongs, const Name& named) {
  std::vector<std::string> names;
  for (const Row& row : rows) {
    if (belongs(row)) names.push_back(named(row));
  }
  return names;
}
/// Names with something between them, or a word for none.
[[nodiscard]] std::string joined_or(std::string_view none, const std::vector<std::string>& names,
                                    std::string_view between);
/// A paragraph that says something of names: "Went dry: basil; sage."; nothing without any.
[[nodiscard]] std::string paragraph_of(std::string_view what, const std::vector<std::string>& names,
                                       std::string_view between = "; ");

/// A count in a table: none is a dash.
[[nodiscard]] std::string count_or_dash(int count);

[[nodiscard]] std::string yes_no(bool yes);

/// What goes with every answer that people may water by. `before`: you water, you leave.
[[nodiscard]] std::string caution_text(std::string_view before);

/// What days of stress, of wilting and dry ones are.
[[nodiscard]] std::string stress_wilting_dry_text();

/// What an amount of use given as two figures means.
[[nodiscard]] std::string two_figures_text();

/// What to think of before taking a bigger pot.
[[nodiscard]] std::string heavy_pots_text(bool us);

/// What to think of where a saucer holds water.
[[nodiscard]] std::string standing_water_text();

/// Hours as people should read them: morning (from 05:00), afternoon (12:00), evening (18:00) or
/// night (22:00).
[[nodiscard]] std::string_view part_of_day(double clock_h);

/// A planting's name for a table, with the number of its pots if there are several.
[[nodiscard]] std::string shown_name(const Planting& planting);

}  // namespace wiltline::cli

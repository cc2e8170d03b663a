#include "wiltline/weather/reading.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <span>
#include <utility>

#include "wiltline/base/text.hpp"
#include "wiltline/base/units.hpp"
#include "wiltline/sun/sky_limit.hpp"
#include "wiltline/weather/own_text.hpp"
#include "wiltline/weather/plausible.hpp"
#include "wiltline/weather/translation.hpp"

namespace wiltline {
namespace {

/// What a row says beside its day: the temperatures may still be missing, and those of the day then
/// count for nothing. The days stand in a list of their own, which becomes the record's if none is
/// missing.
struct Row {
  Date date;
  bool tmin_known = false;
  bool tmax_known = false;

  [[nodiscard]] bool known() const { return tmin_known && tmax_known; }
};

}  // namespace

/// Makes a record of a table in our own format.
class WeatherReader {
 public:
  WeatherReader(const CsvTable& table, const WeatherReading& how)
      : table_(table),
        how_(how),
        date_(table, "date", unit_options::none, Need::column, problems_),
        numbers_(table) {
    for (const OwnColumn& own : own_columns) {
      columns_.emplace_back(table, own.stem, own.units,
                            own.element == nullptr ? Need::column : Need::nothing, problems_);
    }
  }

  WeatherRecord read() {
    table_.refuse_unknown_columns(weather_columns(), problems_);
    ProblemList wrong_site_lines;
    const SiteValues known =
        how_.site.or_else(site_from_comments(table_, wrong_site_lines)).or_else(how_.otherwise);
    wrong_site_lines.throw_if_any();  // a value that cannot be read is not also one that is missing
    const Site site =
        complete_site(known, of(WeatherQuantity::wind).present(), table_.file(), problems_);
    problems_.throw_if_any();  // without columns and a site no row can be judged
    SkyLimits skies(site.latitude_deg);
    want_numbers();
    // A file of millions of rows is no record; it may be refused at its second.
    constexpr std::size_t two_centuries = std::size_t{200} * 366;
    rows_.reserve(std::min(table_.rows(), two_centuries));
    observed_.reserve(std::min(table_.rows(), two_centuries));
    for (std::size_t i = 0; i < table_.rows() && !problems_.full(); ++i) read_row(i, skies);
    problems_.throw_if_any();
    std::vector<WeatherDay> days = join_rows(skies);
    problems_.throw_if_any();
    return WeatherRecord(WeatherRecord::CheckedRows(), skies, table_.file(), site,
                         rows_.front().date, std::move(days), of(WeatherQuantity::rain).present())
        .as_generated(says_generated(table_));
  }

 private:
  /// The column of a reading.
  [[nodiscard]] const NumberColumn& of(WeatherQuantity quantity) const {
    const auto found = std::ranges::find(own_columns, quantity, &OwnColumn::quantity);
    return columns_[static_cast<std::size_t>(found - own_columns.begin())];
  }

  /// The columns that are there, in the order in which they are read.
  void want_numbers() {
    for (std::size_t k = 0; k < own_columns.size(); ++k) {
      const OwnColumn& own = own_columns[k];
      if (!columns_[k].present()) continue;
      numbers_.add(columns_[k], {own.low, own.high, std::string(own.allowed)});
      if (own.element != nullptr) elements_.push_back(own.element);
    }
  }

  void read_row(std::size_t i, SkyLimits& skies) {
    const std::string_view date_text = table_.cell(i, date_.column());
    const auto date = parse_date(date_text);
    if (!date) {
      add(i, date_, date_text.empty() ? "nothing in date" : in_quotes(date_text),
          "a date that exists, as 2024-05-31");
      return;
    }
    observed_.push_back(nothing_observed_);
    WeatherDay& day = observed_.back();
    Row row{*date};
    const std::span<const double> numbers = numbers_.read(i, problems_);
    const auto take = [](double number, double& into) {
      if (std::isnan(number)) return false;
      into = number;
      return true;
    };
    row.tmin_known = take(numbers[0], day.tmin_c);
    row.tmax_known = take(numbers[1], day.tmax_c);
    for (std::size_t k = 0; k < elements_.size(); ++k) {
      if (const double number = numbers[k + 2]; !std::isnan(number)) day.*elements_[k] = number;
    }
    check_row(i, row, day, skies);
    check_order(i, row);
    rows_.push_back(row);
  }

  void check_row(std::size_t i, const Row& row, const WeatherDay& day, SkyLimits& skies) {
    const auto above = [&](WeatherQuantity one, WeatherQuantity other, std::string_view expected) {
      add(i, of(one), fmt::format("{} above {}", named(i, of(one)), named(i, of(other))),
          std::string(expected));
    };
    if (row.known() && day.tmin_c > day.tmax_c) {
      above(WeatherQuantity::tmin, WeatherQuantity::tmax,
            "the lowest temperature at or below the highest");
    }
    if (day.rh_min_pct && day.rh_max_pct && *day.rh_min_pct > *day.rh_max_pct) {
      above(WeatherQuantity::rh_min, WeatherQuantity::rh_max,
            "the lowest humidity at or below the highest");
    }
    if (day.dew_point_c && row.tmax_known && *day.dew_point_c > day.tmax_c + dew_point_slack_c) {
      above(WeatherQuantity::dew_point, WeatherQuantity::tmax,
            "a dew point at or below the highest temperature");
    }
    const SkyLimit& limit = skies.on(row.date);
    // Of days that will be filled nothing else is known to be wrong.
    if (row.known() && may_contradict(day)) {
      for (DayFault& one : contradictions(day, limit)) {
        add(i, of(one.quantity), std::move(one.fault.found), std::move(one.fault.expected));
      }
    }
    if (day.solar_mj_m2 && !limit.allows_radiation(*day.solar_mj_m2)) {
      add(i, of(WeatherQuantity::solar),
          fmt::format("{} in {}", text(i, of(WeatherQuantity::solar)),
                      of(WeatherQuantity::solar).name()),
          fmt::format(
              "at most the extraterrestrial {:.1f} MJ/m2 ({:.0f} W/m2) of that day and latitude",
              limit.radiation_mj_m2, limit.radiation_mj_m2 / units::mj_m2_per_w_m2_day));
    }
    if (day.sunshine_h && !limit.allows_sunshine(*day.sunshine_h)) {
      add(i, of(WeatherQuantity::sunshine),
          fmt::format("{} in {}", text(i, of(WeatherQuantity::sunshine)),
                      of(WeatherQuantity::sunshine).name()),
          fmt::format("at most the {:.1f} daylight hours of that day and latitude",
                      limit.daylight_h));
    }
  }

  void check_order(std::size_t i, const Row& row) {
    if (rows_.empty()) return;
    const Date before = rows_.back().date;
    if (row.date == before) {
      add(i, date_, fmt::format("{} a second time", to_string(row.date)), "every day once");
    } else if (row.date < before) {
      add(i, date_, fmt::format("{} after {}", to_string(row.date), to_string(before)),
          "days in order");
    }
  }

  /// A run of days without temperatures, their rows missing or blank: the days known on either side
  /// of it, as indices into rows_, where there are any.
  struct Gap {
    std::optional<std::size_t> before;
    std::optional<std::size_t> after;
  };

  [[nodiscard]] std::vector<Gap> gaps() const {
    std::vector<Gap> found;
    std::optional<std::size_t> last_known;
    for (std::size_t i = 0; i < rows_.size(); ++i) {
      if (!rows_[i].known()) continue;
      const bool first = !last_known && i == 0;
      if (!first && (!last_known || days_within(*last_known, i) > 0)) {
        found.push_back({last_known, i});
      }
      last_known = i;
    }
    if (!last_known || *last_known + 1 != rows_.size()) found.push_back({last_known, std::nullopt});
    return found;
  }

  /// Days between two rows.
  [[nodiscard]] long days_within(std::size_t before, std::size_t after) const {
    return (rows_[after].date - rows_[before].date).count() - 1;
  }

  /// A gap that is not filled: told of as a whole where filling was asked for and it is too long,
  /// else day by day, with the length that would fill it.
  void report(const Gap& gap) {
    const int allowed = how_.longest_gap_filled_days;
    const bool two_sided = gap.before && gap.after;
    const long days = two_sided ? days_within(*gap.before, *gap.after) : 0;
    if (two_sided && allowed > 0) {
      add(*gap.after, date_,
          fmt::format("{} day{} without temperatures before {}", days, plural(days),
                      to_string(rows_[*gap.after].date)),
          fmt::format("at most {}", allowed), {Advice::Kind::fill_longer_gap});
      return;
    }
    Advice advice;
    std::string hint;
    if (two_sided && days <= longest_gap_fillable_days) {
      advice = {Advice::Kind::fill_gap, fmt::format("{}", days)};
    } else if (!two_sided) {
      hint = fmt::format(", or no row at all: no temperatures {} it to fill it from",
                         gap.before ? "follow" : "stand before");
    }
    const std::size_t end = gap.after.value_or(rows_.size() - 1);
    for (std::size_t i = gap.before.value_or(0); i <= end; ++i) {
      if (i > gap.before.value_or(0) && days_within(i - 1, i) > 0) {
        const long missing = days_within(i - 1, i);
        add(i, date_,
            fmt::format("{} missing day{} before {}", missing, plural(missing),
                        to_string(rows_[i].date)),
            "every day", advice);
      }
      if (!rows_[i].tmin_known)
        add_blank(i, of(WeatherQuantity::tmin), "a temperature" + hint, advice);
      if (!rows_[i].tmax_known)
        add_blank(i, of(WeatherQuantity::tmax), "a temperature" + hint, advice);
    }
  }

  static std::string_view plural(long days) { return days == 1 ? "" : "s"; }

  void report_blank_rain() {
    for (std::size_t i = 0; i < rows_.size(); ++i) {
      if (observed_[i].rain_mm) continue;
      add_blank(i, of(WeatherQuantity::rain),
                "an amount: unknown rain cannot be kept in an account", {Advice::Kind::fill_rain});
    }
  }

  /// Lines the rows up day by day; fills short gaps if asked to.
  std::vector<WeatherDay> join_rows(SkyLimits& skies) {
    if (how_.longest_gap_filled_days == 0 && how_.rain_needed &&
        of(WeatherQuantity::rain).present()) {
      report_blank_rain();
    }
    const std::vector<Gap> all = gaps();
    for (const Gap& gap : all) {
      const bool filled = gap.before && gap.after &&
                          days_within(*gap.before, *gap.after) <= how_.longest_gap_filled_days;
      if (!filled) report(gap);
    }
    problems_.throw_if_any();
    if (all.empty()) return std::move(observed_);
    const Date first = rows_.front().date;
    const auto length = static_cast<std::size_t>((rows_.back().date - first).count()) + 1;
    std::vector<WeatherDay> days(length);
    for (std::size_t i = 0; i < rows_.size(); ++i) {
      days[static_cast<std::size_t>((rows_[i].date - first).count())] = observed_[i];
    }
    for (const Gap& gap : all) close(*gap.before, *gap.after, days);
    // What lies between two readings may be more than the sky of its own day gives.
    for (std::size_t i = 0; i < length; ++i) {
      WeatherDay& day = days[i];
      if (!day.filled) continue;
      const SkyLimit& limit = skies.on(first + std::chrono::days(static_cast<long>(i)));
      if (day.solar_mj_m2 && !limit.allows_radiation(*day.solar_mj_m2)) {
        day.solar_mj_m2 = limit.radiation_mj_m2;
      }
      if (day.sunshine_h && !limit.allows_sunshine(*day.sunshine_h)) {
        day.sunshine_h = limit.daylight_h;
      }
    }
    return days;
  }

  /// Fills the days between two known ones.
  void close(std::size_t before, std::size_t after, std::vector<WeatherDay>& days) const {
    const Date first = rows_.front().date;
    const Row& from = rows_[before];
    const long missing = days_within(before, after);
    const auto begin = static_cast<std::size_t>((from.date - first).count());
    const auto keep_measured = [&](const Row& row, const WeatherDay& observed) {
      WeatherDay& day = days[static_cast<std::size_t>((row.date - first).count())];
      if (row.tmin_known) day.tmax_c = std::max(day.tmax_c, day.tmin_c = observed.tmin_c);
      if (row.tmax_known) day.tmin_c = std::min(day.tmin_c, day.tmax_c = observed.tmax_c);
      if (day.dew_point_c) day.dew_point_c = std::min(*day.dew_point_c, day.tmax_c);
      if (!day.rh_min_pct || !day.rh_max_pct) return;
      if (!observed.rh_min_pct) day.rh_min_pct = std::min(*day.rh_min_pct, *day.rh_max_pct);
      if (!observed.rh_max_pct) day.rh_max_pct = std::max(*day.rh_min_pct, *day.rh_max_pct);
    };
    for (std::size_t k = 1; k <= static_cast<std::size_t>(missing); ++k) {
      fill(days[begin + k], days[begin], days[begin + static_cast<std::size_t>(missing) + 1],
           static_cast<double>(k) / static_cast<double>(missing + 1));
    }
    for (std::size_t i = before + 1; i < after; ++i) keep_measured(rows_[i], observed_[i]);
  }

  /// Straight lines from the day before to the day after. Rain is taken as none; humidity, wind and
  /// radiation are filled only where both sides have them.
  static void fill(WeatherDay& day, const WeatherDay& before, const WeatherDay& after,
                   double share) {
    const auto between = [share](double a, double b) { return a + share * (b - a); };
    day.filled = true;
    day.tmin_c = between(before.tmin_c, after.tmin_c);
    day.tmax_c = between(before.tmax_c, after.tmax_c);
    for (const OwnColumn& own : own_columns) {
      if (own.element == nullptr || own.quantity == WeatherQuantity::rain) continue;
      auto& value = day.*own.element;
      const auto& from = before.*own.element;
      const auto& to = after.*own.element;
      if (!value && from && to) value = between(*from, *to);
    }
  }

  std::string_view text(std::size_t i, const NumberColumn& column) const {
    return table_.cell(i, column.column());
  }
  /// The same behind the name of its column.
  std::string named(std::size_t i, const NumberColumn& column) const {
    return fmt::format("{} {}", column.name(), text(i, column));
  }
  void add(std::size_t i, const NumberColumn& column, std::string found, std::string expected,
           Advice advice = {}) {
    problems_.add(table_.problem_at(i, column.column(), std::move(found), std::move(expected),
                                    std::move(advice)));
  }

  void add_blank(std::size_t i, const NumberColumn& column, std::string expected, Advice advice) {
    add(i, column, fmt::format("nothing in {} on {}", column.name(), to_string(rows_[i].date)),
        std::move(expected), std::move(advice));
  }

  const CsvTable& table_;
  const WeatherReading& how_;
  ProblemList problems_;
  NumberColumn date_;
  std::vector<NumberColumn> columns_;  // as own_columns
  NumberColumns numbers_;              // of tmin, tmax and the elements
  std::vector<std::optional<double> WeatherDay::*> elements_;
  // A row without a date is in neither list; it is a problem, and days are joined without problems
  // only: there, an index into the lists is the row of the table.
  std::vector<Row> rows_;
  std::vector<WeatherDay> observed_;
  const WeatherDay nothing_observed_;
};

namespace {

/// The record of a file that was translated; what is wrong in it is told of where it stood.
WeatherRecord read_translated(TranslatedPlace& place, const WeatherReading& how) {
  WeatherReading how_here = how;
  how_here.site = place.site;
  const CsvTable table({place.name, place.own.text()});
  try {
    return WeatherReader(table, how_here).read().as_generated(place.generated);
  } catch (const InputError& error) {
    std::vector<Problem> problems;
    for (const Problem& problem : error.problems()) {
      problems.push_back(place.own.where_it_stood(problem));
    }
    throw InputError(std::move(problems));
  }
}

}  // namespace

WeatherFile read_weather_file(FileBytes file, const WeatherReading& how) {
  if (how.longest_gap_filled_days < 0 || how.longest_gap_filled_days > longest_gap_fillable_days) {
    throw RequestError(fmt::format("found {} days as the longest gap to fill; expected 0 to {}",
                                   how.longest_gap_filled_days, longest_gap_fillable_days));
  }
  WeatherFile result;
  if (how.hints.any() || !is_own_format(file.bytes)) {
    if (auto translation = translate(file, how.hints, how.site)) {
      if (translation->places.empty()) {
        throw InputError({{file.name, 0, 0, "no reading that is known", "at least one"}});
      }
      result.understood = std::move(translation->understood);
      for (TranslatedPlace& place : translation->places) {
        WeatherRecord record = read_translated(place, how);
        result.places.push_back({std::move(record), std::move(place.hours)});
      }
      return result;
    }
  }
  result.understood.file = file.name;
  result.understood.own = true;
  const CsvTable table(std::move(file));
  if (table.column("month") && !table.column("date")) {
    throw InputError({{result.understood.file, 0, 0, "months, and no column of dates",
                       "a row for each day; means of months are no weather record"}});
  }
  const auto& known = weather_columns();
  if (std::ranges::none_of(
          known, [&](const std::string& name) { return table.column(name).has_value(); })) {
    throw InputError({{result.understood.file,
                       0,
                       0,
                       "no header with names of weather columns",
                       "such as date, tmin and tmax, or a table of columns",
                       {Advice::Kind::table_of_columns}}});
  }
  result.places.push_back({WeatherReader(table, how).read(), std::nullopt});
  return result;
}

WeatherRecord read_weather(FileBytes file, const WeatherReading& how) {
  WeatherFile all = read_weather_file(std::move(file), how);
  if (all.places.size() != 1) {
    throw InputError({{all.understood.file, 0, 0, fmt::format("{} places", all.places.size()),
                       "the weather of one"}});
  }
  return std::move(all.places.front().record);
}

const std::vector<std::string>& weather_columns() {
  static const std::vector<std::string> names = [] {
    std::vector<std::string> result{"date"};
    for (const OwnColumn& own : own_columns) add_names(result, own.stem, own.units);
    return result;
  }();
  return names;
}

}  // namespace wiltline

#include "wiltline/weather/translation.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <map>
#include <span>
#include <utility>

#include "wiltline/base/numbers.hpp"
#include "wiltline/base/text.hpp"
#include "wiltline/base/units.hpp"
#include "wiltline/weather/dialect.hpp"
#include "wiltline/weather/foreign_table.hpp"
#include "wiltline/weather/own_text.hpp"
#include "wiltline/weather/row_times.hpp"
#include "wiltline/weather/units_told.hpp"

namespace wiltline {
namespace {

constexpr std::array<std::string_view, 13> missing_words{
    "na", "n/a", "nan", "null", "none", "m", "missing", "-", "--", "---", "----", ".", "?"};
constexpr std::array<double, 11> missing_numbers{
    -99.0, -99.9, -99.99, -999.0, -999.9, -999.99, -9999.0, -9999.9, 9999.0, -99999.0, 99999.0};

bool is_among(std::string_view cell, const std::vector<std::string>& marks) {
  return std::any_of(marks.begin(), marks.end(), [&](const std::string& mark) {
    if (folded(mark) == folded(cell) && !folded(cell).empty()) return true;
    if (mark == cell) return true;
    const auto number = parse_number(mark);
    return number && parse_number(cell) == number;
  });
}

bool often_missing(double number) {
  return std::find(missing_numbers.begin(), missing_numbers.end(), number) != missing_numbers.end();
}

/// No reading of that quantity can be so: then a number that often stands for none does.
bool beyond_sense(Quantity quantity, double value) {
  if (kind_of(quantity) == "temperature") return value < -90.0 || value > 60.0;
  return value < 0.0 || value > 2000.0;
}

std::string counted(std::size_t count, std::string_view what) {
  return fmt::format("{} {}{}", count, what, count == 1 ? "" : "s");
}

void add_remarks(const HourGaps& gaps, std::vector<std::string>& remarks) {
  if (!gaps.days_missing.empty()) {
    constexpr std::size_t most_named = 3;
    const std::size_t named = std::min(gaps.days_missing.size(), most_named);
    const auto end = gaps.days_missing.begin() + static_cast<std::ptrdiff_t>(named);
    remarks.push_back(fmt::format("{} with under {:g} hours, so missing: {}{}",
                                  counted(gaps.days_missing.size(), "day"), fewest_hours_a_day,
                                  fmt::join(gaps.days_missing.begin(), end, ", "),
                                  named < gaps.days_missing.size() ? ", …" : ""));
  }
  const auto add = [&](std::size_t count, std::string_view what, std::string_view form) {
    if (count > 0) remarks.push_back(fmt::format(fmt::runtime(form), counted(count, what)));
  };
  add(gaps.days_short, "day", "{} short of some hours, but used");
  add(gaps.radiation_hours_filled, "step", "radiation of {} taken from those around");
  add(gaps.sunshine_hours_filled, "step", "sunshine of {} taken from those around");
  add(gaps.rain_hours_unknown, "step", "rain of {} unknown, taken as none");
}

class Translator {
 public:
  Translator(FileBytes file, const FileHints& hints, const SiteValues& site)
      : name_(file.name), hints_(hints), site_(site) {
    meanings_ = hints_.columns;
    const auto& builtin = builtin_column_meanings();
    meanings_.insert(meanings_.end(), builtin.begin(), builtin.end());
    check_layout_name();
    table_ = ForeignTable::open(std::move(file), usable());
  }

  std::optional<Translation> run() {
    if (!table_) {
      if (!hints_.layout.empty()) refuse_header({name_, 1, 1, {}, {}});
      return std::nullopt;
    }
    choose_layout();
    if (!can_be_weather()) return std::nullopt;
    check_columns();
    if (quantity(Quantity::element) != nullptr) return run_lines();
    read_times();
    table_->find_decimal_sign(columns_, problems_);
    problems_.throw_if_any();
    hourly_ = are_parts_of_days(rows_);
    require_readings();
    settle_units();
    problems_.throw_if_any();
    describe_columns();
    hourly_ ? write_hours() : write_days();
    problems_.throw_if_any();
    finish();
    return std::move(result_);
  }

 private:
  void check_layout_name() const {
    const std::vector<std::string> names = layout_names(meanings_);
    if (hints_.layout.empty() ||
        std::find(names.begin(), names.end(), hints_.layout) != names.end()) {
      return;
    }
    throw RequestError(fmt::format("found the layout {}; expected one of {}{}",
                                   in_quotes(hints_.layout), fmt::join(names, ", "),
                                   nearest_hint(hints_.layout, names)));
  }

  /// The meanings that may be used: of the layout that was named, else all.
  [[nodiscard]] std::vector<ColumnMeaning> usable() const {
    return hints_.layout.empty() ? meanings_ : of_layout(meanings_, hints_.layout);
  }

  // ---- Columns ---------------------------------------------------------------------------------

  static bool has_keys(std::span<const ColumnMeaning> rows, std::span<const TakenColumn> taken) {
    return std::all_of(rows.begin(), rows.end(), [&](const ColumnMeaning& row) {
      return !row.key || std::any_of(taken.begin(), taken.end(), [&](const TakenColumn& column) {
        return column.meaning == &row;
      });
    });
  }

  [[noreturn]] void refuse_header(Problem at) {
    std::vector<std::string> keys;
    for (const ColumnMeaning& row : meanings_of(hints_.layout)) {
      if (row.key) keys.push_back(row.names.front());
    }
    at.found = fmt::format("a header that is not of {}", hints_.layout);
    at.expected = fmt::format("the columns {}", fmt::join(keys, ", "));
    throw InputError({std::move(at)});
  }

  void choose_layout() {
    std::vector<std::string> fitting;
    if (hints_.columns.empty() || !hints_.layout.empty()) {
      for (const std::string& layout : layout_names(usable())) {
        const std::vector<ColumnMeaning>& rows = meanings_of(layout);
        if (has_keys(rows, table_->columns_under(rows))) fitting.push_back(layout);
      }
    }
    if (!hints_.layout.empty() && fitting.empty()) {
      refuse_header(table_->csv().problem_in_header(0, {}, {}));
    }
    if (fitting.size() > 1) keep_layouts_of_sense(fitting);
    if (!fitting.empty()) result_.understood.layout = fitting.front();
    columns_ = table_->columns_under(meanings_of(result_.understood.layout));
    if (quantity(Quantity::date) != nullptr || quantity(Quantity::year) != nullptr) return;
    // A day without a year is the date; so is a time without a day.
    for (const Quantity one : {Quantity::day, Quantity::clock}) {
      for (TakenColumn& column : columns_) {
        if (column.quantity != one || quantity(Quantity::date) != nullptr) continue;
        column.quantity = Quantity::date;
      }
    }
  }

  /// Layouts of one header differ in their units: those in which the temperatures make sense.
  void keep_layouts_of_sense(std::vector<std::string>& fitting) {
    const std::vector<std::string> all = fitting;
    std::erase_if(fitting, [&](const std::string& layout) {
      columns_ = table_->columns_under(meanings_of(layout));
      return !temperatures_make_sense();
    });
    if (fitting.size() == 1) return;
    const std::size_t at = quantity(Quantity::tmax)->column;
    problems_.add(table_->csv().problem_in_header(
        at,
        fmt::format("a header that {} share, and {}", fmt::join(all, ", "),
                    fitting.empty()
                        ? std::string("temperatures that fit none of them")
                        : fmt::format("numbers that fit {}", fmt::join(fitting, " and "))),
        "one of them to be named",
        {Advice::Kind::name_layout, {}, ", or a whole year and the site's latitude to tell by"}));
    problems_.throw_if_any();
  }

  [[nodiscard]] bool temperatures_make_sense() {
    ProblemList kept = std::exchange(problems_, {});
    read_times();
    table_->find_decimal_sign(columns_, problems_);
    const bool broken = !problems_.empty();
    problems_ = std::move(kept);
    if (broken) return true;  // told of later
    const TakenColumn* const highest = quantity(Quantity::tmax);
    const TakenColumn* const lowest = quantity(Quantity::tmin);
    return makes_sense(numbers_in({highest, lowest}), *highest->unit, known_of_site());
  }

  const std::vector<ColumnMeaning>& meanings_of(const std::string& layout) {
    auto found = meanings_of_layout_.find(layout);
    if (found == meanings_of_layout_.end()) {
      found = meanings_of_layout_.emplace(layout, of_layout(meanings_, layout)).first;
    }
    return found->second;
  }

  [[nodiscard]] const TakenColumn* quantity(Quantity wanted) const {
    const auto found =
        std::find_if(columns_.begin(), columns_.end(),
                     [&](const TakenColumn& column) { return column.quantity == wanted; });
    return found == columns_.end() ? nullptr : &*found;
  }

  /// The column of the date, or of its year.
  [[nodiscard]] const TakenColumn& date_column() const {
    const TakenColumn* const date = quantity(Quantity::date);
    return date != nullptr ? *date : *quantity(Quantity::year);
  }

  [[nodiscard]] bool has_date() const {
    return quantity(Quantity::date) != nullptr ||
           (quantity(Quantity::year) != nullptr &&
            (quantity(Quantity::day_of_year) != nullptr ||
             (quantity(Quantity::month) != nullptr && quantity(Quantity::day) != nullptr)));
  }
  [[nodiscard]] bool can_be_weather() const {
    if (quantity(Quantity::element) != nullptr) return has_date();
    return has_date() && std::any_of(columns_.begin(), columns_.end(), [](const auto& column) {
             return is_reading(column.quantity);
           });
  }

  /// Two columns for one quantity, two units for one column.
  void check_columns() {
    std::map<Quantity, const TakenColumn*> first;
    for (const TakenColumn& column : columns_) {
      if (column.quantity == Quantity::none || column.quantity == Quantity::place ||
          column.quantity == Quantity::temperature) {
        continue;
      }
      const auto [known, fresh] = first.emplace(column.quantity, &column);
      if (!fresh) refuse_second(*known->second, column);
      const auto& meant = column.meaning->unit;
      if (meant && column.unit && meant->unit != column.unit->unit) {
        problems_.add(table_->csv().problem_in_header(
            column.column, fmt::format("{} in {}", in_quotes(column.name), column.unit->text()),
            fmt::format("{}, the unit that its layout says", meant->text())));
      }
    }
    const TakenColumn* const element = quantity(Quantity::element);
    if (element != nullptr && quantity(Quantity::value) == nullptr) {
      problems_.add(table_->csv().problem_in_header(
          element->column, "one reading a line, without a column of the value", "a column of it"));
    }
    problems_.throw_if_any();
  }

  // ---- Time ------------------------------------------------------------------------------------

  void complain(std::size_t row, std::size_t column, std::string found, std::string expected,
                Advice advice = {}) {
    problems_.add(table_->csv().problem_at(row, column, std::move(found), std::move(expected),
                                           std::move(advice)));
  }

  void read_times() {
    rows_.clear();
    place_names_.clear();
    if (quantity(Quantity::date) != nullptr) {
      read_date_column();
    } else {
      read_date_parts();
    }
  }

  [[nodiscard]] bool date_says(std::string_view word) const {
    const TakenColumn* const date = quantity(Quantity::date);
    if (date == nullptr) return false;
    const auto& words_of = date->meaning->date_words;
    return std::find(words_of.begin(), words_of.end(), word) != words_of.end();
  }

  [[nodiscard]] std::optional<DateOrder> told_order() const {
    if (hints_.dates) return hints_.dates;
    for (std::size_t i = 0; i < date_order_names.size(); ++i) {
      if (date_says(date_order_names[i])) return static_cast<DateOrder>(i);
    }
    return std::nullopt;
  }

  void read_date_column() {
    const std::size_t column = quantity(Quantity::date)->column;
    std::vector<std::string_view> texts;
    texts.reserve(table_->end_row());
    for (std::size_t i = table_->begin_row(); i < table_->end_row(); ++i) {
      texts.push_back(table_->cell(i, column));
    }
    const auto told = told_order();
    WrongDate wrong;
    const auto found = told ? Result<DateOrder>(*told) : find_date_order(texts, wrong);
    if (!found) {
      complain(wrong.text + table_->begin_row(), column, found.fault().found,
               wrong.two_ways ? "to be told which: dmy or mdy" : found.fault().expected,
               {wrong.two_ways ? Advice::Kind::name_date_order : Advice::Kind::none});
      return;
    }
    result_.understood.dates = describe(*found);
    for (std::size_t i = table_->begin_row(); i < table_->end_row() && !problems_.full(); ++i) {
      const std::string_view text = table_->cell(i, column);
      const auto when = parse_written_date(text, *found);
      if (when) {
        add_row(i, *when);
      } else {
        complain(i, column, text.empty() ? "no date" : in_quotes(text),
                 fmt::format("a date that exists as {}", describe(*found)));
      }
    }
  }

  void read_date_parts() {
    const TakenColumn* const year = quantity(Quantity::year);
    const TakenColumn* const of_year = quantity(Quantity::day_of_year);
    const TakenColumn* const month = quantity(Quantity::month);
    const TakenColumn* const day = quantity(Quantity::day);
    const bool by_month = month != nullptr && day != nullptr;
    result_.understood.dates =
        by_month ? "year, month and day in three columns" : "year and day of the year";
    for (std::size_t i = table_->begin_row(); i < table_->end_row() && !problems_.full(); ++i) {
      const auto cell = [&](const TakenColumn* column) {
        return std::string(table_->cell(i, column->column));
      };
      std::string text;
      if (by_month) {
        text = fmt::format("{}-{}-{}", cell(year), cell(month), cell(day));
      } else {
        text = fmt::format("{}-{:0>3}", cell(year), cell(of_year));
      }
      if (const auto when = parse_written_date(text, DateOrder::ymd)) {
        add_row(i, *when);
      } else {
        complain(i, year->column, in_quotes(text), "a date that exists");
      }
    }
  }

  void add_row(std::size_t row, WrittenDate when) {
    if (const TakenColumn* const clock = quantity(Quantity::clock)) {
      const std::string_view text = table_->cell(row, clock->column);
      when.hour = parse_written_clock(text);
      if (!when.hour) {
        complain(row, clock->column, in_quotes(text), "a time of day, as 13:00");
        return;
      }
    }
    if (const TakenColumn* const offset = quantity(Quantity::utc_offset)) {
      when.utc_offset_h = parse_number(table_->cell(row, offset->column));
    }
    std::size_t place = 0;
    if (const TakenColumn* const column = quantity(Quantity::place)) {
      const std::string_view text = table_->cell(row, column->column);
      const auto known = std::find(place_names_.begin(), place_names_.end(), text);
      place = static_cast<std::size_t>(known - place_names_.begin());
      if (known == place_names_.end()) place_names_.emplace_back(text);
    }
    rows_.push_back({row, place, when});
  }

  // ---- Numbers ---------------------------------------------------------------------------------

  /// One reading: our value, and its text in the unit it stands in.
  using Reading = ForeignTable::Number;

  std::optional<Reading> read_reading(std::size_t row, const TakenColumn& column) {
    return read_cell(row, column.column, column, column.unit);
  }

  std::optional<Reading> read_cell(std::size_t row, std::size_t at, const TakenColumn& column,
                                   const std::optional<ScaledUnit>& unit) {
    const std::string_view cell = table_->cell(row, at);
    if (cell.empty()) return std::nullopt;
    if (failed_its_checks(row, column)) {
      ++result_.understood.failed;
      return std::nullopt;
    }
    const ColumnMeaning& meaning = *column.meaning;
    if (is_among(cell, meaning.missing)) return no_reading(cell);
    if (is_among(cell, meaning.zero)) {
      ++result_.understood.zero_marks;
      return Reading{0.0, "0"};  // in any unit: read_layouts refuses such marks of temperatures
    }
    auto number = table_->number(row, at);
    if (!number) {
      const std::string word = folded(cell);
      if (word.empty() ||
          std::find(missing_words.begin(), missing_words.end(), word) != missing_words.end()) {
        return no_reading(cell);
      }
      complain(row, at, fmt::format("{} in {}", in_quotes(cell), column.name),
               "a number, or nothing if unknown");
      return std::nullopt;
    }
    const double value = unit ? unit->convert(number->value) : number->value;
    if (beyond_sense(column.quantity, value) && often_missing(number->value)) {
      return no_reading(cell);
    }
    number->value = value;
    return number;
  }

  std::optional<Reading> no_reading(std::string_view cell) {
    auto& missing = result_.understood.missing;
    auto known = std::find_if(missing.begin(), missing.end(),
                              [&](const auto& one) { return one.first == cell; });
    if (known == missing.end()) known = missing.insert(missing.end(), {std::string(cell), 0});
    ++known->second;
    return std::nullopt;
  }

  /// The second of the flags in NAME_ATTRIBUTES, or the quality column of a line.
  [[nodiscard]] bool failed_its_checks(std::size_t row, const TakenColumn& column) {
    if (const TakenColumn* const quality = quantity(Quantity::quality)) {
      return !table_->cell(row, quality->column).empty();
    }
    if (result_.understood.layout.empty()) return false;
    const std::size_t flags = flags_of(column);
    if (flags == table_->header().size()) return false;
    const std::vector<std::string_view> parts = split_line(table_->cell(row, flags), ',');
    return parts.size() > 1 && !parts[1].empty();
  }

  /// The column NAME_ATTRIBUTES of a column; as many as there are columns: it has none.
  std::size_t flags_of(const TakenColumn& column) {
    const auto [known, fresh] = flags_of_.emplace(column.column, 0);
    if (fresh) {
      const std::string wanted = folded(column.name) + " attributes";
      const auto found =
          std::find_if(table_->header().begin(), table_->header().end(),
                       [&](const std::string& name) { return folded(name) == wanted; });
      known->second = static_cast<std::size_t>(found - table_->header().begin());
    }
    return known->second;
  }

  // ---- Units -----------------------------------------------------------------------------------

  [[nodiscard]] NumbersOfColumn numbers_in(const std::vector<const TakenColumn*>& columns) const {
    NumbersOfColumn numbers;
    for (const TakenColumn* const column : columns) {
      for (const TimedRow& timed : rows_) {
        const std::string_view cell = table_->cell(timed.row, column->column);
        if (is_among(cell, column->meaning->missing)) continue;
        const auto number = table_->number(timed.row, column->column);
        if (!number || often_missing(number->value)) continue;
        numbers.take(number->value);
      }
    }
    if (!rows_.empty()) {
      const auto [first, last] = std::minmax_element(
          rows_.begin(), rows_.end(),
          [](const TimedRow& a, const TimedRow& b) { return a.when.date < b.when.date; });
      numbers.days = static_cast<double>((last->when.date - first->when.date).count() + 1);
    }
    return numbers;
  }

  [[nodiscard]] SiteValues known_of_site() {
    ProblemList ignored;
    SiteValues values = site_.or_else(site_from_comments(table_->csv(), ignored));
    if (table_->end_row() > table_->begin_row()) {
      values = values.or_else(site_of_row(rows_.empty() ? table_->begin_row() : rows_.front().row));
    }
    return values;
  }

  /// Columns without a unit: the one unit in which the numbers make sense, if there is one only.
  void settle_units() {
    for (const std::string_view kind : {"temperature", "depth", "radiation"}) {
      if (kind == "radiation" && hourly_) continue;  // a step's sum or its mean cannot be told
      settle(kind);
    }
    for (const TakenColumn& column : columns_) {
      const std::string_view kind = kind_of(column.quantity);
      if (!is_used(column.quantity) || column.unit || kind.empty()) continue;
      problems_.add(table_->csv().problem_in_header(
          column.column, fmt::format("column {} without a unit", in_quotes(column.name)),
          fmt::format("its unit, as {} ({}), or a table of columns", column.name,
                      fmt::join(units_of(kind), " or ")),
          {Advice::Kind::table_of_columns}));
    }
  }

  [[nodiscard]] bool is_used(Quantity wanted) const {
    if (!is_reading(wanted)) return false;
    if (wanted == Quantity::temperature) return hourly_;
    return !hourly_ || (wanted != Quantity::rh_max && wanted != Quantity::rh_min);
  }

  void settle(std::string_view kind) {
    std::vector<TakenColumn*> open;
    for (TakenColumn& column : columns_) {
      if (is_used(column.quantity) && !column.unit && kind_of(column.quantity) == kind) {
        open.push_back(&column);
      }
    }
    if (open.empty()) return;
    const SiteValues site = known_of_site();
    const NumbersOfColumn numbers = numbers_in({open.begin(), open.end()});
    std::optional<ScaledUnit> only;
    for (const std::string_view name : units_of(kind)) {
      const ScaledUnit unit = *find_unit(name, kind);
      if (!makes_sense(numbers, unit, site)) continue;
      if (only) return;  // two fit
      only = unit;
    }
    if (!only) return;
    for (TakenColumn* column : open) column->unit = only;
    result_.understood.remarks.push_back(
        fmt::format("{} names no unit: only {} makes sense", open.front()->name, only->text()));
  }

  /// A column of temperature counts for hours only.
  void refuse_second_temperature() {
    const TakenColumn* first = nullptr;
    for (const TakenColumn& column : columns_) {
      if (column.quantity != Quantity::temperature) continue;
      if (first != nullptr) refuse_second(*first, column);
      first = &column;
    }
  }

  void refuse_second(const TakenColumn& first, const TakenColumn& second) {
    problems_.add(table_->csv().problem_in_header(
        second.column,
        fmt::format("both {} and {} for {}", in_quotes(first.name), in_quotes(second.name),
                    name_of(second.quantity)),
        "one of them: name the other as none in a table of columns",
        {Advice::Kind::table_of_columns}));
  }

  void require_readings() {
    const auto need = [&](Quantity wanted, const char* what) {
      if (quantity(wanted) != nullptr) return;
      problems_.add(table_->csv().problem_in_header(
          0, fmt::format("no column of the {}", what), "one whose name or a table of columns",
          {Advice::Kind::table_of_columns, {}, " says so"}));
    };
    if (hourly_) {
      refuse_second_temperature();
      if (quantity(Quantity::tmin) == nullptr || quantity(Quantity::tmax) == nullptr) {
        need(Quantity::temperature, "temperature");
      }
      return;
    }
    need(Quantity::tmin, "lowest temperature");
    need(Quantity::tmax, "highest temperature");
  }

  // ---- What is written -------------------------------------------------------------------------

  void describe_columns() {
    Understanding& said = result_.understood;
    for (std::size_t i = 0; i < table_->header().size(); ++i) {
      const auto column = std::find_if(columns_.begin(), columns_.end(),
                                       [&](const TakenColumn& one) { return one.column == i; });
      if (column == columns_.end() || column->quantity == Quantity::none ||
          (is_reading(column->quantity) && !is_used(column->quantity))) {
        if (!table_->header()[i].empty()) said.left_out.push_back(table_->header()[i]);
        continue;
      }
      if (!is_reading(column->quantity)) continue;
      const std::string unit = column->unit ? column->unit->text() : "";
      said.taken.push_back({column->name, fmt::format("{}{}{}", name_of(column->quantity),
                                                      unit.empty() ? "" : " ", unit)});
    }
    said.rows = rows_.size();
  }

  [[nodiscard]] std::string place_name(std::size_t place) const {
    return place_names_.size() < 2 ? name_ : fmt::format("{} ({})", name_, place_names_[place]);
  }

  /// Latitude, longitude and elevation that stand in a row.
  [[nodiscard]] SiteValues site_of_row(std::size_t row) const {
    SiteValues site;
    const auto take = [&](Quantity wanted, std::string_view key) {
      const TakenColumn* const column = quantity(wanted);
      if (column == nullptr) return;
      const auto number = table_->number(row, column->column);
      if (!number) return;
      const double value = column->unit ? column->unit->convert(number->value) : number->value;
      (void)set_site_value(site, key, value);
    };
    take(Quantity::latitude, "latitude_deg");
    take(Quantity::longitude, "longitude_deg");
    take(Quantity::elevation, "elevation_m");
    return site;
  }

  [[nodiscard]] std::size_t place_count() const {
    return std::max<std::size_t>(1, place_names_.size());
  }

  std::vector<TimedRow> rows_of(std::size_t place) {
    RowsOfPlace found = rows_of_place(rows_, place);
    if (found.turned_round) {
      result_.understood.remarks.emplace_back("days stand latest first: turned round");
    }
    return std::move(found.rows);
  }

  TranslatedPlace& begin_place(std::size_t place, std::size_t row) {
    TranslatedPlace& result = result_.places.emplace_back();
    result.name = place_name(place);
    result.header_line = table_->csv().problem_in_header(0, {}, {}).line;
    ProblemList wrong_site_lines;
    result.site = site_.or_else(site_from_comments(table_->csv(), wrong_site_lines));
    wrong_site_lines.throw_if_any();
    result.site = result.site.or_else(site_of_row(row));
    return result;
  }

  /// The number may stand as it is, in a column of its own unit.
  static bool passes_through(const TakenColumn& column) {
    return column.unit->scale == 1.0 && !column.unit->unit->ending.empty();
  }
  static std::string_view ending_of(const OwnColumn& own, const TakenColumn& column) {
    return passes_through(column) ? column.unit->unit->ending : own.ending;
  }

  void write_days() {
    std::vector<std::pair<OwnColumn, const TakenColumn*>> columns;
    for (const OwnColumn& own : own_columns) {
      if (const TakenColumn* const column = quantity(own.quantity))
        columns.emplace_back(own, column);
    }
    const TakenColumn& date = date_column();
    for (std::size_t place = 0; place < place_count(); ++place) {
      const std::vector<TimedRow> rows = rows_of(place);
      if (rows.empty()) continue;
      TranslatedPlace& result = begin_place(place, rows.front().row);
      result.text = "date";
      result.their_names.push_back(date.name);
      for (const auto& [own, column] : columns) {
        result.text += fmt::format(",{}{}", own.stem, ending_of(own, *column));
        result.their_names.push_back(column->name);
      }
      result.text += '\n';
      for (const TimedRow& timed : rows) {
        if (problems_.full()) return;
        result.text += to_string(timed.when.date);
        add_origin(result, timed.row, date.column);
        for (const auto& [own, column] : columns) {
          add_origin(result, timed.row, column->column);
          result.text += ',';
          const auto reading = read_reading(timed.row, *column);
          if (!reading) continue;
          result.text += passes_through(*column) ? reading->plain : shortest(reading->value);
        }
        result.text += '\n';
      }
    }
  }

  void add_origin(TranslatedPlace& place, std::size_t row, std::size_t column) const {
    const Problem at = table_->problem_at(row, column, {}, {});
    place.origins.push_back({at.line, at.column});
  }

  // ---- One reading a line ----------------------------------------------------------------------

  std::optional<Translation> run_lines() {
    read_times();
    table_->find_decimal_sign(columns_, problems_);
    problems_.throw_if_any();
    const TakenColumn& element = *quantity(Quantity::element);
    const TakenColumn& value = *quantity(Quantity::value);
    const std::vector<ColumnMeaning>& meanings = meanings_of(result_.understood.layout);
    struct CellOfDay {
      std::string text;
      TranslatedPlace::Origin origin;
    };
    struct Lines {
      std::size_t first_row = 0;
      std::map<Date, std::map<Quantity, CellOfDay>> days;
    };
    std::vector<Lines> places(place_count());
    std::map<std::string, std::optional<TakenColumn>> known;
    for (const TimedRow& timed : rows_) {
      if (problems_.full()) break;
      const std::string word(table_->cell(timed.row, element.column));
      auto found = known.find(word);
      if (found == known.end()) {
        auto column = understand(word, {}, meanings);
        if (column && !is_reading(column->quantity)) column.reset();
        if (column && !column->unit) {
          complain(timed.row, element.column, fmt::format("{} without a unit", in_quotes(word)),
                   "its unit in the table of columns", {Advice::Kind::table_of_columns});
          column.reset();
        }
        found = known.emplace(word, std::move(column)).first;
        if (found->second) {
          result_.understood.taken.push_back(
              {word, fmt::format("{} {}", name_of(found->second->quantity),
                                 found->second->unit->text())});
        } else {
          result_.understood.left_out.push_back(word);
        }
      }
      if (!found->second) continue;
      Lines& lines = places[timed.place];
      if (lines.days.empty()) lines.first_row = timed.row;
      const Problem at = table_->problem_at(timed.row, value.column, {}, {});
      const auto [cell, fresh] = lines.days[timed.when.date].emplace(
          found->second->quantity, CellOfDay{{}, {at.line, at.column}});
      if (!fresh) {
        complain(timed.row, element.column,
                 fmt::format("{} of {} a second time", word, to_string(timed.when.date)),
                 "it once");
        continue;
      }
      if (const auto reading =
              read_cell(timed.row, value.column, *found->second, found->second->unit)) {
        cell->second.text = shortest(reading->value);
      }
    }
    result_.understood.rows = rows_.size();
    problems_.throw_if_any();
    for (std::size_t place = 0; place < places.size(); ++place) {
      const Lines& lines = places[place];
      if (lines.days.empty()) continue;
      TranslatedPlace& result = begin_place(place, lines.first_row);
      std::vector<OwnColumn> columns;
      result.text = "date";
      result.their_names.emplace_back("date");
      for (const OwnColumn& own : own_columns) {
        const auto taken = std::find_if(known.begin(), known.end(), [&](const auto& one) {
          return one.second && one.second->quantity == own.quantity;
        });
        if (taken == known.end()) continue;
        columns.push_back(own);
        result.text += fmt::format(",{}{}", own.stem, own.ending);
        result.their_names.push_back(taken->first);
      }
      result.text += '\n';
      for (const auto& [date, cells] : lines.days) {
        // A day of rain alone says nothing of its temperatures; a gap is told of by the reader.
        result.text += to_string(date);
        result.origins.push_back({cells.begin()->second.origin.line, 1});
        for (const OwnColumn& own : columns) {
          result.text += ',';
          const auto cell = cells.find(own.quantity);
          result.origins.push_back(
              cell == cells.end() ? TranslatedPlace::Origin{cells.begin()->second.origin.line, 0}
                                  : cell->second.origin);
          if (cell != cells.end()) result.text += cell->second.text;
        }
        result.text += '\n';
      }
      if (columns.size() < 2) return std::nullopt;
    }
    finish();
    return std::move(result_);
  }

  // ---- Hours -----------------------------------------------------------------------------------

  void write_hours() {
    for (std::size_t place = 0; place < place_count(); ++place) {
      const std::vector<TimedRow> rows = rows_of(place);
      if (rows.empty()) continue;
      TranslatedPlace& result = begin_place(place, rows.front().row);
      HourlyReadings readings;
      readings.step_h = common_step_h(rows);
      if (readings.step_h <= 0.0 || readings.step_h > longest_step_h) {
        complain(rows.front().row, date_column().column,
                 fmt::format("readings {:g} hours apart", readings.step_h),
                 fmt::format("at most {:g}", longest_step_h));
        return;
      }
      result_.understood.step_h = readings.step_h;
      read_hours(rows, result, readings);
      if (!problems_.empty()) return;
      write_days_of_hours(readings, result);
      result.hours = std::move(readings);
    }
  }

  /// How far the file's clock is to be put on to be the site's; its own clock is left as it is.
  double clock_shift_h(const TranslatedPlace& place, bool utc) {
    if (!utc) return 0.0;
    auto& remarks = result_.understood.remarks;
    if (place.site.utc_offset_h) return *place.site.utc_offset_h;
    if (place.site.longitude_deg) {
      constexpr double degrees_per_hour = 15.0;
      const double shift = std::round(*place.site.longitude_deg / degrees_per_hour);
      remarks.push_back(fmt::format(
          "its hours are UTC: put into days of the clock of its longitude, UTC{:+g}", shift));
      return shift;
    }
    remarks.emplace_back("its hours are UTC, and its days too: no offset or longitude is known");
    return 0.0;
  }

  void read_hours(std::span<const TimedRow> rows, TranslatedPlace& place,
                  HourlyReadings& readings) {
    const bool utc = date_says("utc") || std::all_of(rows.begin(), rows.end(), [](const auto& row) {
                       return row.when.utc_offset_h == 0.0;
                     });
    const double shift_h = clock_shift_h(place, utc);
    const bool ends =
        date_says("ends") || std::any_of(rows.begin(), rows.end(), [](const auto& row) {
          return row.when.hour == units::hours_per_day;
        });
    const std::optional<double> utc_offset = utc ? std::optional(shift_h) : std::optional<double>();
    if (utc_offset && !place.site.utc_offset_h) place.site.utc_offset_h = utc_offset;
    const std::size_t date_at = date_column().column;
    const OrderOfHours order = order_of_hours(rows, readings.step_h);
    for (const OrderOfHours::Fault& fault : order.faults) {
      complain(fault.row, date_at,
               fmt::format("{} {}", in_quotes(table_->cell(fault.row, date_at)),
                           fault.again ? "a second time" : "after a later reading"),
               fault.again ? "every reading once" : "readings in order");
    }
    if (!order.days_gone_back.empty()) {
      result_.understood.remarks.push_back(fmt::format(
          "an hour stands twice on {}{}: taken as a clock that goes back from summer time",
          fmt::join(order.days_gone_back, ", "),
          order.hour_skipped ? "" : ", though none is left out in another season"));
    }
    for (const TimedRow& timed : rows) {
      readings.hours.push_back(
          hour_of(timed, shift_h - (ends ? readings.step_h : 0.0), readings.step_h, utc_offset));
    }
  }

  WeatherHour hour_of(const TimedRow& timed, double shift_h, double step_h,
                      std::optional<double> utc_offset) {
    WeatherHour hour;
    double begin = timed.when.hour.value_or(0.0) + shift_h;
    const double days = std::floor(begin / units::hours_per_day + 1e-9);
    begin = std::max(0.0, begin - days * units::hours_per_day);
    hour.begin = {timed.when.date + std::chrono::days(static_cast<int>(days)), begin};
    hour.utc_offset_h = utc_offset ? utc_offset : timed.when.utc_offset_h;
    hour.line = table_->csv().line(timed.row);
    const auto value = [&](Quantity wanted) -> std::optional<double> {
      const TakenColumn* const column = quantity(wanted);
      if (column == nullptr) return std::nullopt;
      const auto reading = read_reading(timed.row, *column);
      if (!reading) return std::nullopt;
      return reading->value;
    };
    hour.temperature_c = value(Quantity::temperature);
    hour.tmin_c = value(Quantity::tmin);
    hour.tmax_c = value(Quantity::tmax);
    hour.vapour_pressure_kpa =
        hour_vapour_pressure_kpa(hour.temperature_c, value(Quantity::dew_point),
                                 value(Quantity::rh), value(Quantity::vapour_pressure));
    hour.wind_m_s = value(Quantity::wind);
    hour.solar_mj_m2 = value(Quantity::solar);
    if (hour.solar_mj_m2 && quantity(Quantity::solar)->unit->unit->name == "W/m2") {
      *hour.solar_mj_m2 *= step_h / units::hours_per_day;  // a mean over the step
    }
    hour.sunshine_h = value(Quantity::sunshine);
    hour.rain_mm = value(Quantity::rain);
    return hour;
  }

  void write_days_of_hours(const HourlyReadings& readings, TranslatedPlace& result) {
    HourGaps gaps;
    const std::vector<DayOfHours> days = days_of(readings, gaps);
    const bool humid = quantity(Quantity::rh) != nullptr ||
                       quantity(Quantity::dew_point) != nullptr ||
                       quantity(Quantity::vapour_pressure) != nullptr;
    std::vector<OwnColumn> there;
    for (const OwnColumn& column : own_columns) {
      const bool of_hours =
          column.quantity == Quantity::vapour_pressure
              ? humid
              : column.quantity >= Quantity::wind && quantity(column.quantity) != nullptr;
      if (of_hours) there.push_back(column);
    }
    result.text = "date,tmin_c,tmax_c";
    result.their_names = {"date", "the lowest of the hours", "the highest of the hours"};
    for (const OwnColumn& column : there) {
      result.text += fmt::format(",{}", column.name());
      result.their_names.emplace_back("the hours of the day");
    }
    result.text += '\n';
    for (const DayOfHours& one : days) {
      if (!one.known) continue;
      result.text += fmt::format("{},{},{}", to_string(one.date), shortest(one.day.tmin_c),
                                 shortest(one.day.tmax_c));
      for (const OwnColumn& column : there) {
        result.text += ',';
        if (one.day.*column.element) result.text += shortest(*(one.day.*column.element));
      }
      result.text += '\n';
      result.origins.resize(result.origins.size() + 3 + there.size(), {one.line, 1});
    }
    add_remarks(gaps, result_.understood.remarks);
  }

  void finish() {
    result_.understood.file = name_;
    result_.understood.encoding = table_->encoding();
    result_.understood.separator = table_->separator();
    result_.understood.decimal_comma = table_->decimal_comma();
    std::vector<std::string>& remarks = result_.understood.remarks;
    std::vector<std::string> once;
    for (std::string& remark : remarks) {
      if (std::find(once.begin(), once.end(), remark) == once.end())
        once.push_back(std::move(remark));
    }
    remarks = std::move(once);
  }

  std::string name_;
  const FileHints& hints_;
  const SiteValues& site_;
  std::vector<ColumnMeaning> meanings_;
  std::map<std::string, std::vector<ColumnMeaning>> meanings_of_layout_;
  std::optional<ForeignTable> table_;
  ProblemList problems_;
  std::vector<TakenColumn> columns_;
  std::vector<std::string> place_names_;
  std::vector<TimedRow> rows_;
  std::map<std::size_t, std::size_t> flags_of_;  // of each column
  bool hourly_ = false;
  Translation result_;
};

}  // namespace

std::optional<Translation> translate(FileBytes file, const FileHints& hints,
                                     const SiteValues& site) {
  return Translator(std::move(file), hints, site).run();
}

}  // namespace wiltline

#include "wiltline/weather/translation.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <map>
#include <span>
#include <utility>

#include "wiltline/base/csv.hpp"
#include "wiltline/base/encoding.hpp"
#include "wiltline/base/numbers.hpp"
#include "wiltline/base/text.hpp"
#include "wiltline/base/units.hpp"
#include "wiltline/weather/dialect.hpp"
#include "wiltline/weather/units_told.hpp"

namespace wiltline {
namespace {

/// A column of our own files.
struct OwnColumn {
  Quantity quantity;
  std::string_view stem;
  std::string_view ending;  // in the library's unit
};
constexpr std::array<OwnColumn, 10> own_columns{{
    {Quantity::tmin, "tmin", "_c"},
    {Quantity::tmax, "tmax", "_c"},
    {Quantity::dew_point, "dewpoint", "_c"},
    {Quantity::vapour_pressure, "vapour_pressure", "_kpa"},
    {Quantity::rh_max, "rh_max", "_pct"},
    {Quantity::rh_min, "rh_min", "_pct"},
    {Quantity::rh, "rh_mean", "_pct"},
    {Quantity::wind, "wind", "_m_s"},
    {Quantity::solar, "solar", "_mj_m2"},
    {Quantity::sunshine, "sunshine", "_h"},
}};
constexpr OwnColumn own_rain{Quantity::rain, "rain", "_mm"};

std::vector<OwnColumn> all_own_columns() {
  std::vector<OwnColumn> all(own_columns.begin(), own_columns.end());
  all.push_back(own_rain);
  return all;
}

constexpr std::array<std::string_view, 13> missing_words{
    "na", "n/a", "nan", "null", "none", "m", "missing", "-", "--", "---", "----", ".", "?"};
constexpr std::array<double, 11> missing_numbers{
    -99.0, -99.9, -99.99, -999.0, -999.9, -999.99, -9999.0, -9999.9, 9999.0, -99999.0, 99999.0};

/// A number as files write it: a decimal comma if told, a plus sign.
std::optional<double> number_of(std::string_view cell, bool decimal_comma, std::string& plain) {
  plain.assign(cell);
  if (decimal_comma) std::replace(plain.begin(), plain.end(), ',', '.');
  if (plain.starts_with('+')) plain.erase(0, 1);
  return parse_number(plain);
}

bool is_among(std::string_view cell, const std::vector<std::string>& marks) {
  return std::any_of(marks.begin(), marks.end(), [&](const std::string& mark) {
    if (folded(mark) == folded(cell) && !folded(cell).empty()) return true;
    if (mark == cell) return true;
    const auto number = parse_number(mark);
    return number && parse_number(cell) == number;
  });
}

/// No reading of that quantity can be so: then a number that often stands for none does.
bool beyond_sense(Quantity quantity, double value) {
  if (kind_of(quantity) == "temperature") return value < -90.0 || value > 60.0;
  return value < 0.0 || value > 2000.0;
}

/// A row whose time is known.
struct TimedRow {
  std::size_t row = 0;
  std::size_t place = 0;
  WrittenDate when;
};

class Translator {
 public:
  Translator(FileBytes file, const FileHints& hints, const SiteValues& site)
      : name_(std::move(file.name)), hints_(hints), site_(site) {
    DecodedText text = decoded(std::move(file.bytes));
    text_ = std::move(text.text);
    result_.understood.file = name_;
    result_.understood.encoding = text.encoding;
  }

  std::optional<Translation> run() {
    meanings_ = hints_.columns;
    const auto& builtin = builtin_column_meanings();
    meanings_.insert(meanings_.end(), builtin.begin(), builtin.end());
    check_layout_name();
    if (!find_table()) {
      if (!hints_.layout.empty()) refuse_header({name_, 1, 1, {}, {}});
      return std::nullopt;
    }
    choose_layout();
    if (!can_be_weather()) return std::nullopt;
    check_columns();
    if (quantity(Quantity::element) != nullptr) return run_lines();
    read_times();
    find_decimal_sign();
    problems_.throw_if_any();
    hourly_ = is_hourly();
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
  // ---- The table -------------------------------------------------------------------------------

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

  bool find_table() {
    const std::vector<ColumnMeaning> all = usable();
    // A header says when and what; lines above it may name a place at length.
    const auto known = [&](std::span<const std::string_view> names) {
      constexpr std::size_t both = 1000;
      std::size_t count = 0;
      bool when = false;
      bool what = false;
      for (const std::string_view name : names) {
        const auto column = understand(name, {}, all);
        if (!column) continue;
        ++count;
        const Quantity of = column->quantity;
        when = when || (of >= Quantity::date && of <= Quantity::day_of_year);
        what = what || is_reading(of) || of == Quantity::element;
      }
      return count + (when && what ? both : 0);
    };
    const auto dialect = find_dialect(text_, known);
    CsvForm form;
    form.foreign = true;
    if (dialect) {
      if (auto problem = changed_separator(text_, *dialect, name_)) {
        throw InputError({*std::move(problem)});
      }
      form.separator = dialect->separator;
      form.header_line = dialect->header_line;
      header_.assign(dialect->header.begin(), dialect->header.end());
      unit_row_.assign(dialect->first_row.begin(), dialect->first_row.end());
      if (!is_unit_row()) unit_row_.clear();
    } else if (!find_headless(form)) {
      return false;
    }
    result_.understood.separator = form.separator;
    table_.emplace(FileBytes{name_, std::move(text_)}, std::move(form));
    header_.resize(table_->header().size());
    unit_row_.resize(header_.size());
    return true;
  }

  /// A second header row: units, and nothing that is a number.
  [[nodiscard]] bool is_unit_row() const {
    bool any = false;
    for (const std::string& cell : unit_row_) {
      if (parse_number(cell) || parse_written_date(cell, DateOrder::ymd) ||
          parse_written_date(cell, DateOrder::dmy) || parse_written_date(cell, DateOrder::mdy)) {
        return false;
      }
      any = any || is_unit(cell);
    }
    return any;
  }

  /// One reading a line, without a header: the layout's own columns in their order.
  bool find_headless(CsvForm& form) {
    std::string_view line(text_);
    line = line.substr(0, std::min(line.find('\n'), line.size()));
    if (line.ends_with('\r')) line.remove_suffix(1);
    const std::vector<std::string_view> cells = split_line(line, ',');
    for (const std::string& layout : layout_names(usable())) {
      const std::vector<ColumnMeaning> rows = of_layout(meanings_, layout);
      std::vector<std::string> header;
      std::optional<std::size_t> element;
      for (const ColumnMeaning& row : rows) {
        if (is_reading(row.quantity)) continue;
        if (row.quantity == Quantity::element) element = header.size();
        header.push_back(row.names.front());
      }
      if (!element || cells.size() != header.size()) continue;
      form.header = header;
      header_ = std::move(header);
      return true;
    }
    return false;
  }

  // ---- Columns ---------------------------------------------------------------------------------

  [[nodiscard]] std::vector<TakenColumn> taken_by(std::span<const ColumnMeaning> meanings) const {
    std::vector<TakenColumn> columns;
    for (std::size_t i = 0; i < header_.size(); ++i) {
      auto column = understand(header_[i], unit_row_[i], meanings);
      if (!column) continue;
      column->column = i;
      columns.push_back(*std::move(column));
    }
    return columns;
  }

  static bool has_keys(std::span<const ColumnMeaning> rows, std::span<const TakenColumn> taken) {
    return std::all_of(rows.begin(), rows.end(), [&](const ColumnMeaning& row) {
      return !row.key || std::any_of(taken.begin(), taken.end(), [&](const TakenColumn& column) {
        return column.meaning == &row;
      });
    });
  }

  [[noreturn]] void refuse_header(Problem at) {
    std::vector<std::string> keys;
    for (const ColumnMeaning& row : rows_of(hints_.layout)) {
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
        const std::vector<ColumnMeaning>& rows = rows_of(layout);
        if (has_keys(rows, taken_by(rows))) fitting.push_back(layout);
      }
    }
    if (!hints_.layout.empty() && fitting.empty()) {
      refuse_header(table_->problem_in_header(0, {}, {}));
    }
    if (fitting.size() > 1) keep_layouts_of_sense(fitting);
    if (!fitting.empty()) result_.understood.layout = fitting.front();
    columns_ = taken_by(rows_of(result_.understood.layout));
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
      columns_ = taken_by(rows_of(layout));
      return !temperatures_make_sense();
    });
    if (fitting.size() == 1) return;
    const std::size_t at = quantity(Quantity::tmax)->column;
    problems_.add(table_->problem_in_header(
        at,
        fmt::format("a header that {} share, and {}", fmt::join(all, ", "),
                    fitting.empty()
                        ? std::string("temperatures that fit none of them")
                        : fmt::format("numbers that fit {}", fmt::join(fitting, " and "))),
        "one of them to be named (--layout), or a whole year and the site's latitude to tell by"));
    problems_.throw_if_any();
  }

  [[nodiscard]] bool temperatures_make_sense() {
    ProblemList kept = std::exchange(problems_, {});
    read_times();
    find_decimal_sign();
    const bool broken = !problems_.empty();
    problems_ = std::move(kept);
    if (broken) return true;  // told of later
    const TakenColumn* const highest = quantity(Quantity::tmax);
    const TakenColumn* const lowest = quantity(Quantity::tmin);
    return makes_sense(numbers_in({highest, lowest}), *highest->unit, known_of_site());
  }

  const std::vector<ColumnMeaning>& rows_of(const std::string& layout) {
    auto found = rows_of_layout_.find(layout);
    if (found == rows_of_layout_.end()) {
      found = rows_of_layout_.emplace(layout, of_layout(meanings_, layout)).first;
    }
    return found->second;
  }

  [[nodiscard]] const TakenColumn* quantity(Quantity wanted) const {
    const auto found =
        std::find_if(columns_.begin(), columns_.end(),
                     [&](const TakenColumn& column) { return column.quantity == wanted; });
    return found == columns_.end() ? nullptr : &*found;
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
        problems_.add(table_->problem_in_header(
            column.column, fmt::format("{} in {}", in_quotes(column.name), column.unit->text()),
            fmt::format("{}, the unit that its layout says", meant->text())));
      }
    }
    problems_.throw_if_any();
  }

  // ---- Time ------------------------------------------------------------------------------------

  /// A cell; services pad numbers with spaces within their quotes.
  [[nodiscard]] std::string_view cell_at(std::size_t row, std::size_t column) const {
    return trim(table_->cell(row, column));
  }

  [[nodiscard]] std::size_t first_row() const {
    return std::any_of(unit_row_.begin(), unit_row_.end(),
                       [](const std::string& unit) { return !unit.empty(); })
               ? 1
               : 0;
  }

  void complain(std::size_t row, std::size_t column, std::string found, std::string expected) {
    problems_.add(table_->problem_at(row, column, std::move(found), std::move(expected)));
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
    texts.reserve(table_->rows());
    for (std::size_t i = first_row(); i < table_->rows(); ++i) {
      texts.push_back(cell_at(i, column));
    }
    const auto told = told_order();
    std::size_t wrong = 0;
    const auto found = told ? Result<DateOrder>(*told) : find_date_order(texts, wrong);
    if (!found) {
      const bool two_ways = found.fault().found.find(" can be ") != std::string::npos;
      complain(wrong + first_row(), column, found.fault().found,
               two_ways ? "to be told which: dmy or mdy (--dates)" : found.fault().expected);
      return;
    }
    result_.understood.dates = describe(*found);
    for (std::size_t i = first_row(); i < table_->rows() && !problems_.full(); ++i) {
      const std::string_view text = cell_at(i, column);
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
    for (std::size_t i = first_row(); i < table_->rows() && !problems_.full(); ++i) {
      const auto cell = [&](const TakenColumn* column) {
        return std::string(cell_at(i, column->column));
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
      const std::string_view text = cell_at(row, clock->column);
      when.hour = parse_written_clock(text);
      if (!when.hour) {
        complain(row, clock->column, in_quotes(text), "a time of day, as 13:00");
        return;
      }
    }
    if (const TakenColumn* const offset = quantity(Quantity::utc_offset)) {
      when.utc_offset_h = parse_number(cell_at(row, offset->column));
    }
    std::size_t place = 0;
    if (const TakenColumn* const column = quantity(Quantity::place)) {
      const std::string_view text = cell_at(row, column->column);
      const auto known = std::find(place_names_.begin(), place_names_.end(), text);
      place = static_cast<std::size_t>(known - place_names_.begin());
      if (known == place_names_.end()) place_names_.emplace_back(text);
    }
    rows_.push_back({row, place, when});
  }

  /// Some place has two rows of one day, one after the other.
  [[nodiscard]] bool is_hourly() const {
    for (std::size_t i = 1; i < rows_.size(); ++i) {
      const TimedRow& one = rows_[i - 1];
      const TimedRow& next = rows_[i];
      if (one.place == next.place && one.when.date == next.when.date && one.when.hour &&
          next.when.hour && *one.when.hour != *next.when.hour) {
        return true;
      }
    }
    return false;
  }

  // ---- Numbers ---------------------------------------------------------------------------------

  /// Whether numbers have a decimal comma: all that have a sign must have the same one.
  void find_decimal_sign() {
    if (table_->rows() == 0) return;
    bool& comma = result_.understood.decimal_comma;
    comma = false;
    bool point = false;
    bool only_thousands = true;
    std::optional<std::pair<std::size_t, std::size_t>> first_comma;
    std::optional<std::pair<std::size_t, std::size_t>> first_point;
    for (const TakenColumn& column : columns_) {
      if (!is_reading(column.quantity) && column.quantity != Quantity::latitude &&
          column.quantity != Quantity::longitude && column.quantity != Quantity::elevation &&
          column.quantity != Quantity::value) {
        continue;
      }
      for (std::size_t i = first_row(); i < table_->rows(); ++i) {
        const std::string_view cell = cell_at(i, column.column);
        const std::size_t at = cell.find_first_of(".,");
        const bool number = cell.find_first_not_of("+-0123456789.,") == std::string_view::npos;
        if (at == std::string_view::npos || !number) continue;
        if (cell[at] == '.') {
          if (!point) first_point = {i, column.column};
          point = true;
          continue;
        }
        if (!comma) first_comma = {i, column.column};
        comma = true;
        only_thousands = only_thousands && cell.size() - at == 4;
      }
    }
    if (comma && point) {
      const auto later = std::max(*first_comma, *first_point);
      const auto other = std::min(*first_comma, *first_point);
      complain(
          later.first, later.second, in_quotes(cell_at(later.first, later.second)),
          fmt::format("one decimal sign in all of the file; line {} has {}",
                      table_->line(other.first), in_quotes(cell_at(other.first, other.second))));
    } else if (comma && only_thousands) {
      complain(first_comma->first, first_comma->second,
               fmt::format("{}, where the comma can part thousands or decimals",
                           in_quotes(cell_at(first_comma->first, first_comma->second))),
               "numbers that read one way only");
    }
  }

  /// One reading: our value, and its text in the unit it stands in.
  struct Reading {
    double value = 0.0;
    std::string plain;
  };

  std::optional<Reading> read_reading(std::size_t row, const TakenColumn& column) {
    return read_cell(row, column.column, column, column.unit);
  }

  std::optional<Reading> read_cell(std::size_t row, std::size_t at, const TakenColumn& column,
                                   const std::optional<ScaledUnit>& unit) {
    const std::string_view cell = cell_at(row, at);
    if (cell.empty()) return std::nullopt;
    if (failed_its_checks(row, column)) {
      ++result_.understood.failed;
      return std::nullopt;
    }
    const ColumnMeaning& meaning = *column.meaning;
    if (is_among(cell, meaning.missing)) return no_reading(cell);
    if (is_among(cell, meaning.zero)) {
      ++result_.understood.zero_marks;
      return Reading{unit ? std::max(0.0, unit->convert(0.0)) : 0.0, "0"};
    }
    Reading reading;
    const auto number = number_of(cell, result_.understood.decimal_comma, reading.plain);
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
    reading.value = unit ? unit->convert(*number) : *number;
    if (beyond_sense(column.quantity, reading.value) &&
        std::find(missing_numbers.begin(), missing_numbers.end(), *number) !=
            missing_numbers.end()) {
      return no_reading(cell);
    }
    return reading;
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
    if (result_.understood.layout.empty()) return false;
    if (const TakenColumn* const quality = quantity(Quantity::quality)) {
      return !cell_at(row, quality->column).empty();
    }
    const std::size_t flags = flags_of(column);
    if (flags == header_.size()) return false;
    const std::vector<std::string_view> parts = split_line(cell_at(row, flags), ',');
    return parts.size() > 1 && !parts[1].empty();
  }

  /// The column NAME_ATTRIBUTES of a column; as many as there are columns: it has none.
  std::size_t flags_of(const TakenColumn& column) {
    const auto [known, fresh] = flags_of_.emplace(column.column, 0);
    if (fresh) {
      const std::string wanted = folded(column.name) + " attributes";
      const auto found = std::find_if(header_.begin(), header_.end(), [&](const std::string& name) {
        return folded(name) == wanted;
      });
      known->second = static_cast<std::size_t>(found - header_.begin());
    }
    return known->second;
  }

  // ---- Units -----------------------------------------------------------------------------------

  [[nodiscard]] NumbersOfColumn numbers_in(const std::vector<const TakenColumn*>& columns) const {
    NumbersOfColumn numbers;
    std::string plain;
    for (const TakenColumn* const column : columns) {
      for (const TimedRow& timed : rows_) {
        const std::string_view cell = cell_at(timed.row, column->column);
        if (is_among(cell, column->meaning->missing)) continue;
        const auto number = number_of(cell, result_.understood.decimal_comma, plain);
        if (!number || std::find(missing_numbers.begin(), missing_numbers.end(), *number) !=
                           missing_numbers.end()) {
          continue;
        }
        numbers.take(*number);
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
    SiteValues values = site_.or_else(site_from_comments(*table_, ignored));
    if (table_->rows() > first_row()) {
      values = values.or_else(site_of_row(rows_.empty() ? first_row() : rows_.front().row));
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
      problems_.add(table_->problem_in_header(
          column.column, fmt::format("column {} without a unit", in_quotes(column.name)),
          fmt::format("its unit, as {} ({}), or a table of columns (--columns)", column.name,
                      fmt::join(units_of(kind), " or "))));
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
    problems_.add(table_->problem_in_header(
        second.column,
        fmt::format("both {} and {} for {}", in_quotes(first.name), in_quotes(second.name),
                    name_of(second.quantity)),
        "one of them: name the other as none in a table of columns (--columns)"));
  }

  void require_readings() {
    const auto need = [&](Quantity wanted, const char* what) {
      if (quantity(wanted) != nullptr) return;
      problems_.add(
          table_->problem_in_header(0, fmt::format("no column of the {}", what),
                                    "one whose name or a table of columns (--columns) says so"));
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
    for (std::size_t i = 0; i < header_.size(); ++i) {
      const auto column = std::find_if(columns_.begin(), columns_.end(),
                                       [&](const TakenColumn& one) { return one.column == i; });
      if (column == columns_.end() || column->quantity == Quantity::none ||
          (is_reading(column->quantity) && !is_used(column->quantity))) {
        if (!header_[i].empty()) said.left_out.push_back(header_[i]);
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
    std::string plain;
    const auto take = [&](Quantity wanted, std::string_view key) {
      const TakenColumn* const column = quantity(wanted);
      if (column == nullptr) return;
      const auto number =
          number_of(cell_at(row, column->column), result_.understood.decimal_comma, plain);
      if (!number) return;
      const double value = column->unit ? column->unit->convert(*number) : *number;
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

  /// The rows of a place, turned round if all of them stand latest first.
  [[nodiscard]] std::vector<TimedRow> rows_of_place(std::size_t place) {
    std::vector<TimedRow> rows;
    for (const TimedRow& row : rows_) {
      if (row.place == place) rows.push_back(row);
    }
    const auto later = [](const TimedRow& a, const TimedRow& b) {
      return std::pair(a.when.date, a.when.hour) < std::pair(b.when.date, b.when.hour);
    };
    const bool falling =
        rows.size() > 1 &&
        std::adjacent_find(rows.begin(), rows.end(), [&](const TimedRow& a, const TimedRow& b) {
          return !later(b, a);
        }) == rows.end();
    if (falling) {
      std::reverse(rows.begin(), rows.end());
      result_.understood.remarks.emplace_back("days stand latest first: turned round");
    }
    return rows;
  }

  TranslatedPlace& begin_place(std::size_t place, std::size_t row) {
    TranslatedPlace& result = result_.places.emplace_back();
    result.name = place_name(place);
    result.header_line = table_->problem_in_header(0, {}, {}).line;
    ProblemList wrong_site_lines;
    result.site = site_.or_else(site_from_comments(*table_, wrong_site_lines));
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
    for (const OwnColumn& own : all_own_columns()) {
      if (const TakenColumn* const column = quantity(own.quantity))
        columns.emplace_back(own, column);
    }
    const TakenColumn* const date =
        quantity(Quantity::date) != nullptr ? quantity(Quantity::date) : quantity(Quantity::year);
    for (std::size_t place = 0; place < place_count(); ++place) {
      const std::vector<TimedRow> rows = rows_of_place(place);
      if (rows.empty()) continue;
      TranslatedPlace& result = begin_place(place, rows.front().row);
      result.text = "date";
      result.their_names.push_back(date->name);
      for (const auto& [own, column] : columns) {
        result.text += fmt::format(",{}{}", own.stem, ending_of(own, *column));
        result.their_names.push_back(column->name);
      }
      result.text += '\n';
      for (const TimedRow& timed : rows) {
        if (problems_.full()) return;
        result.text += to_string(timed.when.date);
        add_origin(result, timed.row, date->column);
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
    find_decimal_sign();
    problems_.throw_if_any();
    const TakenColumn& element = *quantity(Quantity::element);
    const TakenColumn& value = *quantity(Quantity::value);
    const std::vector<ColumnMeaning>& meanings = rows_of(result_.understood.layout);
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
      const std::string word(cell_at(timed.row, element.column));
      auto found = known.find(word);
      if (found == known.end()) {
        auto column = understand(word, {}, meanings);
        if (column && !is_reading(column->quantity)) column.reset();
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
      for (const OwnColumn& own : all_own_columns()) {
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
      const std::vector<TimedRow> rows = rows_of_place(place);
      if (rows.empty()) continue;
      TranslatedPlace& result = begin_place(place, rows.front().row);
      HourlyReadings readings;
      readings.step_h = step_of(rows);
      if (readings.step_h <= 0.0 || readings.step_h > longest_step_h) {
        complain(rows.front().row, quantity(Quantity::date)->column,
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

  /// The step between readings that is most common.
  static double step_of(std::span<const TimedRow> rows) {
    std::map<long, std::size_t> counts;
    for (std::size_t i = 1; i < rows.size(); ++i) {
      ++counts[std::lround(hours_between(rows[i - 1], rows[i]) * 60.0)];
    }
    const auto most =
        std::max_element(counts.begin(), counts.end(),
                         [](const auto& a, const auto& b) { return a.second < b.second; });
    return most == counts.end() ? 0.0 : static_cast<double>(most->first) / 60.0;
  }

  static double hours_between(const TimedRow& one, const TimedRow& next) {
    return static_cast<double>((next.when.date - one.when.date).count()) * units::hours_per_day +
           next.when.hour.value_or(0.0) - one.when.hour.value_or(0.0);
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
    const std::size_t date_column =
        (quantity(Quantity::date) != nullptr ? quantity(Quantity::date) : quantity(Quantity::year))
            ->column;
    const std::optional<double> utc_offset = utc ? std::optional(shift_h) : std::optional<double>();
    if (utc_offset && !place.site.utc_offset_h) place.site.utc_offset_h = utc_offset;
    std::vector<std::string> repeated;
    bool skipped = false;
    for (std::size_t i = 0; i < rows.size() && !problems_.full(); ++i) {
      const TimedRow& timed = rows[i];
      if (i > 0) {
        const double gap = hours_between(rows[i - 1], timed);
        const bool both = timed.when.utc_offset_h && rows[i - 1].when.utc_offset_h;
        const double turned =
            both ? *rows[i - 1].when.utc_offset_h - *timed.when.utc_offset_h : 0.0;
        if (std::abs(gap - readings.step_h - 1.0) < 1e-6 || turned < -0.5) skipped = true;
        if (gap + turned <= 1e-9) {
          const std::string day = to_string(timed.when.date);
          const std::string clock = clock_string(timed.when.hour.value_or(0.0));
          const bool again = gap == 0.0;
          if (may_go_back(timed, gap) && (!again || readings.step_h >= 1.0) &&
              (repeated.empty() || repeated.back() != day)) {
            repeated.push_back(day);
          } else {
            complain(timed.row, date_column,
                     again ? fmt::format("{} {} a second time", day, clock)
                           : fmt::format("{} {} after a later reading", day, clock),
                     again ? "every reading once" : "readings in order");
          }
        }
      }
      readings.hours.push_back(
          hour_of(timed, shift_h - (ends ? readings.step_h : 0.0), readings.step_h, utc_offset));
    }
    if (repeated.empty()) return;
    result_.understood.remarks.push_back(fmt::format(
        "an hour stands twice on {}{}: taken as a clock that goes back from summer time",
        fmt::join(repeated, ", "), skipped ? "" : ", though none is left out in another season"));
  }

  /// Clocks go back from summer time by an hour, in the night before a Sunday of the months in
  /// which one half of the Earth or the other has autumn (common practice).
  static bool may_go_back(const TimedRow& row, double gap_h) {
    constexpr unsigned sunday = 6;
    constexpr double latest_h = 4.0;
    const unsigned month = month_of(row.when.date);
    const bool autumn = month == 3 || month == 4 || (month >= 9 && month <= 11);
    return autumn && weekday_of(row.when.date) == sunday &&
           row.when.hour.value_or(0.0) < latest_h && gap_h <= 0.0 && gap_h >= -1.0 - 1e-6;
  }

  WeatherHour hour_of(const TimedRow& timed, double shift_h, double step_h,
                      std::optional<double> utc_offset) {
    WeatherHour hour;
    double begin = timed.when.hour.value_or(0.0) + shift_h;
    const double days = std::floor(begin / units::hours_per_day + 1e-9);
    begin = std::max(0.0, begin - days * units::hours_per_day);
    hour.begin = {timed.when.date + std::chrono::days(static_cast<int>(days)), begin};
    hour.utc_offset_h = utc_offset ? utc_offset : timed.when.utc_offset_h;
    hour.line = table_->line(timed.row);
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
    struct Column {
      std::string_view name;
      std::optional<double> WeatherDay::*element;
      Quantity from;
    };
    constexpr std::array<Column, 5> columns{{
        {"vapour_pressure_kpa", &WeatherDay::vapour_pressure_kpa, Quantity::temperature},
        {"wind_m_s", &WeatherDay::wind_m_s, Quantity::wind},
        {"solar_mj_m2", &WeatherDay::solar_mj_m2, Quantity::solar},
        {"sunshine_h", &WeatherDay::sunshine_h, Quantity::sunshine},
        {"rain_mm", &WeatherDay::rain_mm, Quantity::rain},
    }};
    const bool humid = quantity(Quantity::rh) != nullptr ||
                       quantity(Quantity::dew_point) != nullptr ||
                       quantity(Quantity::vapour_pressure) != nullptr;
    std::vector<Column> there;
    for (const Column& column : columns) {
      const bool vapour = column.element == &WeatherDay::vapour_pressure_kpa;
      if (vapour ? humid : quantity(column.from) != nullptr) there.push_back(column);
    }
    result.text = "date,tmin_c,tmax_c";
    result.their_names = {"date", "the lowest of the hours", "the highest of the hours"};
    for (const Column& column : there) {
      result.text += fmt::format(",{}", column.name);
      result.their_names.emplace_back("the hours of the day");
    }
    result.text += '\n';
    for (const DayOfHours& one : days) {
      if (!one.known) continue;
      result.text += fmt::format("{},{},{}", to_string(one.date), shortest(one.day.tmin_c),
                                 shortest(one.day.tmax_c));
      for (const Column& column : there) {
        result.text += ',';
        if (one.day.*column.element) result.text += shortest(*(one.day.*column.element));
      }
      result.text += '\n';
      result.origins.resize(result.origins.size() + 3 + there.size(), {one.line, 1});
    }
    std::vector<std::string>& remarks = result_.understood.remarks;
    if (!gaps.days_missing.empty()) {
      constexpr std::size_t most_named = 3;
      const std::size_t named = std::min(gaps.days_missing.size(), most_named);
      remarks.push_back(fmt::format(
          "{} with under {:g} hours, so missing: {}{}", counted(gaps.days_missing.size(), "day"),
          fewest_hours_a_day,
          fmt::join(gaps.days_missing.begin(),
                    gaps.days_missing.begin() + static_cast<std::ptrdiff_t>(named), ", "),
          named < gaps.days_missing.size() ? ", …" : ""));
    }
    if (gaps.days_short > 0) {
      remarks.push_back(
          fmt::format("{} short of some hours, but used", counted(gaps.days_short, "day")));
    }
    if (gaps.radiation_hours_filled > 0) {
      remarks.push_back(fmt::format("radiation of {} taken from those around",
                                    counted(gaps.radiation_hours_filled, "step")));
    }
    if (gaps.rain_hours_unknown > 0) {
      remarks.push_back(fmt::format("rain of {} unknown, taken as none",
                                    counted(gaps.rain_hours_unknown, "step")));
    }
  }

  static std::string counted(std::size_t count, std::string_view what) {
    return fmt::format("{} {}{}", count, what, count == 1 ? "" : "s");
  }

  void finish() {
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
  std::string text_;
  std::vector<ColumnMeaning> meanings_;
  std::map<std::string, std::vector<ColumnMeaning>> rows_of_layout_;
  std::vector<std::string> header_;
  std::vector<std::string> unit_row_;  // empty cells where there is none
  std::optional<CsvTable> table_;
  ProblemList problems_;
  std::vector<TakenColumn> columns_;
  std::vector<std::string> place_names_;
  std::vector<TimedRow> rows_;
  std::map<std::size_t, std::size_t> flags_of_;  // of each column
  bool hourly_ = false;
  Translation result_;
};

}  // namespace

std::vector<std::string> Understanding::parts() const {
  if (own) return {"our own layout"};
  std::vector<std::string> parts;
  parts.push_back(layout.empty() ? std::string("layout by the names of its columns")
                                 : "layout " + layout);
  parts.push_back(fmt::format("separated by {}{}{}", separator_word(separator),
                              decimal_comma ? ", decimal commas" : "",
                              encoding == "UTF-8" ? "" : fmt::format(", {}", encoding)));
  parts.push_back("dates: " + dates);
  if (step_h) parts.push_back(fmt::format("steps of {:g} minutes, put into days", *step_h * 60.0));
  std::vector<std::string> columns;
  for (const Taken& one : taken) columns.push_back(fmt::format("{} is {}", one.name, one.as));
  parts.push_back(fmt::format("{}", fmt::join(columns, ", ")));
  if (!left_out.empty()) {
    constexpr std::size_t most_named = 8;
    const std::size_t named = std::min(left_out.size(), most_named);
    const auto end = left_out.begin() + static_cast<std::ptrdiff_t>(named);
    parts.push_back(fmt::format(
        "left out: {}{}", fmt::join(left_out.begin(), end, ", "),
        named < left_out.size() ? fmt::format(" and {} more", left_out.size() - named) : ""));
  }
  for (const auto& [code, times] : missing) {
    parts.push_back(fmt::format("{} stands for no reading, {} times", in_quotes(code), times));
  }
  if (zero_marks > 0) parts.push_back(fmt::format("marks taken as none: {}", zero_marks));
  if (failed > 0) {
    parts.push_back(fmt::format("readings that failed their own checks, left out: {}", failed));
  }
  parts.insert(parts.end(), remarks.begin(), remarks.end());
  return parts;
}

std::string Understanding::summary() const {
  return fmt::format("{}: {}", file, fmt::join(parts(), "; "));
}

Problem TranslatedPlace::where_it_stood(Problem problem) const {
  const std::size_t width = their_names.size();
  if (problem.line < 2 || (problem.line - 2) * width >= origins.size()) {
    problem.line = problem.line == 1 ? header_line : problem.line;
    problem.column = 0;
    return problem;
  }
  // The column, from the commas before it on its line.
  std::size_t begin = 0;
  for (std::size_t line = 1; line < problem.line; ++line) begin = text.find('\n', begin) + 1;
  const std::size_t offset = problem.column > 0 ? problem.column - 1 : 0;
  const auto column = static_cast<std::size_t>(
      std::count(text.begin() + static_cast<std::ptrdiff_t>(begin),
                 text.begin() + static_cast<std::ptrdiff_t>(begin + offset), ','));
  const Origin& origin = origins[(problem.line - 2) * width + std::min(column, width - 1)];
  problem.line = origin.line;
  problem.column = problem.column > 0 ? origin.column : 0;
  if (column > 0 && column < width) problem.found += fmt::format(" ({})", their_names[column]);
  return problem;
}

bool is_own_format(std::string_view text) {
  if (is_utf16(text)) return false;
  if (text.starts_with("\xEF\xBB\xBF")) text.remove_prefix(3);
  const auto next_line = [&text] {
    while (!text.empty()) {
      const std::size_t newline = std::min(text.find('\n'), text.size());
      std::string_view line = text.substr(0, newline);
      text.remove_prefix(std::min(newline + 1, text.size()));
      if (line.ends_with('\r')) line.remove_suffix(1);
      line = trim(line);
      if (!line.empty() && line.front() != '#') return line;
    }
    return std::string_view();
  };
  const std::vector<std::string_view> names = split_line(next_line(), ',');
  const auto date = std::find(names.begin(), names.end(), "date");
  const bool ours =
      date != names.end() && std::any_of(names.begin(), names.end(), [](auto name) {
        return name == "tmin_c" || name == "tmin_f" || name == "tmax_c" || name == "tmax_f";
      });
  if (!ours) return false;
  const std::vector<std::string_view> cells = split_line(next_line(), ',');
  const auto at = static_cast<std::size_t>(date - names.begin());
  if (at >= cells.size() || parse_date(cells[at])) return true;
  const auto reads = [&](DateOrder order) {
    return parse_written_date(cells[at], order).has_value();
  };
  return !reads(DateOrder::ymd) && !reads(DateOrder::dmy) && !reads(DateOrder::mdy);
}

std::optional<Translation> translate(FileBytes file, const FileHints& hints,
                                     const SiteValues& site) {
  return Translator(std::move(file), hints, site).run();
}

}  // namespace wiltline

#include "wiltline/weather/translation.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <span>
#include <utility>

#include "wiltline/base/numbers.hpp"
#include "wiltline/base/text.hpp"
#include "wiltline/weather/table_hours.hpp"
#include "wiltline/weather/table_lines.hpp"
#include "wiltline/weather/table_times.hpp"

namespace wiltline {
namespace {

class Translator {
 public:
  Translator(FileBytes file, const FileHints& hints, const SiteValues& site)
      : name_(file.name), hints_(hints), site_(site) {
    meanings_ = hints_.columns;
    const auto& builtin = builtin_column_meanings();
    meanings_.insert(meanings_.end(), builtin.begin(), builtin.end());
    check_layout_name();
    if (auto table = ForeignTable::open(std::move(file), usable())) {
      open_.emplace(OpenTable{*std::move(table)});
      readings_.emplace(*open_);
    }
  }

  std::optional<Translation> run() {
    if (!open_) {
      if (!hints_.layout.empty()) refuse_header({name_, 1, 1, {}, {}});
      return std::nullopt;
    }
    choose_layout();
    if (!can_be_weather()) return std::nullopt;
    check_columns();
    read_times();
    open_->table.find_decimal_sign(open_->columns, open_->problems);
    open_->problems.throw_if_any();
    if (open_->column_of(WeatherQuantity::element) != nullptr) {
      if (!write_lines()) return std::nullopt;
    } else {
      hourly_ = are_parts_of_days(times_.rows);
      require_readings();
      settle_units();
      open_->problems.throw_if_any();
      describe_columns();
      hourly_ ? write_hours() : write_days();
      open_->problems.throw_if_any();
    }
    finish();
    return std::move(result_);
  }

 private:
  void check_layout_name() const {
    const std::vector<std::string> names = layout_names(meanings_);
    if (hints_.layout.empty() || std::ranges::find(names, hints_.layout) != names.end()) {
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
    return std::ranges::all_of(rows, [&](const ColumnMeaning& row) {
      return !row.key || std::ranges::any_of(taken, [&](const TakenColumn& column) {
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
        if (has_keys(rows, open_->table.columns_under(rows))) fitting.push_back(layout);
      }
    }
    if (!hints_.layout.empty() && fitting.empty()) {
      refuse_header(open_->table.csv().problem_in_header(0, {}, {}));
    }
    if (fitting.size() > 1) keep_layouts_of_sense(fitting);
    if (!fitting.empty()) open_->said.layout = fitting.front();
    open_->columns = open_->table.columns_under(meanings_of(open_->said.layout));
    if (open_->column_of(WeatherQuantity::date) != nullptr ||
        open_->column_of(WeatherQuantity::year) != nullptr)
      return;
    // A day without a year is the date; so is a time without a day.
    for (const WeatherQuantity one : {WeatherQuantity::day, WeatherQuantity::clock}) {
      for (TakenColumn& column : open_->columns) {
        if (column.quantity != one || open_->column_of(WeatherQuantity::date) != nullptr) continue;
        column.quantity = WeatherQuantity::date;
      }
    }
  }

  /// Layouts of one header differ in their units: those in which the temperatures make sense.
  void keep_layouts_of_sense(std::vector<std::string>& fitting) {
    const std::vector<std::string> all = fitting;
    std::erase_if(fitting, [&](const std::string& layout) {
      open_->columns = open_->table.columns_under(meanings_of(layout));
      return !temperatures_make_sense();
    });
    if (fitting.size() == 1) return;
    const std::size_t at = open_->column_of(WeatherQuantity::tmax)->column;
    open_->complain_of_header(
        at,
        fmt::format("a header that {} share, and {}", fmt::join(all, ", "),
                    fitting.empty()
                        ? std::string("temperatures that fit none of them")
                        : fmt::format("numbers that fit {}", fmt::join(fitting, " and "))),
        "one of them to be named",
        {Advice::Kind::name_layout, {}, ", or a whole year and the site's latitude to tell by"});
    open_->problems.throw_if_any();
  }

  [[nodiscard]] bool temperatures_make_sense() {
    ProblemList kept = std::exchange(open_->problems, {});
    read_times();
    open_->table.find_decimal_sign(open_->columns, open_->problems);
    const bool broken = !open_->problems.empty();
    open_->problems = std::move(kept);
    if (broken) return true;  // told of later
    const TakenColumn* const highest = open_->column_of(WeatherQuantity::tmax);
    const TakenColumn* const lowest = open_->column_of(WeatherQuantity::tmin);
    return makes_sense(numbers_in(open_->table, {highest, lowest}, times_.rows), *highest->unit,
                       known_of_site());
  }

  const std::vector<ColumnMeaning>& meanings_of(const std::string& layout) {
    auto found = meanings_of_layout_.find(layout);
    if (found == meanings_of_layout_.end()) {
      found = meanings_of_layout_.emplace(layout, of_layout(meanings_, layout)).first;
    }
    return found->second;
  }

  [[nodiscard]] bool can_be_weather() const {
    return open_->has_date() && std::ranges::any_of(open_->columns, [](const auto& column) {
             return is_reading(column.quantity) || column.quantity == WeatherQuantity::element;
           });
  }

  /// Two columns for one quantity, two units for one column.
  void check_columns() {
    std::map<WeatherQuantity, const TakenColumn*> first;
    for (const TakenColumn& column : open_->columns) {
      if (column.quantity == WeatherQuantity::none || column.quantity == WeatherQuantity::place ||
          column.quantity == WeatherQuantity::temperature) {
        continue;
      }
      const auto [known, fresh] = first.emplace(column.quantity, &column);
      if (!fresh) refuse_second(*known->second, column);
      const auto& meant = column.meaning->unit;
      if (meant && column.unit && meant->unit != column.unit->unit) {
        open_->complain_of_header(
            column.column, fmt::format("{} in {}", in_quotes(column.name), column.unit->text()),
            fmt::format("{}, the unit that its layout says", meant->text()));
      }
    }
    const TakenColumn* const element = open_->column_of(WeatherQuantity::element);
    if (element != nullptr && open_->column_of(WeatherQuantity::value) == nullptr) {
      open_->complain_of_header(
          element->column, "one reading a line, without a column of the value", "a column of it");
    }
    open_->problems.throw_if_any();
  }

  [[nodiscard]] std::optional<DateOrder> told_order() const {
    if (hints_.dates) return hints_.dates;
    for (std::size_t i = 0; i < date_order_names.size(); ++i) {
      if (open_->date_says(date_order_names[i])) return static_cast<DateOrder>(i);
    }
    return std::nullopt;
  }

  void read_times() { times_ = wiltline::read_times(*open_, told_order()); }

  // ---- Units -----------------------------------------------------------------------------------

  [[nodiscard]] SiteValues known_of_site() {
    ProblemList ignored;
    SiteValues values = site_.or_else(site_from_comments(open_->table.csv(), ignored));
    if (open_->table.end_row() > open_->table.begin_row()) {
      values = values.or_else(
          site_of_row(times_.rows.empty() ? open_->table.begin_row() : times_.rows.front().row));
    }
    return values;
  }

  /// Columns without a unit: the one unit in which the numbers make sense, if there is one only.
  void settle_units() {
    for (const std::string_view kind : {"temperature", "depth", "radiation"}) {
      if (kind == "radiation" && hourly_) continue;  // a step's sum or its mean cannot be told
      settle(kind);
    }
    for (const TakenColumn& column : open_->columns) {
      const std::string_view kind = kind_of(column.quantity);
      if (!is_used(column.quantity) || column.unit || kind.empty()) continue;
      open_->complain_of_header(column.column,
                                fmt::format("column {} without a unit", in_quotes(column.name)),
                                fmt::format("its unit, as {} ({}), or a table of columns",
                                            column.name, fmt::join(units_of(kind), " or ")),
                                {Advice::Kind::table_of_columns});
    }
  }

  [[nodiscard]] bool is_used(WeatherQuantity wanted) const {
    if (!is_reading(wanted)) return false;
    if (wanted == WeatherQuantity::temperature) return hourly_;
    return !hourly_ || (wanted != WeatherQuantity::rh_max && wanted != WeatherQuantity::rh_min);
  }

  void settle(std::string_view kind) {
    std::vector<TakenColumn*> open;
    for (TakenColumn& column : open_->columns) {
      if (is_used(column.quantity) && !column.unit && kind_of(column.quantity) == kind) {
        open.push_back(&column);
      }
    }
    if (open.empty()) return;
    const SiteValues site = known_of_site();
    const NumbersOfColumn numbers =
        numbers_in(open_->table, {open.begin(), open.end()}, times_.rows);
    std::optional<ScaledUnit> only;
    for (const std::string_view name : units_of(kind)) {
      const ScaledUnit unit = *find_unit(name, kind);
      if (!makes_sense(numbers, unit, site)) continue;
      if (only) return;  // two fit
      only = unit;
    }
    if (!only) return;
    for (TakenColumn* column : open) column->unit = only;
    open_->said.remarks.push_back(
        fmt::format("{} names no unit: only {} makes sense", open.front()->name, only->text()));
  }

  /// A column of temperature counts for hours only.
  void refuse_second_temperature() {
    const TakenColumn* first = nullptr;
    for (const TakenColumn& column : open_->columns) {
      if (column.quantity != WeatherQuantity::temperature) continue;
      if (first != nullptr) refuse_second(*first, column);
      first = &column;
    }
  }

  void refuse_second(const TakenColumn& first, const TakenColumn& second) {
    open_->complain_of_header(second.column,
                              fmt::format("both {} and {} for {}", in_quotes(first.name),
                                          in_quotes(second.name), name_of(second.quantity)),
                              "one of them: name the other as none in a table of columns",
                              {Advice::Kind::table_of_columns});
  }

  void require_readings() {
    const auto need = [&](WeatherQuantity wanted, const char* what) {
      if (open_->column_of(wanted) != nullptr) return;
      open_->complain_of_header(0, fmt::format("no column of the {}", what),
                                "one whose name or a table of columns",
                                {Advice::Kind::table_of_columns, {}, " says so"});
    };
    const bool both = open_->column_of(WeatherQuantity::tmin) != nullptr &&
                      open_->column_of(WeatherQuantity::tmax) != nullptr;
    if (hourly_) refuse_second_temperature();
    if (both) return;
    if (hourly_) return need(WeatherQuantity::temperature, "temperature");
    need(WeatherQuantity::tmin, "lowest temperature");
    need(WeatherQuantity::tmax, "highest temperature");
  }

  // ---- What is written -------------------------------------------------------------------------

  void describe_columns() {
    Understanding& said = open_->said;
    for (std::size_t i = 0; i < open_->table.header().size(); ++i) {
      const auto column = std::ranges::find(open_->columns, i, &TakenColumn::column);
      if (column == open_->columns.end() || column->quantity == WeatherQuantity::none ||
          (is_reading(column->quantity) && !is_used(column->quantity))) {
        if (!open_->table.header()[i].empty()) said.left_out.push_back(open_->table.header()[i]);
        continue;
      }
      if (!is_reading(column->quantity)) continue;
      const std::string unit = column->unit ? column->unit->text() : "";
      said.taken.push_back({column->name, fmt::format("{}{}{}", name_of(column->quantity),
                                                      unit.empty() ? "" : " ", unit)});
    }
    said.rows = times_.rows.size();
  }

  [[nodiscard]] std::string place_name(std::size_t place) const {
    return times_.places.size() < 2 ? name_ : fmt::format("{} ({})", name_, times_.places[place]);
  }

  /// Latitude, longitude and elevation that stand in a row.
  [[nodiscard]] SiteValues site_of_row(std::size_t row) const {
    SiteValues site;
    const auto take = [&](WeatherQuantity wanted, std::string_view key) {
      const TakenColumn* const column = open_->column_of(wanted);
      if (column == nullptr) return;
      const auto number = open_->table.number(row, column->column);
      if (!number) return;
      const double value = column->unit ? column->unit->convert(number->value) : number->value;
      (void)set_site_value(site, key, value);
    };
    take(WeatherQuantity::latitude, "latitude_deg");
    take(WeatherQuantity::longitude, "longitude_deg");
    take(WeatherQuantity::elevation, "elevation_m");
    return site;
  }

  std::vector<TimedRow> rows_of(std::size_t place) {
    RowsOfPlace found = rows_of_place(times_.rows, place);
    if (found.turned_round) {
      open_->said.remarks.emplace_back("days stand latest first: turned round");
    }
    return std::move(found.rows);
  }

  TranslatedPlace& begin_place(std::size_t place, std::size_t row, const std::string& their_date) {
    ProblemList wrong_site_lines;
    const SiteValues site = site_.or_else(site_from_comments(open_->table.csv(), wrong_site_lines));
    wrong_site_lines.throw_if_any();
    const std::size_t header_line = open_->table.csv().problem_in_header(0, {}, {}).line;
    result_.places.push_back({place_name(place), site.or_else(site_of_row(row)),
                              OwnText(header_line, their_date), std::nullopt,
                              says_generated(open_->table.csv())});
    return result_.places.back();
  }

  /// The number may stand as it is, in a column of its own unit.
  static bool passes_through(const TakenColumn& column) {
    return column.unit->scale == 1.0 && !column.unit->unit->ending.empty();
  }
  static std::string_view ending_of(const OwnColumn& own, const TakenColumn& column) {
    return passes_through(column) ? column.unit->unit->ending : own.ending();
  }

  void write_days() {
    std::vector<std::pair<OwnColumn, const TakenColumn*>> columns;
    for (const OwnColumn& own : own_columns) {
      if (const TakenColumn* const column = open_->column_of(own.quantity))
        columns.emplace_back(own, column);
    }
    const TakenColumn& date = open_->date_column();
    for (std::size_t place = 0; place < times_.place_count(); ++place) {
      const std::vector<TimedRow> rows = rows_of(place);
      if (rows.empty()) continue;
      OwnText& own_text = begin_place(place, rows.front().row, date.name).own;
      for (const auto& [own, column] : columns) {
        own_text.add_column(fmt::format("{}{}", own.stem, ending_of(own, *column)), column->name);
      }
      for (const TimedRow& timed : rows) {
        if (open_->problems.full()) return;
        own_text.begin_day(timed.when.date, origin(timed.row, date.column));
        for (const auto& [own, column] : columns) {
          const auto reading = readings_->of(timed.row, *column);
          own_text.add_cell(!reading                  ? std::string()
                            : passes_through(*column) ? reading->plain
                                                      : shortest(reading->value),
                            origin(timed.row, column->column));
        }
      }
    }
  }

  [[nodiscard]] OwnText::Origin origin(std::size_t row, std::size_t column) const {
    const Problem at = open_->table.problem_at(row, column, {}, {});
    return {at.line, at.column};
  }

  // ---- One reading a line ----------------------------------------------------------------------

  /// False if fewer than two of the elements are known: then it may be no weather.
  bool write_lines() {
    const TableLines lines =
        read_lines(*open_, *readings_, times_, meanings_of(open_->said.layout));
    open_->problems.throw_if_any();
    for (std::size_t place = 0; place < lines.places.size(); ++place) {
      const TableLines::Place& of_place = lines.places[place];
      if (of_place.days.empty()) continue;
      if (lines.columns.size() < 2) return false;
      write_days_of_lines(lines, of_place, begin_place(place, of_place.first_row, "date").own);
    }
    return true;
  }

  // ---- Hours -----------------------------------------------------------------------------------

  void write_hours() {
    for (std::size_t place = 0; place < times_.place_count(); ++place) {
      const std::vector<TimedRow> rows = rows_of(place);
      if (rows.empty()) continue;
      TranslatedPlace& result = begin_place(place, rows.front().row, "date");
      const double step_h = common_step_h(rows);
      if (step_h <= 0.0 || step_h > longest_step_h) {
        open_->complain(rows.front().row, open_->date_column().column,
                        fmt::format("readings {:g} hours apart", step_h),
                        fmt::format("at most {:g}", longest_step_h));
        return;
      }
      open_->said.step_h = step_h;
      result.hours = read_hours(*open_, *readings_, rows, step_h, result.site);
      if (!open_->problems.empty()) return;
      write_days_of_hours(*open_, *result.hours, result.own);
    }
  }

  void finish() {
    open_->said.file = name_;
    open_->said.encoding = open_->table.encoding();
    open_->said.separator = open_->table.separator();
    open_->said.decimal_comma = open_->table.decimal_comma();
    std::vector<std::string>& remarks = open_->said.remarks;
    std::vector<std::string> once;
    for (std::string& remark : remarks) {
      if (std::ranges::find(once, remark) == once.end()) once.push_back(std::move(remark));
    }
    remarks = std::move(once);
    result_.understood = std::move(open_->said);
  }

  std::string name_;
  const FileHints& hints_;
  const SiteValues& site_;
  std::vector<ColumnMeaning> meanings_;
  std::map<std::string, std::vector<ColumnMeaning>> meanings_of_layout_;
  std::optional<OpenTable> open_;
  std::optional<Readings> readings_;
  TableTimes times_;
  bool hourly_ = false;
  Translation result_;
};

}  // namespace

std::optional<Translation> translate(FileBytes file, const FileHints& hints,
                                     const SiteValues& site) {
  return Translator(std::move(file), hints, site).run();
}

}  // namespace wiltline

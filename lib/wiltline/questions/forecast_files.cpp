#include "wiltline/questions/forecast_files.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <iterator>

#include "wiltline/base/numbers.hpp"
#include "wiltline/base/text.hpp"

namespace wiltline {
namespace {

constexpr double most_given_l = 10000.0;
constexpr double most_weight_kg = 100000.0;

const Planting* find_planting(std::span<const Planting> plantings, std::string_view name) {
  const auto found = std::find_if(plantings.begin(), plantings.end(),
                                  [&](const Planting& one) { return one.name == name; });
  return found == plantings.end() ? nullptr : &*found;
}

std::vector<std::string> names_of(std::span<const Planting> plantings) {
  std::vector<std::string> names;
  for (const Planting& one : plantings) names.push_back(one.name);
  return names;
}

/// A text cell of CSV, quoted where it must be so that it is read back as it is.
std::string csv_text(std::string_view text) {
  const bool plain = text.find_first_of(",\"\n\r") == std::string_view::npos &&
                     !text.starts_with('#') && trim(text) == text;
  return plain ? std::string(text) : csv_quoted(text);
}

/// How an event is written in a state file: 2022-07-15T08:30=drained.
std::string event_text(const PotEvent& event) {
  const std::string what = [&]() -> std::string {
    switch (event.kind) {
      case PotEventKind::watered:
        return event.amount ? shortest(*event.amount) + "l" : "drained";
      case PotEventKind::weighed:
        return shortest(event.amount.value_or(0.0)) + "kg";
      case PotEventKind::top_felt_dry:
        return "top-dry";
      case PotEventKind::top_felt_moist:
        break;
    }
    return "top-moist";
  }();
  return fmt::format("{}={}", to_string(event.when), what);
}

std::optional<double> amount_before(std::string_view text, std::string_view unit, double most) {
  if (!text.ends_with(unit)) return std::nullopt;
  const auto amount = parse_number(text.substr(0, text.size() - unit.size()));
  return amount && *amount > 0.0 && *amount <= most ? amount : std::nullopt;
}

std::optional<PotEvent> parse_event(std::string_view text) {
  const std::size_t sign = text.find('=');
  if (sign == std::string_view::npos) return std::nullopt;
  const auto when = parse_instant(text.substr(0, sign));
  const std::string_view what = text.substr(sign + 1);
  if (!when) return std::nullopt;
  if (what == "drained") return PotEvent{*when, PotEventKind::watered, std::nullopt};
  if (what == "top-dry") return PotEvent{*when, PotEventKind::top_felt_dry, std::nullopt};
  if (what == "top-moist") return PotEvent{*when, PotEventKind::top_felt_moist, std::nullopt};
  if (const auto kg = amount_before(what, "kg", most_weight_kg)) {
    return PotEvent{*when, PotEventKind::weighed, kg};
  }
  if (const auto litres = amount_before(what, "l", most_given_l)) {
    return PotEvent{*when, PotEventKind::watered, litres};
  }
  return std::nullopt;
}

/// The cells of a table by the names of its columns, with problems collected.
class Cells {
 public:
  Cells(FileBytes file, std::vector<std::string> columns, bool may_be_empty = false)
      : table_(std::move(file), may_be_empty), columns_(std::move(columns)) {}

  [[nodiscard]] const CsvTable& table() const { return table_; }
  ProblemList& problems() { return problems_; }

  void require(std::span<const std::string> names) {
    table_.refuse_unknown_columns(columns_, problems_);
    for (const std::string& name : names) {
      if (!table_.column(name)) {
        problems_.add(
            table_.problem_in_header(0, fmt::format("no column {}", name), "that column"));
      }
    }
    problems_.throw_if_any();
  }

  void at(std::size_t row) { row_ = row; }
  [[nodiscard]] std::string_view cell(std::string_view column) const {
    return table_.cell(row_, *table_.column(column));
  }
  void complain(std::string_view column, std::string found, std::string expected) {
    problems_.add(
        table_.problem_at(row_, *table_.column(column), std::move(found), std::move(expected)));
  }

  const Planting* planting(std::span<const Planting> plantings) {
    const std::string_view name = cell("name");
    const Planting* const found = find_planting(plantings, name);
    if (found == nullptr) {
      complain(
          "name",
          name.empty() ? "nothing in name" : fmt::format("unknown planting {}", in_quotes(name)),
          "a name of the garden" + nearest_hint(name, names_of(plantings)));
    }
    return found;
  }

  double number(std::string_view column, double low, double high, std::string_view allowed) {
    const std::string_view text = cell(column);
    const auto value = parse_number(text);
    if (!value) {
      complain(column,
               text.empty() ? fmt::format("nothing in {}", column)
                            : fmt::format("{} in {}", in_quotes(text), column),
               "a number");
      return std::clamp(0.0, low, high);
    }
    if (!(*value >= low && *value <= high)) {
      complain(column, fmt::format("{} in {}", text, column), std::string(allowed));
      return std::clamp(0.0, low, high);
    }
    return *value;
  }

  Date date(std::string_view column) {
    const auto value = parse_date(cell(column));
    if (!value) complain(column, in_quotes(cell(column)), "a date that exists, as 2024-05-31");
    return value.value_or(Date{});
  }

 private:
  CsvTable table_;
  std::vector<std::string> columns_;
  ProblemList problems_;
  std::size_t row_ = 0;
};

constexpr std::string_view instant_example = "a date and hour that exist, as 2024-05-31 18:30";

std::vector<std::string> state_columns() {
  return {"name",
          "planted",
          "date",
          "growth",
          "rooted_depletion_l",
          "unrooted_depletion_l",
          "top_depletion_l",
          "rooted_share",
          "mulch_water_l",
          "yesterday_demand_l",
          "grown",
          "progress",
          "days_since_full",
          "last_feed_days",
          "drained_since_feed_l",
          "drained_yesterday_l",
          "log_from",
          "doings"};
}

std::string_view growth_word(GrowthClock growth) {
  return growth == GrowthClock::stage_days ? "days" : "degree-days";
}

/// One row of a state file.
class StateReader {
 public:
  StateReader(FileBytes file, const ModelParameters& model, const StateReading& how)
      : cells_(std::move(file), state_columns()), model_(model), how_(how) {}

  std::vector<SavedPlanting> read() {
    const std::vector<std::string> columns = state_columns();
    cells_.require(columns);
    std::vector<SavedPlanting> saved;
    for (std::size_t row = 0; row < cells_.table().rows() && !cells_.problems().full(); ++row) {
      cells_.at(row);
      SavedPlanting one = read_row();
      const bool twice = std::any_of(saved.begin(), saved.end(), [&](const SavedPlanting& earlier) {
        return earlier.name == one.name;
      });
      if (twice && !one.name.empty()) {
        cells_.complain("name", fmt::format("{} a second time", in_quotes(one.name)),
                        "every name once");
      }
      saved.push_back(std::move(one));
    }
    cells_.problems().throw_if_any();
    return saved;
  }

 private:
  SavedPlanting read_row() {
    SavedPlanting saved;
    saved.name = std::string(cells_.cell("name"));
    const Planting* const planting = cells_.planting(how_.plantings);
    saved.planted = cells_.date("planted");
    saved.run.date = cells_.date("date");
    const bool both_read = saved.run.date != Date{} && saved.planted != Date{};
    if (both_read && saved.run.date < saved.planted) {
      cells_.complain("date", fmt::format("{} before planted", to_string(saved.run.date)),
                      "a day on or after it");
    } else if (both_read && (saved.run.date < how_.first || saved.run.date > how_.last)) {
      cells_.complain("date", to_string(saved.run.date),
                      fmt::format("a day from {} to {}: within the weather and not after now",
                                  to_string(how_.first), to_string(how_.last)));
    }
    if (planting != nullptr && saved.planted != Date{} &&
        !falls_on(planting->planted, saved.planted)) {
      cells_.complain("planted", to_string(saved.planted),
                      "the planting day that the garden gives it");
    }
    saved.growth = how_.growth;
    if (cells_.cell("growth") != growth_word(how_.growth)) {
      cells_.complain("growth", in_quotes(cells_.cell("growth")),
                      fmt::format("{}, as --growth says", growth_word(how_.growth)));
    }
    if (planting != nullptr) {
      read_pot(build_pot(*planting, model_), saved.run.pot);
    }
    read_development(saved.run);
    read_log(saved);
    return saved;
  }

  void read_pot(const PotParameters& pot, PotState& state) {
    // A state is what the account of this very pot ended with; sums in it may be off by rounding.
    const double rounding_l = 1e-9 * pot.refilled_l;
    state.rooted_share = cells_.number("rooted_share", 1e-9, 1.0, "a share above 0 and up to 1");
    const double driest_l = pot.refilled_l - pot.air_dry_l;
    const auto litres = [&](std::string_view column, double low, double high) {
      return cells_.number(column, low - rounding_l, high + rounding_l,
                           fmt::format("{:.4g} to {:.4g} litres, which is what this pot can hold "
                                       "or lose",
                                       low, high));
    };
    state.rooted_depletion_l =
        litres("rooted_depletion_l", -pot.surplus_store_l, driest_l * state.rooted_share);
    state.unrooted_depletion_l =
        litres("unrooted_depletion_l", 0.0, driest_l * (1.0 - state.rooted_share));
    state.top_depletion_l = litres("top_depletion_l", 0.0, pot.total_evaporable_l);
    state.mulch_water_l = litres("mulch_water_l", 0.0, pot.mulch_store_l);
    state.yesterday_demand_l =
        cells_.number("yesterday_demand_l", 0.0, most_given_l, "0 to 10000 litres");
  }

  void read_development(RunState& run) {
    constexpr double most = 1e6;
    run.development.grown = cells_.number("grown", -most, most, "days or degree-days grown");
    run.development.progress = cells_.number("progress", 0.0, most, "a share from 0 up");
    run.development.days_since_full =
        cells_.number("days_since_full", -1.0, most, "-1, or days from 0 up");
    if (!cells_.cell("last_feed_days").empty()) {
      run.feeding.last_days = cells_.number("last_feed_days", 0.0, most, "days from 0 up");
    }
    run.feeding.drained_since_l = cells_.number("drained_since_feed_l", 0.0, most, "0 or more");
    run.drained_yesterday_l = cells_.number("drained_yesterday_l", 0.0, most, "0 or more");
  }

  void read_log(SavedPlanting& saved) {
    if (const std::string_view text = cells_.cell("log_from"); !text.empty()) {
      saved.log.complete_from = parse_instant(text);
      if (!saved.log.complete_from) {
        cells_.complain("log_from", in_quotes(text), std::string(instant_example));
      }
    }
    for (const std::string_view word : words(cells_.cell("doings"))) {
      const auto event = parse_event(word);
      if (!event || event->when.date < saved.run.date) {
        cells_.complain("doings", in_quotes(word),
                        "such as 2024-05-31T18:30=drained, =1.5l, =12.3kg, =top-dry or =top-moist, "
                        "on the state's date or later");
        continue;
      }
      saved.log.events.push_back(*event);
    }
    std::stable_sort(saved.log.events.begin(), saved.log.events.end(),
                     [](const PotEvent& a, const PotEvent& b) { return a.when < b.when; });
  }

  Cells cells_;
  const ModelParameters& model_;
  const StateReading& how_;
};

}  // namespace

std::vector<LogEntry> read_watering_log(FileBytes file, std::span<const Planting> plantings,
                                        const Instant& now) {
  std::vector<std::string> columns{"when", "name"};
  add_names(columns, "given", unit_options::volume());
  Cells cells(std::move(file), columns, true);  // nobody has watered yet
  const std::array<std::string, 2> required{"when", "name"};
  const NumberColumn given(cells.table(), "given", unit_options::volume(), true, cells.problems());
  cells.require(required);
  std::vector<LogEntry> entries;
  for (std::size_t row = 0; row < cells.table().rows() && !cells.problems().full(); ++row) {
    cells.at(row);
    const auto when = parse_instant(cells.cell("when"));
    if (!when) {
      cells.complain("when", in_quotes(cells.cell("when")), std::string(instant_example));
    } else if (*when > now) {
      cells.complain("when", fmt::format("{} after now", to_string(*when)),
                     fmt::format("a time up to {}", to_string(now)));
    }
    const Planting* const planting = cells.planting(plantings);
    const auto litres = given.read(row, cells.problems(), 0.001, most_given_l,
                                   "0.001 to 10000 litres, or nothing: until it drained");
    if (!when || planting == nullptr) continue;
    entries.push_back({planting->name, {*when, PotEventKind::watered, litres}});
  }
  cells.problems().throw_if_any();
  std::stable_sort(entries.begin(), entries.end(), [](const LogEntry& a, const LogEntry& b) {
    return a.event.when < b.event.when;
  });
  return entries;
}

std::string state_csv(std::span<const SavedPlanting> plantings) {
  std::string out = fmt::format("{}\n", fmt::join(state_columns(), ","));
  for (const SavedPlanting& one : plantings) {
    const RunState& run = one.run;
    std::vector<std::string> events;
    for (const PotEvent& event : one.log.events) events.push_back(event_text(event));
    const bool ever_fed = run.feeding.last_days >= 0.0;
    out += fmt::format(
        "{},{},{},{},{},{},{},{},{},{},{},{},{},{},{},{},{},{}\n", csv_text(one.name),
        to_string(one.planted), to_string(run.date), growth_word(one.growth),
        shortest(run.pot.rooted_depletion_l), shortest(run.pot.unrooted_depletion_l),
        shortest(run.pot.top_depletion_l), shortest(run.pot.rooted_share),
        shortest(run.pot.mulch_water_l), shortest(run.pot.yesterday_demand_l),
        shortest(run.development.grown), shortest(run.development.progress),
        shortest(run.development.days_since_full), ever_fed ? shortest(run.feeding.last_days) : "",
        shortest(run.feeding.drained_since_l), shortest(run.drained_yesterday_l),
        one.log.complete_from ? to_string(*one.log.complete_from) : "", fmt::join(events, " "));
  }
  return out;
}

std::vector<SavedPlanting> read_state(FileBytes file, const ModelParameters& model,
                                      const StateReading& how) {
  return StateReader(std::move(file), model, how).read();
}

}  // namespace wiltline

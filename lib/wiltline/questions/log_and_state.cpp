#include "wiltline/questions/log_and_state.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <unordered_set>

#include "wiltline/base/fields.hpp"
#include "wiltline/base/numbers.hpp"
#include "wiltline/base/text.hpp"
#include "wiltline/budget/state_correction.hpp"
#include "wiltline/questions/named_rows.hpp"

namespace wiltline {
namespace {

constexpr std::string_view date_example = "a date that exists, as 2024-05-31";

std::string event_text(const PotEvent& event) {
  switch (event.kind) {
    case PotEventKind::watered:
      return event.amount ? shortest(*event.amount) + "l" : "drained";
    case PotEventKind::weighed:
      return shortest(event.amount.value_or(0.0)) + "kg";
    case PotEventKind::top_felt_dry:
      return "top-dry";
    case PotEventKind::top_felt_moist:
    case PotEventKind::looked_at:  // of no account by itself, and in no log that is saved
      break;
  }
  return "top-moist";
}

std::optional<double> amount_before(std::string_view text, std::string_view unit, double most) {
  if (!text.ends_with(unit)) return std::nullopt;
  const auto amount = parse_number(text.substr(0, text.size() - unit.size()));
  return amount && *amount > 0.0 && *amount <= most ? amount : std::nullopt;
}

std::optional<PotEvent> read_event(const Instant& when, std::string_view text) {
  if (text == "drained") return PotEvent{when, PotEventKind::watered, std::nullopt};
  if (text == "top-dry") return PotEvent{when, PotEventKind::top_felt_dry, std::nullopt};
  if (text == "top-moist") return PotEvent{when, PotEventKind::top_felt_moist, std::nullopt};
  if (const auto kg = amount_before(text, "kg", heaviest_pot_kg)) {
    return PotEvent{when, PotEventKind::weighed, kg};
  }
  if (const auto litres = amount_before(text, "l", most_given_l)) {
    return PotEvent{when, PotEventKind::watered, litres};
  }
  return std::nullopt;
}

constexpr std::array<std::pair<ReadingKind, std::string_view>, 6> reading_words{
    {{ReadingKind::weighed_before, "kg-before"},
     {ReadingKind::weighed_after, "kg-after"},
     {ReadingKind::top_felt_dry, "top-dry"},
     {ReadingKind::top_felt_moist, "top-moist"},
     {ReadingKind::wilted, "wilting"},
     {ReadingKind::not_wilted, "not-wilting"}}};

/// Of a watering of which was measured what drained: litres given, if that is known, and drained.
std::string reading_text(const Reading& one) {
  for (const auto& [kind, word] : reading_words) {
    if (kind == one.kind) return (one.weighed() ? shortest(one.weight_kg) : "") + std::string(word);
  }
  return fmt::format("{}:{}l", one.given_l ? shortest(*one.given_l) : "",
                     shortest(one.drained_l.value_or(0.0)));
}

std::optional<Reading> read_reading(const Instant& when, std::string_view text) {
  Reading one{.when = when};
  for (const auto& [kind, word] : reading_words) {
    one.kind = kind;
    if (!one.weighed() && text == word) return one;
    if (!one.weighed()) continue;
    one.weight_kg = amount_before(text, word, heaviest_pot_kg).value_or(0.0);
    if (one.weight_kg > 0.0) return one;
  }
  const std::size_t colon = text.find(':');
  if (colon == std::string_view::npos || !text.ends_with('l')) return std::nullopt;
  Reading watered{.when = when};
  const auto drained_l = parse_number(text.substr(colon + 1, text.size() - colon - 2));
  if (!drained_l || !(*drained_l >= 0.0 && *drained_l <= most_given_l)) return std::nullopt;
  watered.drained_l = drained_l;
  if (colon == 0) return watered;
  watered.given_l = amount_before(text.substr(0, colon), "", most_given_l);
  return watered.given_l ? std::optional(watered) : std::nullopt;
}

/// Events or readings as a cell has them: 2022-07-15T08:30=drained, separated by spaces.
template <typename One>
std::string stamped_text(const std::vector<One>& all, std::string (*text_of)(const One&)) {
  std::vector<std::string> texts;
  for (const One& one : all) {
    texts.push_back(fmt::format("{}={}", to_string(one.when), text_of(one)));
  }
  return fmt::format("{}", fmt::join(texts, " "));
}

template <typename One>
void put_stamped(const Cell& cell, Date from, std::vector<One>& into,
                 std::optional<One> (*read)(const Instant&, std::string_view),
                 std::string_view such_as) {
  for (const std::string_view word : words(cell.text())) {
    const std::size_t sign = std::min(word.find('='), word.size());
    const auto when = parse_instant(word.substr(0, sign));
    std::optional<One> one;
    if (when && when->date >= from && sign < word.size()) one = read(*when, word.substr(sign + 1));
    if (one) {
      into.push_back(*one);
    } else {
      cell.complain(in_quotes(word),
                    fmt::format("such as {}, on the state's date or later", such_as));
    }
  }
}

void put_events(const Cell& cell, SavedPlanting& saved) {
  put_stamped(cell, saved.run.date, saved.log.events, read_event,
              "2024-05-31T18:30=drained, =1.5l, =12.3kg, =top-dry or =top-moist");
  std::ranges::stable_sort(saved.log.events, {}, &PotEvent::when);
}

void put_readings(const Cell& cell, SavedPlanting& saved) {
  put_stamped(cell, saved.run.date, saved.readings, read_reading,
              "2024-05-31T18:30=12.3kg-before, =12.3kg-after, =1.5:0.2l, =top-dry, =top-moist, "
              "=wilting or =not-wilting");
}

/// The numbers of a cell; none, after reporting the fault, if one is no number or beyond a million.
std::vector<double> numbers_in(const Cell& cell, std::string_view expected) {
  constexpr double most = 1e6;
  std::vector<double> numbers;
  for (const std::string_view word : words(cell.text())) {
    const auto number = parse_number(word);
    if (!number || !(std::abs(*number) <= most)) {
      cell.complain(in_quotes(word), std::string(expected));
      return {};
    }
    numbers.push_back(*number);
  }
  return numbers;
}

/// How far the further crops of a mixed pot have come, three numbers each.
std::string beside_text(const RunState& run) {
  std::vector<std::string> numbers;
  for (const DevelopmentState& one : run.beside) {
    for (const double number : {one.grown, one.progress, one.days_since_full}) {
      numbers.push_back(shortest(number));
    }
  }
  return fmt::format("{}", fmt::join(numbers, " "));
}

void put_beside(const Cell& cell, SavedPlanting& saved) {
  const std::vector<double> numbers = numbers_in(cell, "numbers: grown, progress, days since full");
  for (std::size_t i = 0; i + 2 < numbers.size(); i += 3) {
    saved.run.beside.push_back({numbers[i], numbers[i + 1], numbers[i + 2]});
  }
  if (numbers.size() % 3 != 0) cell.complain(in_quotes(cell.text()), "three numbers a crop");
}

/// The numbers of an ensemble, in the order in which they are written.
std::vector<double*> numbers_of(PotEnsemble& of) {
  std::vector<double*> all{&of.empty_kg2, &of.empty_plant, &of.plant_kg2, &of.water_l2,
                           &of.doubtful_kg};
  for (PotMember& one : of.members) {
    PotState& pot = one.pot;
    for (double* number : {&one.use, &one.usable, &one.wall, &one.empty_kg, &one.plant_kg_per_m2,
                           &one.beyond_l, &pot.rooted_depletion_l, &pot.unrooted_depletion_l,
                           &pot.top_depletion_l, &pot.mulch_water_l, &pot.yesterday_use_l}) {
      all.push_back(number);
    }
  }
  return all;
}

/// `readings members` and then the numbers.
std::string learned_text(const std::optional<PotEnsemble>& learned) {
  if (!learned) return "";
  PotEnsemble copy = *learned;
  std::string text = fmt::format("{} {}", copy.readings, copy.members.size());
  for (const double* number : numbers_of(copy)) text += " " + shortest(*number);
  return text;
}

void put_learned(const Cell& cell, SavedPlanting& saved) {
  constexpr double most_log = 5.0;
  constexpr std::size_t most_members = 9;
  constexpr std::size_t most_readings = 1000000;
  const std::vector<double> numbers = numbers_in(cell, "a number from -1000000 to 1000000");
  if (numbers.empty()) return;
  const auto count = [&](std::size_t at, std::size_t highest) {
    const double number = at < numbers.size() ? numbers[at] : 0.0;
    return number >= 0.0 && number <= static_cast<double>(highest) && std::floor(number) == number
               ? static_cast<std::size_t>(number)
               : std::size_t{0};
  };
  PotEnsemble learned{.members = std::vector<PotMember>(count(1, most_members)),
                      .readings = count(0, most_readings)};
  const std::vector<double*> into = numbers_of(learned);
  if (learned.members.size() % 2 != 1 || numbers.size() != into.size() + 2) {
    cell.complain(fmt::format("{} numbers", numbers.size()),
                  "those that a state has: readings, members (an odd number), 5 and 11 a member");
    return;
  }
  for (std::size_t i = 0; i < into.size(); ++i) *into[i] = numbers[i + 2];
  const bool spreads = learned.empty_kg2 >= 0.0 && learned.plant_kg2 >= 0.0 &&
                       learned.water_l2 >= 0.0 &&
                       std::abs(learned.empty_plant) <=
                           std::sqrt(learned.empty_kg2 * learned.plant_kg2) * (1.0 + 1e-9) + 1e-9;
  const auto out_of_range = [](const PotMember& one) {
    return std::abs(one.use) > most_log || std::abs(one.usable) > most_log ||
           std::abs(one.wall) > most_log || one.beyond_l < 0.0;
  };
  if (!spreads || std::ranges::any_of(learned.members, out_of_range)) {
    cell.complain("a spread or a logarithm of a factor that no pot has", "those that a state has");
    return;
  }
  saved.learned = std::move(learned);
}

std::string_view growth_word(GrowthClock growth) {
  return growth == GrowthClock::stage_days ? "days" : "degree-days";
}

void put_date(const Cell& cell, Date& into) {
  if (const auto date = parse_date(cell.text())) {
    into = *date;
  } else {
    cell.complain(in_quotes(cell.text()), std::string(date_example));
  }
}

/// The columns of a state file. What a pot's water is held to follows from the pot: those numbers
/// are read with it.
Fields<SavedPlanting> state_fields(GrowthClock growth) {
  constexpr double most = 1e6;
  const auto pot = [](double PotState::*member) {
    return [member](SavedPlanting& one) -> double& { return one.run.pot.*member; };
  };
  const auto grown = [](double DevelopmentState::*member) {
    return [member](SavedPlanting& one) -> double& { return one.run.development.*member; };
  };
  using Saved = const SavedPlanting&;
  const auto litres_of = [](double PotState::*member) {
    return [member](Saved one) { return shortest(one.run.pot.*member); };
  };
  const auto grown_of = [](double DevelopmentState::*member) {
    return [member](Saved one) { return shortest(one.run.development.*member); };
  };
  Fields<SavedPlanting> fields;
  fields.text("name", &SavedPlanting::name, Need::value, name_example)
      .written([](Saved one) { return csv_text(one.name); })
      .field(
          "planted", Need::value,
          [](const Cell& cell, SavedPlanting& one) { put_date(cell, one.planted); }, date_example)
      .written([](Saved one) { return to_string(one.planted); })
      .field(
          "date", Need::value,
          [](const Cell& cell, SavedPlanting& one) { put_date(cell, one.run.date); }, date_example)
      .written([](Saved one) { return to_string(one.run.date); })
      .field("growth", Need::value,
             [growth](const Cell& cell, SavedPlanting& one) {
               one.growth = growth;
               if (cell.text() == growth_word(growth)) return;
               cell.complain(in_quotes(cell.text()), std::string(growth_word(growth)),
                             {Advice::Kind::grow_as_saved});
             })
      .written([](Saved one) { return std::string(growth_word(one.growth)); })
      .column("rooted_depletion_l")
      .written(litres_of(&PotState::rooted_depletion_l))
      .column("unrooted_depletion_l")
      .written(litres_of(&PotState::unrooted_depletion_l))
      .column("top_depletion_l")
      .written(litres_of(&PotState::top_depletion_l))
      .number("rooted_share", pot(&PotState::rooted_share),
              {1e-9, 1.0, "a share above 0 and up to 1"})
      .written(litres_of(&PotState::rooted_share))
      .column("mulch_water_l")
      .written(litres_of(&PotState::mulch_water_l))
      .number("yesterday_use_l", pot(&PotState::yesterday_use_l),
              {0.0, most_given_l, "0 to 10000 litres"})
      .written(litres_of(&PotState::yesterday_use_l))
      .number("grown", grown(&DevelopmentState::grown), {-most, most, "days or degree-days grown"})
      .written(grown_of(&DevelopmentState::grown))
      .number("progress", grown(&DevelopmentState::progress), {0.0, most, "a share from 0 up"})
      .written(grown_of(&DevelopmentState::progress))
      .number("days_since_full", grown(&DevelopmentState::days_since_full),
              {-2.0, most, "-1, or days from 0 up"})
      .written(grown_of(&DevelopmentState::days_since_full))
      .field("last_feed_days", Need::column,
             [](const Cell& cell, SavedPlanting& one) {
               one.run.feeding.last_days = cell.number({0.0, most, "days from 0 up"}).value_or(0.0);
             })
      .written([](Saved one) {
        const bool ever_fed = one.run.feeding.last_days >= 0.0;
        return ever_fed ? shortest(one.run.feeding.last_days) : "";
      })
      .number("drained_since_feed_l",
              [](SavedPlanting& one) -> double& { return one.run.feeding.drained_since_l; },
              {0.0, most, "0 or more"})
      .written([](Saved one) { return shortest(one.run.feeding.drained_since_l); })
      .number("drained_yesterday_l",
              [](SavedPlanting& one) -> double& { return one.run.drained_yesterday_l; },
              {0.0, most, "0 or more"})
      .written([](Saved one) { return shortest(one.run.drained_yesterday_l); })
      .field("log_from", Need::column,
             [](const Cell& cell, SavedPlanting& one) { one.log.complete_from = cell.instant(); })
      .written(
          [](Saved one) { return one.log.complete_from ? to_string(*one.log.complete_from) : ""; })
      .field("doings", Need::column, put_events)
      .written([](Saved one) { return stamped_text(one.log.events, event_text); })
      .field("beside", Need::nothing, put_beside)
      .written([](Saved one) { return beside_text(one.run); })
      .field("readings", Need::nothing, put_readings)
      .written([](Saved one) { return stamped_text(one.readings, reading_text); })
      .field("learned", Need::nothing, put_learned)
      .written([](Saved one) { return learned_text(one.learned); });
  return fields;
}

void read_water(TableRows& rows, const PotParameters& pot, PotState& state) {
  for (const WaterLimit& one : water_limits(pot, state.rooted_share)) {
    state.*one.litres = rows.number(
        one.column, {one.low - rounding_l(pot), one.high + rounding_l(pot),
                     fmt::format("{:.4g} to {:.4g} litres, which is what this pot can hold or lose",
                                 one.low, one.high)});
  }
}

/// The same of the members, and of the state of the one in the middle.
void read_learned_water(TableRows& rows, const Planting& planting, const ModelParameters& model,
                        SavedPlanting& saved) {
  const PotParameters tables = pot_of_tables(planting, model);
  const double share = saved.run.pot.rooted_share;
  for (PotMember& one : saved.learned->members) {
    const PotParameters pot = build_pot(as_learned(planting, tables, one), model);
    if (&one == saved.learned->members.data()) read_water(rows, pot, saved.run.pot);
    one.pot.rooted_share = share;
    const auto within = [&](double value, double low, double high) {
      return value >= low - rounding_l(pot) && value <= high + rounding_l(pot);
    };
    const std::array<WaterLimit, 4> limits = water_limits(pot, share);
    if (within(one.pot.yesterday_use_l, 0.0, most_given_l) &&
        std::ranges::all_of(limits, [&](const WaterLimit& limit) {
          return within(one.pot.*limit.litres, limit.low, limit.high);
        })) {
      continue;
    }
    rows.complain("learned", "a member with other water than its pot can hold or lose",
                  "those that a state has");
    return;
  }
}

/// A state's dates against each other, the weather and the garden.
void check_dates(TableRows& rows, const SavedPlanting& saved, const Planting* planting,
                 const StateReading& how) {
  const bool date_read = saved.run.date != Date{};
  const bool planted_read = saved.planted != Date{};
  if (date_read && planted_read) {
    if (saved.run.date < saved.planted) {
      rows.complain("date", fmt::format("{} before planted", to_string(saved.run.date)),
                    "a day on or after it");
    } else if (saved.run.date < how.first || saved.run.date > how.last) {
      rows.complain("date", to_string(saved.run.date),
                    fmt::format("a day from {} to {}: within the weather and not after now",
                                to_string(how.first), to_string(how.last)));
    }
  }
  if (planting != nullptr && planted_read && !falls_on(planting->planted, saved.planted)) {
    rows.complain("planted", to_string(saved.planted), "the planting day that the garden gives it");
  }
}

}  // namespace

std::vector<LogEntry> read_watering_log(FileBytes file, std::span<const Planting> plantings,
                                        const Instant& now) {
  struct LogRow {
    std::optional<Instant> when;
    std::string name;
    std::optional<double> given_l, drained_l;
  };
  Fields<LogRow> fields;
  fields
      .field(
          "when", Need::value,
          [&now](const Cell& cell, LogRow& row) {
            row.when = cell.instant();
            if (row.when && *row.when > now) {
              cell.complain(fmt::format("{} after now", to_string(*row.when)),
                            fmt::format("a time up to {}", to_string(now)));
            }
          },
          instant_example)
      .text("name", &LogRow::name, Need::value, name_example)
      .number("given", unit_options::volume, Need::column, &LogRow::given_l,
              {least_given_l, most_given_l, "0.001 to 10000 litres, or nothing: until it drained"})
      .number("drained", unit_options::volume, Need::nothing, &LogRow::drained_l,
              {0.0, most_given_l, "0 to 10000 litres"});
  TableRows rows(std::move(file), true);  // nobody has watered yet
  ByName garden(plantings);
  std::vector<LogEntry> entries;
  fields.read(rows, [&](const LogRow& row) {
    const Planting* const planting = garden.named(rows);
    if (row.given_l && row.drained_l && *row.drained_l > *row.given_l) {
      rows.complain(rows.table().column("drained_l") ? "drained_l" : "drained_gal",
                    fmt::format("{:.4g} l drained of {:.4g} given", *row.drained_l, *row.given_l),
                    "no more than was given");
    }
    if (!row.when || planting == nullptr) return;
    entries.push_back(
        {planting->name, {*row.when, PotEventKind::watered, row.given_l}, row.drained_l});
  });
  std::ranges::stable_sort(
      entries, [](const LogEntry& a, const LogEntry& b) { return a.event.when < b.event.when; });
  return entries;
}

std::string state_csv(std::span<const SavedPlanting> plantings) {
  const Fields<SavedPlanting> fields = state_fields(GrowthClock::stage_days);
  std::string out = fmt::format("{}\n", fmt::join(fields.written_names(), ","));
  for (const SavedPlanting& one : plantings) {
    out += fmt::format("{}\n", fmt::join(fields.cells(one), ","));
  }
  return out;
}

std::vector<SavedPlanting> read_state(FileBytes file, const ModelParameters& model,
                                      const StateReading& how) {
  TableRows rows(std::move(file));
  ByName garden(how.plantings);
  std::unordered_set<std::string> names;
  std::vector<SavedPlanting> saved;
  state_fields(how.growth).read(rows, [&](SavedPlanting one) {
    const Planting* const planting = garden.named(rows);
    check_dates(rows, one, planting, how);
    if (planting != nullptr && one.learned) {
      read_learned_water(rows, *planting, model, one);
    } else if (planting != nullptr) {
      read_water(rows, build_pot(*planting, model), one.run.pot);
    }
    if (planting != nullptr && planting->beside.size() != one.run.beside.size()) {
      rows.complain("name",
                    fmt::format("{} crops in {}", one.run.beside.size() + 1, in_quotes(one.name)),
                    fmt::format("{}, as in the garden", planting->beside.size() + 1));
    }
    if (!names.insert(one.name).second && !one.name.empty()) {
      rows.complain("name", fmt::format("{} a second time", in_quotes(one.name)),
                    "every name once");
    }
    saved.push_back(std::move(one));
  });
  return saved;
}

}  // namespace wiltline

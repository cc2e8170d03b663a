#include "what_matters.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <memory>

#include "page/page.hpp"
#include "planting_options.hpp"
#include "progress.hpp"
#include "refuse.hpp"
#include "shared_options.hpp"
#include "uncertain.hpp"
#include "wiltline/tables/planting_columns.hpp"
#include "words.hpp"

namespace wiltline::cli {
namespace {

using enum Quantity;

constexpr double percent = 100.0;

using R = const MattersRow&;

constexpr Column<MattersRow> matters_list[]{
    {"answer",
     "watered_l, wilting_days, dry_days: means of its seasons; share: of trips survived; refill_h, "
     "dry_h: hours until the threshold and until dry, at most to the horizon; give_at_visit_l; "
     "peak_use_l_day, waterings_per_day: of the spell",
     [](R row) { return row.answer->answer; }},
    {"input", "what is known only as a range; by total, the largest first",
     [](R row) { return row.input->input; }},
    {"first_order", number, 4,
     "share of the answer's variance that the input causes by itself; as sampled: one that is zero "
     "comes out a little above or below",
     [](R row) { return row.input->first_order.value; }},
    {"first_low", number, 4, "the same: 19 in 20 are higher (bootstrap)",
     [](R row) { return row.input->first_order.low; }},
    {"first_high", number, 4, "19 in 20 are lower",
     [](R row) { return row.input->first_order.high; }},
    {"total", number, 4, "share that the input causes by itself and together with others",
     [](R row) { return row.input->total.value; }},
    {"total_low", number, 4, "the same: 19 in 20 are higher",
     [](R row) { return row.input->total.low; }},
    {"total_high", number, 4, "19 in 20 are lower", [](R row) { return row.input->total.high; }},
};

constexpr Column<AnswerMatters> spread_list[]{
    {"answer_mean", number, 3, "mean of the answer over the draws",
     [](auto& answer) { return answer.mean; }},
    {"answer_deviation", number, 3, "its standard deviation",
     [](auto& answer) { return answer.deviation; }},
};

/// The mean and standard deviation of an answer.
std::string amount_text(const AnswerMatters& of, bool us) {
  const auto both = [&](double times, std::string_view unit) {
    return fmt::format("{} ± {}{}", rough(times * of.mean), rough(times * of.deviation), unit);
  };
  if (of.answer.ends_with("_l") || of.answer.ends_with("_l_day")) {
    return both(in_units(litres, 1.0, us), fmt::format(" {}", unit_text(litres, us)));
  }
  if (of.answer == "share") return both(percent, " %");
  return both(1.0, of.answer.ends_with("_h") ? " h" : "");
}

/// A share of a whole as people say it.
std::string share_in_words(double share) {
  static constexpr std::pair<double, std::string_view> known[]{
      {1.0, "nearly all"}, {0.75, "three quarters"}, {2.0 / 3.0, "two thirds"},
      {0.5, "half"},       {1.0 / 3.0, "a third"},   {0.25, "a quarter"}};
  constexpr double near = 0.035;
  for (const auto& [value, words] : known) {
    if (std::abs(share - value) < near || share > 1.0) return std::string(words);
  }
  return fmt::format("{:.0f} %", percent * share);
}

std::string percent_text(double share) {
  const double rounded = std::round(percent * share);
  return fmt::format("{:.0f}", rounded == 0.0 ? 0.0 : rounded);  // no -0
}

std::string range_text(const IndexEstimate& of) {
  return fmt::format("{} ({} to {})", percent_text(of.value), percent_text(of.low),
                     percent_text(of.high));
}

/// An input that causes less is not told to people.
constexpr double least_told = 0.05;
/// One that causes less is nothing to measure for.
constexpr double stands_out = 0.1;

/// What stands out, the largest first: by what it causes alone or, if nothing does so, together
/// with others. Never empty.
std::vector<const InputMatters*> standing_out(const AnswerMatters& answer) {
  std::vector<const InputMatters*> alone;
  for (const InputMatters& input : answer.inputs) {
    if (input.first_order.value >= stands_out) alone.push_back(&input);
  }
  if (alone.empty()) return {&answer.inputs.front()};
  std::ranges::stable_sort(alone, [](const InputMatters* a, const InputMatters* b) {
    return a->first_order.value > b->first_order.value;
  });
  return alone;
}

std::string sentence(const std::string& label, const AnswerMatters& answer) {
  const std::string what = fmt::format("{}, {}", label, term_in_words(answer.answer));
  const std::vector<const InputMatters*> causes = standing_out(answer);
  const InputMatters& first = *causes.front();
  const std::string cause = term_in_words(first.input);
  if (first.first_order.value < stands_out) {
    return fmt::format("{}: nothing stands out by itself; {} does most, together with others.",
                       what, cause);
  }
  std::string said = fmt::format("{}: {} of the spread is {}", what,
                                 share_in_words(first.first_order.value), cause);
  if (causes.size() > 1) {
    const InputMatters& second = *causes[1];
    said += fmt::format(", next {}", term_in_words(second.input));
    if (second.first_order.high > first.first_order.value) said += ", perhaps as much";
  }
  return said + '.';
}

/// What to measure of the first of each pot's inputs that a gardener can, with the pots it is for.
std::string measure_text(const std::vector<std::pair<std::string, const AnswerMatters*>>& told) {
  std::vector<std::pair<std::string_view, std::vector<std::string>>> pots_of;
  for (const auto& [name, answer] : told) {
    std::string_view what;
    for (const InputMatters* const input : standing_out(*answer)) {
      what = how_to_measure(input->input);
      if (!what.empty()) break;
    }
    if (what.empty()) continue;
    const auto known =
        std::ranges::find_if(pots_of, [&](const auto& one) { return one.first == what; });
    if (known == pots_of.end()) {
      pots_of.push_back({what, {name}});
    } else {
      known->second.push_back(name);
    }
  }
  std::string out;
  for (const auto& [what, names] : pots_of) {
    out += paragraph(fmt::format("To narrow it, {}: {}.", what, fmt::join(names, "; ")));
  }
  return out;
}

/// True if the draws tell something: not if the largest share may be any.
bool told(const AnswerMatters& answer) {
  return !answer.inputs.empty() &&
         answer.inputs.front().total.high - answer.inputs.front().total.low < 1.0;
}

/// The first of a planting's answers of which something can be told.
const AnswerMatters* first_told(const PlantingMatters& pot) {
  const auto found = std::ranges::find_if(pot.answers, told);
  return found == pot.answers.end() ? nullptr : &*found;
}

std::string cost_text(const MattersResult& result, const MattersOptions& options) {
  return fmt::format(
      "Recalculated {} times: {} draws, each twice and once more for each of {} inputs",
      result.runs, options.draws, result.runs / options.draws - 2);
}

std::string table_text(const MattersResult& result, const MattersOptions& options,
                       const std::function<std::string(const Planting&)>& label,
                       const Report& report, bool us) {
  struct Line {
    std::string name;
    std::string answer;
    const InputMatters* input;
  };
  std::vector<Line> lines;
  std::string sentences;
  std::vector<std::pair<std::string, const AnswerMatters*>> first;
  for (const PlantingMatters& pot : result.plantings) {
    std::string name = label(*pot.planting);
    if (const AnswerMatters* const answer = first_told(pot)) {
      sentences += paragraph(sentence(name, *answer));
      first.emplace_back(name, answer);
    }
    for (const AnswerMatters& answer : pot.answers) {
      if (!told(answer)) continue;
      std::string words =
          fmt::format("{}, {}", term_in_words(answer.answer), amount_text(answer, us));
      constexpr std::size_t most_told = 4;
      for (std::size_t i = 0; i < std::min(most_told, answer.inputs.size()); ++i) {
        if (i > 0 && answer.inputs[i].total.value < least_told) break;
        lines.push_back({std::exchange(name, ""), std::exchange(words, ""), &answer.inputs[i]});
      }
    }
  }
  using enum Side;
  const std::vector<TextColumn<Line>> columns{
      {"planting", left, [](const Line& line) { return line.name; }},
      {"spread of", left, [](const Line& line) { return line.answer; }},
      {"is caused by", left, [](const Line& line) { return term_in_words(line.input->input); }},
      {"alone, %", right, [](const Line& line) { return range_text(line.input->first_order); }},
      {"with others,\n%", right, [](const Line& line) { return range_text(line.input->total); }}};
  std::string out = sentences + measure_text(first);
  if (!lines.empty()) out += (out.empty() ? "" : "\n") + text_table(columns, lines) + '\n';
  out += paragraph(cost_text(result, options) + ".");
  out += paragraph(
      "Spread of: mean and standard deviation. Alone: the share of that spread (as variance) that "
      "would be gone if this were known. With "
      "others: what would be left if all else were known. In brackets 9 in 10 samples of the "
      "draws; four times as many draws halve that. A little below 0 is 0, sampled. Up to four "
      "inputs of each answer, from 5 % on; CSV and JSON have all.");
  return out + notes_text(report);
}

void add_notes(const MattersResult& result, const MattersOptions& options, Report& report) {
  std::vector<std::string> same;
  std::vector<std::string> unsure;
  for (const PlantingMatters& pot : result.plantings) {
    if (pot.waterless_draws > 0) {
      report.notes.push_back(fmt::format("{}: {}", pot.planting->name,
                                         left_out_text(pot.waterless_draws, options.draws)));
    }
    for (const AnswerMatters& answer : pot.answers) {
      if (told(answer)) continue;
      (answer.inputs.empty() ? same : unsure)
          .push_back(fmt::format("{} of {}", term_in_words(answer.answer), pot.planting->name));
    }
  }
  if (!unsure.empty()) {
    report.notes.push_back(
        fmt::format("too rare to say what moves it; more draws may: {}", fmt::join(unsure, "; ")));
  }
  if (!same.empty()) {
    report.notes.push_back(fmt::format(
        "the same in all runs or in all but a few, so that there is nothing to rank: {}",
        fmt::join(same, "; ")));
  }
}

void add_picture(const MattersResult& result,
                 const std::function<std::string(const Planting&)>& label, Report& report) {
  std::vector<RangeRow> rows;
  report.title = "What matters";
  for (const PlantingMatters& pot : result.plantings) {
    const AnswerMatters* const answer = first_told(pot);
    if (answer == nullptr) continue;
    const std::string name = label(*pot.planting);
    if (report.answer.empty()) report.answer = sentence(name, *answer);
    constexpr std::size_t most = 3;
    for (std::size_t i = 0; i < std::min(most, answer->inputs.size()); ++i) {
      const InputMatters& input = answer->inputs[i];
      if (i > 0 && input.total.value < least_told) break;
      rows.push_back({.label = fmt::format("{}: {}", name, term_in_words(input.input)),
                      .value = percent * input.total.value,
                      .low = percent * input.total.low,
                      .high = percent * input.total.high,
                      .text = fmt::format("{} %, alone {} %", percent_text(input.total.value),
                                          percent_text(input.first_order.value))});
    }
  }
  if (report.answer.empty()) report.answer = "The answers are the same in all runs.";
  if (rows.empty()) return;
  report.pictures.push_back(ranges_picture(
      {"What causes the spread of each pot's first answer",
       "The share of its variance that an input causes by itself and together with others; bar: 9 "
       "in 10 samples of the draws."},
      "%", rows));
}

}  // namespace

std::optional<MattersOptions> matters_options(const Arguments& arguments,
                                              std::initializer_list<const char*> others) {
  if (!arguments.flag("what-matters")) return std::nullopt;
  for (const char* const other : others) refuse_together(arguments, other, "what-matters");
  if (!arguments.flag("uncertain")) {
    refuse("found --what-matters without --uncertain; expected both");
  }
  const auto progress = std::make_shared<Progress>(std::chrono::seconds(1));
  return MattersOptions{.draws = *draws_option(arguments, 1),
                        .seed = seed_option(arguments),
                        .threads = thread_count(arguments),
                        .done = [progress](std::size_t done, std::size_t all) {
                          progress->show(fmt::format("recalculated {} of {} times", done, all));
                          if (done == all) progress->clear();
                        }};
}

Table<MattersRow> matters_table() {
  namespace of_planting = tables::of_planting;
  Table<MattersRow> table("Columns of --what-matters");
  table.add({of_planting::name}, &MattersRow::planting);
  table.add(matters_list);
  table.add({of_planting::pot, of_planting::mix, of_planting::wall, of_planting::spot,
             of_planting::plants},
            &MattersRow::planting);
  table.add(spread_list, &MattersRow::answer);
  return table;
}

void deliver_what_matters(const MattersResult& result, const MattersOptions& options,
                          const std::function<std::string(const Planting&)>& label, Report& report,
                          const Presentation& how, Output& output) {
  add_notes(result, options, report);
  std::vector<MattersRow> rows;
  for (const PlantingMatters& pot : result.plantings) {
    for (const AnswerMatters& answer : pot.answers) {
      for (const InputMatters& input : answer.inputs) rows.push_back({&pot, &answer, &input});
    }
  }
  report.fill(matters_table(), rows);
  if (how.page) add_picture(result, label, report);
  deliver(report, how, output,
          [&] { return table_text(result, options, label, report, how.us_units); });
}

}  // namespace wiltline::cli

#include "wiltline/questions/what_matters.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <map>
#include <mutex>

#include "wiltline/base/errors.hpp"
#include "wiltline/base/parallel.hpp"
#include "wiltline/base/sobol.hpp"
#include "wiltline/questions/compare.hpp"
#include "wiltline/questions/pot_readings.hpp"

namespace wiltline {
namespace {

constexpr double none = std::numeric_limits<double>::quiet_NaN();
/// Stands behind the coordinates of a draw.
constexpr std::size_t weather_coordinate = draw_coordinates;

/// An answer, and the line that it hangs on; Line::threshold: on none of wilting and dryness.
struct Figure {
  std::string_view name;
  Line line;
};

/// One run of a garden in which every planting holds water.
struct Run {
  const DrawnGarden& garden;
  std::span<const std::size_t> which;  // of the plantings asked about, one for each of the garden's
  const std::vector<Place>& places;    // under the drawn model
  std::uint64_t weather;               // which course of the weather to come
};
/// A list of figures for each planting of the run; `none` for one that it has not.
using Question = std::function<std::vector<std::vector<double>>(const Run&)>;

/// Some of the plantings asked about.
struct Subset {
  std::vector<std::size_t> which;
  std::vector<Planting> plantings;
};

/// All that is known of one planting.
struct AskedPot {
  std::vector<DrawnInput> inputs;
  std::vector<std::size_t> coordinates;      // of those that have one
  std::vector<std::vector<double>> answers;  // a list for each figure: A's rows, B's, each input's
  std::vector<char> waterless;               // of each row
};

class Design {
 public:
  Design(Plantings plantings, Places places, const Catalogue& catalogue,
         std::span<const Figure> figures, bool weather, const MattersOptions& how)
      : plantings_(plantings), catalogue_(catalogue), figures_(figures), how_(how) {
    if (how.draws < fewest_index_rows) {
      throw RequestError(
          fmt::format("found {} draws; expected {} or more", how.draws, fewest_index_rows));
    }
    check_drawn(common_model(places), catalogue);
    places_.assign(places.begin(), places.end());
    // Nothing is drawn again in the middle: inputs have the coordinates they always have.
    const std::vector<double> middle(draw_coordinates, 0.5);
    DrawnGarden usual = draw_garden(std::span(plantings.begin(), plantings.end()), model(),
                                    catalogue, middle, how.seed, 0);
    std::map<std::size_t, std::vector<std::size_t>> having;
    for (std::size_t i = 0; i < usual.inputs.size(); ++i) {
      AskedPot pot{.inputs = std::move(usual.inputs[i]),
                   .coordinates = {},
                   .answers = {},
                   .waterless = std::vector<char>(how.draws, 0)};
      if (weather) pot.inputs.push_back({std::string(weather_to_come), 0.0, weather_coordinate});
      for (const DrawnInput& input : pot.inputs) {
        if (!input.coordinate) continue;
        having[*input.coordinate].push_back(i);
        pot.coordinates.push_back(*input.coordinate);
      }
      pot.answers.assign(figures.size(),
                         std::vector<double>((2 + pot.coordinates.size()) * how.draws, none));
      pots_.push_back(std::move(pot));
    }
    std::vector<std::size_t> everyone(pots_.size());
    for (std::size_t i = 0; i < everyone.size(); ++i) everyone[i] = i;
    all_ = subset(everyone);
    for (const auto& [coordinate, which] : having) swaps_.push_back({coordinate, subset(which)});
  }

  [[nodiscard]] MattersResult ask(const Question& question) {
    const std::size_t runs_of_row = 2 + swaps_.size();
    std::mutex counting;
    std::size_t done = 0;
    run_tasks(how_.draws, how_.threads, [&](std::size_t row) {
      ask_row(question, row);
      if (!how_.done) return;
      const std::lock_guard lock(counting);
      how_.done(done += runs_of_row, runs_of_row * how_.draws);
    });
    MattersResult result{.runs = runs_of_row * how_.draws, .plantings = {}};
    result.plantings.resize(pots_.size());
    run_tasks(pots_.size(), how_.threads,
              [&](std::size_t i) { result.plantings[i] = summed_up(i); });
    return result;
  }

 private:
  struct Swap {
    std::size_t coordinate;
    const Subset* of;
  };

  [[nodiscard]] const ModelParameters& model() const { return places_.front().model(); }

  const Subset* subset(const std::vector<std::size_t>& which) {
    Subset& found = subsets_[which];
    if (found.which.empty()) {
      found.which = which;
      for (const std::size_t i : which) found.plantings.push_back(plantings_[i]);
    }
    return &found;
  }

  void ask_row(const Question& question, std::size_t row) {
    const auto number_of = [&](bool b) { return row + (b ? how_.draws : 0); };
    // A stretch of the sequence that is even in itself if there are 2^k rows. A and B take
    // coordinates by turns, so that those of the inputs that matter most come first for both.
    const std::vector<double> both =
        shifted_sobol_point(2 * swaps_.size(), how_.draws - 1 + row, how_.seed);
    std::vector<double> a(draw_coordinates + 1, 0.5);
    std::vector<double> b = a;
    for (std::size_t i = 0; i < swaps_.size(); ++i) {
      a[swaps_[i].coordinate] = both[2 * i];
      b[swaps_[i].coordinate] = both[2 * i + 1];
    }
    std::vector<Place> places = places_;
    const auto run = [&](const Subset& of, const std::vector<double>& point, bool numbers_of_b,
                         bool weather_of_b) {
      DrawnGarden garden =
          draw_garden(of.plantings, model(), catalogue_, std::span(point).first(draw_coordinates),
                      how_.seed, draws_beside_weather + number_of(numbers_of_b));
      for (const std::size_t i : garden.waterless) pots_[of.which[i]].waterless[row] = 1;
      std::vector<std::size_t> which;
      for (const std::size_t i : garden.leave_out_waterless()) which.push_back(of.which[i]);
      // What the model leaves as it was in the run before need not be worked out again.
      for (Place& place : places) place = place.with_model(garden.model);
      return std::pair(which, question({garden, which, places, number_of(weather_of_b)}));
    };
    const auto keep = [&](const auto& answers, const auto& column_of) {
      const auto& [which, figures] = answers;
      for (std::size_t i = 0; i < which.size(); ++i) {
        AskedPot& pot = pots_[which[i]];
        for (std::size_t k = 0; k < figures_.size(); ++k) {
          pot.answers[k][column_of(pot) * how_.draws + row] = figures[i][k];
        }
      }
    };
    keep(run(*all_, b, true, true), [](const AskedPot&) { return 1; });
    keep(run(*all_, a, false, false), [](const AskedPot&) { return 0; });
    for (const Swap& swap : swaps_) {
      std::vector<double> swapped = a;
      swapped[swap.coordinate] = b[swap.coordinate];
      keep(run(*swap.of, swapped, false, swap.coordinate == weather_coordinate),
           [&](const AskedPot& pot) {
             const auto at = std::ranges::find(pot.coordinates, swap.coordinate);
             return 2 + static_cast<std::size_t>(at - pot.coordinates.begin());
           });
    }
  }

  [[nodiscard]] PlantingMatters summed_up(std::size_t planting) const {
    const AskedPot& pot = pots_[planting];
    PlantingMatters result{.planting = &plantings_[planting]};
    result.waterless_draws = static_cast<std::size_t>(std::ranges::count(pot.waterless, 1));
    const std::size_t left = how_.draws - result.waterless_draws;
    if (left < fewest_index_rows) {
      throw RequestError(fmt::format(
          "{}: found water that plants can use in all runs of {} of {} draws; expected {} or more",
          result.planting->name, left, how_.draws, fewest_index_rows));
    }
    for (std::size_t figure = 0; figure < figures_.size(); ++figure) {
      const auto column = [&](std::size_t which) {
        std::vector<double> values;
        for (std::size_t row = 0; row < how_.draws; ++row) {
          if (pot.waterless[row] == 0) {
            values.push_back(pot.answers[figure][which * how_.draws + row]);
          }
        }
        return values;
      };
      PairedAnswers answers{.a = column(0), .b = column(1), .swapped = {}};
      for (std::size_t i = 0; i < pot.coordinates.size(); ++i) {
        answers.swapped.push_back(column(2 + i));
      }
      const auto known = [](const std::vector<double>& values) {
        return std::ranges::none_of(values, [](double x) { return std::isnan(x); });
      };
      if (!known(answers.a) || !known(answers.b) || !std::ranges::all_of(answers.swapped, known)) {
        continue;
      }
      result.answers.push_back(about(figures_[figure], pot, answers));
    }
    return result;
  }

  [[nodiscard]] AnswerMatters about(const Figure& figure, const AskedPot& pot,
                                    const PairedAnswers& answers) const {
    AnswerMatters result{.answer = figure.name};
    const auto indices = sobol_indices(answers, how_.seed);
    if (!indices) {
      for (const double value : answers.a) {
        result.mean += value / static_cast<double>(answers.a.size());
      }
      return result;
    }
    result.mean = indices->mean;
    result.deviation = std::sqrt(indices->variance);
    const auto inputs = inputs_of(figure.line, {pot.inputs});
    for (const DrawnInput& input : inputs.front()) {
      if (!input.coordinate) continue;
      const auto at = std::ranges::find(pot.coordinates, *input.coordinate);
      const auto column = static_cast<std::size_t>(at - pot.coordinates.begin());
      result.inputs.push_back({input.name, indices->first_order[column], indices->total[column]});
    }
    std::ranges::stable_sort(result.inputs, [](const InputMatters& one, const InputMatters& other) {
      return one.total.value > other.total.value;
    });
    return result;
  }

  Plantings plantings_;
  std::vector<Place> places_;
  const Catalogue& catalogue_;
  std::span<const Figure> figures_;
  const MattersOptions& how_;
  std::map<std::vector<std::size_t>, Subset> subsets_;  // what subset() returns stays put
  const Subset* all_ = nullptr;
  std::vector<Swap> swaps_;  // by coordinate
  std::vector<AskedPot> pots_;
};

}  // namespace

MattersResult season_what_matters(Plantings plantings, Places places, const Catalogue& catalogue,
                                  const SeasonOptions& options, const MattersOptions& how) {
  static constexpr Figure figures[]{
      {"watered_l", Line::threshold}, {"wilting_days", Line::wilting}, {"dry_days", Line::dry}};
  SeasonOptions one_thread = options;
  one_thread.ledger = false;
  one_thread.threads = 1;
  return Design(plantings, places, catalogue, figures, false, how).ask([&](const Run& run) {
    std::vector<std::vector<double>> answers;
    for (const auto& summers : run_summers(run.garden.plantings, run.places, one_thread)) {
      std::vector<double> mean(std::size(figures), summers.empty() ? none : 0.0);
      for (const Summer& summer : summers) {
        const SeasonSummary& s = summer.result.summary;
        const auto all = static_cast<double>(summers.size());
        mean[0] += s.watered_l / all;
        mean[1] += s.wilting_days / all;
        mean[2] += s.dry_days / all;
      }
      answers.push_back(std::move(mean));
    }
    return answers;
  });
}

MattersResult absence_what_matters(Plantings candidates, Places places, const Catalogue& catalogue,
                                   const AbsenceOptions& options, const MattersOptions& how) {
  const Figure figures[]{{"share", options.line}};
  return Design(candidates, places, catalogue, figures, false, how).ask([&](const Run& run) {
    std::vector<std::vector<double>> answers;
    for (const AbsencePot& pot : absence_windows(run.garden.plantings, run.places, options).pots) {
      answers.push_back({pot.share().value_or(none)});
    }
    return answers;
  });
}

MattersResult heatwave_what_matters(Plantings plantings, const Place& place, const HotSpell& spell,
                                    const Catalogue& catalogue, const HeatwaveOptions& options,
                                    const MattersOptions& how) {
  static constexpr Figure figures[]{{"peak_use_l_day", Line::threshold},
                                    {"waterings_per_day", Line::threshold}};
  return Design(plantings, place, catalogue, figures, false, how).ask([&](const Run& run) {
    const std::vector<Planting>& drawn = run.garden.plantings;
    std::vector<std::vector<double>> answers(drawn.size(), {none, none});
    for (const HeatwavePot& pot : heatwave(drawn, run.places.front(), spell, options).pots) {
      answers[static_cast<std::size_t>(pot.planting - drawn.data())] = {pot.peak_use_l_day,
                                                                        pot.waterings_per_day};
    }
    return answers;
  });
}

MattersResult forecast_what_matters(std::span<const ForecastPlanting> plantings, const Place& place,
                                    const Catalogue& catalogue, const ForecastOptions& options,
                                    const MattersOptions& how) {
  static constexpr Figure figures[]{
      {"refill_h", Line::threshold}, {"dry_h", Line::dry}, {"give_at_visit_l", Line::threshold}};
  for (const ForecastPlanting& one : plantings) {
    check_readings(one.planting, one.readings);
    if (!one.readings.empty() || (one.saved && one.saved->learned)) {
      throw RequestError(
          fmt::format("{}: found an account that readings have narrowed; expected one without, for "
                      "only what the tables leave open is ranked",
                      one.planting->name));
    }
  }
  ForecastOptions one_member = options;
  one_member.members = 1;
  one_member.uncertain = false;
  one_member.visits = false;
  one_member.done = {};
  std::vector<ForecastPlanting> growing;
  std::vector<Planting> drawn_from;
  for (const PlantingForecast& pot : forecast(plantings, place, catalogue, one_member).pots) {
    growing.push_back(*std::ranges::find(plantings, pot.planting, &ForecastPlanting::planting));
    drawn_from.push_back(*pot.planting);
  }
  if (growing.empty()) return {};
  const ForecastMember member = forecast_member(growing, place, catalogue, one_member);
  MattersResult result =
      Design(drawn_from, place, catalogue, figures, true, how).ask([&](const Run& run) {
        std::vector<std::vector<double>> answers;
        for (std::size_t i = 0; i < run.which.size(); ++i) {
          const MemberForecast one =
              member(run.which[i], run.garden.plantings[i], run.garden.model, run.weather);
          answers.push_back({one.refill_h, one.dry_h, one.give_at_visit_l.value_or(none)});
        }
        return answers;
      });
  for (std::size_t i = 0; i < growing.size(); ++i) {
    result.plantings[i].planting = growing[i].planting;
  }
  return result;
}

}  // namespace wiltline

// What matters: how much of the spread of an answer each of the inputs causes that are known only
// as ranges, so that a gardener knows what to measure.
#pragma once

#include <cstdint>
#include <functional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "wiltline/base/sobol_indices.hpp"
#include "wiltline/questions/absence.hpp"
#include "wiltline/questions/draws.hpp"
#include "wiltline/questions/forecast.hpp"
#include "wiltline/questions/heatwave.hpp"
#include "wiltline/questions/season.hpp"

namespace wiltline {

/// How often and how: the same seed gives the same answer.
struct MattersOptions {
  /// Draws: each is asked twice, and once more for each input. A power of two is evenest; at
  /// least fewest_index_rows: RequestError.
  std::size_t draws = 256;
  std::uint64_t seed = 1;
  std::size_t threads = 0;  // 0: one for each core; the answer is the same with any number
  /// Called now and then with how many runs of all are done, by one thread at a time.
  std::function<void(std::size_t, std::size_t)> done{};
};

/// Shares of the answer's variance, as sampled (SobolIndices).
struct InputMatters {
  std::string input;          // as in DrawnInput
  IndexEstimate first_order;  // the input by itself
  IndexEstimate total;        // and with others
};

struct AnswerMatters {
  std::string_view answer;  // such as watered_l
  double mean = 0.0;
  double deviation = 0.0;  // standard deviation over the draws
  /// By total, the largest first. Empty if the answer is the same in all draws or in all but a few.
  std::vector<InputMatters> inputs{};
};

struct PlantingMatters {
  const Planting* planting = nullptr;
  /// Draws left out because the pot holds no water for plants in one of the runs that belong to it.
  std::size_t waterless_draws = 0;
  std::vector<AnswerMatters> answers{};  // empty: it has no answer, such as no trip
};

struct MattersResult {
  std::size_t runs = 0;  // of the garden: draws x (inputs + 2)
  std::vector<PlantingMatters> plantings{};
};

// Inputs are those that draw_garden draws for a planting: what was measured or learned is not among
// them, what was learned by its standard error is. All plantings are asked at the same points, of a
// Sobol sequence; a planting is run again only for inputs of its own. An input that has no
// coordinate (DrawnInput) is not ranked and counts as part of what the others do together. Throws
// RequestError for too few draws, if fewer than fewest_index_rows of them leave a pot water, for
// places of different models (common_model) and a model that is not the catalogue's where it is
// drawn (check_drawn); and as the question itself does. Results point to the plantings.

/// watered_l, wilting_days and dry_days, each the mean of a planting's seasons.
[[nodiscard]] MattersResult season_what_matters(Plantings plantings, Places places,
                                                const Catalogue& catalogue,
                                                const SeasonOptions& options,
                                                const MattersOptions& how);

/// share, of the windows passed.
[[nodiscard]] MattersResult absence_what_matters(Plantings candidates, Places places,
                                                 const Catalogue& catalogue,
                                                 const AbsenceOptions& options,
                                                 const MattersOptions& how);

/// peak_use_l_day and waterings_per_day of the plantings in the ground all through the spell.
[[nodiscard]] MattersResult heatwave_what_matters(Plantings plantings, const Place& place,
                                                  const HotSpell& spell, const Catalogue& catalogue,
                                                  const HeatwaveOptions& options,
                                                  const MattersOptions& how);

/// refill_h, dry_h and give_at_visit_l of the plantings that grow (MemberForecast), the last only
/// if it is known in every run. One more input is `weather to come`.
[[nodiscard]] MattersResult forecast_what_matters(std::span<const ForecastPlanting> plantings,
                                                  const Place& place, const Catalogue& catalogue,
                                                  const ForecastOptions& options,
                                                  const MattersOptions& how);

/// The name of that input.
inline constexpr std::string_view weather_to_come = "weather to come";

}  // namespace wiltline

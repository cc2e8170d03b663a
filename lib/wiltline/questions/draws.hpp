// What an answer depends on: plantings and models drawn from the ranges of the model tables.
#pragma once

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "wiltline/base/errors.hpp"
#include "wiltline/budget/interval.hpp"
#include "wiltline/garden/catalogue.hpp"
#include "wiltline/garden/planting.hpp"

namespace wiltline {

/// One input as drawn: -1 at the low end of its range, 0 at the table's value, 1 at the high end.
struct DrawnInput {
  std::string name;
  double level = 0.0;
  /// Which coordinate of the draw's point it follows; empty: none, it is random.
  std::optional<std::size_t> coordinate{};
};

/// Plantings and a model that could as well be the true ones. What the plantings have in common is
/// drawn alike — the model for all, a crop, spot, pot or mix for every planting that has it — so
/// that their answers can be compared.
struct DrawnGarden {
  ModelParameters model;
  std::vector<Planting> plantings;  // in the order given
  /// Of each; always the same names in the same order for one planting.
  std::vector<std::vector<DrawnInput>> inputs{};
  /// Which of them hold no water that plants can use in this draw, ascending: they cannot be run
  /// (build_pot refuses them) and are to be counted.
  std::vector<std::size_t> waterless{};

  /// Takes the waterless ones out of `plantings` and `inputs`. Returns which planting of those
  /// given each one left is.
  std::vector<std::size_t> leave_out_waterless();
};

/// The `number`-th of the draws that belong to `seed`: a point of a shifted Sobol sequence. Draws
/// every input that has a range, independently and spread evenly: half the draws below the table's
/// value, half above. What the gardener measured (canopy, volume, root ball) stays as it is. What
/// was learned of a pot (Planting::learned) is drawn by its standard error, and then plant, spot
/// and mix, as far as they stand for the same, are not. `model` gives the parameters that are not
/// drawn; the others are drawn about the catalogue's values (check_drawn). The lines of wilting and
/// dryness move together, as do the contents a mix holds at all suctions. Parameters that only word
/// advice (feeding, frost, rot, caps) are not drawn. A mix that would hold nothing a plant can use
/// is drawn again; where that never helps it is taken as in the tables, and if the drawn pot and
/// model leave it no water the planting is waterless.
[[nodiscard]] DrawnGarden draw_garden(std::span<const Planting> plantings,
                                      const ModelParameters& model, const Catalogue& catalogue,
                                      std::uint64_t seed, std::uint64_t number);

/// Throws RequestError if a parameter that is drawn has another value in a model than in the
/// catalogue, about whose value it is drawn: the draws would not be about the model's answers.
void check_drawn(const ModelParameters& model, const Catalogue& catalogue);

/// Draws of inputs that go with drawn weather have numbers from here on, out of the way of the
/// weather's own draws (PastDays).
inline constexpr std::uint64_t draws_beside_weather = std::uint64_t{1} << 32U;

/// The error that a planting is waterless in all of its draws.
[[nodiscard]] RequestError no_water_in_any_draw(const Planting& planting, std::size_t draws);

/// The coordinates of a draw's point.
inline constexpr std::size_t draw_coordinates = 92;
/// The same at a point of one's own, of draw_coordinates numbers in [0, 1): RequestError. What has
/// no coordinate (a third crop in a pot, a mix drawn again) is drawn at random from seed and
/// number.
[[nodiscard]] DrawnGarden draw_garden(std::span<const Planting> plantings,
                                      const ModelParameters& model, const Catalogue& catalogue,
                                      std::span<const double> point, std::uint64_t seed,
                                      std::uint64_t number);

/// The value that a share of the sorted values does not exceed (the smallest such value). Of at
/// least one value: RequestError.
template <typename Value>
[[nodiscard]] const Value& at_share(const std::vector<Value>& sorted, double share) {
  if (sorted.empty()) throw RequestError("found no values; expected one at least");
  const auto rank = static_cast<std::size_t>(std::ceil(share * static_cast<double>(sorted.size())));
  return sorted[std::clamp<std::size_t>(rank, 1, sorted.size()) - 1];
}

/// What a tenth, half and nine tenths of the answers to all draws lie at or below.
struct Spread {
  double p10 = 0.0;
  double p50 = 0.0;
  double p90 = 0.0;
};
/// Of at least one answer, all of them numbers: RequestError.
[[nodiscard]] Spread spread_of(std::vector<double> answers);

/// The same draws with only those inputs that can move an answer about one line. The lines of
/// wilting and dryness are drawn as one input: it bears the name of the line asked, and is left out
/// where neither is (Line::threshold, Line::stressed).
[[nodiscard]] std::vector<std::vector<DrawnInput>> inputs_of(
    Line asked, std::vector<std::vector<DrawnInput>> draws);

/// How far an input and an answer go together: Spearman's rank correlation, -1 to 1.
struct Influence {
  std::string name;
  double correlation = 0.0;
};

/// The input that moves an answer most: `answers[i]` is the answer to `draws[i]`; an answer that
/// was not reached is above all others. Empty if there are fewer than three draws, or if no input
/// stands out from what chance does. Throws RequestError unless there is an answer for each draw, a
/// number, and every draw has as many inputs.
[[nodiscard]] std::optional<Influence> most_influential(
    std::span<const std::vector<DrawnInput>> draws, std::span<const double> answers);

}  // namespace wiltline

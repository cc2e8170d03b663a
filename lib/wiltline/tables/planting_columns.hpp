// Columns that name a planting, what it grows in and where; a table takes those it needs.
#pragma once

#include "wiltline/garden/planting.hpp"
#include "wiltline/questions/draws.hpp"
#include "wiltline/tables/columns.hpp"
#include "wiltline/weather/weather_record.hpp"

namespace wiltline::tables {

/// One by one, as tables differ in their order.
namespace of_planting {

inline constexpr Column<Planting> name{"name", "planting", [](auto& p) { return p.name; }};
inline constexpr Column<Planting> crop{"crop", "crop", [](auto& p) { return crop_text(p); }};
inline constexpr Column<Planting> pot{"pot", "pot", [](auto& p) { return p.pot.name; }};
inline constexpr Column<Planting> mix{"mix", "mix", [](auto& p) { return p.mix.name; }};
inline constexpr Column<Planting> wall{"wall", "the pot's wall",
                                       [](auto& p) { return p.pot.wall.name; }};
inline constexpr Column<Planting> spot{"spot", "where it stands",
                                       [](auto& p) { return p.spot.name; }};
inline constexpr Column<Planting> plants{"plants", "plants in the pot",
                                         [](auto& p) { return plants_in_pot(p); }};

}  // namespace of_planting

/// Which record a row is of, where several are given.
inline constexpr Column<WeatherRecord> weather_columns[]{
    {"weather", "weather record", [](const WeatherRecord& record) { return record.name(); }}};

/// Meaning of the columns that say why a season ended.
inline constexpr std::string_view ended_by_meaning =
    "why: frost (after midsummer, colder than the crop bears), mature, as told (ends), a year old "
    "(picked all year) or record ends";
/// Meaning of moves_most of a season's or summers' spread.
inline constexpr std::string_view season_moves_most =
    "the input that moves the wilting days most or, if none stands out there, the water given";

/// The input that moves an answer most.
template <typename Answer>
[[nodiscard]] constexpr Column<Answer> moves_most(std::string_view meaning) {
  return {"moves_most", meaning, [](const Answer& of) {
            return of.moves_most ? std::optional(of.moves_most->name) : std::nullopt;
          }};
}
/// How far the two go together.
template <typename Answer>
[[nodiscard]] constexpr Column<Answer> rank_correlation(
    std::string_view meaning = "rank correlation of the two") {
  return {"moves_most_rank_correlation", number, 2, meaning, [](const Answer& of) {
            return of.moves_most ? std::optional(of.moves_most->correlation) : std::nullopt;
          }};
}

}  // namespace wiltline::tables

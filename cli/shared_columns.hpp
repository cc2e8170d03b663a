// Columns that several commands print.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <string_view>

#include "columns.hpp"
#include "wiltline/questions/draws.hpp"
#include "wiltline/questions/season.hpp"

namespace wiltline::cli {

/// The account of a season, without what names it.
[[nodiscard]] std::span<const Column<SeasonSummary>> summary_columns();
/// What else it called for.
[[nodiscard]] std::span<const Column<SeasonSummary>> care_columns();
/// When and why it ended, appended behind all others.
[[nodiscard]] std::span<const Column<SeasonResult>> end_columns();
/// Appended where several records are given.
/// Appended last: the first weeks, counted apart.
[[nodiscard]] std::span<const Column<SeasonSummary>> settling_columns();
[[nodiscard]] std::span<const Column<WeatherRecord>> weather_columns();

/// Meaning of the columns that say why a season ended.
inline constexpr std::string_view ended_by_meaning =
    "why: frost (after midsummer, colder than the crop bears), mature, as told (ends), a year old "
    "(picked all year) or record ends";

/// Meanings of the columns moves_most and moves_most_rank_correlation.
inline constexpr std::string_view season_moves_most =
    "the input that moves the wilting days most or, if none stands out there, the water given";
inline constexpr std::string_view rank_correlation = "rank correlation of the two";
/// A clock hour as HH:MM.
[[nodiscard]] std::optional<std::string> clock_text(const std::optional<double>& hour);

/// What moves an answer most, as cells: its name and its rank correlation.
[[nodiscard]] std::optional<std::string> name_of(const std::optional<Influence>& influence);
[[nodiscard]] std::optional<double> correlation_of(const std::optional<Influence>& influence);

}  // namespace wiltline::cli

// A pot chart, as rows and as text for people.
#pragma once

#include <string>
#include <vector>

#include "report.hpp"
#include "wiltline/questions/choose.hpp"

namespace wiltline::cli {

/// The chart of a place.
struct PotChart {
  const Place* place;
  std::vector<Planting> asked{};  // a cell each; the routines turn fastest
  std::vector<Planting> candidates{};
  std::vector<ChosenPot> cells{};
  std::vector<std::string> not_plantable{};  // crops, in words
};

/// A cell of a chart.
struct ChartCell {
  const WeatherRecord* record;
  const Planting* asked;
  const ChosenPot* found;  // null: no pot is big enough for the crop at all

  [[nodiscard]] const ComparedChoice* pot() const {
    return found != nullptr && found->enough ? &found->choice : nullptr;
  }
};

/// The cells of a chart, one for each of those asked.
[[nodiscard]] std::vector<ChartCell> cells_of(const PotChart& chart);

[[nodiscard]] Table<ChartCell> choose_table();

/// `tomato of 15 May`, with its plants where that is not the usual number.
[[nodiscard]] std::string planting_in_words(const Planting& planting);

/// What a chart is of, for its text.
struct ChartTerms {
  std::size_t routines;
  bool plants;       // a column of them
  std::string pots;  // which were tried, in words
  double share;
};
/// Heading, sentence and a chart of words for each place, for a page.
void add_chart_pictures(const std::vector<PotChart>& charts, const ChartTerms& terms, bool us,
                        Report& report);
/// A table for each place and what is to be said of it, notes included.
[[nodiscard]] std::string choose_text(const std::vector<PotChart>& charts, const ChartTerms& terms,
                                      const Report& report, bool us);

}  // namespace wiltline::cli

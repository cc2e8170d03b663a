// What a hot spell was answered, as rows and as text for people.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "choices.hpp"
#include "report.hpp"
#include "wiltline/questions/drawn_answers.hpp"

namespace wiltline::cli {

/// Which spell is asked for.
struct SpellRequest {
  int days = 5;
  Heat by = Heat::tmax;
  std::optional<double> at_least_c;
  std::optional<Date> first_day;
};

/// A record, its spell and what the pots need in it.
struct HeatwaveAnswer {
  const WeatherRecord* record = nullptr;
  HotSpell spell;
  HeatwaveResult result;
  std::vector<std::optional<HeatwaveSpread>> spreads{};  // of each planting; none without draws
};

/// A pot in a spell.
struct HeatwaveRow {
  const HeatwavePot* pot;
  const HeatwaveAnswer* answer;
  const HeatwaveSpread* spread = nullptr;  // none without --uncertain

  [[nodiscard]] const Planting& planting() const { return *pot->planting; }
  [[nodiscard]] const HotSpell& spell() const { return answer->spell; }
};

/// `weather`: there are several records. `spreads`: with the columns of --uncertain.
[[nodiscard]] Table<HeatwaveRow> heatwave_table(bool weather, bool spreads);

/// How much warmer than measured, to a tenth of the user's degrees.
[[nodiscard]] std::string degrees_warmer(double warmer_c, bool us);

/// The tables for people and what is to be said of them, notes included. `common`: what all
/// plantings share.
[[nodiscard]] std::string heatwave_text(const std::vector<HeatwaveAnswer>& answers,
                                        const SpellRequest& request, const std::string& common,
                                        const Differences& differ, double warmer_c,
                                        const Report& report, bool us);

}  // namespace wiltline::cli

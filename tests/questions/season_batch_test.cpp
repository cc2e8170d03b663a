// Many seasons in one call against run_season, one by one: the same bits, whatever the chunk, the
// number of threads and the processor's instructions.
#include <doctest/doctest.h>

#include <algorithm>
#include <array>
#include <span>

#include "support/fixtures.hpp"
#include "support/random_garden.hpp"
#include "wiltline/account/season_run.hpp"
#include "wiltline/questions/season.hpp"
#include "wiltline/weather/reading.hpp"

namespace wiltline::test {
namespace {

std::vector<InstructionSet> sets_of_this_processor() {
  std::vector<InstructionSet> sets{InstructionSet::baseline};
  const InstructionSet widest = widest_instruction_set();
  if (widest != InstructionSet::baseline) sets.push_back(InstructionSet::avx2);
  if (widest == InstructionSet::avx512) sets.push_back(InstructionSet::avx512);
  return sets;
}

bool same(const SeasonResult& a, const SeasonResult& b) {
  return a.planting == b.planting && a.first == b.first && a.last == b.last &&
         a.summary == b.summary;
}

/// A garden of one crop at one spot, so that chunks fill up: pots and mixes differ.
std::vector<Planting> one_crop_many_pots(const std::string& crop, const std::string& routine,
                                         std::size_t count) {
  Random random(7);
  std::string text = "name,crop,pot,mix,plants,planted,spot,routine,mulch,saucer_l\n";
  const auto pick = [&](const auto& table) {
    return table.names()[random.below(table.names().size())];
  };
  for (std::size_t i = 0; i < count; ++i) {
    const std::string pot = pick(catalogue().pots);
    const std::string mix = pick(catalogue().mixes);
    const std::string saucer_l = catalogue().pots.find(pot)->mix_l() < 1.0 ? "0.01" : "0.5";
    const bool two = random.chance(0.2) && catalogue().pots.find(pot)->mix_l() >= 2.0;
    text += std::to_string(i) + "," + crop + "," + pot + "," + mix + "," + (two ? "2" : "1") +
            ",05-15,patio," + routine + "," + (random.chance(0.3) ? "yes" : "") + "," +
            (random.chance(0.3) ? saucer_l : "") + "\n";
  }
  return read_garden({"one-crop.csv", text}, catalogue());
}

}  // namespace

TEST_CASE(
    "batch: 10,000 random plantings over four summers are bit for bit what one pot alone gives") {
  Random random(51);
  const std::array files{"tolvenau.csv", "port-okaree.csv", "zarquil-flats.csv", "skerrowick.csv"};
  std::size_t seasons = 0;
  for (const char* file : files) {
    const WeatherRecord record = sample(file);
    const Place weather(record, catalogue().parameters);
    const std::vector<Planting> garden = random_garden(random, catalogue(), 2500, "");
    const std::vector<SeasonStart> starts = season_starts(garden, record);
    const std::vector<SeasonResult> together = run_seasons(starts, weather, {.threads = 2});
    REQUIRE(together.size() == starts.size());
    for (std::size_t i = 0; i < starts.size(); ++i) {
      const SeasonResult alone = run_season(*starts[i].planting, starts[i].planted, weather, {});
      if (same(together[i], alone)) continue;
      CAPTURE(file);
      CAPTURE(starts[i].planting->crop.name);
      CAPTURE(starts[i].planting->pot.name);
      CAPTURE(starts[i].planting->routine.text);
      CAPTURE(to_string(starts[i].planted));
      CHECK(together[i].summary.watered_l == alone.summary.watered_l);
      CHECK(together[i].summary.longest_gap_days == alone.summary.longest_gap_days);
      CHECK(together[i].summary.peak_use_l_day == alone.summary.peak_use_l_day);
      REQUIRE(same(together[i], alone));
    }
    seasons += starts.size();
  }
  CHECK(seasons >= 4 * 10000);
}

TEST_CASE("batch: a roomy pot meets no edge on any day, a small one on many") {
  // The cases above so hold plain days and days with an edge against the single pot.
  const WeatherRecord record = sample("tolvenau.csv");
  const Place weather(record, catalogue().parameters);
  const ModelParameters& model = catalogue().parameters;
  const auto pot_days_with_edge = [&](const std::string& litres) {
    const Planting planting =
        one_row("tomato", "nursery 37 l,potting mix,1,2022-05-15,patio,daily 07:00",
                ",volume_l,root_ball_l", "," + litres + "," + litres);
    const PlantingSetting setting = planting_setting(planting, build_pot(planting, model), model);
    const Course course = plan_course(planting, make_date(2022, 5, 15), record,
                                      weather.at(planting.spot), model, GrowthClock::stage_days);
    const PlantingSetting* const settings[] = {&setting};
    SeasonResult result;
    SeasonResult* const results[] = {&result};
    return run_chunk(settings, course, model, widest_instruction_set(), results);
  };
  CHECK(pot_days_with_edge("250") == 0);
  CHECK(pot_days_with_edge("10") > 20);
}

TEST_CASE("batch: threads, chunks, order and instructions change nothing") {
  const WeatherRecord record = sample("zarquil-flats.csv");
  const Place weather(record, catalogue().parameters);
  for (const char* routine :
       {"daily 07:00", "as-needed", "check daily 07:00", "check top daily 07:00 19:00"}) {
    const std::vector<Planting> garden = one_crop_many_pots("tomato", routine, 150);
    const std::vector<SeasonStart> starts = season_starts(garden, record);
    const auto reference =
        run_seasons(starts, weather, {.threads = 1, .instructions = InstructionSet::baseline});
    CAPTURE(routine);
    for (const InstructionSet set : sets_of_this_processor()) {
      for (const std::size_t threads : {1U, 2U, 5U}) {
        const auto again = run_seasons(starts, weather, {.threads = threads, .instructions = set});
        CHECK(std::equal(again.begin(), again.end(), reference.begin(), same));
      }
      // Other chunks: the same starts from the back, and one by one.
      std::vector<SeasonStart> backwards(starts.rbegin(), starts.rend());
      const auto reversed = run_seasons(backwards, weather, {.instructions = set});
      CHECK(std::equal(reversed.rbegin(), reversed.rend(), reference.begin(), same));
      for (std::size_t i = 0; i < starts.size(); i += 17) {
        const auto one =
            run_seasons(std::span(starts).subspan(i, 1), weather, {.instructions = set});
        CHECK(same(one.front(), reference[i]));
      }
    }
  }
}

TEST_CASE("batch: degree-days, short seasons and a planting on the record's last day") {
  const WeatherRecord record = sample("tolvenau.csv");
  const Place weather(record, catalogue().parameters);
  const std::vector<Planting> garden = one_crop_many_pots("pepper", "every 2 days 18:00", 40);
  std::vector<SeasonStart> starts = season_starts(garden, record);
  for (int back = 0; back < 10; ++back) {
    starts.push_back(
        {&garden[static_cast<std::size_t>(back)], record.last() - std::chrono::days(back)});
  }
  const SeasonOptions options{.growth = GrowthClock::degree_days};
  const auto together = run_seasons(starts, weather, options);
  for (std::size_t i = 0; i < starts.size(); ++i) {
    CHECK(same(together[i], run_season(*starts[i].planting, starts[i].planted, weather, options)));
  }
}

}  // namespace wiltline::test

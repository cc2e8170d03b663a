// A course run for one pot and for a chunk: the same bits, and the ledger adds up to the summary.
#include "wiltline/account/season_run.hpp"

#include <doctest/doctest.h>

#include "support/fixtures.hpp"
#include "support/near.hpp"
#include "wiltline/account/pot_run.hpp"

namespace wiltline::test {
namespace {

/// One crop in pots of many sizes on one course.
struct OneCourse {
  ModelParameters model = catalogue().parameters;
  std::vector<Planting> plantings;
  std::vector<PlantingSetting> settings;
  std::vector<SpotDay> spot;
  Course course;

  OneCourse(const std::string& routine, std::size_t count) {
    const WeatherRecord record = sample("tolvenau.csv");
    for (std::size_t i = 0; i < count; ++i) {
      const std::string litres = std::to_string(5 + 7 * i);
      plantings.push_back(one_row("tomato",
                                  "nursery 37 l,potting mix,1,2022-05-15,patio," + routine,
                                  ",volume_l,root_ball_l", "," + litres + ",3"));
    }
    for (const Planting& planting : plantings) {
      settings.push_back(planting_setting(planting, build_pot(planting, model), model));
    }
    spot = spot_days(record, reference_days(record, {}), plantings.front().spot, model);
    course = plan_course(plantings.front(), make_date(2022, 5, 15), record, spot, model,
                         GrowthClock::stage_days);
  }
};

}  // namespace

TEST_CASE("season run: a chunk of 1 and of 32 give the bits of one pot alone") {
  for (const char* routine :
       {"daily 07:00", "as-needed", "as-needed away 07-02/07-20", "as-needed give 0.4 l",
        "as-needed soak", "check every 2 days 18:00"}) {
    const OneCourse all(routine, chunk_pots);
    for (const std::size_t count : {std::size_t{1}, std::size_t{9}, chunk_pots}) {
      std::vector<const PlantingSetting*> settings;
      std::vector<SeasonResult> results(count);
      std::vector<SeasonResult*> into;
      for (std::size_t i = 0; i < count; ++i) {
        settings.push_back(&all.settings[i]);
        into.push_back(&results[i]);
      }
      run_chunk(settings, all.course, all.model, widest_instruction_set(), into);
      for (std::size_t i = 0; i < count; ++i) {
        const SeasonResult alone = run_pot(all.settings[i], all.course, all.model, false);
        CAPTURE(routine);
        CAPTURE(i);
        CHECK(results[i].planting == alone.planting);
        CHECK(results[i].last == alone.last);
        CHECK(results[i].summary == alone.summary);
      }
    }
  }
}

TEST_CASE("season run: the hours of a day are those of its account") {
  for (const char* routine : {"daily 07:00 19:00", "as-needed", "every 3 days 18:00 give 2 l"}) {
    const OneCourse all(routine, 3);
    for (const PlantingSetting& setting : all.settings) {
      const SeasonResult plain = run_pot(setting, all.course, all.model, true);
      const SeasonResult full = run_pot(setting, all.course, all.model, true, true);
      CHECK(full.summary == plain.summary);
      REQUIRE(full.ledger.size() == plain.ledger.size());
      int crossings = 0;
      for (std::size_t day = 0; day < full.ledger.size(); ++day) {
        const LedgerLine& line = full.ledger[day];
        CHECK(plain.ledger[day].left.empty());
        double poured_l = 0.0;
        int samples = 0;
        std::optional<double> wilting_at_h;
        for (std::size_t i = 0; i < line.left.size(); ++i) {
          const WaterLeft& at = line.left[i];
          if (i > 0) CHECK(at.hour >= line.left[i - 1].hour - 1e-9);
          CHECK(at.litres >= 0.0);
          poured_l += at.poured_l;
          if (at.poured_l > 0.0) CHECK(at.litres >= line.left[i - 1].litres);
          const bool beyond = at.beyond == Line::wilting || at.beyond == Line::dry;
          if (beyond && !wilting_at_h) wilting_at_h = i == 0 ? 0.0 : at.hour;
          if (at.crossing) ++crossings;
          const bool before_pouring = i + 1 < line.left.size() && line.left[i + 1].poured_l > 0.0;
          if (!at.crossing && at.poured_l == 0.0 && !before_pouring) ++samples;
        }
        CAPTURE(to_string(line.date));
        CHECK(samples == 9);
        CHECK(near(poured_l, line.watered_l, 1e-12));
        CHECK(wilting_at_h.has_value() == line.wilting_at_h.has_value());
        if (wilting_at_h && line.wilting_at_h) CHECK(near(*wilting_at_h, *line.wilting_at_h, 1e-6));
        // The day's end, whichever way one comes to it.
        CHECK(near(line.left.back().hour, 24.0, 1e-12));
        if (day > 0 && line.left.back().litres > 0.0 &&
            full.ledger[day - 1].left.back().litres > 0.0) {
          const LedgerLine& before = full.ledger[day - 1];
          CHECK(line.left.front().litres >= before.left.back().litres - 1e-9);  // rain, roots
        }
      }
      if (std::string(routine).starts_with("every")) CHECK(crossings > 0);
    }
  }
}

TEST_CASE("season run: the ledger changes nothing and adds up to the summary") {
  const OneCourse all("check top daily 07:00", 4);
  for (const PlantingSetting& setting : all.settings) {
    const SeasonResult plain = run_pot(setting, all.course, all.model, false);
    const SeasonResult full = run_pot(setting, all.course, all.model, true);
    CHECK(plain.ledger.empty());
    CHECK(full.summary == plain.summary);
    REQUIRE(full.ledger.size() == all.course.days.size());
    CareDays care;
    double watered_l = 0.0;
    for (const LedgerLine& line : full.ledger) {
      care = {.feed = care.feed + line.care.feed,
              .frost = care.frost + line.care.frost,
              .too_warm = care.too_warm + line.care.too_warm,
              .poor_fruit_set = care.poor_fruit_set + line.care.poor_fruit_set,
              .blossom_end_rot = care.blossom_end_rot + line.care.blossom_end_rot,
              .hot_roots = care.hot_roots + line.care.hot_roots,
              .sheds_water = care.sheds_water + line.care.sheds_water,
              .finger_only = care.finger_only + line.care.finger_only,
              .root_only = care.root_only + line.care.root_only};
      watered_l += line.watered_l;
    }
    CHECK(care == full.summary.care);
    CHECK(near(watered_l, full.summary.watered_l, 1e-9));
    for (const LedgerLine& line : full.ledger) {
      CHECK((line.care.feed == 0 || line.care.feed == 1));
      CHECK((line.care.sheds_water == 0 || line.care.sheds_water == 1));
    }
  }
}

TEST_CASE("pot run: begins where it is told, counts the gap between refills") {
  const OneCourse all("daily 07:00", 1);
  PotState start{.rooted_share = 1.0};
  start.rooted_depletion_l = 0.5;
  PotRun run(all.settings.front(), all.model, start);
  DayPlan nobody;
  const CourseDay& first = all.course.days.front();
  CropDay dry = first.crop;
  dry.rain_mm = 0.0;
  const DayOf<1>& day = run.run_day(dry, 0.0, nobody, first.spot->curve);
  CHECK(day.waterings[0] == 0.0);
  const double lost = run.result().transpired_l + run.result().evaporated_l;
  CHECK(near(run.result().state.rooted_depletion_l, 0.5 + lost, 1e-12));
  CHECK(run.longest_gap_days(4.0) == 4.0);  // from planting on, nothing refilled it

  const Visit visit{.at = first.spot->curve.share_by(7.0), .at_days = 1.0 + 7.0 / 24.0};
  DayPlan watered;
  watered.visits = {&visit, 1};
  CHECK(run.run_day(dry, 1.0, watered, first.spot->curve).waterings[0] == 1.0);
  CHECK(near(run.longest_gap_days(2.0), 1.0 + 7.0 / 24.0, 1e-12));
}

}  // namespace wiltline::test

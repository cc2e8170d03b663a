#include "wiltline/questions/remedies.hpp"

#include <doctest/doctest.h>
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <set>
#include <span>
#include <string>

#include "support/fixtures.hpp"
#include "support/near.hpp"
#include "wiltline/base/numbers.hpp"
#include "wiltline/questions/candidates.hpp"

namespace wiltline::test {
namespace {

const ModelParameters& model() {
  return catalogue().parameters;
}

const std::string header =
    "name,crop,pot,mix,plants,planted,spot,routine,mulch,saucer_l,wall,sun_until_h\n";

Planting garden_of(const std::string& row) {
  // Rows of this file leave the last column out, those of row_of have it.
  const auto commas = std::count(row.begin(), row.end(), ',');
  const std::string rest(static_cast<std::size_t>(11 - commas), ',');
  return read_garden({"garden.csv", header + row + rest + "\n"}, catalogue()).front();
}

/// A planting as a gardener would write it.
std::string row_of(const Planting& planting) {
  const MonthDay day = std::get<MonthDay>(planting.planted);
  return fmt::format(
      "{},{},{},{},{},{:02}-{:02},{},{},{},{},{},{}", planting.name, planting.crop.name,
      planting.pot.name, planting.mix.name, planting.plants, day.month, day.day, planting.spot.name,
      planting.routine.text, planting.mulch ? "yes" : "",
      planting.saucer_l > 0.0 ? shortest(planting.saucer_l) : "", planting.pot.wall.name,
      planting.sun_until_h ? shortest(*planting.sun_until_h) : "");
}

std::vector<std::string> thirsty_rows() {
  return {"a,tomato dwarf,clay 10.5 l,potting mix,1,05-15,hot paving,every 2 days 07:00,,,",
          "b,basil,clay 3 l,potting mix,3,05-25,patio,mon wed fri 18:30 soak,,,",
          "c,pepper,fabric 16 l,fabric pot mix,2,05-20,patio,daily 07:00,,,",
          "d,tomato,nursery 11 l,potting mix,1,05-15,patio,check daily 07:00 away 07-08/07-11,,,",
          "e,bush bean,nursery 8 l,potting mix,4,05-20,open ground,daily 07:00 give 0.5 l,,,"};
}

}  // namespace

TEST_CASE("remedies: each one, written as a row of a garden, does in a season what is said of it") {
  const WeatherRecord record = real("seattle.csv");
  const Place weather(record, model());
  std::set<RemedyKind> kinds;
  int sufficient = 0;
  for (const std::string& row : thirsty_rows()) {
    const Planting planting = garden_of(row);
    for (const Change& change : changes_to(planting, catalogue(), catalogue().parameters, {})) {
      INFO(row << " | " << change.text);
      const Planting as_row = garden_of(row_of(change.planting));
      const Date planted = planting_dates(planting, record).front();
      CHECK(run_season(as_row, planted, weather, {}).summary ==
            run_season(change.planting, planted, weather, {}).summary);
      kinds.insert(change.kind);
    }
    for (const Date planted : planting_dates(planting, record)) {
      Planting of_season = planting;
      of_season.planted = planted;
      for (const Remedy& remedy : remedies(of_season, weather, catalogue(), {})) {
        INFO(row << " | " << remedy.change.text << ", " << to_string(planted));
        Planting changed = remedy.change.planting;
        changed.planted = planting.planted;
        const Planting as_row = garden_of(row_of(changed));
        const Place fresh(record, model());
        const SeasonSummary s = run_season(as_row, planted, fresh, {}).summary;
        CHECK(s.wilting_days == remedy.after.wilting);
        CHECK(s.dry_days == remedy.after.dry);
        CHECK(remedy.suffices() == (s.wilting_days == 0 && s.dry_days == 0));
        const SeasonSummary before = run_season(planting, planted, weather, {}).summary;
        CHECK(before.wilting_days == remedy.before.wilting);
        CHECK(std::pair(s.wilting_days, s.dry_days) <
              std::pair(before.wilting_days, before.dry_days));
        sufficient += remedy.suffices() ? 1 : 0;
      }
    }
  }
  CHECK(kinds.size() >= 10);
  CHECK(sufficient > 5);
}

TEST_CASE("remedies: those that suffice first, by effort; one a kind; the rest by what is left") {
  const WeatherRecord record = real("seattle.csv");
  const Place weather(record, model());
  int answered = 0;
  for (const std::string& row : thirsty_rows()) {
    INFO(row);
    const auto found = remedies(garden_of(row), weather, catalogue(), {});
    answered += found.empty() ? 0 : 1;
    std::set<RemedyKind> kinds;
    for (std::size_t i = 0; i < found.size(); ++i) {
      CHECK(kinds.insert(found[i].change.kind).second);
      if (i == 0) continue;
      const Remedy& before = found[i - 1];
      CHECK(before.suffices() >= found[i].suffices());
      CHECK_FALSE(found[i].suffices());  // nothing is offered after one that suffices
      if (before.suffices()) {
        CHECK(found[i].change.kind < before.change.kind);
      } else {
        CHECK(std::pair(before.after.wilting, before.after.dry) <=
              std::pair(found[i].after.wilting, found[i].after.dry));
      }
    }
  }
  CHECK(answered >= 4);
}

TEST_CASE("remedies: over all seasons the days are the seasons' sums") {
  const WeatherRecord record = real("seattle.csv");
  const Place weather(record, model());
  const Planting planting = garden_of(thirsty_rows().front());
  const auto found = remedies(planting, weather, catalogue(), {});
  REQUIRE_FALSE(found.empty());
  for (const Remedy& remedy : found) {
    ShortDays before;
    ShortDays after;
    for (const Date planted : planting_dates(planting, record)) {
      const auto was = run_season(planting, planted, weather, {}).summary;
      const auto is = run_season(remedy.change.planting, planted, weather, {}).summary;
      before.wilting += was.wilting_days;
      before.dry += was.dry_days;
      after.wilting += is.wilting_days;
      after.dry += is.dry_days;
    }
    CHECK(before.wilting == remedy.before.wilting);
    CHECK(before.dry == remedy.before.dry);
    CHECK(after.wilting == remedy.after.wilting);
    CHECK(after.dry == remedy.after.dry);
  }
}

TEST_CASE("remedies: none where none is needed, and only changes that apply") {
  const WeatherRecord record = real("seattle.csv");
  const Place weather(record, model());
  const Planting fine =
      garden_of("f,thyme,nursery 37 l,potting mix,1,05-15,patio,daily 07:00 19:00,yes,1,");
  CHECK(remedies(fine, weather, catalogue(), {}).empty());
  const auto has = [](const std::vector<Change>& changes, RemedyKind kind) {
    return std::any_of(changes.begin(), changes.end(),
                       [&](const Change& change) { return change.kind == kind; });
  };
  const auto changes = changes_to(fine, catalogue(), catalogue().parameters, {});
  for (const RemedyKind kind :
       {RemedyKind::until_it_drains, RemedyKind::every_visit, RemedyKind::mulch, RemedyKind::saucer,
        RemedyKind::fewer_plants, RemedyKind::tight_wall, RemedyKind::daily_visits,
        RemedyKind::second_visit}) {
    CHECK_FALSE(has(changes, kind));
  }
  CHECK(has(changes, RemedyKind::bigger_pot));
  // A herb of dry places wants sun and a lean mix.
  CHECK_FALSE(has(changes, RemedyKind::other_mix));
  CHECK_FALSE(has(changes, RemedyKind::afternoon_shade));
  CHECK_FALSE(has(changes, RemedyKind::shade_net));
  const Planting dry = garden_of("g,thyme,clay 10.5 l,herb mix,1,05-15,patio,mon thu 07:00,,,");
  CHECK_FALSE(has(changes_to(dry, catalogue(), catalogue().parameters, {}), RemedyKind::saucer));
  // Sizes go up within the kind, and no further than asked.
  double mix_l = fine.pot.mix_l();
  int sizes = 0;
  for (const Change& change : changes) {
    if (change.kind != RemedyKind::bigger_pot) continue;
    CHECK(change.planting.pot.kind == "nursery");
    CHECK(change.planting.pot.mix_l() > mix_l);
    mix_l = change.planting.pot.mix_l();
    ++sizes;
  }
  CHECK(sizes == 3);
}

TEST_CASE("remedies: who looks first and leaves a mulched pot is told to water at every visit") {
  const WeatherRecord record = sample("zarquil-flats.csv");
  const Place weather(record, model());
  const Planting beans = garden_of(
      "g,bush bean,nursery 10 l,potting mix,4,2022-05-15,patio,check top daily 07:00,yes,1,");
  const auto found = remedies(beans, weather, catalogue(), {});
  REQUIRE_FALSE(found.empty());
  CHECK(found.front().change.kind == RemedyKind::every_visit);
  CHECK(found.front().change.planting.routine.text == "daily 07:00");
  CHECK(found.front().before.wilting > 1);
  CHECK(found.front().after.wilting == 0);
  // Away, nobody looks.
  const auto away = absence_remedies(beans, weather, catalogue(), {.away_h = 60.0}, {});
  CHECK(std::none_of(away.begin(), away.end(), [](const AbsenceRemedy& remedy) {
    return remedy.change.kind == RemedyKind::every_visit;
  }));
}

TEST_CASE("remedies of an absence: each one passes what is said of it") {
  const WeatherRecord record = real("seattle.csv");
  const Place weather(record, model());
  const Planting planting =
      garden_of("g,pepper,clay 10.5 l,potting mix,2,05-20,patio,every 9 days 07:00 give 1 l,,,");
  const AbsenceOptions options{.away_h = 60.0};
  const auto found = absence_remedies(planting, weather, catalogue(), options, {});
  REQUIRE_FALSE(found.empty());
  for (const AbsenceRemedy& remedy : found) {
    INFO(remedy.change.text);
    const Planting as_row = garden_of(row_of(remedy.change.planting));
    const Place fresh(record, model());
    const AbsencePot pot = absence(as_row, fresh, options).pots.front();
    CHECK(pot.passed == remedy.passed_after);
    CHECK(pot.windows == remedy.windows_after);
    CHECK(remedy.passed_after > remedy.passed_before);
    CHECK(remedy.suffices == passes(pot, options.share));
    CHECK(remedy.change.kind < RemedyKind::daily_visits);  // nobody comes
  }
}

TEST_CASE("a routine is written as it is read") {
  for (const char* text :
       {"as-needed", "daily 07:00 19:00", "every 2 days 07:00", "check mon wed fri 18:30",
        "check top daily 07:00 give 2.5 l soak away 07-08/07-15 away 2024-08-01/2024-08-03"}) {
    const Result<Routine> read = parse_routine(text);
    REQUIRE(read);
    CHECK(written(*read) == text);
  }
}

TEST_CASE("remedies: no mix or pot that holds nothing for plants under the place's own model") {
  const Planting planting = one_row("tomato", "nursery 11 l,potting mix,1,05-15,patio,daily 07:00");
  ModelParameters dry = catalogue().parameters;
  dry.refill_share = 0.05;
  for (const ModelParameters& model : {catalogue().parameters, dry}) {
    int tried = 0;
    for (const Change& change : changes_to(planting, catalogue(), model, {})) {
      tried += change.kind == RemedyKind::other_mix || change.kind == RemedyKind::bigger_pot;
    }
    CHECK((tried == 0) == (model == dry));
  }
}

TEST_CASE("remedies: a saucer holds 2 cm under the pot's top; the next sizes up, and no more") {
  const Planting planting = one_row("tomato", "nursery 11 l,potting mix,1,05-15,patio,daily 07:00");
  for (const std::size_t sizes_up : {std::size_t{0}, std::size_t{2}, std::size_t{5}}) {
    std::vector<double> litres;
    for (const Change& change :
         changes_to(planting, catalogue(), catalogue().parameters, {.sizes_up = sizes_up})) {
      if (change.kind == RemedyKind::saucer) {
        const double two_cm_l = 20.0 * planting.pot.mix_shape().top_area_m2();
        CHECK(near(change.planting.saucer_l, two_cm_l, 0.05 + 1e-9));
        CHECK(near(10.0 * change.planting.saucer_l, std::round(10.0 * two_cm_l), 1e-9));
      }
      if (change.kind == RemedyKind::bigger_pot) litres.push_back(change.planting.pot.mix_l());
    }
    REQUIRE(litres.size() == sizes_up);
    double before = planting.pot.mix_l();
    for (const double mix_l : litres) {
      CHECK(mix_l > before);
      // No size of the kind lies between.
      for (const auto& entry : catalogue().pots.entries()) {
        if (entry.value.kind != planting.pot.kind) continue;
        CHECK_FALSE((entry.value.mix_l() > before + 1e-6 && entry.value.mix_l() < mix_l - 1e-6));
      }
      before = mix_l;
    }
  }
}

TEST_CASE("remedies: afternoon shade is the same spot with the morning's sun") {
  const Planting planting = one_row("tomato", "nursery 11 l,potting mix,1,05-15,patio,daily 07:00");
  int shades = 0;
  for (const Change& change : changes_to(planting, catalogue(), catalogue().parameters, {})) {
    if (change.kind != RemedyKind::afternoon_shade) continue;
    ++shades;
    Spot expected = planting.spot;
    expected.sun_to_h = 12.0;
    CHECK(change.planting.spot == expected);
    CHECK(change.planting.sun_until_h == 12.0);
  }
  CHECK(shades == 1);
}

TEST_CASE("remedies: two changes are called two; the wet weight where the floor carries little") {
  for (const char* spot : {"balcony", "roof terrace", "patio"}) {
    CAPTURE(spot);
    const Planting planting = one_row(
        "tomato", std::string("nursery 11 l,potting mix,1,05-15,") + spot + ",every 2 days 07:00");
    for (const Change& change : changes_to(planting, catalogue(), catalogue().parameters, {})) {
      CHECK(change.steps == (change.kind == RemedyKind::second_visit ? 2 : 1));
      const bool heavy = change.kind == RemedyKind::bigger_pot && std::string(spot) != "patio";
      CHECK(change.wet_kg.has_value() == heavy);
      // A wet mix weighs between half a kilogram and one and a half a litre (judged).
      if (heavy) {
        const double litres = change.planting.pot.mix_l();
        CHECK(*change.wet_kg > 0.5 * litres);
        CHECK(*change.wet_kg < 1.5 * litres);
      }
    }
  }
}

TEST_CASE("remedies: a bigger pot keeps the wall") {
  const Planting planting =
      garden_of("w,tomato,clay 10.5 l,potting mix,1,05-15,patio,daily 07:00,,,plastic");
  int bigger = 0;
  for (const Change& change : changes_to(planting, catalogue(), catalogue().parameters, {})) {
    if (change.kind != RemedyKind::bigger_pot) continue;
    CHECK(change.planting.pot.wall.name == planting.pot.wall.name);
    ++bigger;
  }
  CHECK(bigger > 0);
}

TEST_CASE("remedies: a shade net lets the rain through, which glass does not") {
  const Planting planting = one_row("tomato", "nursery 11 l,potting mix,1,05-15,patio,daily 07:00");
  int nets = 0;
  for (const Change& change : changes_to(planting, catalogue(), catalogue().parameters, {})) {
    if (change.kind != RemedyKind::shade_net) continue;
    CHECK(change.planting.spot.name == "shade cloth");
    ++nets;
  }
  CHECK(nets == 1);
}

TEST_CASE("remedies: no saucer under a hanging basket, nor one bigger than a seed cell's mix") {
  const auto offered = [](const std::string& row) {
    const auto changes = changes_to(garden_of(row), catalogue(), model(), {});
    return std::any_of(changes.begin(), changes.end(),
                       [](const Change& change) { return change.kind == RemedyKind::saucer; });
  };
  CHECK_FALSE(offered("s,strawberry,hanging basket 10 l,coir mix,3,04-01,patio,daily 08:00,,,"));
  CHECK(offered("s,strawberry,nursery 10 l,coir mix,3,04-01,patio,daily 08:00,,,"));
  CHECK_FALSE(offered("c,basil,cell 0.02 l,potting mix,1,05-15,patio,daily 08:00,,,"));
}

TEST_CASE("remedies: coming every day and watering until it drains are tried together") {
  const Place weather(sample("tolvenau.csv"), model());
  for (const char* row :
       {"p,pepper,nursery 11 l,potting mix,1,05-15,patio,every 3 days 07:00 give 1 l,,,",
        "s,potato,fabric 54 l,compost 50 coir 30 perlite 20,3,04-01,open ground,every 2 days 18:00 "
        "give 4 l,,,"}) {
    CAPTURE(row);
    const auto found = remedies(garden_of(row), weather, catalogue(), {});
    REQUIRE_FALSE(found.empty());
    CHECK(found.front().suffices());
    CHECK(found.front().change.kind == RemedyKind::daily_until_it_drains);
    CHECK(found.front().change.text == "coming every day and watering until it drains");
    CHECK(found.front().change.steps == 2);
    CHECK(found.front().change.planting.routine.days == VisitDays::daily);
    CHECK_FALSE(found.front().change.planting.routine.give_l);
  }
}

TEST_CASE("remedies: a bigger pot has the saucer that goes with it") {
  Planting planting =
      plantings("it,tomato dwarf,glazed 5 l,potting mix,1,05-15,patio,daily 07:00\n").front();
  planting.saucer_l = 0.5;
  int bigger = 0;
  for (const Change& change : changes_to(planting, catalogue(), model(), {})) {
    if (change.kind != RemedyKind::bigger_pot) continue;
    const auto tried = in_pots(planting, std::span(&change.planting.pot, 1), model());
    REQUIRE(tried.size() == 1);
    CHECK(change.planting.saucer_l == tried.front().saucer_l);
    CHECK(change.planting.saucer_l > 0.5);
    ++bigger;
  }
  CHECK(bigger > 0);
}

}  // namespace wiltline::test

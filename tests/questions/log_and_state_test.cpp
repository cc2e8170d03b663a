// The files of a forecast: the log of waterings, and the state kept from day to day.
#include "wiltline/questions/log_and_state.hpp"

#include <doctest/doctest.h>

#include <string>
#include <vector>

#include "support/fixtures.hpp"
#include "support/near.hpp"
#include "support/refusal.hpp"

namespace wiltline::test {
namespace {

const ModelParameters& model() {
  return catalogue().parameters;
}

const std::vector<Planting>& garden() {
  static const std::vector<Planting> both = plantings(
      "tomato,tomato,nursery 37 l,vegetable mix,1,05-15,patio,daily 07:00\n"
      "\"basil, \"\"big\"\"\",basil,clay 3 l,potting mix,3,05-25,balcony,daily 18:00\n");
  return both;
}

const Instant now{make_date(2023, 7, 10), 12.0};

std::vector<LogEntry> log_of(const std::string& rows) {
  return read_watering_log({"log.csv", rows}, garden(), now);
}

std::string refused_log(const std::string& rows) {
  return refusal([&] { (void)log_of(rows); });
}

SavedPlanting saved_tomato() {
  SavedPlanting saved;
  saved.name = "tomato";
  saved.planted = make_date(2023, 5, 15);
  saved.run.date = make_date(2023, 7, 10);
  saved.run.pot = {.rooted_depletion_l = 1.0 / 3.0,
                   .top_depletion_l = 0.1,
                   .unrooted_depletion_l = 0.0,
                   .rooted_share = 1.0,
                   .mulch_water_l = 0.0,
                   .yesterday_use_l = 2.1};
  saved.run.development = {.grown = 56.0, .progress = 0.8, .days_since_full = -1.0};
  saved.run.drained_yesterday_l = 0.25;
  return saved;
}

std::vector<SavedPlanting> read(const std::string& csv,
                                GrowthClock growth = GrowthClock::stage_days) {
  return read_state({"state.csv", csv}, model(),
                    {garden(), growth, make_date(2023, 5, 1), make_date(2023, 7, 10)});
}

/// What is said of a state with a changed tomato.
template <typename Change>
std::string refused_state(Change change) {
  SavedPlanting saved = saved_tomato();
  change(saved);
  const std::string csv = state_csv({&saved, 1});
  return refusal([&] { (void)read(csv); });
}

bool says(const std::string& message, const std::string& part) {
  return message.find(part) != std::string::npos;
}

}  // namespace

TEST_CASE("watering log: in the order of time, in litres or gallons, blank until it drained") {
  const auto metric = log_of(
      "when,name,given_l\n"
      "2023-07-09 18:30,\"basil, \"\"big\"\"\",1.5\n2023-07-08T07:00,tomato,\n");
  REQUIRE(metric.size() == 2);
  CHECK(metric[0].name == "tomato");
  CHECK(metric[0].event == PotEvent{{make_date(2023, 7, 8), 7.0}, PotEventKind::watered, {}});
  CHECK(metric[1].name == "basil, \"big\"");
  CHECK(metric[1].event == PotEvent{{make_date(2023, 7, 9), 18.5}, PotEventKind::watered, 1.5});
  const auto gallons = log_of("when,name,given_gal\n2023-07-09 18:30,tomato,0.5\n");
  CHECK(near(*gallons[0].event.amount, 0.5 * 3.785411784, 1e-12));  // NIST SP 811
  CHECK(log_of("when,name,given_l\n").empty());
  CHECK_FALSE(log_of("when,name,given_l\n2023-07-10 12:00,tomato,\n")[0].event.amount);
}

TEST_CASE("watering log: what is wrong, and where") {
  CHECK(says(refused_log("when,name,given_l\n2023-07-10 12:01,tomato,1\n"),
             "log.csv:2:1: found 2023-07-10T12:01 after now"));
  CHECK(says(refused_log("when,name,given_l\n2023-07-09,tomato,1\n"), "log.csv:2:1: found"));
  CHECK(says(refused_log("when,name,given_l\n2023-07-09 07:00,tomatto,1\n"), "nearest: tomato"));
  CHECK(says(refused_log("when,name,given_l\n2023-07-09 07:00,tomato,0\n"), "log.csv:2:25: found"));
  CHECK(says(refused_log("when,name,given_l\n2023-07-09 07:00,tomato,10001\n"),
             "log.csv:2:25: found"));
}

TEST_CASE("state: what is written is read back, to the last bit") {
  SavedPlanting tomato = saved_tomato();
  tomato.run.feeding = {.last_days = 50.0, .drained_since_l = 0.1 + 0.2};
  tomato.log.complete_from = Instant{make_date(2023, 7, 1), 7.25};
  const Date day = tomato.run.date;
  tomato.log.events = {{{day, 8.5}, PotEventKind::watered, {}},
                       {{day, 9.0}, PotEventKind::watered, 1.5},
                       {{day, 9.5}, PotEventKind::weighed, 21.25},
                       {{day, 10.0}, PotEventKind::top_felt_dry, {}},
                       {{day, 11.0}, PotEventKind::top_felt_moist, {}}};
  SavedPlanting basil = saved_tomato();
  basil.name = "basil, \"big\"";
  basil.planted = make_date(2023, 5, 25);
  basil.run.pot.rooted_depletion_l = 0.05;
  const std::vector<SavedPlanting> both{tomato, basil};
  const std::string csv = state_csv(both);
  CHECK(read(csv) == both);
  CHECK(state_csv(read(csv)) == csv);
  CHECK(says(csv,
             "2023-07-10T08:30=drained 2023-07-10T09:00=1.5l 2023-07-10T09:30=21.25kg "
             "2023-07-10T10:00=top-dry 2023-07-10T11:00=top-moist"));
  // Never fed is a blank, not a number.
  CHECK(read(csv)[1].run.feeding.last_days == Feeding{}.last_days);
}

TEST_CASE("state: one that does not fit the garden, the days or the pot is refused") {
  const PotParameters pot = build_pot(garden()[0], model());
  CHECK(says(refused_state([](SavedPlanting& s) { s.name = "tomatto"; }), "nearest: tomato"));
  CHECK(says(refused_state([](SavedPlanting& s) { s.planted = make_date(2023, 5, 16); }),
             "the planting day that the garden gives it"));
  CHECK(says(refused_state([](SavedPlanting& s) { s.run.date = make_date(2023, 7, 11); }),
             "within the weather and not after now"));
  CHECK(says(refused_state([](SavedPlanting& s) { s.run.date = make_date(2023, 5, 14); }),
             "before planted"));
  CHECK(says(refused_state([](SavedPlanting& s) { s.growth = GrowthClock::degree_days; }),
             "found \"degree-days\""));
  const double driest_l = pot.refilled_l - pot.air_dry_l;
  const auto with_depletion = [&](double litres) {
    return refused_state([&](SavedPlanting& s) { s.run.pot.rooted_depletion_l = litres; });
  };
  CHECK(with_depletion(driest_l) == "nothing refused");
  CHECK(says(with_depletion(driest_l + 0.01), "which is what this pot can hold or lose"));
  CHECK(says(with_depletion(-0.01), "which is what this pot can hold or lose"));  // no saucer
  CHECK(says(refused_state([](SavedPlanting& s) { s.run.pot.rooted_share = 1.1; }),
             "a share above 0 and up to 1"));
  CHECK(says(refused_state([](SavedPlanting& s) {
               s.log.events = {{{make_date(2023, 7, 9), 8.5}, PotEventKind::watered, {}}};
             }),
             "on the state's date or later"));
  const SavedPlanting one = saved_tomato();
  const std::vector<SavedPlanting> twice{one, one};
  CHECK(says(refusal([&] { (void)read(state_csv(twice)); }), "\"tomato\" a second time"));
}

TEST_CASE("state: what was learned of a pot, and readings still to come, are read back") {
  SavedPlanting saved = saved_tomato();
  const Date day = saved.run.date;
  saved.readings = {{.when = {day, 8.0}, .kind = ReadingKind::weighed_before, .weight_kg = 21.5},
                    {.when = {day, 8.5}, .kind = ReadingKind::weighed_after, .weight_kg = 24.1},
                    {.when = {day, 8.75}, .given_l = 1.5, .drained_l = 0.2},
                    {.when = {day, 8.8}, .given_l = {}, .drained_l = 0.0},
                    {.when = {day, 9.0}, .kind = ReadingKind::top_felt_moist},
                    {.when = {day, 15.0}, .kind = ReadingKind::not_wilted}};
  PotMember middle;
  middle.use = 0.1 + 0.2;
  middle.usable = -0.1;
  middle.empty_kg = 9.0;
  middle.plant_kg_per_m2 = 2.0;
  middle.pot = saved.run.pot;
  PotMember other = middle;
  other.use = 0.5;
  other.pot.rooted_depletion_l = 0.4;
  saved.learned = PotEnsemble{.members = {middle, other, middle},
                              .empty_kg2 = 4.0,
                              .empty_plant = -0.5,
                              .plant_kg2 = 1.0,
                              .water_l2 = 0.02,
                              .readings = 3};
  const std::string csv = state_csv({&saved, 1});
  CHECK(says(csv,
             "2023-07-10T08:00=21.5kg-before 2023-07-10T08:30=24.1kg-after "
             "2023-07-10T08:45=1.5:0.2l 2023-07-10T08:48=:0l 2023-07-10T09:00=top-moist "
             "2023-07-10T15:00=not-wilting"));
  const std::vector<SavedPlanting> back = read(csv);
  REQUIRE(back.size() == 1);
  CHECK(back.front() == saved);

  // A state of before these columns.
  const SavedPlanting old = saved_tomato();
  std::string old_csv = state_csv({&old, 1});
  const std::size_t at = old_csv.find(",readings,learned");
  REQUIRE(at != std::string::npos);
  old_csv.erase(at, std::string(",readings,learned").size());
  old_csv.erase(old_csv.size() - 3, 2);  // the two empty cells
  CHECK(read(old_csv).front() == old);

  const auto refused = [&](auto change) {
    SavedPlanting wrong = saved;
    change(wrong);
    return refusal([&] { (void)read(state_csv({&wrong, 1})); });
  };
  CHECK(says(refused([&](SavedPlanting& s) { s.readings[0].when.date = make_date(2023, 7, 9); }),
             "on the state's date or later"));
  CHECK(says(refused([](SavedPlanting& s) { s.learned->members.pop_back(); }), "an odd number"));
  CHECK(says(refused([](SavedPlanting& s) { s.learned->members[1].use = 6.0; }), "no pot has"));
  CHECK(says(refused([](SavedPlanting& s) { s.learned->empty_kg2 = -1.0; }), "no pot has"));
  CHECK(says(refused([](SavedPlanting& s) { s.learned->water_l2 = 1e7; }), "a number from"));
  CHECK(says(refused([](SavedPlanting& s) { s.learned->members[1].pot.top_depletion_l = 900.0; }),
             "other water than its pot can hold"));
}

}  // namespace wiltline::test

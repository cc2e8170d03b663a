// The garden with what was learned: read again it says the same, and all else stays.
#include "wiltline/questions/learned_garden.hpp"

#include <doctest/doctest.h>

#include <string>
#include <vector>

#include "support/fixtures.hpp"
#include "support/near.hpp"
#include "support/refusal.hpp"

namespace wiltline::test {
namespace {

const std::string header = "name,crop,pot,mix,plants,planted,spot,routine";
const std::string row = ",basil,clay 3 l,potting mix,3,05-25,balcony,daily 07:00";

/// A garden of two, of which the first has learned something.
std::string written(const std::string& text) {
  const std::vector<Planting> garden = read_garden({"g.csv", text}, catalogue());
  CalibrationResult result;
  for (const Planting& one : garden) result.pots.push_back({.planting = &one});
  result.pots[0].learned = {.use_factor = 1.25,
                            .use_factor_sd = 0.125,
                            .usable_l = 1.5,
                            .usable_sd_l = 0.25,
                            .wall_factor = 0.5,
                            .use_usable_correlation = -0.25,
                            .until = Instant{make_date(2024, 7, 9), 18.0}};
  result.pots[0].tare_kg = 1.75;
  return learned_garden_csv({"g.csv", text}, result);
}

}  // namespace

TEST_CASE("learned garden: read again it is what was learned, beside all that was there") {
  const std::string text =
      written("# mine\n" + header + ",notes\na" + row + ",\"x, y\"\nb" + row + ",\n");
  CHECK(text == "# mine\n" + header +
                    ",notes,tare_kg,use_factor,use_factor_sd,usable_l,usable_sd_l,wall_factor," +
                    "use_usable_correlation,calibrated_until\na" + row +
                    ",\"x, y\",1.75,1.25,0.125,1.5,0.25,0.5,-0.25,2024-07-09T18:00\nb" + row +
                    ",,,,,,,,,\n");
  const std::vector<Planting> again = read_garden({"g.csv", text}, catalogue());
  CHECK(again[0].learned.use_factor == 1.25);
  CHECK(again[0].learned.usable_sd_l == 0.25);
  CHECK(again[0].learned.use_usable_correlation == -0.25);
  CHECK(again[0].learned.until == Instant{make_date(2024, 7, 9), 18.0});
  CHECK(again[0].tare_kg == 1.75);
  CHECK(again[1].learned == Learned{});
}

TEST_CASE("learned garden: old columns are replaced, a tare that is known stays") {
  const std::string text = written("use_factor,tare_lb," + header + ",usable_gal\n3,9,a" + row +
                                   ",0.3\n2,,b" + row + ",\n");
  CHECK(text.starts_with("tare_lb," + header +
                         ",use_factor,use_factor_sd,usable_l,usable_sd_l,wall_factor," +
                         "use_usable_correlation,calibrated_until\n9,a"));
  const std::vector<Planting> again = read_garden({"g.csv", text}, catalogue());
  CHECK(near(*again[0].tare_kg, 9 * 0.45359237, 1e-12));
  CHECK(again[1].learned == Learned{});
}

TEST_CASE("learned garden: a tare that was blank is filled in the unit of its column") {
  const std::string text = written(header + ",tare_lb\na" + row + ",\nb" + row + ",9\n");
  const std::vector<Planting> again = read_garden({"g.csv", text}, catalogue());
  CHECK(near(*again[0].tare_kg, 1.75, 0.0005));  // four digits are written
  CHECK(near(*again[1].tare_kg, 9 * 0.45359237, 1e-12));
}

TEST_CASE("learned garden: a spreadsheet's semicolons stay") {
  std::string semicolons = header + "\na" + row + "\nb" + row + "\n";
  for (char& c : semicolons) c = c == ',' ? ';' : c;
  const std::string text = written(semicolons);
  CHECK(text.find(',') == std::string::npos);
  CHECK(read_garden({"g.csv", text}, catalogue())[0].learned.usable_l == 1.5);
}

TEST_CASE("learned garden: a garden without names and a result without plantings are refused") {
  CHECK(refusal([] {
          (void)learned_garden_csv({"g.csv", "crop,pot\nbasil,clay 3 l\n"}, {});
        }) == "request: found a garden without names; expected a column name");
  CalibrationResult result;
  result.pots.resize(1);
  CHECK(refusal([&] {
          (void)learned_garden_csv({"g.csv", header + "\na" + row + "\n"}, result);
        }) == "request: found a calibration without a planting");
}

}  // namespace wiltline::test

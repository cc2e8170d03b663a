// A garden file: every error with its whole message, every optional column, both systems of units.
#include <doctest/doctest.h>

#include <cmath>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <variant>
#include <vector>

#include "support/fixtures.hpp"
#include "support/near.hpp"
#include "support/refusal.hpp"
#include "wiltline/budget/pot_parameters.hpp"
#include "wiltline/container/capacity.hpp"
#include "wiltline/garden/reading.hpp"

namespace wiltline::test {
namespace {

const std::string header = "name,crop,pot,mix,plants,planted,spot,routine";

std::vector<Planting> garden(const std::string& bytes) {
  return read_garden({"g.csv", bytes}, catalogue());
}

/// One planting with more columns behind the required ones.
Planting planting(const std::string& more_columns = "", const std::string& more_cells = "",
                  const std::string& pot = "nursery 37 l") {
  const std::vector<Planting> all =
      garden(header + more_columns + "\nt,tomato," + pot +
             ",potting mix,1,05-15,patio,daily 07:00" + more_cells + "\n");
  REQUIRE(all.size() == 1);
  return all.front();
}

std::string refused(const std::string& bytes) {
  return refusal([&] { (void)garden(bytes); });
}

/// The message for one good row in which one cell, which must occur, is replaced by another. The
/// place is checked here and taken off: it must be that of the new cell.
std::string refused_cell(std::string_view cell, std::string_view by) {
  std::string row = "t,tomato,nursery 37 l,potting mix,1,05-15,patio,daily 07:00";
  const std::size_t at = ("," + row + ",").find("," + std::string(cell) + ",");
  REQUIRE(at != std::string::npos);
  row.replace(at, cell.size(), by);
  const std::string message = refused(header + "\n" + row + "\n");
  const std::string place = "g.csv:2:" + std::to_string(at + 1) + ": ";
  return message.starts_with(place) ? message.substr(place.size()) : "elsewhere: " + message;
}

/// The same for a good row with one more column and cell.
std::string refused_extra(const std::string& column, const std::string& value,
                          const std::string& pot = "nursery 37 l") {
  const std::string row = "t,tomato," + pot + ",potting mix,1,05-15,patio,daily 07:00,";
  const std::string message = refused(header + "," + column + "\n" + row + value + "\n");
  const std::string place = "g.csv:2:" + std::to_string(row.size() + 1) + ": ";
  return message.starts_with(place) ? message.substr(place.size()) : "elsewhere: " + message;
}

const std::string no_fault = "nothing refused";

}  // namespace

TEST_CASE("garden: the required columns") {
  const std::vector<Planting> all = garden(
      "# ours\nroutine,spot,planted,plants,mix,pot,crop,name\n"
      "check daily 07:00 19:00,Morning Sun,2024-05-10,3,peat 60 perlite 40,Deep-Window-Box 20 "
      "L,Spinach"
      ",spinach box\n"
      "as-needed,patio,02-29,1,potting mix,clay 3 l,basil,\"basil, left\"\n");
  REQUIRE(all.size() == 2);
  const Planting& spinach = all[0];
  CHECK(spinach.name == "spinach box");
  CHECK(spinach.crop.name == "spinach");
  CHECK(spinach.pot.name == "deep window box 20 l");
  CHECK(spinach.mix.name == "peat 60 perlite 40");
  CHECK(spinach.plants == 3);
  CHECK(spinach.count == 1);
  CHECK(std::get<Date>(spinach.planted) == make_date(2024, 5, 10));
  CHECK_FALSE(spinach.ends);
  CHECK(spinach.spot.name == "morning sun");
  CHECK(spinach.routine.rule == VisitRule::check);
  CHECK(spinach.routine.visit_hours.size() == 2);
  CHECK_FALSE(spinach.mulch);
  CHECK(spinach.saucer_l == 0.0);
  CHECK_FALSE(spinach.threshold_fraction);
  CHECK_FALSE(spinach.tare_kg);
  CHECK(spinach.line == 3);
  const Planting& basil = all[1];
  CHECK(basil.name == "basil, left");
  CHECK(std::get<MonthDay>(basil.planted) == MonthDay{2, 29});
  CHECK(basil.routine.as_needed);
  CHECK(basil.line == 4);
}

TEST_CASE("garden: the example garden reads") {
  const std::vector<Planting> all = read_garden(
      read_file(std::string(WILTLINE_SOURCE) + "/models/gardens/courtyard.csv"), catalogue());
  CHECK(all.size() >= 10);
}

TEST_CASE("garden: blank optional cells are as if the columns were not there") {
  const Planting bare = planting();
  const Planting blank = planting(
      ",count,volume_l,height_cm,top_diameter_cm,wall,headspace_cm,mulch,saucer_l,canopy_diameter_"
      "m,"
      "canopy_height_m,root_ball_l,threshold_fraction,tare_kg,sun_until_h,ends,notes",
      ",,,,,,,,,,,,,,,,");
  CHECK(blank.count == bare.count);
  CHECK(blank.pot.mix_l() == bare.pot.mix_l());
  CHECK(blank.pot.headspace_cm == bare.pot.headspace_cm);
  CHECK(blank.pot.wall.name == bare.pot.wall.name);
  CHECK(blank.crop.canopy_diameter_m.value == bare.crop.canopy_diameter_m.value);
  CHECK(blank.crop.crown_height_m.value == bare.crop.crown_height_m.value);
  CHECK(blank.crop.root_ball_l == bare.crop.root_ball_l);
  CHECK(blank.saucer_l == 0.0);
  CHECK_FALSE(blank.mulch);
  CHECK_FALSE(blank.threshold_fraction);
  CHECK_FALSE(blank.tare_kg);
  CHECK_FALSE(blank.sun_until_h);
  CHECK(blank.spot == bare.spot);
  CHECK_FALSE(blank.ends);
}

TEST_CASE("garden: optional columns") {
  CHECK(planting(",count", ",12").count == 12);
  CHECK(planting(",mulch", ",yes").mulch);
  CHECK_FALSE(planting(",mulch", ",no").mulch);
  CHECK(planting(",saucer_l", ",1.5").saucer_l == 1.5);
  CHECK(planting(",threshold_fraction", ",0.4").threshold_fraction == 0.4);
  CHECK(planting(",tare_kg", ",1.2").tare_kg == 1.2);
  const Planting shaded = planting(",sun_until_h", ",12");
  CHECK(shaded.sun_until_h == 12.0);
  Spot patio_until_noon = *catalogue().spots.find("patio");
  patio_until_noon.sun_to_h = 12.0;
  CHECK(shaded.spot == patio_until_noon);
  CHECK(planting(",wall", ",clay").pot.wall.name == "clay");
  CHECK(planting(",wall", ",clay").pot.wall.evaporation_share ==
        catalogue().walls.find("clay")->evaporation_share);
  CHECK(planting(",root_ball_l", ",2.8").crop.root_ball_l == 2.8);
  CHECK(std::get<MonthDay>(planting(",ends", ",09-30").ends.value()) == MonthDay{9, 30});
  const std::vector<Planting> dated =
      garden(header +
             ",ends\nt,tomato,nursery 37 l,potting mix,1,2024-05-15,patio,daily 07:00,"
             "2024-09-30\n");
  CHECK(std::get<Date>(dated.front().ends.value()) == make_date(2024, 9, 30));
}

TEST_CASE("garden: US columns say the same as metric ones") {
  // Exact definitions: NIST SP 811, appendix B.
  CHECK(near(planting(",volume_gal", ",5").pot.mix_l(), 5.0 * 3.785411784, 1e-12));
  CHECK(near(planting(",height_in", ",15").pot.shape.height_cm(), 38.1, 1e-12));
  CHECK(near(planting(",top_diameter_in", ",16").pot.shape.top_length_cm(), 40.64, 1e-12));
  CHECK(near(planting(",headspace_in", ",1").pot.headspace_cm, 2.54, 1e-12));
  CHECK(near(planting(",saucer_gal", ",0.5").saucer_l, 1.892705892, 1e-12));
  CHECK(near(planting(",canopy_diameter_ft", ",2").crop.canopy_diameter_m.value, 0.6096, 1e-12));
  CHECK(near(planting(",canopy_height_ft", ",4").crop.crown_height_m.value, 1.2192, 1e-12));
  CHECK(near(planting(",root_ball_gal", ",1").crop.root_ball_l, 3.785411784, 1e-12));
  CHECK(near(planting(",tare_lb", ",2").tare_kg.value(), 0.90718474, 1e-12));
  CHECK(refused(header +
                ",volume_l,volume_gal\nt,tomato,nursery 37 l,potting mix,1,05-15,patio,daily "
                "07:00,20,5\n") ==
        "g.csv:1:56: found both volume_l and volume_gal; expected one of them");
}

TEST_CASE("garden: a volume scales the named pot, all its proportions kept") {
  const Planting named = planting();
  for (const double litres : {5.0, 20.0, 80.0}) {
    CAPTURE(litres);
    const Planting scaled = planting(",volume_l", "," + std::to_string(litres));
    CHECK(near(scaled.pot.mix_l(), litres, 1e-9));
    const PotShape& a = named.pot.shape;
    const PotShape& b = scaled.pot.shape;
    CHECK(near(b.top_length_cm() / b.height_cm(), a.top_length_cm() / a.height_cm(), 1e-12));
    CHECK(near(b.bottom_length_cm() / b.height_cm(), a.bottom_length_cm() / a.height_cm(), 1e-12));
    CHECK(near(scaled.pot.headspace_cm / b.height_cm(), named.pot.headspace_cm / a.height_cm(),
               1e-12));
  }
  const Planting box = planting(",volume_l", ",25", "window box 10 l");
  CHECK_FALSE(box.pot.shape.is_round());
  CHECK(near(box.pot.mix_l(), 25.0, 1e-9));
}

TEST_CASE("garden: dimensions reshape the named pot") {
  const Pot named = planting().pot;
  const Pot tall = planting(",height_cm", ",60").pot;
  CHECK(tall.shape.height_cm() == 60.0);
  CHECK(tall.shape.top_length_cm() == named.shape.top_length_cm());
  CHECK(tall.shape.bottom_length_cm() == named.shape.bottom_length_cm());
  CHECK(tall.headspace_cm == named.headspace_cm);

  const Pot wide = planting(",top_diameter_cm", ",84").pot;
  CHECK(wide.shape.top_length_cm() == 84.0);
  CHECK(near(wide.shape.bottom_length_cm() / 84.0,
             named.shape.bottom_length_cm() / named.shape.top_length_cm(), 1e-12));
  CHECK(wide.shape.height_cm() == named.shape.height_cm());

  const Pot both = planting(",height_cm,top_diameter_cm,headspace_cm", ",50,40,6").pot;
  CHECK(both.shape.height_cm() == 50.0);
  CHECK(both.shape.top_length_cm() == 40.0);
  CHECK(both.mix_depth_cm() == 44.0);

  const Pot box = planting(",height_cm", ",30", "window box 10 l").pot;
  CHECK(box.shape.height_cm() == 30.0);
  CHECK(box.shape.top_length_cm() ==
        catalogue().pots.find("window box 10 l")->shape.top_length_cm());
}

TEST_CASE("garden: a measured canopy replaces the crop's, its density kept") {
  const Crop tomato = *catalogue().crops.find("tomato");
  const Crop wide = planting(",canopy_diameter_m", ",1.5").crop;
  const double ratio = 1.5 / tomato.canopy_diameter_m.value;
  CHECK(wide.canopy_diameter_m.value == 1.5);
  CHECK(wide.canopy_diameter_m.low == 1.5);
  CHECK(wide.canopy_diameter_m.high == 1.5);
  CHECK(near(wide.leaf_area_m2.value, tomato.leaf_area_m2.value * ratio * ratio, 1e-12));
  CHECK(near(wide.leaf_area_m2.low, tomato.leaf_area_m2.low * ratio * ratio, 1e-12));
  CHECK(near(wide.leaf_area_m2.high, tomato.leaf_area_m2.high * ratio * ratio, 1e-12));
  CHECK(wide.crown_height_m.value == tomato.crown_height_m.value);
  const Crop tall = planting(",canopy_height_m", ",2.2").crop;
  CHECK(tall.crown_height_m.value == 2.2);
  CHECK(tall.crown_height_m.low == 2.2);
  CHECK(tall.leaf_area_m2.value == tomato.leaf_area_m2.value);
}

TEST_CASE("garden: a planting day is written as it is read") {
  for (const char* const text : {"2024-05-10", "05-10", "02-29"}) {
    const std::string before = "\nt,tomato,nursery 37 l,potting mix,1,";
    const auto read = garden(header + before + text + ",patio,daily 07:00\n");
    CHECK(written(read.front().planted) == text);
  }
}

// What is refused

TEST_CASE("garden: unknown names, with the nearest known one") {
  CHECK(refused_cell("tomato", "tomatoe") ==
        "found unknown crop \"tomatoe\"; expected a known crop; nearest: "
        "tomato");
  CHECK(refused_cell("tomato", "orchid") == "found unknown crop \"orchid\"; expected a known crop");
  CHECK(refused_cell("nursery 37 l", "nursrey 37 l") ==
        "found unknown pot \"nursrey 37 l\"; expected a known pot; nearest: "
        "nursery 37 l");
  CHECK(refused_cell("nursery 37 l", "amphora") ==
        "found unknown pot \"amphora\"; expected a known pot");
  CHECK(refused_cell("patio", "pation") ==
        "found unknown spot \"pation\"; expected a known spot; nearest: patio");
  CHECK(refused_cell("potting mix", "poting mix") ==
        "found unknown mix \"poting mix\"; expected a known mix or a composition such as peat 60 "
        "perlite "
        "40; nearest: potting mix");
  CHECK(refused_extra("wall", "clya") ==
        "found unknown wall \"clya\"; expected a known wall; nearest: clay");
  CHECK(refused_extra("wall", "fabrik") ==
        "found unknown wall \"fabrik\"; expected a known wall; nearest: "
        "fabric");
}

TEST_CASE("garden: as a spreadsheet saves it, with semicolons, a mark, CRLF and quotes") {
  const Planting ours =
      garden(header +
             ",saucer_l,notes\nt,tomato,nursery 37 l,\"peat 60 perlite 40\",1,05-15,patio,"
             "daily 07:00 19:00,0.3,\"dry; mild\"\n")
          .front();
  const std::vector<Planting> saved = garden(
      "\xEF\xBB\xBF\"name\";\"crop\";\"pot\";\"mix\";\"plants\";\"planted\";\"spot\";\"routine\";"
      "\"saucer_l\";\"notes\"\r\n\"t\";\"tomato\";\"nursery 37 l\";\"peat 60 perlite "
      "40\";1;\"05-15\";"
      "\"patio\";\"daily 07:00 19:00\";0,3;\"dry; mild\"\r\n;;;;;;;;;\r\n");
  REQUIRE(saved.size() == 1);
  const Planting& theirs = saved.front();
  CHECK(theirs.name == ours.name);
  CHECK(same_crops(theirs, ours));
  CHECK(theirs.pot.name == ours.pot.name);
  CHECK(theirs.mix.name == ours.mix.name);
  CHECK(theirs.planted == ours.planted);
  CHECK(theirs.spot == ours.spot);
  CHECK(theirs.routine == ours.routine);
  CHECK(theirs.saucer_l == 0.3);
  CHECK(ours.saucer_l == 0.3);
}

namespace {

Planting of_crops(const std::string& crops, const std::string& plants) {
  return garden(header + "\nt," + crops + ",nursery 37 l,potting mix," + plants +
                ",05-15,patio,daily 07:00\n")
      .front();
}

}  // namespace

TEST_CASE("garden: several crops in one pot") {
  const Planting mixed = of_crops("kale 2 + beetroot 4 +leaf lettuce  3", "");
  CHECK(mixed.crop.name == "kale");
  CHECK(mixed.plants == 2);
  REQUIRE(mixed.beside.size() == 2);
  CHECK(mixed.beside[0].crop.name == "beet");
  CHECK(mixed.beside[0].plants == 4);
  CHECK(mixed.beside[1].crop == *catalogue().crops.find("leaf lettuce"));
  CHECK(mixed.beside[1].plants == 3);
  CHECK(plants_in_pot(mixed) == 9);
  CHECK(crop_text(mixed) == "kale 2 + beet 4 + leaf lettuce 3");
  CHECK(same_crops(mixed, of_crops(crop_text(mixed), "9")));
  CHECK_FALSE(same_crops(mixed, of_crops("kale 1 + beet 4 + leaf lettuce 3", "")));
  CHECK_FALSE(same_crops(mixed, of_crops("kale", "2")));

  // One crop, in whatever way it is written.
  for (const Planting& kale : {of_crops("kale 1 + borecole 1", ""), of_crops("kale 2", ""),
                               of_crops("kale 2", "2"), of_crops("kale", "2")}) {
    CHECK(kale.plants == 2);
    CHECK(kale.beside.empty());
    CHECK(crop_text(kale) == "kale");
  }
}

TEST_CASE("garden: crops of one pot that do not go together as written") {
  CHECK(refused_cell("tomato", "kale 2 + beat 4") ==
        "found unknown crop \"beat\"; expected a known crop; nearest: beet");
  CHECK(refused_cell("tomato", "kale 2 + beet") ==
        "found \"beet\" without its plants; expected plants from 1 to 1000 behind each crop, as "
        "kale 2 + beet 4");
  CHECK(refused_cell("tomato", "kale 2 + beet 0") ==
        "found \"beet 0\"; expected plants from 1 to 1000 behind each crop, as kale 2 + beet 4");
  CHECK(refused_cell("tomato", "kale 2 +") == "found unknown crop \"\"; expected a known crop");
  CHECK(refused(header +
                "\nt,kale 2 + beet 4,nursery 37 l,potting mix,2,05-15,patio,daily 07:00\n") ==
        "g.csv:2:44: found 2 plants beside crops with 6 in all; expected 6, or nothing");
  CHECK(refused(header +
                "\nt,kale 600 + beet 600,fabric 110 l,potting mix,,05-15,patio,daily 07:00\n") ==
        "g.csv:2:48: found 1200 plants; expected at most 1000");
  CHECK(refused(header + ",root_ball_l\nt,kale 2 + beet 4,nursery 37 l,potting mix,,05-15,patio,"
                         "daily 07:00,1\n") ==
        "g.csv:2:3: found several crops and the size of a plant; expected one crop, or neither "
        "canopy nor root ball");
}

TEST_CASE("garden: a mix that does not add up") {
  CHECK(refused_cell("potting mix", "peat 60 perlite 30") ==
        "found parts that add up to 90; expected 100 percent");
  CHECK(refused_cell("potting mix", "peat 60 perlit 40")
            .starts_with("found unknown component \"perlit\"; expected one of peat, coir, "));
  CHECK(
      refused_cell("potting mix", "60 peat 40 perlite") ==
      "found 60 without a name before it; expected names and percent, such as peat 60 perlite 40");
}

TEST_CASE("garden: plants and pots are counted in whole numbers") {
  for (const std::string plants : {"0", "-1", "1.5", "two", "1001", "1e1"}) {
    CAPTURE(plants);
    CHECK(refused_cell("1", plants) ==
          "found \"" + plants + "\" in plants; expected a whole number from 1 to 1000");
  }
  CHECK(refused_extra("count", "0") ==
        "found \"0\" in count; expected a whole number from 1 to 100000");
  CHECK(refused_extra("count", "2.5") ==
        "found \"2.5\" in count; expected a whole number from 1 to 100000");
}

TEST_CASE("garden: dates") {
  const std::string expected =
      "; expected a date that exists, as 2024-05-10, or 05-10 for every year";
  for (const std::string date :
       {"2023-02-30", "2024-5-10", "5-10", "02-30", "13-01", "May", "10.05."}) {
    CAPTURE(date);
    CHECK(refused_cell("05-15", date) == "found \"" + date + "\"" + expected);
  }
  CHECK(refused_extra("ends", "09-31") == "found \"09-31\"" + expected);
}

TEST_CASE("garden: an end before the planting day") {
  CHECK(refused(header + ",ends\nt,tomato,nursery 37 l,potting mix,1,2024-05-15,patio,daily "
                         "07:00,2024-05-01\n") != no_fault);
  // Of any year, an end earlier in the calendar is next year's.
  CHECK(refused(header +
                ",ends\nt,garlic,nursery 37 l,potting mix,1,10-15,patio,daily 07:00,07-01\n") ==
        no_fault);
}

TEST_CASE("garden: routines") {
  CHECK(refused_cell("daily 07:00", "daily 7:00") ==
        "found \"7:00\"; expected a time of day such as 07:00");
  CHECK(refused_cell("daily 07:00", "sometimes")
            .starts_with("found \"sometimes\"; expected as-needed, "));
}

TEST_CASE("garden: nothing in a required cell") {
  using ColumnAndCell = std::pair<std::string, std::string>;
  for (const auto& item : std::vector<ColumnAndCell>{{"name", "t"},
                                                     {"crop", "tomato"},
                                                     {"pot", "nursery 37 l"},
                                                     {"mix", "potting mix"},
                                                     {"plants", "1"},
                                                     {"planted", "05-15"},
                                                     {"spot", "patio"},
                                                     {"routine", "daily 07:00"}}) {
    CAPTURE(item.first);
    CHECK(refused_cell(item.second, "") == "found nothing in " + item.first + "; expected a value");
  }
}

TEST_CASE("garden: volumes and dimensions") {
  const std::string volume = "expected 0.005 to 5000 litres";
  CHECK(refused_extra("volume_l", "0") == "found 0 in volume_l; " + volume);
  CHECK(refused_extra("volume_l", "-10") == "found -10 in volume_l; " + volume);
  CHECK(refused_extra("volume_gal", "2000") ==
        "found 2000 in volume_gal; " + volume + " (0.001321 to 1321 as volume_gal)");
  CHECK(refused_extra("volume_l", "ten") ==
        "found \"ten\" in volume_l; expected a number, or nothing if unknown");
  CHECK(refused_extra("height_cm", "0") == "found 0 in height_cm; expected 1 to 500 cm");
  CHECK(refused_extra("top_diameter_in", "0.2") ==
        "found 0.2 in top_diameter_in; expected 1 to 500 cm (0.3937 to 196.9 as top_diameter_in)");
  CHECK(refused_extra("headspace_cm", "-1") == "found -1 in headspace_cm; expected 0 to 100 cm");
  CHECK(refused_extra("top_diameter_cm", "30", "window box 10 l") ==
        "found top_diameter_cm for a rectangular pot; expected a round pot, or the volume instead");
}

TEST_CASE("garden: a volume beside a dimension") {
  const auto both = [](const std::string& columns, const std::string& cells) {
    return refused(header + columns +
                   "\nt,tomato,nursery 37 l,potting mix,1,05-15,patio,daily 07:00" + cells + "\n");
  };
  CHECK(both(",volume_l,height_cm", ",20,40") ==
        "g.csv:2:61: found both volume_l and a dimension; expected a volume, which scales the "
        "named pot, "
        "or dimensions");
  CHECK(both(",top_diameter_in,volume_gal", ",12,5") ==
        "g.csv:2:64: found both volume_gal and a dimension; expected a volume, which scales the "
        "named "
        "pot, or dimensions");
  CHECK(both(",volume_l,height_cm", ",20,") == no_fault);
  CHECK(both(",volume_l,height_cm", ",,40") == no_fault);
}

TEST_CASE("garden: a volume beside a headspace, which scaling would change") {
  CHECK(refused(header +
                ",volume_l,headspace_cm\nt,tomato,nursery 37 l,potting mix,1,05-15,patio,daily "
                "07:00,10,2\n") ==
        "g.csv:2:61: found both volume_l and a dimension; expected a volume, which scales the "
        "named pot, "
        "or dimensions");
}

TEST_CASE("garden: no room for mix") {
  CHECK(refused(header + ",headspace_cm\nt,tomato,nursery 37 l,potting mix,1,05-15,patio,daily "
                         "07:00,35\n") ==
        "g.csv:2:10: found a pot 35 cm high with 35 cm headspace; expected room for mix above the "
        "drain "
        "holes");
  // The holes of this tub are 3 cm up its side.
  CHECK(refused(header + ",height_cm\nt,tomato,metal tub 60 l,potting mix,1,05-15,patio,daily "
                         "07:00,6\n") ==
        "g.csv:2:10: found a pot 6 cm high with 3 cm headspace; expected room for mix above the "
        "drain "
        "holes");
}

TEST_CASE("garden: other numbers out of their range") {
  CHECK(refused_extra("saucer_l", "40")
            .starts_with("found 40 litres in the saucer; expected at most the pot's "));
  CHECK(refused_extra("saucer_l", "-1") == "found -1 in saucer_l; expected 0 to 1000 litres");
  CHECK(refused_extra("threshold_fraction", "1") ==
        "found 1 in threshold_fraction; expected 0.02 to 0.95");
  CHECK(refused_extra("threshold_fraction", "40") ==
        "found 40 in threshold_fraction; expected 0.02 to 0.95");
  CHECK(refused_extra("tare_kg", "-0.1") == "found -0.1 in tare_kg; expected 0 to 5000 kg");
  CHECK(refused_extra("sun_until_h", "25") == "found 25 in sun_until_h; expected 0 to 24");
  CHECK(refused_extra("canopy_diameter_m", "0") ==
        "found 0 in canopy_diameter_m; expected 0.02 to 10 m");
  CHECK(
      refused_extra("canopy_height_ft", "40") ==
      "found 40 in canopy_height_ft; expected 0.02 to 10 m (0.06562 to 32.81 as canopy_height_ft)");
  CHECK(refused_extra("root_ball_l", "0") ==
        "found 0 in root_ball_l; expected 0.005 to 500 litres");
  CHECK(refused_extra("mulch", "maybe") == "found \"maybe\" in mulch; expected yes, no or nothing");
}

TEST_CASE("garden: names are there once") {
  const std::string rest = ",tomato,nursery 37 l,potting mix,1,05-15,patio,daily 07:00\n";
  CHECK(refused(header + "\nt" + rest + "u" + rest + "t" + rest + "t" + rest) ==
        "g.csv:4:1: found \"t\" a second time; expected every name once\n"
        "g.csv:5:1: found \"t\" a second time; expected every name once");
  CHECK(garden(header + "\nt" + rest + "u" + rest).size() == 2);
  // Told as the rows are read: reading ends there, and not with the file.
  std::string many = header + "\n";
  for (int row = 0; row < 30; ++row) many += "t" + rest;
  const std::string told =
      refused(many + "v,tomatoe,nursery 37 l,potting mix,1,05-15,patio,as-needed\n");
  CHECK(told.find("g.csv:3:1: found \"t\" a second time") != std::string::npos);
  CHECK(told.find("tomatoe") == std::string::npos);
}

TEST_CASE("garden: missing, unknown and doubled columns") {
  CHECK(
      refused(
          "name,crop,pot,mix,plants,spot,routine\nt,tomato,nursery 37 l,potting mix,1,patio,daily "
          "07:00\n") == "g.csv:1:1: found no column planted; expected that column");
  CHECK(refused("name,plant,pot\nt,tomato,nursery 37 l\n") ==
        "g.csv:1:1: found no column crop; expected that column\n"
        "g.csv:1:1: found no column mix; expected that column\n"
        "g.csv:1:1: found no column plants; expected that column\n"
        "g.csv:1:1: found no column planted; expected that column\n"
        "g.csv:1:1: found no column spot; expected that column\n"
        "g.csv:1:1: found no column routine; expected that column\n"
        "g.csv:1:6: found unknown column \"plant\"; expected a known column; nearest: plants");
  CHECK(refused(header +
                ",colour\nt,tomato,nursery 37 l,potting mix,1,05-15,patio,daily 07:00,red\n") ==
        "g.csv:1:47: found unknown column \"colour\"; expected a known column");
  CHECK(refused(header +
                ",crop\nt,tomato,nursery 37 l,potting mix,1,05-15,patio,daily 07:00,red\n") ==
        "g.csv:1:47: found column \"crop\" a second time; expected every column once");
  CHECK(refused(header +
                ",notes\nt,tomato,nursery 37 l,potting mix,1,05-15,patio,daily 07:00,red\n") ==
        no_fault);
  CHECK(refused(header + "\n") ==
        "g.csv:1: found a header row only; expected at least one row below the header");
}

TEST_CASE("garden: everything that is wrong, at once, in file order") {
  CHECK(
      refused(header + "\na,tomatoe,nursery 37 l,peat 50,0,05-15,patio,daily 07:00\n"
                       "b,tomato,nursery 37 l,potting mix,1,05-15,patio,daily 07:00\n"
                       "b,tomato,nursery 37 l,potting mix,1,15-05,patoi,daily\n") ==
      "g.csv:2:3: found unknown crop \"tomatoe\"; expected a known crop; "
      "nearest: "
      "tomato\n"
      "g.csv:2:24: found parts that add up to 50; expected 100 percent\n"
      "g.csv:2:32: found \"0\" in plants; expected a whole number from 1 to 1000\n"
      "g.csv:4:1: found \"b\" a second time; expected every name once\n"
      "g.csv:4:37: found \"15-05\"; expected a date that exists, as 2024-05-10, or 05-10 for every "
      "year\n"
      "g.csv:4:43: found unknown spot \"patoi\"; expected a known spot; "
      "nearest: patio\n"
      "g.csv:4:49: found no time of day; expected a time such as 07:00");
}

TEST_CASE("garden: a row with an unknown name still has its numbers checked") {
  CHECK(refused(header + ",volume_l,mulch\nt,tomatoe,nursery 37 l,potting mix,1,05-15,patio,daily "
                         "07:00,-5,maybe\n") ==
        "g.csv:2:3: found unknown crop \"tomatoe\"; expected a known crop; "
        "nearest: "
        "tomato\n"
        "g.csv:2:62: found -5 in volume_l; expected 0.005 to 5000 litres\n"
        "g.csv:2:65: found \"maybe\" in mulch; expected yes, no or nothing");
}

TEST_CASE("garden: at most twenty problems are told") {
  std::string bytes = header + "\n";
  for (int i = 0; i < 40; ++i) {
    bytes += std::to_string(i) + ",tomatoe,nursery 37 l,potting mix,1,05-15,patio,daily 07:00\n";
  }
  const std::string message = refused(bytes);
  std::size_t lines = 1;
  for (const char c : message) lines += c == '\n' ? 1 : 0;
  CHECK(lines == 20);
  CHECK(message.starts_with("g.csv:2:3: found unknown crop"));
}

TEST_CASE("garden: a mix that holds no water for plants in the given pot") {
  // A component of our own that keeps nothing between draining and its limit.
  auto tables = builtin_tables();
  FileBytes& components = tables.at("mix-components.csv");
  components.bytes +=
      "gravel,0.4,0.02,40,2.9,0.3,,,,,1.5,no,coarse,1,1,1,2,2,2,0.4,0.02,40,2.9,0.4,0.02,40,2.9,"
      "ours,"
      "judged\n";
  const Catalogue with_gravel = read_catalogue(tables);
  const std::string row = "t,tomato,nursery 37 l,gravel 100,1,05-15,patio,daily 07:00\n";
  CHECK(refusal([&] {
          (void)read_garden({"g.csv", header + "\n" + row}, with_gravel);
        }) ==
        "g.csv:2:23: found \"gravel 100\", which holds no water that plants can use in this pot; "
        "expected "
        "a mix that holds water");
}

TEST_CASE("garden: how a crop is harvested, by its own habit or by the row") {
  CHECK_FALSE(planting(",harvest", ",").leaf_by_leaf);
  CHECK(planting(",harvest", ",leaf").leaf_by_leaf);
  CHECK_FALSE(planting(",harvest", ",whole").leaf_by_leaf);
  CHECK(refused_extra("harvest", "root") ==
        "found \"root\" in harvest; expected leaf (picked leaf by leaf), whole (grows to full "
        "size) or "
        "nothing (the same)");
}

TEST_CASE("garden: every column name, in both systems") {
  CHECK(garden_columns() == std::vector<std::string>{"name",
                                                     "crop",
                                                     "pot",
                                                     "mix",
                                                     "plants",
                                                     "planted",
                                                     "spot",
                                                     "routine",
                                                     "count",
                                                     "wall",
                                                     "mulch",
                                                     "ends",
                                                     "hardened",
                                                     "pruned",
                                                     "harvest",
                                                     "threshold_fraction",
                                                     "volume_l",
                                                     "volume_gal",
                                                     "height_cm",
                                                     "height_in",
                                                     "top_diameter_cm",
                                                     "top_diameter_in",
                                                     "headspace_cm",
                                                     "headspace_in",
                                                     "saucer_l",
                                                     "saucer_gal",
                                                     "canopy_diameter_m",
                                                     "canopy_diameter_ft",
                                                     "canopy_height_m",
                                                     "canopy_height_ft",
                                                     "root_ball_l",
                                                     "root_ball_gal",
                                                     "tare_kg",
                                                     "tare_lb",
                                                     "sun_until_h",
                                                     "use_factor",
                                                     "use_factor_sd",
                                                     "usable_l",
                                                     "usable_gal",
                                                     "usable_sd_l",
                                                     "usable_sd_gal",
                                                     "wall_factor",
                                                     "use_usable_correlation",
                                                     "calibrated_until"});
}

TEST_CASE("garden: one date cannot end a planting of every year") {
  CHECK(refused_extra("ends", "2024-09-30") ==
        "found ends 2024-09-30 for a planting of every year; expected a day of every year, as "
        "09-30, or planted as a date");
}

TEST_CASE("a planting made in memory is checked where its pot is built") {
  Planting one = planting();
  const auto refused_now = [&] {
    return refusal([&] { (void)build_pot(one, catalogue().parameters); });
  };
  CHECK(refused_now() == "nothing refused");
  one.ends = make_date(2024, 9, 30);
  CHECK(
      refused_now().starts_with("request: t: found ends 2024-09-30 for a planting of every year"));
  one.planted = make_date(2024, 10, 1);
  CHECK(refused_now() ==
        "request: t: found 2024-09-30 before 2024-10-01; expected an end on or after the planting "
        "day");
  one.ends.reset();
  one.routine.give_l = 1e308;
  CHECK(refused_now().starts_with("request: t: found give 1e+308 l; expected an amount above"));
}

}  // namespace wiltline::test

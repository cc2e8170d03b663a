// The model tables: what ships, what it must satisfy, and how a broken table is told.
#include <doctest/doctest.h>

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <ctime>
#include <filesystem>
#include <fstream>
#include <map>
#include <optional>
#include <set>
#include <sstream>
#include <string>
#include <string_view>
#include <vector>

#include "support/fixtures.hpp"
#include "support/near.hpp"
#include "support/refusal.hpp"
#include "support/temporary_folder.hpp"
#include "wiltline/base/numbers.hpp"
#include "wiltline/container/capacity.hpp"
#include "wiltline/garden/catalogue.hpp"

namespace wiltline::test {
namespace {

/// The message when one built-in table is replaced by a text, called `t.csv`.
std::string refused(const std::string& table, const std::string& text) {
  auto tables = builtin_tables();
  tables[table] = {"t.csv", text};
  return refusal([&] { (void)read_catalogue(tables); });
}

/// The bytes of a built-in table with one stretch replaced; it must occur.
std::string edited(const std::string& table, std::string_view from, std::string_view to) {
  std::string bytes = builtin_tables().at(table).bytes;
  const std::size_t at = bytes.find(from);
  REQUIRE(at != std::string::npos);
  return bytes.replace(at, from.size(), to);
}

/// The bytes of a built-in table with one cell replaced: of the row of a name, before the columns
/// that hold sentences.
std::string with_cell(const std::string& table, std::string_view name, std::string_view column,
                      std::string_view value) {
  std::string out;
  std::optional<std::size_t> index;
  std::istringstream lines(builtin_tables().at(table).bytes);
  for (std::string line; std::getline(lines, line); out += line + '\n') {
    if (line.starts_with('#')) continue;
    std::vector<std::string> cells;
    std::istringstream rest(line);
    for (std::string cell; std::getline(rest, cell, ',');) cells.push_back(cell);
    if (!index) {
      index =
          static_cast<std::size_t>(std::find(cells.begin(), cells.end(), column) - cells.begin());
      REQUIRE(*index < cells.size());
    } else if (cells.front() == name) {
      cells.at(*index) = value;
      line = fmt::format("{}", fmt::join(cells, ","));
    }
  }
  return out;
}

template <typename Value>
void check_rows(const NamedTable<Value>& table) {
  std::set<std::string> names;
  for (const Entry<Value>& entry : table.entries()) {
    CAPTURE(entry.name);
    CHECK_FALSE(entry.name.empty());
    CHECK(entry.source.size() > 3);
    CHECK(names.insert(folded(entry.name)).second);
    CHECK(table.find(entry.name) == &entry.value);
  }
  CHECK(table.names().size() == table.entries().size());
}

/// The litres in a pot's name: the number before ` l` at its end.
double litres_in(const std::string& name) {
  const auto parts = words(name);
  REQUIRE(parts.size() >= 2);
  REQUIRE(parts.back() == "l");
  return parse_number(parts[parts.size() - 2]).value();
}

const std::string wall_header =
    "wall,evaporation_share,evaporation_share_low,evaporation_share_high,dark,source,sureness\n";
const std::string pot_header =
    "pot,kind,top_diameter_cm,bottom_diameter_cm,top_length_cm,top_width_cm,bottom_length_cm,"
    "bottom_"
    "width_cm,height_cm,headspace_cm,wall,drainage,reservoir_l,mix_low_l,mix_high_l,source,"
    "sureness\n";
const std::string mix_header =
    "mix,composition,shrinkage,shrinkage_low,shrinkage_high,use,source,sureness\n";
const std::string spot_header =
    "spot,sun_from_h,sun_to_h,sky_view,sky_view_low,sky_view_high,shade_cloth,reflected,"
    "reflected_low,reflected_high,warm_surfaces,warm_surfaces_low,warm_surfaces_high,wind_share,"
    "wind_share_low,"
    "wind_share_high,rain_share,rain_share_low,rain_share_high,advection,advection_low,advection_"
    "high,"
    "closure,closure_low,closure_high,frost_kept_off_c,frost_kept_off_low_c,frost_kept_off_high_c,"
    "source,sureness\n";

const std::string no_fault = "nothing refused";

}  // namespace

// What ships

TEST_CASE("catalogue: the built-in tables are the files of models/, byte for byte") {
  const auto tables = builtin_tables();
  std::set<std::string> names;
  for (const auto& entry : tables) {
    const std::string& name = entry.first;
    const FileBytes& file = entry.second;
    CAPTURE(name);
    names.insert(name);
    CHECK(file.name == "built-in models/" + name);
    CHECK(file.bytes == read_file(std::string(WILTLINE_SOURCE) + "/models/" + name).bytes);
  }
  CHECK(names == std::set<std::string>(model_table_names().begin(), model_table_names().end()));
  CHECK(names.size() == 7);
}

TEST_CASE("catalogue: enough of everything to plan a garden with") {
  CHECK(catalogue().crops.entries().size() >= 25);
  CHECK(catalogue().components.entries().size() >= 10);
  CHECK(catalogue().mixes.entries().size() >= 8);
  CHECK(catalogue().pots.entries().size() >= 40);
  CHECK(catalogue().spots.entries().size() >= 8);
  CHECK(catalogue().walls.entries().size() >= 5);
  CHECK(catalogue().parameter_rows.entries().size() == model_parameter_names().size());
}

TEST_CASE("catalogue: every row has a name of its own, a source and how sure it is") {
  check_rows(catalogue().crops);
  check_rows(catalogue().components);
  check_rows(catalogue().mixes);
  check_rows(catalogue().pots);
  check_rows(catalogue().spots);
  check_rows(catalogue().walls);
  check_rows(catalogue().parameter_rows);
  // The reader insists on one of four words; here, straight from the files.
  for (const auto& entry : builtin_tables()) {
    CAPTURE(entry.first);
    const CsvTable table(entry.second);
    const auto sureness = table.column("sureness");
    const auto source = table.column("source");
    REQUIRE(sureness);
    REQUIRE(source);
    for (std::size_t row = 0; row < table.rows(); ++row) {
      const std::string_view word = table.cell(row, *sureness);
      CHECK((word == "read" || word == "recalled" || word == "computed" || word == "judged"));
      CHECK_FALSE(table.cell(row, *source).empty());
    }
  }
  CHECK(to_string(Sureness::read) == "read");
  CHECK(to_string(Sureness::recalled) == "recalled");
  CHECK(to_string(Sureness::computed) == "computed");
  CHECK(to_string(Sureness::judged) == "judged");
}

TEST_CASE("catalogue: a pot holds the litres of mix in its name, within 6 percent") {
  const CsvTable table(builtin_tables().at("pots.csv"));
  for (std::size_t row = 0; row < table.rows(); ++row) {
    const auto number = [&](std::string_view column) {
      return parse_number(table.cell(row, table.column(column).value())).value();
    };
    const auto& entry = catalogue().pots.entries()[row];
    CAPTURE(entry.name);
    const double mix_l = entry.value.mix_l();
    CHECK(near(mix_l / litres_in(entry.name), 1.0, 0.06));
    CHECK(mix_l >= number("mix_low_l"));
    CHECK(mix_l <= number("mix_high_l"));
  }
}

TEST_CASE("catalogue: every mix in every pot holds water that plants can use") {
  const double refill_share = catalogue().parameters.refill_share;
  for (const std::string& name : catalogue().mixes.names()) {
    const Result<Mix> mix = catalogue().mix(name);
    REQUIRE(mix);
    CAPTURE(name);
    for (const auto& entry : catalogue().pots.entries()) {
      CAPTURE(entry.name);
      const HeldWater held = held_water(entry.value, *mix, refill_share);
      CHECK(held.available_l() > 0.0);
      CHECK(held.lower_limit_l >= held.wilting_l);
      CHECK(held.refilled_l < held.saturated_l);
      // A tenth to three fifths of the volume: herb mix in a tall pot to peat in a cell (judged).
      CHECK(held.available_l() / held.mix_l > 0.10);
      CHECK(held.available_l() / held.mix_l < 0.60);
    }
  }
}

TEST_CASE("catalogue: mixes are made of known components, by volume to 100") {
  for (const auto& entry : catalogue().mixes.entries()) {
    CAPTURE(entry.name);
    double sum = 0.0;
    for (const CompositionPart& part : entry.value.composition) {
      CHECK(catalogue().components.find(part.component) != nullptr);
      sum += part.percent;
    }
    CHECK(near(sum, 100.0, 1e-9));
    CHECK(entry.value.shrinkage.value >= entry.value.shrinkage.low);
    CHECK(entry.value.shrinkage.value <= entry.value.shrinkage.high);
  }
}

TEST_CASE("catalogue: the low curve of a component holds less than its high curve") {
  for (const auto& entry : catalogue().components.entries()) {
    CAPTURE(entry.name);
    const MixComponent& component = entry.value;
    const PotShape pot = PotShape::round(20.0, 20.0, 15.0);
    const auto held = [&](const VanGenuchten& curve) {
      const ReleaseCurve release({{1.0, curve}});
      const double limit = std::max(component.wilting_m3_m3, release.water_content(100.0));
      return container_capacity(release, pot).capacity_m3_m3 - limit;
    };
    CHECK(held(component.curve.low) < held(component.curve.value));
    CHECK(held(component.curve.value) < held(component.curve.high));
    CHECK(component.wilting_m3_m3 < component.curve.value.theta_s);
  }
}

TEST_CASE("catalogue: crops make sense as a whole") {
  for (const auto& entry : catalogue().crops.entries()) {
    CAPTURE(entry.name);
    const Crop& crop = entry.value;
    CHECK(crop.min_l <= crop.preferred_l.value);
    CHECK(crop.initial_days < crop.days_to_full.value);
    CHECK(crop.base_temperature_c < crop.upper_temperature_c);
    CHECK(crop.kcb_end <= crop.kcb_mid);
    CHECK(crop.root_ball_l < crop.preferred_l.value);
    // FAO-56 table 22: p lies between 0.20 and 0.65 for vegetables.
    CHECK(crop.depletion_fraction.value >= 0.20);
    CHECK(crop.depletion_fraction.value <= 0.65);
    // FAO-56 table 17: basal mid-season coefficients of vegetables up to 1.15.
    CHECK(crop.kcb_mid <= 1.15);
    if (crop.best_low_c && crop.best_high_c) CHECK(*crop.best_low_c < *crop.best_high_c);
    if (crop.fruit_set_night_low_c && crop.fruit_set_night_high_c) {
      CHECK(*crop.fruit_set_night_low_c < *crop.fruit_set_night_high_c);
    }
  }
}

TEST_CASE("catalogue: numbers reach their place") {
  const Crop* const tomato = catalogue().crops.find("tomato");
  REQUIRE(tomato != nullptr);
  CHECK(tomato->name == "tomato");
  CHECK(tomato->warm_season);
  CHECK(tomato->harvest == Harvest::fruit);
  CHECK(tomato->frost == Frost::tender);
  CHECK(tomato->kcb_mid == 1.15);                   // FAO-56 table 17, staked tomato
  CHECK(tomato->depletion_fraction.value == 0.40);  // FAO-56 table 22
  CHECK(tomato->preferred_l.low < tomato->preferred_l.value);
  const Crop* const kale = catalogue().crops.find("kale");
  REQUIRE(kale != nullptr);
  CHECK_FALSE(kale->warm_season);
  CHECK(kale->harvest == Harvest::leaf);
  CHECK(kale->frost == Frost::hard);
  CHECK_FALSE(kale->fruit_set_day_limit_c);

  const Pot* const tub = catalogue().pots.find("metal tub 60 l");
  REQUIRE(tub != nullptr);
  CHECK(tub->drain_level_cm == 3.0);
  CHECK(tub->drains);
  CHECK(tub->wall.name == "metal");
  const Pot* const bucket = catalogue().pots.find("bucket 9 l");
  REQUIRE(bucket != nullptr);
  CHECK_FALSE(bucket->drains);
  const Pot* const fabric = catalogue().pots.find("fabric 36 l");
  REQUIRE(fabric != nullptr);
  CHECK(fabric->wall.evaporation_share.value > 0.0);
  CHECK(fabric->kind == "fabric");
  const Pot* const reservoir = catalogue().pots.find("self watering tub 20 l");
  REQUIRE(reservoir != nullptr);
  CHECK(reservoir->reservoir_l == 4.0);

  const Spot* const group = catalogue().spots.find("tight group");
  REQUIRE(group != nullptr);
  CHECK(group->closure.value == 1.0);
  CHECK(group->is_group());
  const Spot* const shade = catalogue().spots.find("deep shade");
  REQUIRE(shade != nullptr);
  CHECK(shade->sun_from_h == shade->sun_to_h);
  CHECK_FALSE(shade->is_group());

  CHECK(catalogue().parameters.refill_share == 0.9);
  CHECK(catalogue().parameters.lower_limit_suction_kpa == 100.0);
  for (const ModelParameterName& parameter : model_parameter_names()) {
    const ParameterRow* const row = catalogue().parameter_rows.find(parameter.name);
    REQUIRE(row != nullptr);
    CHECK(catalogue().parameters.*parameter.member == row->number.value);
    CHECK(row->number.in_order());
  }
}

TEST_CASE("catalogue: names are found as people type them") {
  CHECK(catalogue().crops.find("Tomato") == catalogue().crops.find("tomato"));
  CHECK(catalogue().crops.find("TOMATO_DWARF") == catalogue().crops.find("tomato dwarf"));
  CHECK(catalogue().pots.find("half-barrel 50 L") == catalogue().pots.find("half barrel 50 l"));
  CHECK(catalogue().crops.find("tomat") == nullptr);
  CHECK(catalogue().crops.find("") == nullptr);
}

TEST_CASE("catalogue: a crop is found by its other common names") {
  const auto& crops = catalogue().crops;
  CHECK(crops.find("Zucchini") == crops.find("summer squash"));
  CHECK(crops.find("courgette") == crops.find("summer squash"));
  CHECK(crops.find("aubergine") == crops.find("eggplant"));
  CHECK(crops.find("cherry-tomato") == crops.find("tomato"));
  CHECK(crops.find("coriander") == crops.find("cilantro"));
  CHECK(nearest_name("courgete", crops.all_names()) == "courgette");
  CHECK(std::find(crops.names().begin(), crops.names().end(), "courgette") == crops.names().end());
}

TEST_CASE("catalogue: a common name stands for one crop, and none is empty") {
  auto tables = builtin_tables();
  tables["crops.csv"].bytes = edited("crops.csv", "aubergine; brinjal", "Courgette");
  CHECK_THROWS_WITH_AS((void)read_catalogue(tables),
                       doctest::Contains("\"courgette\" a second time; expected every name once"),
                       InputError);
  tables["crops.csv"].bytes = edited("crops.csv", "aubergine; brinjal", "aubergine;");
  CHECK_THROWS_WITH_AS((void)read_catalogue(tables),
                       doctest::Contains("an empty name; expected names separated by semicolons"),
                       InputError);
}

TEST_CASE("catalogue: a table that is not given is said") {
  auto tables = builtin_tables();
  tables.erase("walls.csv");
  CHECK_THROWS_WITH_AS((void)read_catalogue(tables),
                       doctest::Contains("found no model table walls.csv; expected crops.csv, "),
                       RequestError);
}

// Mixes

TEST_CASE("catalogue: a mix by its name or by its composition") {
  const Result<Mix> named = catalogue().mix("Potting-Mix");
  REQUIRE(named);
  CHECK(named->shrinkage == catalogue().mixes.find("potting mix")->shrinkage.value);
  CHECK(named->composition.size() == 3);

  const Result<Mix> composed = catalogue().mix("Peat 60 perlite 40");
  REQUIRE(composed);
  CHECK(composed->name == "Peat 60 perlite 40");
  // Nothing better being known: 0.2 x fine x coarse.
  CHECK(near(composed->shrinkage, 0.2 * 0.6 * 0.4, 1e-15));
  const MixComponent* const peat = catalogue().components.find("peat");
  const MixComponent* const perlite = catalogue().components.find("perlite");
  CHECK(near(
      composed->curve.water_content(5.0),
      (0.6 * peat->curve.value.water_content(5.0) + 0.4 * perlite->curve.value.water_content(5.0)) /
          (1.0 - composed->shrinkage),
      1e-14));
}

TEST_CASE("catalogue: what is no mix") {
  const auto found = [](std::string_view text) {
    const Result<Mix> result = catalogue().mix(text);
    return result ? no_fault : result.fault().found + " | " + result.fault().expected;
  };
  CHECK(found("poting mix") ==
        "unknown mix \"poting mix\" | a known mix or a composition such as peat 60 perlite 40; "
        "nearest: "
        "potting mix");
  CHECK(found("mud") ==
        "unknown mix \"mud\" | a known mix or a composition such as peat 60 perlite 40");
  CHECK(found("peat 60 perlite 30") == "parts that add up to 90 | 100 percent");
  CHECK(
      found("peat 60 perlit 40") ==
      "unknown component \"perlit\" | one of peat, coir, coir coarse, bark, fresh bark, aged bark, "
      "wood fibre, compost, perlite, vermiculite, rice hulls, pumice, sand, loam; nearest: "
      "perlite");
}

// A folder of tables

TEST_CASE("catalogue: a folder's tables replace the built-in ones, the rest stays") {
  const TemporaryFolder folder;
  folder.write("walls.csv", wall_header + "paper,0.3,0.2,0.4,no,tried at home,judged\n");
  folder.write("notes.txt", "not a table");
  FolderTables found = tables_in_folder(folder.path());
  CHECK(found.missing == std::vector<std::string>{"crops.csv", "mix-components.csv", "mixes.csv",
                                                  "pots.csv", "spots.csv", "parameters.csv"});
  CHECK(found.tables.size() == 7);
  CHECK(found.tables.at("walls.csv").bytes.ends_with("judged\n"));
  CHECK(found.tables.at("walls.csv").name == folder.path() + "/walls.csv");
  CHECK(found.tables.at("crops.csv").bytes == builtin_tables().at("crops.csv").bytes);
}

TEST_CASE("catalogue: folders that are none, or hold no table") {
  const TemporaryFolder folder;
  const std::string no_folder = ": found no such folder; expected a folder of model tables";
  CHECK(refusal([&] { (void)tables_in_folder(folder.path()); }) ==
        "request: " + in_quotes(folder.path()) +
            ": found no model table; expected at least one of crops.csv, mix-components.csv, "
            "mixes.csv, pots.csv, spots.csv, walls.csv, parameters.csv");
  const std::string missing = folder.path() + "/no";
  CHECK(refusal([&] { (void)tables_in_folder(missing); }) ==
        "request: " + in_quotes(missing) + no_folder);
  folder.write("file", "x");
  const std::string file = folder.path() + "/file";
  CHECK(refusal([&] { (void)tables_in_folder(file); }) ==
        "request: " + in_quotes(file) + no_folder);
}

// Broken tables

TEST_CASE("broken table: columns") {
  const std::string row = "paper,0.3,0.2,0.4,no,tried at home,judged";
  // Every pot of the built-in table names a wall, so a table of one wall alone is refused there.
  CHECK(refused("walls.csv", wall_header + row + "\n").find("unknown wall") != std::string::npos);
  CHECK(refused("walls.csv",
                "wall,evaporation_share,evaporation_share_low,evaporation_share_high,dark,source,"
                "sureness,colour,sourec\n" +
                    row + ",red,x\n") ==
        "t.csv:1:90: found unknown column \"colour\"; expected a known column\n"
        "t.csv:1:97: found unknown column \"sourec\"; expected a known column; nearest: source");
  CHECK(refused(
            "walls.csv",
            "wall,evaporation_share,evaporation_share_low,evaporation_share_high,source,sureness\n"
            "paper,0.3,0.2,0.4,tried at home,judged\npulp,0.3,0.2,0.4,tried at home,judged\n") ==
        "t.csv:1:1: found no column dark; expected that column");
  CHECK(refused("walls.csv", wall_header) ==
        "t.csv:1: found a header row only; expected at least one row below the header");
}

TEST_CASE("broken table: cells") {
  CHECK(refused("walls.csv", wall_header + "paper,3,0.2,4,no,tried at home,judged\n") ==
        "t.csv:2:7: found 3 in evaporation_share; expected 0 to 2\n"
        "t.csv:2:13: found 4 in evaporation_share_high; expected 0 to 2");
  CHECK(refused("walls.csv", wall_header + "paper,0.9,0.2,0.4,no,tried at home,judged\n") ==
        "t.csv:2:7: found 0.9 outside its range 0.2 to 0.4; expected a value within its range");
  CHECK(refused("walls.csv", wall_header + "paper,0.3,0.2,0.4,maybe,tried at home,judged\n") ==
        "t.csv:2:19: found \"maybe\" in dark; expected one of no, yes");
  CHECK(refused("walls.csv", wall_header + "paper,0.3,0.2,0.4,no,tried at home,sure\n") ==
        "t.csv:2:36: found \"sure\" in sureness; expected one of read, recalled, computed, judged");
  CHECK(refused("walls.csv", wall_header + "paper,0.3,0.2,0.4,no,,judged\n") ==
        "t.csv:2:22: found nothing in source; expected a value");
  CHECK(refused("walls.csv", wall_header + "paper,0.3,0.2,0.4,,tried at home,\n") ==
        "t.csv:2:19: found nothing in dark; expected a value\n"
        "t.csv:2:34: found nothing in sureness; expected a value");
  CHECK(refused("walls.csv", wall_header + ",0.3,0.2,0.4,no,tried at home,judged\n") ==
        "t.csv:2:1: found nothing in wall; expected a value");
}

TEST_CASE("broken table: a cell that is not a number is one problem") {
  CHECK(refused("walls.csv", wall_header + "paper,x,0.2,0.4,no,tried at home,judged\n") ==
        "t.csv:2:7: found \"x\" in evaporation_share; expected a number");
  CHECK(refused("walls.csv", wall_header + "paper,,0.2,0.4,no,tried at home,judged\n") ==
        "t.csv:2:7: found nothing in evaporation_share; expected a number");
  CHECK(refused("walls.csv", wall_header + "paper,0.3,0.2,3,no,tried at home,judged\n") ==
        "t.csv:2:15: found 3 in evaporation_share_high; expected 0 to 2");
  CHECK(refused("mix-components.csv",
                edited("mix-components.csv", "peat,0.91,0.18,", "peat,wet,0.18,")) ==
        "t.csv:16:6: found \"wet\" in theta_s; expected a number");
}

TEST_CASE("broken table: a name twice, however it is written") {
  CHECK(refused("walls.csv", wall_header + "dark paper,0.3,0.2,0.4,no,tried at home,judged\n"
                                           "Dark-Paper,0.3,0.2,0.4,no,tried at home,judged\n") ==
        "t.csv:3:1: found \"Dark-Paper\" a second time; expected every name once");
}

TEST_CASE("broken table: pots") {
  const auto pot = [](const std::string& row) {
    return refused("pots.csv", pot_header + row + "\n");
  };
  CHECK(pot("a 3 l,clay,19,12,,,,,17,1.5,clay,floor,,2,4,x,judged") == no_fault);
  CHECK(pot("a 3 l,box,,,19,12,18,11,17,1.5,wood,none,,2,4,x,judged") == no_fault);
  CHECK(pot("a 3 l,clay,19,12,,,,,17,1.5,clya,floor,,2,4,x,judged") ==
        "t.csv:2:29: found unknown wall \"clya\"; expected one of walls.csv; nearest: clay");
  CHECK(pot("a 3 l,clay,19,12,,,,,17,1.5,fabrik,floor,,2,4,x,judged") ==
        "t.csv:2:29: found unknown wall \"fabrik\"; expected one of walls.csv; nearest: fabric");
  CHECK(pot("a 3 l,clay,19,,,,,,17,1.5,clay,floor,,2,4,x,judged") ==
        "t.csv:2:1: found neither both diameters nor all four lengths and widths; expected a round "
        "or a "
        "rectangular pot");
  CHECK(pot("a 3 l,clay,19,12,19,12,18,11,17,1.5,clay,floor,,2,4,x,judged") ==
        "t.csv:2:1: found neither both diameters nor all four lengths and widths; expected a round "
        "or a "
        "rectangular pot");
  CHECK(pot("a 3 l,clay,19,12,,,,,17,17,clay,floor,,2,4,x,judged") ==
        "t.csv:2:25: found no room for mix; expected less than the height");
  for (const std::string drainage :
       {"side", "side 15.5", "side -1", "side x", "holes", "floor 3"}) {
    CAPTURE(drainage);
    CHECK(
        pot("a 3 l,clay,19,12,,,,,17,1.5,clay," + drainage + ",,2,4,x,judged") ==
        "t.csv:2:34: found an unknown drainage; expected floor, none, or side and a height in cm");
  }
  CHECK(pot("a 3 l,clay,19,12,,,,,17,1.5,clay,side 15,,2,4,x,judged") == no_fault);
}

TEST_CASE("broken table: mixes, components, spots") {
  CHECK(refused("mixes.csv", mix_header + "m,peat 60 perlite 30,0.04,0,0.08,all,x,judged\n") ==
        "t.csv:2:3: found parts that add up to 90; expected 100 percent");
  CHECK(
      refused("mixes.csv", mix_header + "m,peat 60 perlit 40,0.04,0,0.08,all,x,judged\n") ==
      "t.csv:2:3: found unknown component \"perlit\"; expected one of mix-components.csv; nearest: "
      "perlite");
  CHECK(refused("mixes.csv", mix_header + "m,peat 60 perlite 40,0.5,0,0.6,all,x,judged\n") ==
        "t.csv:2:22: found 0.5 in shrinkage; expected 0 to 0.4\n"
        "t.csv:2:28: found 0.6 in shrinkage_high; expected 0 to 0.4");
  CHECK(refused("mix-components.csv",
                edited("mix-components.csv", "peat,0.91,0.18,", "peat,0.18,0.18,")) ==
        "t.csv:16:11: found theta_r not below theta_s; expected residual water below saturation");
  CHECK(refused("mix-components.csv", edited("mix-components.csv", "0.687,1.931", "0.687,1")) ==
        "t.csv:16:22: found 1 in n; expected 1.0001 to 50");
  CHECK(refused("mix-components.csv",
                edited("mix-components.csv", "fine,8,5,12,19,", "fine,19,5,20,19,")) ==
        "t.csv:16:66: found rew_mm not below tew_mm; expected readily below totally evaporable "
        "water");
  const std::string shares =
      "0.8,0.6,0.95,0,0.1,0,0.2,0.1,0,0.2,0.7,0.5,0.9,1,0.85,1,1.3,1.1,1.7,0.3,0,0.5,2,1,4,x,"
      "judged\n";
  CHECK(refused("spots.csv", spot_header + "patio,8,17," + shares) == no_fault);
  CHECK(
      refused("spots.csv", spot_header + "patio,17,8," + shares) ==
      "t.csv:2:7: found sun that ends before it begins; expected sun_from_h at or below sun_to_h");
  CHECK(refused("spots.csv", spot_header + "patio,8,25," + shares) ==
        "t.csv:2:9: found 25 in sun_to_h; expected 0 to 24");
}

TEST_CASE("broken table: crops") {
  const auto with = [](std::string_view from, std::string_view to) {
    return refused("crops.csv", edited("crops.csv", from, to));
  };
  CHECK(with("\ntomato,warm,", "\ntomato,hot,") ==
        "t.csv:22:8: found \"hot\" in season; expected one of cool, warm");
  CHECK(with("\ntomato,warm,11.4,45,30,60,", "\ntomato,warm,11.4,65,30,60,") ==
        "t.csv:22:18: found 65 outside its range 30 to 60; expected a value within its range");
  CHECK(with("\ntomato dwarf,", "\nTomato,") ==
        "t.csv:23:1: found \"Tomato\" a second time; expected every name once");
  CHECK(with("2.25,1.5,3,1.15,0.70", "2.25,1.5,3,11.5,0.70") ==
        "t.csv:22:63: found 11.5 in kcb_mid; expected 0.1 to 2");
}

TEST_CASE("broken table: parameters") {
  CHECK(refused("parameters.csv", edited("parameters.csv", "\nrefill_share,", "\nrefil_share,")) ==
        "t.csv:4:1: found unknown parameter \"refil_share\"; expected a parameter of the model; "
        "nearest: "
        "refill_share");
  CHECK(
      refused("parameters.csv", edited("parameters.csv", "\nrefill_share,", "\n#refill_share,")) ==
      "t.csv: found no row refill_share; expected every parameter");
  CHECK(refused("parameters.csv",
                edited("parameters.csv", "refill_share,0.9,", "refill_share,0.99,")) ==
        "t.csv:4:14: found 0.99 outside its range; expected a value within it");
  CHECK(refused("parameters.csv", edited("parameters.csv", "\nwilting_line,", "\nrefill_share,")) !=
        no_fault);
}

TEST_CASE("broken table: parameters that no physics allows") {
  const auto with = [](std::string_view from, std::string_view to) {
    return refused("parameters.csv", edited("parameters.csv", from, to));
  };
  CHECK(with("refill_share,0.9,0.8,0.97", "refill_share,-1,-1,1") != no_fault);
  CHECK(with("lower_limit_suction_kpa,100,60,300", "lower_limit_suction_kpa,-5,-5,300") !=
        no_fault);
  CHECK(with("night_share_most,0.12,0.08,0.15", "night_share_most,3,0.08,5") != no_fault);
  CHECK(with("drained_share,0.15,0.05,0.3", "drained_share,1,0.05,1") != no_fault);
  CHECK(with("dry_line,0.85,0.75,1", "dry_line,0.2,0.1,1") != no_fault);  // below the wilting line
}

TEST_CASE("broken table: at most twenty problems of one table") {
  std::string text = wall_header;
  for (int i = 0; i < 60; ++i) {
    text += "w" + std::to_string(i) + ",0.3,0.2,0.4,perhaps,x,judged\n";
  }
  const std::string message = refused("walls.csv", text);
  CHECK(std::count(message.begin(), message.end(), '\n') == 19);
  CHECK(message.starts_with("t.csv:2:16: found \"perhaps\" in dark; expected one of no, yes\n"));
}

TEST_CASE("broken table: numbers out of order") {
  const auto crops = [](std::string_view column, std::string_view value) {
    return refused("crops.csv", with_cell("crops.csv", "tomato", column, value));
  };
  CHECK(crops("upper_temp_c", "2").find("base_temp_c") != std::string::npos);
  CHECK(crops("upper_temp_c", "2").find("above upper_temp_c 2") != std::string::npos);
  CHECK(crops("best_low_c", "40").find("best_low_c 40 above best_high_c") != std::string::npos);
  CHECK(crops("best_high_c", "49").find("best_high_c 49 above heat_limit_c") != std::string::npos);
  CHECK(crops("fruit_set_night_low_c", "35").find("above fruit_set_night_high_c") !=
        std::string::npos);
  // The high curve would hold less than the middle one.
  CHECK(
      refused("mix-components.csv", with_cell("mix-components.csv", "peat", "high_theta_s", "0.5"))
          .find("by the low, the middle and the high curve; expected curves in that order") !=
      std::string::npos);
  CHECK(refused("pots.csv", with_cell("pots.csv", "nursery 37 l", "mix_low_l", "90"))
            .find("mix_low_l 90 above mix_high_l") != std::string::npos);
}

TEST_CASE("a mix of very many parts is read in one pass") {
  std::string composition;
  for (int i = 0; i < 20000; ++i) composition += fmt::format("part{} 0.005 ", i);
  const std::clock_t begin = std::clock();
  CHECK_FALSE(catalogue().mix(composition));  // unknown components
  CHECK(static_cast<double>(std::clock() - begin) / CLOCKS_PER_SEC < 1.0);
}

}  // namespace wiltline::test

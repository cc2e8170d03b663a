// What inputs and answers are called: input_words.csv against what is drawn.
#include "words.hpp"

#include <doctest/doctest.h>

#include <set>
#include <string>
#include <vector>

#include "texts.hpp"
#include "wiltline/base/csv.hpp"
#include "wiltline/garden/reading.hpp"
#include "wiltline/questions/draws.hpp"
#include "wiltline/questions/what_matters.hpp"

namespace wiltline::test {
namespace {

using Names = std::set<std::string>;

/// The inputs of plantings of one crop, in every spot and pot, with a mulch, and with what
/// calibrate learns.
Names drawn_names() {
  const Catalogue known = read_catalogue(builtin_tables());
  const Planting plain =
      read_garden({"garden.csv",
                   "name,crop,pot,mix,plants,planted,spot,routine\n"
                   "it,tomato,nursery 11 l,potting mix,1,05-15,patio,daily 07:00\n"},
                  known)
          .front();
  std::vector<Planting> garden(2, plain);
  garden[0].mulch = true;
  garden[1].learned.use_factor_sd = 0.1;
  garden[1].learned.usable_l = 3.0;
  garden[1].learned.usable_sd_l = 0.3;
  for (const Entry<Spot>& spot : known.spots.entries()) {
    garden.push_back(plain);
    garden.back().spot = spot.value;
  }
  for (const Entry<Pot>& pot : known.pots.entries()) {
    garden.push_back(plain);
    garden.back().pot = pot.value;
  }
  Names names;
  for (const Line line : {Line::wilting, Line::dry}) {
    const DrawnGarden drawn = draw_garden(garden, known.parameters, known, 1, 0);
    for (const auto& inputs : inputs_of(line, drawn.inputs)) {
      for (const DrawnInput& input : inputs) names.insert(input.name);
    }
  }
  return names;
}

}  // namespace

TEST_CASE("words: of every input that is drawn, of every answer, and of nothing else") {
  Names known;
  const CsvTable table(program_texts().at("input_words.csv"));
  for (std::size_t row = 0; row < table.rows(); ++row) {
    CHECK(known.emplace(table.cell(row, table.column("name").value())).second);
  }
  Names expected = drawn_names();
  CHECK(expected.size() > 50);
  expected.insert(std::string(weather_to_come));
  for (const char* answer : {"watered_l", "wilting_days", "dry_days", "share", "refill_h", "dry_h",
                             "give_at_visit_l", "peak_use_l_day", "waterings_per_day"}) {
    expected.insert(answer);
  }
  for (const std::string& name : expected) {
    INFO(name);
    CHECK(known.contains(name));
  }
  for (const std::string& name : known) {
    INFO(name);
    CHECK(expected.contains(name));
  }
}

TEST_CASE("words: a name without any reads as it is; of several crops the first name counts") {
  CHECK(cli::term_in_words("rain share") == "rain at the spot");
  CHECK(cli::term_in_words("crown size of basil") == "crown size of basil");
  CHECK(cli::term_in_words("not_known") == "not known");
  CHECK(cli::how_to_measure("crown size of basil") == cli::how_to_measure("crown size"));
  CHECK(cli::how_to_measure("crown size").starts_with("measure how wide and high it is"));
  CHECK(cli::how_to_measure("root_fill_days").empty());
}

TEST_CASE("words: lines of a text end at line ends, and none begins after the last") {
  using Lines = std::vector<std::string>;
  CHECK(cli::lines_of("").empty());
  CHECK(cli::lines_of("one") == Lines{"one"});
  CHECK(cli::lines_of("one\n\n two \n") == Lines{"one", "", " two "});
}

}  // namespace wiltline::test

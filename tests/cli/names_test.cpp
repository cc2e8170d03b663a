// Names that are markup, formulas, orders to a terminal or no text at all: what every command makes
// of them in tables, CSV, JSON and messages.
#include <doctest/doctest.h>

#include <algorithm>
#include <filesystem>
#include <nlohmann/json.hpp>
#include <string>
#include <string_view>
#include <vector>

#include "cli/run_program.hpp"
#include "wiltline/base/csv.hpp"

namespace wiltline::test {
namespace {

using Json = nlohmann::ordered_json;
using Words = std::vector<std::string>;

const std::string sample = std::string(WILTLINE_SOURCE) + "/weather-samples/tolvenau.csv";
const std::string other_sample = std::string(WILTLINE_SOURCE) + "/weather-samples/port-okaree.csv";
const std::string garden_header = "name,crop,pot,mix,plants,planted,spot,routine\n";
const std::string row_of_basil = ",basil,clay 3 l,potting mix,3,05-25,patio,daily 07:00\n";
const std::string odd_file = "=we\u202eather \x1b[31m\u009b.csv";

constexpr std::string_view replacement = "\uFFFD";  // what JSON has where a name is no UTF-8

struct Name {
  std::string name;
  std::string json = name;  // if it comes back otherwise
};

std::vector<Name> odd_names() {
  std::string broken(replacement);
  return {{"<script>alert('1')</script>"},
          {"</pre><b>\"&amp;\"</b>"},
          {"=HYPERLINK(\"http://192.0.2.1\";\"kale\")"},
          {"+1+cmd|' /C calc'!A0"},
          {"@SUM(A1:A9)"},
          {"\ttab then =1"},
          {"-2+3"},
          {"\u202eelak\u202c \u202a\u202b\u202d"},
          {"\u2066a\u2067b\u2068c\u2069"},
          {"a\u200eb\u200fc\u061cd"},
          {"zero\u200bwidth\u2060\ufeff"},
          {"two\u2028lines\u2029"},
          {"c1 \u009b31m \u0085"},
          {"escape \x1b]0;title\x07\x7f"},
          {"raw \x9b"
           "31m \xff",
           "raw " + broken + "31m " + broken},
          {"cut \xe2\x80", "cut " + broken},
          {"قرنفل می\u200cخواهم 🌱"}};
}

std::string quoted(const std::string& text) {
  std::string result = "\"";
  for (const char c : text) result += c == '"' ? "\"\"" : std::string(1, c);
  return result + '"';
}

struct Place : ScratchFolder {
  Place() {
    std::filesystem::create_directory(path() / "weather");
    std::filesystem::create_symlink(sample, path() / "weather" / odd_file);
    std::string garden = garden_header;
    for (const Name& name : odd_names()) garden += quoted(name.name) + row_of_basil;
    write("garden.csv", garden);
  }
};

struct Command {
  Words words;
  bool names = true;  // its rows are told apart by the names of the garden
};

std::vector<Command> commands() {
  const std::string weather = "weather/" + odd_file;
  const auto of_garden = [&](const Words& first, const Words& more) {
    Words words = first;
    words.insert(words.end(), {"--garden", "garden.csv", "--weather", weather});
    words.insert(words.end(), more.begin(), more.end());
    return Command{words};
  };
  const Words summer{"--from", "2022-05-01", "--to", "2022-08-31"};
  return {of_garden({"season"}, summer),
          of_garden({"season", "--weather", other_sample}, summer),
          of_garden({"season", "--ledger"}, {"--from", "2022-05-25", "--to", "2022-05-26"}),
          of_garden({"compare"}, summer),
          of_garden({"heatwave"}, summer),
          of_garden({"absence", "--days", "3", "--pots", "clay 3 l"}, summer),
          of_garden({"season", "--by", "month"}, summer),
          of_garden({"forecast"}, {"--to", "2022-07-14", "--members", "10"}),
          of_garden({"plan"}, {"--to", "2022-07-14", "--members", "10"}),
          {{"sweep", "--weather-dir", "weather", "--crops", "basil", "--pots", "clay 3 l", "--from",
            "2022-05-01", "--to", "2022-08-31"},
           false}};
}

Outcome answer(const Place& place, Words words, const std::string& format) {
  if (words.front() != "sweep") words.insert(words.end(), {"--format", format});
  INFO(command_line(words));
  Outcome outcome = run_program(place, words);
  REQUIRE(outcome.exit_code == 0);
  REQUIRE_FALSE(outcome.out.empty());
  return outcome;
}

bool valid_utf8(const std::string& text) {
  try {
    (void)Json(text).dump();
    return true;
  } catch (const Json::type_error&) {
    return false;
  }
}

/// True if something in a text would steer a terminal, turn the direction of writing, or hide. The
/// characters stand here as bytes, so that the check does not lean on the code it checks.
bool steers(const std::string& text) {
  const std::vector<std::string> marks{"\u061c", "\u200b", "\u200e", "\u200f", "\u2028", "\u2029",
                                       "\u202a", "\u202b", "\u202c", "\u202d", "\u202e", "\u2060",
                                       "\u2066", "\u2067", "\u2068", "\u2069", "\ufeff"};
  for (std::size_t i = 0; i < text.size(); ++i) {
    const auto byte = static_cast<unsigned char>(text[i]);
    const auto next = i + 1 < text.size() ? static_cast<unsigned char>(text[i + 1]) : 0;
    if ((byte < 0x20 && byte != '\n') || byte == 0x7f) return true;
    if (byte == 0xc2 && next >= 0x80 && next <= 0x9f) return true;
  }
  return std::any_of(marks.begin(), marks.end(),
                     [&](const std::string& mark) { return text.find(mark) != std::string::npos; });
}

TEST_CASE("names: the checks find what they look for") {
  for (const char* text :
       {"\x1b", "\x7f", "\u0085", "\u009b", "\r", "a\u202e", "\u2066", "\u200f"}) {
    CHECK(steers(text));
  }
  CHECK_FALSE(steers("é °C\n×…"));
  CHECK(valid_utf8("é…🌱"));
  CHECK_FALSE(valid_utf8("\x9b"));
  CHECK_FALSE(valid_utf8("\xe2\x80"));
}

TEST_CASE("names: nothing in a table or a message steers the terminal") {
  const Place place;
  for (const Command& command : commands()) {
    const Outcome outcome = answer(place, command.words, "table");
    INFO(command_line(command.words));
    CHECK(valid_utf8(outcome.err));
    CHECK_FALSE(steers(outcome.err));
    if (!command.names) continue;  // sweep writes CSV alone, which keeps names as they are
    CHECK(valid_utf8(outcome.out));
    CHECK_FALSE(steers(outcome.out));
  }
}

TEST_CASE("names: CSV keeps them whole, and no cell begins a formula") {
  const Place place;
  for (const Command& command : commands()) {
    const Outcome outcome = answer(place, command.words, "csv");
    INFO(command_line(command.words));
    CHECK_FALSE(steers(outcome.err));
    CHECK(valid_utf8(outcome.err));
    const CsvTable table({"answer", outcome.out});
    std::vector<std::string> cells;
    for (std::size_t row = 0; row < table.rows(); ++row) {
      for (std::size_t i = 0; i < table.header().size(); ++i) {
        const std::string_view cell = table.cell(row, i);
        cells.emplace_back(cell);
        const bool number = cell.find_first_not_of("-0123456789.") == std::string_view::npos;
        INFO(cell);
        CHECK((cell.empty() || number ||
               std::string_view("=+-@\t\r").find(cell.front()) == std::string_view::npos));
      }
    }
    const auto has = [&](const std::string& text) {
      return std::find(cells.begin(), cells.end(), text) != cells.end();
    };
    if (table.column("weather")) CHECK((has("'" + odd_file) || has("weather/" + odd_file)));
    if (!command.names) continue;
    for (const Name& name : odd_names()) {
      INFO(name.name);
      const bool formula = std::string_view("=+-@\t").find(name.name.front()) != std::string::npos;
      CHECK(has(formula ? "'" + name.name : name.name));
      // The apostrophe stands inside the quotes.
      if (formula) CHECK(outcome.out.find("\"'" + name.name.substr(0, 4)) != std::string::npos);
    }
  }
}

TEST_CASE("names: JSON is valid, steers nothing, and gives them back") {
  const Place place;
  for (const Command& command : commands()) {
    if (!command.names) continue;
    const Outcome outcome = answer(place, command.words, "json");
    INFO(command_line(command.words));
    CHECK(valid_utf8(outcome.out));
    CHECK_FALSE(steers(outcome.out));
    CHECK(outcome.out.find("\\u202e") != std::string::npos);
    CHECK(outcome.out.find("\\u009b") != std::string::npos);
    const Json json = Json::parse(outcome.out);
    std::vector<std::string> found;
    for (const Json& row : json.at("rows")) found.push_back(row.at("name"));
    for (const Name& name : odd_names()) {
      INFO(name.name);
      CHECK(std::find(found.begin(), found.end(), name.json) != found.end());
    }
  }
}

TEST_CASE("names: an account is saved and gone on with under the same names") {
  const Place place;
  const Words today{"forecast", "--garden", "garden.csv", "--weather", sample, "--members", "10"};
  const auto on = [&](const std::string& day, const Words& more) {
    Words words = today;
    words.insert(words.end(), {"--to", day, "--format", "csv"});
    words.insert(words.end(), more.begin(), more.end());
    const Outcome outcome = run_program(place, words);
    CHECK(outcome.err.find("wiltline:") == std::string::npos);
    REQUIRE(outcome.exit_code == 0);
    return outcome.out;
  };
  (void)on("2022-07-14", {"--save-state", "state.csv"});
  const CsvTable state({"state.csv", place.read("state.csv")});
  std::vector<std::string> saved;
  for (std::size_t row = 0; row < state.rows(); ++row) {
    saved.emplace_back(state.cell(row, *state.column("name")));
  }
  for (const Name& name : odd_names()) {
    INFO(name.name);
    CHECK(std::find(saved.begin(), saved.end(), name.name) != saved.end());
  }
  CHECK(on("2022-07-16", {"--state", "state.csv"}) == on("2022-07-16", {}));
}

TEST_CASE("names: one of more than 200 characters is refused with its place") {
  const Place place;
  const Words season{"season",     "--weather", sample,       "--garden", "garden.csv", "--from",
                     "2022-05-25", "--to",      "2022-06-30", "--format", "csv"};
  for (const std::size_t width : {std::size_t{201}, std::size_t{10000}}) {
    place.write("garden.csv",
                garden_header + "basil" + row_of_basil + std::string(width, 'x') + row_of_basil);
    const Outcome outcome = run_program(place, season);
    CHECK(outcome.exit_code == 3);
    CHECK(outcome.out.empty());
    CHECK(outcome.err == "wiltline: garden.csv:3:1: found a name of " + std::to_string(width) +
                             " characters: \"" + std::string(60, 'x') +
                             "…\"; expected at most 200; notes has room for more\n");
  }
  // Characters count, not bytes; CSV has the name whole, a table without its middle.
  std::string name;
  for (int i = 0; i < 199; ++i) name += "é";
  name += "x";
  place.write("garden.csv", garden_header + name + row_of_basil);
  const Outcome csv = run_program(place, season);
  CHECK(csv.exit_code == 0);
  CHECK(csv.out.find('\n' + name + ',') != std::string::npos);
  Words table = season;
  table.resize(table.size() - 2);
  const Outcome shown = run_program(place, table);
  CHECK(shown.exit_code == 0);
  CHECK(shown.out.find("éé…éé") != std::string::npos);
  CHECK(shown.out.find("éx  ") != std::string::npos);
}

}  // namespace
}  // namespace wiltline::test

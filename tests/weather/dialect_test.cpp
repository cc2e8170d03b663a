// Separators and headers.
#include "wiltline/weather/dialect.hpp"

#include <doctest/doctest.h>

#include <algorithm>

namespace wiltline::test {
namespace {

std::optional<Dialect> find(std::string_view text) {
  return find_dialect(text, [](std::span<const std::string_view> names) {
    return static_cast<std::size_t>(std::count_if(names.begin(), names.end(), [](auto name) {
      return name == "date" || name == "low" || name == "high";
    }));
  });
}

}  // namespace

TEST_CASE("the header is the line with most known names, whatever separates them") {
  const auto semicolons = find("Station;Somewhere\n\ndate;low;high;x\n2014-06-01;8,5;21,0;\n");
  REQUIRE(semicolons);
  CHECK(semicolons->separator == ';');
  CHECK(semicolons->header_line == 3);
  CHECK(semicolons->header.size() == 4);
  CHECK(semicolons->first_row == std::vector<std::string_view>{"2014-06-01", "8,5", "21,0", ""});
  CHECK(find("\"date\",\" low \",high\n")->header ==
        std::vector<std::string_view>{"date", "low", "high"});
  CHECK(find("date\tlow\r\n")->separator == '\t');
  CHECK_FALSE(find("date,x\n1,2\n"));  // one name is chance
  CHECK_FALSE(find(""));
  CHECK_FALSE(find("# date,low,high\n"));
}

TEST_CASE("a line that is separated otherwise") {
  const std::string_view text = "date;low\n1;2\n\n3,4\n";
  const auto problem = changed_separator(text, *find(text), "w.csv");
  REQUIRE(problem);
  CHECK(problem->text() ==
        "w.csv:4:1: found a line separated by commas; expected semicolons, as on line 1");
  const std::string_view sound = "date;low\n1;2\n3;4\n";
  CHECK_FALSE(changed_separator(sound, *find(sound), "w.csv"));
}

TEST_CASE("cells of a line") {
  CHECK(split_line("a, \"b,c\" ,,d", ',') == std::vector<std::string_view>{"a", "b,c", "", "d"});
  CHECK(split_line("", ',') == std::vector<std::string_view>{""});
}

}  // namespace wiltline::test

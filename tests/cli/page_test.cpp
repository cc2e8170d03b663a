// The page as a file: nothing of an answer changes by it, nothing in a name is taken for markup,
// and it never replaces what was read. What a browser makes of it: tests/browser.
#include <doctest/doctest.h>

#include <algorithm>
#include <filesystem>
#include <string>
#include <vector>

#include "cli/run_program.hpp"

namespace wiltline::test {
namespace {

using Words = std::vector<std::string>;

struct Place : ScratchFolder {
  explicit Place(const std::string& name = "t") {
    std::string weather = "# latitude_deg = 45\n# elevation_m = 100\ndate,tmin_c,tmax_c,rain_mm\n";
    for (int day = 10; day <= 29; ++day) {
      weather += "2023-06-" + std::to_string(day) + ",11,2" + std::to_string(day % 10) + ",0\n";
    }
    write("weather.csv", weather);
    write("garden.csv", "name,crop,pot,mix,plants,planted,spot,routine\n" + name +
                            ",tomato,nursery 37 l,potting mix,1,2023-06-10,patio,daily 07:00\n");
  }
  [[nodiscard]] Outcome season(const Words& more) const {
    Words words{"season", "--garden", "garden.csv", "--weather", "weather.csv"};
    words.insert(words.end(), more.begin(), more.end());
    return run_program(*this, words);
  }
};

std::size_t count(const std::string& text, const std::string& part) {
  std::size_t found = 0;
  for (std::size_t at = text.find(part); at != std::string::npos; at = text.find(part, at + 1)) {
    ++found;
  }
  return found;
}

TEST_CASE("a page changes nothing of the answer beside it") {
  for (const char* format : {"table", "csv", "json"}) {
    const Place place;
    const Outcome without = place.season({"--format", format});
    const Outcome with = place.season({"--format", format, "--page", "page.html"});
    CHECK(with.exit_code == 0);
    CHECK(with.err == without.err);
    if (std::string(format) != "json") CHECK(with.out == without.out);  // JSON says what was asked
    const std::string page = place.read("page.html");
    CHECK(page.starts_with("<!DOCTYPE html>"));
    CHECK(page.ends_with("</html>\n"));
    CHECK(page.find("BSD-3-Clause") != std::string::npos);
    CHECK(page.find("default-src 'none'") != std::string::npos);
  }
}

TEST_CASE("a name in a page is text") {
  const Place plain;
  REQUIRE(plain.season({"--page", "page.html"}).exit_code == 0);
  const std::string usual = plain.read("page.html");
  for (const std::string name :
       {"</script><script>alert(1)</script>", "\"\"\"><img src=x onerror=alert(1)>\"",
        "right\u202eto left", "<!--", "<b>&amp;"}) {
    const Place place(name);
    CAPTURE(name);
    REQUIRE(place.season({"--page", "page.html"}).exit_code == 0);
    const std::string page = place.read("page.html");
    for (const std::string part : {"<script", "</script", "<img", "<!--", "<b>", "\u202e"}) {
      CAPTURE(part);
      CHECK(count(page, part) == count(usual, part));
    }
  }
}

TEST_CASE("a page is written whole, and over nothing that was read") {
  const Place place;
  const std::string before = place.listing();
  for (const Words& words : {Words{"--page", "garden.csv"}, Words{"--page", "weather.csv"},
                             Words{"--page", "x.html", "--output", "x.html"}, Words{"--page", "-"},
                             Words{"--page", ""}}) {
    const Outcome outcome = place.season(words);
    CAPTURE(command_line(words));
    CHECK(outcome.exit_code == 2);
    CHECK(std::count(outcome.err.begin(), outcome.err.end(), '\n') == 1);
    CHECK(outcome.err.find("--page") != std::string::npos);
    CHECK(place.listing() == before);
  }
  CHECK(place.season({"--page", "nowhere/x.html"}).exit_code == 1);
  // An answer that fails leaves no page behind.
  CHECK(place.season({"--page", "x.html", "--from", "2031-01-01"}).exit_code != 0);
  CHECK(place.listing() == before);
}

TEST_CASE("pots of two places are told apart, whatever folder the weather lies in") {
  const Place place;
  std::filesystem::create_directories(place.path() / "south");
  std::string other = place.read("weather.csv");
  other.replace(other.find("45"), 2, "35");
  place.write("south/coast.csv", other);
  REQUIRE(place.season({"--weather", "south/coast.csv", "--page", "page.html"}).exit_code == 0);
  const std::string page = place.read("page.html");
  for (const char* label : {"\"t, weather\"", "\"t, coast\""}) {
    CAPTURE(label);
    CHECK(count(page, label) == 2);  // the pot's water and its days of wilting
  }
  CHECK(page.find("Of 2 seasons, once settled in: none with wilting days.") != std::string::npos);
}

TEST_CASE("figures of a page are in the units of the table") {
  const Place place;
  REQUIRE(place.season({"--page", "page.html", "--units", "us"}).exit_code == 0);
  const std::string page = place.read("page.html");
  CHECK(page.find("watered l (gal)") != std::string::npos);
  CHECK(page.find("\"unit\":\"gal\"") != std::string::npos);
}

}  // namespace
}  // namespace wiltline::test

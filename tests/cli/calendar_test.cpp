// What --calendar writes, read back by libical.
#include <doctest/doctest.h>
#include <libical/ical.h>

#include <algorithm>
#include <filesystem>
#include <map>
#include <memory>
#include <set>
#include <sstream>
#include <string>
#include <vector>

#include "cli/run_program.hpp"

namespace wiltline::test {
namespace {

using Words = std::vector<std::string>;

const std::filesystem::path source = WILTLINE_SOURCE;
const std::string weather = (source / "weather-samples/tolvenau.csv").string();
const std::string courtyard = (source / "models/gardens/courtyard.csv").string();

struct Event {
  std::string start;
  bool floats = false;
  std::string stamp;
  int sequence = 0;
  std::string summary;
  std::string description;
  std::set<std::string> categories;
};

std::string text_or_empty(const char* text) {
  return text == nullptr ? "" : text;
}

/// By UID. Fails if libical finds anything wrong.
std::map<std::string, Event> events_of(const std::string& text) {
  const std::unique_ptr<icalcomponent, decltype(&icalcomponent_free)> file(
      icalparser_parse_string(text.c_str()), icalcomponent_free);
  REQUIRE(file);
  CHECK(icalcomponent_isa(file.get()) == ICAL_VCALENDAR_COMPONENT);
  CHECK(icalcomponent_count_errors(file.get()) == 0);
  CHECK(icalrestriction_check(file.get()) == 1);
  std::map<std::string, Event> events;
  for (icalcomponent* one = icalcomponent_get_first_component(file.get(), ICAL_VEVENT_COMPONENT);
       one != nullptr; one = icalcomponent_get_next_component(file.get(), ICAL_VEVENT_COMPONENT)) {
    const icaltimetype start = icalcomponent_get_dtstart(one);
    Event event{.start = icaltime_as_ical_string(start),
                .floats = start.zone == nullptr,
                .stamp = icaltime_as_ical_string(icalcomponent_get_dtstamp(one)),
                .sequence = icalcomponent_get_sequence(one),
                .summary = text_or_empty(icalcomponent_get_summary(one)),
                .description = text_or_empty(icalcomponent_get_description(one)),
                .categories = {}};
    for (icalproperty* property = icalcomponent_get_first_property(one, ICAL_CATEGORIES_PROPERTY);
         property != nullptr;
         property = icalcomponent_get_next_property(one, ICAL_CATEGORIES_PROPERTY)) {
      event.categories.insert(icalproperty_get_categories(property));
    }
    const std::string uid = icalcomponent_get_uid(one);
    CHECK_MESSAGE(!events.contains(uid), uid);
    events.emplace(uid, event);
  }
  return events;
}

std::set<std::string> keys_of(const std::map<std::string, Event>& events) {
  std::set<std::string> keys;
  for (const auto& [uid, event] : events) keys.insert(uid);
  return keys;
}

std::vector<std::string> cells_of(const std::string& line) {
  std::istringstream stream(line);
  std::vector<std::string> cells;
  for (std::string cell; std::getline(stream, cell, ',');) cells.push_back(cell);
  return cells;
}

/// 2024-07-15T07:00 as RFC 5545 writes it.
std::string as_ical(std::string instant) {
  std::erase_if(instant, [](char c) { return c == '-' || c == ':'; });
  return instant + "00";
}

Words asking(const std::string& command, const std::string& garden, const std::string& now,
             const Words& more = {}) {
  Words words{command, "--garden",   garden,       "--weather", weather,
              "--to",  "2024-07-14", "--members",  "40",        "--now",
              now,     "--calendar", "visits.ics", "--output",  "answer"};
  words.insert(words.end(), more.begin(), more.end());
  return words;
}

/// The calendar of a run that must succeed.
std::string calendar_of(const ScratchFolder& folder, const Words& words) {
  const Outcome outcome = run_program(folder, words);
  INFO(command_line(words) << '\n' << outcome.err);
  REQUIRE(outcome.exit_code == 0);
  return folder.read("visits.ics");
}

const std::string hostile_name =
    "dill; by the \\door\\, left: BEGIN:VEVENT – größte Schüssel, ÄÖÜ äöü ÄÖÜ äöü ÄÖÜ äöü ÄÖÜ äöü";
const std::string hostile_garden =
    "name,crop,pot,mix,plants,planted,spot,routine\n"
    "\"" +
    hostile_name +
    "\",tomato,nursery 21 l,potting mix,1,05-15,patio,daily 07:00\n"
    "first,tomato,nursery 21 l,potting mix,1,05-15,sunny wall,as-needed\n"
    "second,tomato,nursery 11 l,potting mix,1,05-15,sunny wall,as-needed\n";

}  // namespace

TEST_CASE("a plan's calendar has an event for each visit, with its pots") {
  const ScratchFolder folder;
  const std::string text =
      calendar_of(folder, asking("plan", courtyard, "2024-07-15T06:00", {"--format", "csv"}));
  const std::map<std::string, Event> events = events_of(text);
  std::map<std::string, const Event*> by_start;
  for (const auto& [uid, event] : events) {
    CHECK(event.floats);
    // 06:00 at UTC+1.
    CHECK(event.stamp == "20240715T050000Z");
    CHECK(event.categories.contains("WATERING"));
    by_start[event.start] = &event;
  }
  std::istringstream rows(folder.read("answer"));
  std::string line;
  std::getline(rows, line);
  REQUIRE(line.starts_with("visit,by,name,pot,give_l,give_low_l,give_high_l,lasts_to_next,feed"));
  std::set<std::string> visits;
  std::set<std::string> fed;
  while (std::getline(rows, line)) {
    const std::vector<std::string> cells = cells_of(line);
    visits.insert(as_ical(cells[0]));
    REQUIRE_MESSAGE(by_start.contains(as_ical(cells[0])), line);
    const Event& event = *by_start.at(as_ical(cells[0]));
    CHECK_MESSAGE(event.description.find(cells[2]) != std::string::npos, line);
    if (cells[8] == "yes") fed.insert(event.start);
  }
  CHECK(visits.size() > 10);
  CHECK(events.size() == visits.size());
  CHECK(!fed.empty());
  for (const auto& [uid, event] : events) {
    CHECK(event.categories.contains("FEEDING") == fed.contains(event.start));
  }
}

TEST_CASE("a calendar is asked for again: the same bytes, or the same identifiers in a later one") {
  const ScratchFolder folder;
  const Words words = asking("plan", courtyard, "2024-07-15T06:00");
  const std::string text = calendar_of(folder, words);
  CHECK(calendar_of(folder, words) == text);
  const auto before = events_of(text);
  const auto after = events_of(
      calendar_of(folder, asking("plan", courtyard, "2024-07-15T09:00", {"--days", "8"})));
  std::size_t kept = 0;
  for (const auto& [uid, event] : after) {
    if (!before.contains(uid)) continue;
    ++kept;
    CHECK(event.start == before.at(uid).start);
    CHECK(event.sequence == before.at(uid).sequence + 180);
    CHECK(event.stamp > before.at(uid).stamp);
  }
  // All but the visit of 07:00, and what another day brings.
  CHECK(kept + 1 == before.size());
}

TEST_CASE("identifiers are of the garden, wherever it is asked from") {
  const ScratchFolder folder;
  std::filesystem::create_directories(folder.path() / "one");
  std::filesystem::create_directories(folder.path() / "two");
  folder.write("one/garden.csv", hostile_garden);
  folder.write("two/garden.csv", hostile_garden);
  const auto keys = [&](const std::string& garden) {
    return keys_of(events_of(calendar_of(folder, asking("plan", garden, "2024-07-15T06:00"))));
  };
  const std::set<std::string> one = keys("one/garden.csv");
  CHECK(keys((folder.path() / "two/../one/garden.csv").string()) == one);
  for (const std::string& uid : keys("two/garden.csv")) CHECK(!one.contains(uid));
}

TEST_CASE("names of any kind come back as they were, in lines that fold between characters") {
  const ScratchFolder folder;
  folder.write("garden.csv", hostile_garden);
  for (const std::string command : {"plan", "forecast"}) {
    const std::string text = calendar_of(folder, asking(command, "garden.csv", "2024-07-15T06:00"));
    const auto events = events_of(text);
    CHECK(std::any_of(events.begin(), events.end(), [](const auto& one) {
      return one.second.start.ends_with("T070000") &&
             one.second.summary.find(hostile_name) != std::string::npos &&
             one.second.description.starts_with(hostile_name + ": ");
    }));
    // RFC 5545, section 3.1: lines of at most 75 octets, each ended by CRLF.
    std::istringstream lines(text);
    for (std::string line; std::getline(lines, line);) {
      REQUIRE(!line.empty());
      CHECK(line.back() == '\r');
      line.pop_back();
      CHECK(line.size() <= 75);
      // No character of UTF-8 is cut: behind the fold's blank none goes on.
      if (line.size() > 1 && line.front() == ' ') {
        CHECK((static_cast<unsigned char>(line[1]) & 0xC0U) != 0x80U);
      }
    }
  }
}

TEST_CASE("a pot watered as needed has an event of its own, the same whatever its hour") {
  const ScratchFolder folder;
  folder.write("garden.csv", hostile_garden);
  const auto of_plantings = [&](const std::string& now, const Words& more) {
    std::map<std::string, std::string> found;
    for (const auto& [uid, event] :
         events_of(calendar_of(folder, asking("plan", "garden.csv", now, more)))) {
      if (event.start.starts_with("20240716T") &&
          event.summary.find("first") != std::string::npos) {
        found[uid] = event.start;
      }
    }
    return found;
  };
  const auto before = of_plantings("2024-07-15T06:00", {});
  const auto after = of_plantings("2024-07-15T06:00", {"--watered", "first@2024-07-14T21:00"});
  REQUIRE(!before.empty());
  REQUIRE(!after.empty());
  CHECK(before.begin()->second != after.begin()->second);
  std::set<std::string> shared;
  for (const auto& [uid, start] : after) {
    if (before.contains(uid)) shared.insert(uid);
  }
  CHECK(!shared.empty());
}

TEST_CASE("solar time is said where no clock is known") {
  const ScratchFolder folder;
  std::string record;
  std::istringstream lines(bytes_of(weather));
  for (std::string line; std::getline(lines, line);) {
    if (line.find("longitude_deg") == std::string::npos &&
        line.find("utc_offset_h") == std::string::npos) {
      record += line + '\n';
    }
  }
  folder.write("weather.csv", record);
  Words words = asking("forecast", courtyard, "2024-07-15T06:00");
  std::replace(words.begin(), words.end(), weather, std::string("weather.csv"));
  const std::string text = calendar_of(folder, words);
  CHECK(text.find("Times are of the sun at the garden") != std::string::npos);
  for (const auto& [uid, event] : events_of(text)) CHECK(event.stamp == "20240715T060000Z");
}

TEST_CASE("an event begins at the minute of its visit") {
  // 08:10 and others are no whole number of minutes as a fraction of an hour.
  for (const std::string clock : {"01:40", "04:05", "08:10", "08:12", "18:30"}) {
    const ScratchFolder folder;
    folder.write("garden.csv",
                 "name,crop,pot,mix,plants,planted,spot,routine\n"
                 "one,tomato,nursery 21 l,potting mix,1,05-15,patio,daily " +
                     clock + "\n");
    const auto events =
        events_of(calendar_of(folder, asking("plan", "garden.csv", "2024-07-15T00:00")));
    REQUIRE(!events.empty());
    const std::string digits = clock.substr(0, 2) + clock.substr(3) + "00";
    for (const auto& [uid, event] : events) CHECK(event.start.substr(9) == digits);
  }
}

TEST_CASE("a calendar replaces no file that is read or written") {
  const ScratchFolder folder;
  folder.write("garden.csv", hostile_garden);
  const auto refused = [&](Words words, const std::string& calendar) {
    std::replace(words.begin(), words.end(), std::string("visits.ics"), calendar);
    const Outcome outcome = run_program(folder, words);
    CHECK(outcome.exit_code == 2);
    CHECK(outcome.err.find("--calendar") != std::string::npos);
    CHECK(std::count(outcome.err.begin(), outcome.err.end(), '\n') == 1);
  };
  const Words plan = asking("plan", "garden.csv", "2024-07-15T06:00");
  refused(plan, "garden.csv");
  refused(plan, "answer");
  refused(asking("forecast", "garden.csv", "2024-07-15T06:00", {"--save-state", "state"}), "state");
  Words to_standard_output = plan;
  std::replace(to_standard_output.begin(), to_standard_output.end(), std::string("answer"),
               std::string("-"));
  refused(to_standard_output, "-");
  Words with_page = plan;
  with_page.insert(with_page.end(), {"--page", "both.html"});
  std::replace(with_page.begin(), with_page.end(), std::string("visits.ics"),
               std::string("both.html"));
  const Outcome both = run_program(folder, with_page);
  CHECK(both.exit_code == 2);
  CHECK(both.err.find("--page: found the file of --calendar") != std::string::npos);
  CHECK(folder.read("garden.csv") == hostile_garden);
  CHECK(folder.listing() == "garden.csv\n");

  Words words = plan;
  std::replace(words.begin(), words.end(), std::string("visits.ics"), std::string("-"));
  const Outcome outcome = run_program(folder, words);
  CHECK(outcome.exit_code == 0);
  CHECK(!events_of(outcome.out).empty());
}

}  // namespace wiltline::test

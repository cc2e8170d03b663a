#include "calendar.hpp"

#include <fmt/format.h>
#include <libical/ical.h>

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <filesystem>
#include <memory>

#include "delivery.hpp"
#include "refuse.hpp"
#include "sweep/sha256.hpp"
#include "version.hpp"
#include "wiltline/base/text.hpp"
#include "words.hpp"

namespace wiltline::cli {
namespace {

namespace fs = std::filesystem;

/// A clock time that no zone belongs to: floating, as RFC 5545 calls it.
icaltimetype floating_time(const Instant& when) {
  const std::chrono::year_month_day day(when.date);
  const int minutes = minute_of_day(when.hour);
  icaltimetype time = icaltime_null_time();
  time.year = static_cast<int>(day.year());
  time.month = static_cast<int>(static_cast<unsigned>(day.month()));
  time.day = static_cast<int>(static_cast<unsigned>(day.day()));
  time.hour = minutes / 60;
  time.minute = minutes % 60;
  return time;
}

/// Minutes from 2000 on; RFC 5545 counts revisions in whole numbers that grow.
int revision_of(const Instant& now) {
  const long days = (now.date - make_date(2000, 1, 1)).count();
  return static_cast<int>(std::max(0L, days * 1440 + minute_of_day(now.hour)));
}

/// The garden's file in its folder: the same from wherever it is asked, and in a folder that moves.
std::string garden_name(const std::string& file) {
  if (file == "-") return file;
  std::error_code error;
  const fs::path path = fs::weakly_canonical(fs::absolute(file, error), error);
  return (path.parent_path().filename() / path.filename()).string();
}

void add(icalcomponent* component, icalproperty* property) {
  icalcomponent_add_property(component, property);
}

/// What tells an event from the garden's others, and stays when the same is asked for again.
std::string key_of(const CalendarLine& line, const Instant& now) {
  const std::string_view whose = line.by_helper ? " helper" : "";
  if (line.at_once) return fmt::format("now {}{}", to_string(now.date), whose);
  const Routine* const routine = line.planting->routine.routine_on(line.when.date);
  if (routine != nullptr && routine->as_needed) {
    return fmt::format("as needed {} {}", to_string(line.when.date), line.planting->name);
  }
  return fmt::format("visit {}{}", to_string(line.when), whose);
}

/// The lines of one event.
struct Event {
  std::string key;
  std::vector<const CalendarLine*> lines;
};

bool is_feeding(const Event& event) {
  return std::ranges::any_of(event.lines, &CalendarLine::feeding);
}

std::vector<Event> events_of(const Calendar& calendar) {
  std::vector<Event> events;
  const auto find = [&](const std::string& key) {
    return std::ranges::find(events, key, &Event::key);
  };
  for (const CalendarLine& line : calendar.lines) {
    const std::string first_key = key_of(line, calendar.now);
    std::string key = first_key;
    auto event = find(key);
    // A pot may ask twice a day.
    for (int nth = 2; event != events.end() && event->lines.front()->when != line.when; ++nth) {
      key = fmt::format("{} {}", first_key, nth);
      event = find(key);
    }
    if (event == events.end()) event = events.insert(events.end(), {.key = key, .lines = {}});
    event->lines.push_back(&line);
  }
  return events;
}

/// `Water and feed 3 pots: 12 L in all`.
std::string summary_of(const Event& event, bool us) {
  const CalendarLine& first = *event.lines.front();
  double total_l = 0.0;
  int pots = 0;
  bool known = true;
  for (const CalendarLine* line : event.lines) {
    pots += line->planting->count;
    known = known && line->give_l;
    total_l += line->give_l.value_or(0.0) * line->planting->count;
  }
  const bool dry_visit = known && total_l < least_given_l;
  return fmt::format(
      "{}{} {}{}{}", dry_visit ? "Look at" : "Water", is_feeding(event) ? " and feed" : "",
      event.lines.size() == 1 ? shown_name(*first.planting) : fmt::format("{} pots", pots),
      first.by_helper ? " (helper)" : "",
      known && !dry_visit
          ? fmt::format(": {}{}", volume_text(total_l, us), pots > 1 ? " in all" : "")
          : "");
}

std::string description_of(const Event& event, const Calendar& calendar) {
  std::string text;
  for (const CalendarLine* line : event.lines) {
    text += shown_name(*line->planting);
    text += line->give.empty() ? "" : ": " + line->give;
    text += line->feeding ? "; feed" : "";
    text += line->note.empty() ? "\n" : "; " + line->note + '\n';
  }
  text += "Amounts are of one pot.";
  text += is_feeding(event) ? " Soluble feed: the label comes first. " : " ";
  return text + calendar.caution;
}

icalcomponent* event_component(const Event& event, const Calendar& calendar,
                               const std::string& garden) {
  icalcomponent* const component = icalcomponent_new_vevent();
  constexpr std::size_t digits = 32;  // 128 bits
  const std::string uid =
      sha256_hex(fmt::format("{}\n{}", garden, event.key)).substr(0, digits) + "@wiltline";
  add(component, icalproperty_new_uid(uid.c_str()));
  // RFC 5545 asks for UTC; a site whose clock is not known is taken to keep it.
  icaltimetype stamp = floating_time(calendar.now);
  const double offset_h = calendar.site.utc_offset_h.value_or(0.0);
  icaltime_adjust(&stamp, 0, 0, -static_cast<int>(std::lround(offset_h * 60.0)), 0);
  stamp.zone = icaltimezone_get_utc_timezone();
  add(component, icalproperty_new_dtstamp(stamp));
  add(component, icalproperty_new_sequence(revision_of(calendar.now)));
  add(component, icalproperty_new_dtstart(floating_time(event.lines.front()->when)));
  add(component, icalproperty_new_summary(summary_of(event, calendar.us).c_str()));
  add(component, icalproperty_new_description(description_of(event, calendar).c_str()));
  add(component, icalproperty_new_categories("WATERING"));
  if (is_feeding(event)) add(component, icalproperty_new_categories("FEEDING"));
  // It takes nobody's time from other appointments.
  add(component, icalproperty_new_transp(ICAL_TRANSP_TRANSPARENT));
  return component;
}

std::string clock_text(const Site& site) {
  return site.clock_is_solar()
             ? "Times are of the sun at the garden (noon when it is highest), written as floating "
               "times: no longitude and UTC offset were given."
             : fmt::format(
                   "Times are of the garden's clock (UTC{:+g}), written as floating "
                   "times: no time zone shifts them.",
                   *site.utc_offset_h);
}

}  // namespace

std::string calendar_text(const Calendar& calendar) {
  const std::unique_ptr<icalcomponent, decltype(&icalcomponent_free)> file(
      icalcomponent_new_vcalendar(), icalcomponent_free);
  const std::string garden = garden_name(calendar.garden_file);
  add(file.get(), icalproperty_new_version("2.0"));
  add(file.get(), icalproperty_new_prodid(fmt::format("-//wiltline//{}//EN", version).c_str()));
  add(file.get(), icalproperty_new_calscale("GREGORIAN"));
  add(file.get(), icalproperty_new_name(printable("Watering: " + garden).c_str()));
  add(file.get(), icalproperty_new_description(clock_text(calendar.site).c_str()));
  for (const Event& event : events_of(calendar)) {
    icalcomponent_add_component(file.get(), event_component(event, calendar, garden));
  }
  const std::unique_ptr<char, decltype(&std::free)> text(icalcomponent_as_ical_string_r(file.get()),
                                                         std::free);
  return text.get();
}

std::unique_ptr<Output> calendar_output(const Arguments& arguments) {
  const auto path = arguments.text("calendar");
  if (!path) return nullptr;
  const auto refuse_if = [&](const std::string& other, const char* what) {
    if (*path != other && !same_file(*path, other)) return;
    refuse("--calendar: found {}, where the {} goes; expected another file", in_quotes(*path),
           what);
  };
  refuse_if(arguments.text("output", "-"), "answer");
  if (const auto state = arguments.text("save-state")) refuse_if(*state, "state");
  refuse_overwriting(arguments, "calendar", *path);
  return std::make_unique<Output>(*path);
}

}  // namespace wiltline::cli

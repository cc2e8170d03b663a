// Visits to come as events of a calendar file (RFC 5545), by libical.
#pragma once

#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "command.hpp"
#include "output.hpp"
#include "wiltline/base/date.hpp"
#include "wiltline/garden/planting.hpp"
#include "wiltline/weather/site.hpp"

namespace wiltline::cli {

/// One pot at one visit.
struct CalendarLine {
  const Planting* planting = nullptr;
  Instant when;          // of the site's clock, or of the sun
  bool at_once = false;  // to be seen to now, whatever the routine says
  bool by_helper = false;
  std::optional<double> give_l;  // of one pot; empty: not known
  std::string give;              // the same as people read it
  bool feeding = false;
  std::string note;
};

/// What a garden's file is made of.
struct Calendar {
  std::string garden_file;
  Instant now;  // when it was asked
  Site site;    // whether hours are of its clock or of the sun
  std::vector<CalendarLine> lines;
  bool us = false;
  std::string caution;
};

/// The file: an event for each visit, and for each watering as needed. UIDs follow from the last
/// folder and the name of the garden's file and from the visit (as needed: the day and the
/// planting, for its hour may move), DTSTAMP and SEQUENCE from `now`: a later answer replaces an
/// earlier one.
[[nodiscard]] std::string calendar_text(const Calendar& calendar);

/// The file of --calendar, opened; null without it. Throws RequestError for a file that is read, or
/// written by another option.
[[nodiscard]] std::unique_ptr<Output> calendar_output(const Arguments& arguments);

}  // namespace wiltline::cli

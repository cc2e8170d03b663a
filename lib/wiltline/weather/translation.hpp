// From a weather file of any layout to the text of one of our own, and back to where each thing
// stood: the reader of our own files is the one that checks days.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "wiltline/base/files.hpp"
#include "wiltline/weather/hours.hpp"
#include "wiltline/weather/own_text.hpp"
#include "wiltline/weather/site.hpp"
#include "wiltline/weather/understanding.hpp"

namespace wiltline {

/// One place of a file, as the text of one of our own files.
struct TranslatedPlace {
  std::string name;
  SiteValues site;
  OwnText own;
  std::optional<HourlyReadings> hours;
  bool generated = false;  // as says_generated of the file
};

struct Translation {
  Understanding understood;
  std::vector<TranslatedPlace> places;
};

/// Throws InputError: a file that cannot be understood, or understood in two ways. `site`: what is
/// known of the place from elsewhere. Empty if nothing in it looks like weather.
[[nodiscard]] std::optional<Translation> translate(FileBytes file, const FileHints& hints,
                                                   const SiteValues& site);

}  // namespace wiltline

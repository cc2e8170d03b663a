// wiltline begin: a starter garden and settings in a folder.

#include <fmt/format.h>

#include <filesystem>

#include "command.hpp"
#include "delivery.hpp"
#include "described.hpp"
#include "output.hpp"
#include "refuse.hpp"
#include "settings.hpp"
#include "texts.hpp"
#include "wiltline/base/errors.hpp"
#include "wiltline/base/text.hpp"
#include "wiltline/garden/planting.hpp"
#include "wiltline/weather/reading.hpp"

namespace wiltline::cli {
namespace {

std::string settings_text(const Arguments& arguments, const std::filesystem::path& folder) {
  std::string text =
      "# What commands run in this folder take where an option does not say otherwise.\n";
  const auto files = arguments.texts("weather");
  if (files.empty()) text += "weather = weather.csv\n";
  for (const std::string& file : files) {
    if (!std::filesystem::is_regular_file(file)) {
      refuse("--weather: found {}; expected a file", in_quotes(file));
    }
    if (file.find('#') != std::string::npos) {  // begins a comment in settings
      refuse("--weather: found {}; expected a path without #", in_quotes(file));
    }
    const auto from = std::filesystem::weakly_canonical(std::filesystem::absolute(folder));
    text +=
        fmt::format("weather = {}\n",
                    std::filesystem::proximate(std::filesystem::canonical(file), from).string());
  }
  return text + fmt::format("garden = garden.csv\nunits = {}\n",
                            presentation(arguments).us_units ? "us" : "metric");
}

/// True if the weather named is of a place south of the equator; empty if none is named or it
/// cannot be read: what is wrong with it the first question says.
std::optional<bool> is_south(const Arguments& arguments) {
  const auto files = arguments.texts("weather");
  if (files.empty()) return std::nullopt;
  try {
    return read_weather_file(read_file(files.front()), {})
               .places.front()
               .record.site()
               .latitude_deg < 0.0;
  } catch (const InputError&) {
  } catch (const RequestError&) {
  }
  return std::nullopt;
}

/// The starter garden, planted half a year later in the south: its days are the lines' MM-DD.
std::string garden_text(std::string text, bool south) {
  if (!south) return text;
  constexpr unsigned months = 12;
  const unsigned later = usual_planting_day(true).month - usual_planting_day(false).month;
  for (std::size_t at = text.find(','); at != std::string::npos; at = text.find(',', at + 1)) {
    constexpr std::size_t length = 5;  // of MM-DD
    const auto day = parse_month_day(std::string_view(text).substr(at + 1, length));
    if (!day) continue;
    text.replace(at + 1, length,
                 to_string(MonthDay{(day->month - 1 + later) % months + 1, day->day}));
  }
  return text;
}

void run_begin(const Arguments& arguments) {
  const std::string folder = arguments.topic().value_or("");
  if (folder.empty()) refuse("no folder; expected wiltline begin FOLDER");
  const auto texts = program_texts();
  const std::optional<bool> south = is_south(arguments);
  write_new_files(folder,
                  {{"garden.csv", garden_text(texts.at("garden.csv").bytes, south.value_or(false))},
                   {settings_name, settings_text(arguments, folder)},
                   {"readme.txt", texts.at("readme.txt").bytes}});
  Output("-").write(
      fmt::format("Written to {}: garden.csv, {} and readme.txt, which says how to go on.\n{}",
                  printable(folder), settings_name,
                  south.value_or(false) ? "Planting days are of the south, half a year later.\n"
                  : south || arguments.texts("weather").empty()
                      ? ""
                      : "Planting days are of the north: the weather could not be read.\n"));
}

}  // namespace

Command begin_command() {
  Command command = described("begin", run_begin);
  command.takes_topic = true;
  return command;
}

}  // namespace wiltline::cli

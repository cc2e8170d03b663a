// wiltline begin: a starter garden and settings in a folder.

#include <fmt/format.h>

#include <filesystem>

#include "command.hpp"
#include "delivery.hpp"
#include "output.hpp"
#include "settings.hpp"
#include "shared_options.hpp"
#include "wiltline/base/text.hpp"

namespace wiltline::cli {
namespace {

constexpr const char* garden_text =
    R"(# An invented starter garden: make it yours, a row for each pot. Here 05-15 is 15 May of every year.
name,crop,pot,mix,plants,planted,spot,routine,saucer_l,notes
tomato by the wall,tomato,nursery 37 l,vegetable mix,1,05-15,sunny wall,daily 07:00,,
pepper,pepper,glazed 18 l,potting mix,1,05-20,patio,check daily 07:00,,
basil,basil,clay 3 l,potting mix,3,05-25,balcony,daily 18:00,0.3,
lettuce box,leaf lettuce,deep window box 20 l,potting mix,5,04-10,morning sun,every 2 days 07:00,,
thyme,thyme,clay 4 l,herb mix,1,04-20,patio,mon wed fri 18:30,,dry is fine
)";

constexpr const char* readme_text =
    R"(garden.csv is your garden, a row for each pot: edit it with any editor or spreadsheet (days and dates as text).
wiltline.ini names the weather, the garden and the units, so that they need not be typed in this folder.
Put the daily weather of past summers into the file it names; wiltline weather --help says how.
Then run: wiltline season (how the pots do), wiltline heatwave, wiltline absence --days 3.
wiltline list crops, pots, mixes and spots shows the names a garden may use.
)";

std::string settings_text(const Arguments& arguments, const std::filesystem::path& folder) {
  std::string text =
      "# What commands run in this folder take where an option does not say otherwise.\n";
  const auto files = arguments.texts("weather");
  if (files.empty()) text += "weather = weather.csv\n";
  for (const std::string& file : files) {
    if (!std::filesystem::is_regular_file(file)) {
      throw RequestError(fmt::format("--weather: found {}; expected a file", in_quotes(file)));
    }
    if (file.find('#') != std::string::npos) {  // begins a comment in settings
      throw RequestError(
          fmt::format("--weather: found {}; expected a path without #", in_quotes(file)));
    }
    const auto from = std::filesystem::weakly_canonical(std::filesystem::absolute(folder));
    text +=
        fmt::format("weather = {}\n",
                    std::filesystem::proximate(std::filesystem::canonical(file), from).string());
  }
  return text + fmt::format("garden = garden.csv\nunits = {}\n",
                            presentation(arguments).us_units ? "us" : "metric");
}

void run_begin(const Arguments& arguments) {
  const std::string folder = arguments.topic().value_or("");
  if (folder.empty()) throw RequestError("no folder; expected wiltline begin FOLDER");
  write_new_files(folder, {{"garden.csv", garden_text},
                           {settings_name, settings_text(arguments, folder)},
                           {"readme.txt", readme_text}});
  Output("-").write(
      fmt::format("Written to {}: garden.csv, {} and readme.txt, which says how to go on.\n",
                  printable(folder), settings_name));
}

}  // namespace

Command begin_command() {
  Command command;
  command.name = "begin";
  command.purpose = "a starter garden and settings in a folder of your own";
  command.usage = "FOLDER [options]";
  command.explanation =
      "Writes garden.csv, an invented garden to be made yours, wiltline.ini and readme.txt into a "
      "folder, which may be new; never over a file that is there.\n"
      "\n"
      "wiltline.ini holds settings, one a line: weather = FILE (again for several), site = FILE, "
      "garden = FILE, units = us or metric, can = 10 l. Commands take them from the folder of "
      "--garden, or where none is typed from the folder they are run in. What is typed goes first; "
      "--no-settings takes nothing from the file. File names are seen from its folder.";
  command.examples = {
      {"a folder with a garden", "wiltline begin my-garden"},
      {"the same, for weather that is there, in gallons and inches",
       "wiltline begin my-garden --weather weather-samples/tolvenau.csv --units us"}};
  po::options_description own("Settings");
  own.add_options()("weather", texts_value("FILE"),
                    "the weather to take; may be given several times")("units", text_value("UNITS"),
                                                                       "metric (default) or us");
  command.option_groups.push_back(own);
  command.takes_topic = true;
  command.run = run_begin;
  return command;
}

}  // namespace wiltline::cli

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
#include "wiltline/base/text.hpp"

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

void run_begin(const Arguments& arguments) {
  const std::string folder = arguments.topic().value_or("");
  if (folder.empty()) refuse("no folder; expected wiltline begin FOLDER");
  const auto texts = program_texts();
  write_new_files(folder, {{"garden.csv", texts.at("garden.csv").bytes},
                           {settings_name, settings_text(arguments, folder)},
                           {"readme.txt", texts.at("readme.txt").bytes}});
  Output("-").write(
      fmt::format("Written to {}: garden.csv, {} and readme.txt, which says how to go on.\n",
                  printable(folder), settings_name));
}

}  // namespace

Command begin_command() {
  Command command = described("begin", run_begin);
  command.takes_topic = true;
  return command;
}

}  // namespace wiltline::cli

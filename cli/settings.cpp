#include "settings.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <filesystem>
#include <sstream>

#include "wiltline/base/files.hpp"
#include "wiltline/base/text.hpp"
#include "words.hpp"

namespace wiltline::cli {
namespace {

struct Setting {
  std::string_view name;
  bool path;
  std::string_view unless;  // options it does not go with, where they are typed
};
constexpr std::array<Setting, 5> known_settings{{{"weather", true, "weather weather-dir"},
                                                 {"site", true, "site weather weather-dir"},
                                                 {"garden", true, "garden crop crops pot mix"},
                                                 {"units", false, "units"},
                                                 {"can", false, "can"}}};

/// The settings of a file as Boost.Program_options reads them, one at a time for the line each
/// stands on.
std::vector<std::pair<const Setting*, std::string>> read_settings(FileBytes file) {
  std::vector<std::string> names;
  po::options_description known;
  for (const Setting& setting : known_settings) {
    names.emplace_back(setting.name);
    known.add_options()(names.back().c_str(), po::value<std::string>());
  }
  constexpr std::string_view byte_order_mark = "\xEF\xBB\xBF";
  if (file.bytes.starts_with(byte_order_mark)) file.bytes.erase(0, byte_order_mark.size());
  std::vector<std::pair<const Setting*, std::string>> found;
  ProblemList problems;
  std::size_t number = 0;
  for (const std::string& line : lines_of(file.bytes)) {
    ++number;
    const auto complain = [&](std::string what, std::string expected) {
      problems.add({file.name, number, 0, std::move(what), std::move(expected)});
    };
    const std::string written(trim(std::string_view(line).substr(0, line.find('#'))));
    try {
      std::istringstream one(line);
      const po::parsed_options parsed = po::parse_config_file(one, known, true);
      if (parsed.options.empty() && !written.empty()) throw po::error(written);
      for (const po::option& option : parsed.options) {
        const auto setting = std::ranges::find(known_settings, option.string_key, &Setting::name);
        if (setting == known_settings.end()) {
          complain("unknown setting " + in_quotes(option.string_key),
                   fmt::format("one of {}{}", fmt::join(names, ", "),
                               nearest_hint(option.string_key, names)));
        } else if (option.value.front().empty()) {
          complain(option.string_key + " without a value", "a value after the =");
        } else if (setting->name == "units" && option.value.front() != "metric" &&
                   option.value.front() != "us") {
          complain("units " + in_quotes(option.value.front()), "metric or us");
        } else if (setting->name != "weather" && std::ranges::any_of(found, [&](const auto& other) {
                     return other.first == &*setting;
                   })) {
          complain(option.string_key + " a second time", "it once");
        } else {
          found.emplace_back(&*setting, option.value.front());
        }
      }
    } catch (const po::error&) {
      complain(in_quotes(written), "a setting as weather = FILE");
    }
  }
  problems.throw_if_any();
  return found;
}

}  // namespace

SettingsUse take_settings(const po::options_description& options, po::variables_map& values) {
  const auto typed = [&](std::string_view name) { return values.count(std::string(name)) > 0; };
  if (options.find_nothrow("no-settings", false) == nullptr || typed("no-settings")) return {};
  const std::filesystem::path folder =
      typed("garden") ? std::filesystem::path(values["garden"].as<std::string>()).parent_path()
                      : std::filesystem::path();
  SettingsUse use;
  use.file = (folder / settings_name).string();
  std::error_code error;
  if (!std::filesystem::exists(use.file, error)) return {};
  po::parsed_options taken(&options);
  std::vector<std::string> said;
  for (const auto& [setting, value] : read_settings(read_file(use.file))) {
    const std::string name(setting->name);
    const auto against = words(setting->unless);
    if (options.find_nothrow(name, false) == nullptr || std::ranges::any_of(against, typed)) {
      continue;
    }
    taken.options.emplace_back(
        name, std::vector<std::string>{setting->path ? (folder / value).string() : value});
    said.push_back(fmt::format("{} {}", name, value));
  }
  po::store(taken, values);
  if (!said.empty()) use.note = fmt::format("from {}: {}", use.file, fmt::join(said, ", "));
  return use;
}

}  // namespace wiltline::cli

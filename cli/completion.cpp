#include "completion.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>

#include "texts.hpp"
#include "wiltline/base/text.hpp"
#include "wiltline/garden/catalogue.hpp"

namespace wiltline::cli {
namespace {

/// Words that an option takes, by its name.
std::vector<std::string> values_of(std::string_view option) {
  const auto names = [&](std::string_view one, std::string_view many, auto&& table) {
    return option == one || option == many ? table().all_names() : std::vector<std::string>{};
  };
  if (option == "format") return {"table", "csv", "json"};
  if (option == "units") return {"metric", "us"};
  if (option == "growth") return {"days", "degree-days"};
  constexpr std::array<std::string_view, 10> of_tables{"crop",  "crops", "pot",   "pots", "mix",
                                                       "mixes", "spot",  "spots", "wall", "walls"};
  if (std::find(of_tables.begin(), of_tables.end(), option) == of_tables.end()) return {};
  const Catalogue catalogue = read_catalogue(builtin_tables());
  for (auto found : {names(
                         "crop", "crops", [&]() -> auto& { return catalogue.crops; }),
                     names(
                         "pot", "pots", [&]() -> auto& { return catalogue.pots; }),
                     names(
                         "mix", "mixes", [&]() -> auto& { return catalogue.mixes; }),
                     names(
                         "spot", "spots", [&]() -> auto& { return catalogue.spots; }),
                     names(
                         "wall", "walls", [&]() -> auto& { return catalogue.walls; })}) {
    if (!found.empty()) return found;
  }
  return {};
}

std::vector<std::string> beginning_with(std::string_view begun, std::vector<std::string> words) {
  std::erase_if(words, [&](const std::string& word) { return !word.starts_with(begun); });
  return words;
}

/// The option of a command that is called so, dashes and all. Null if there is none.
const po::option_description* option_called(const Command& command, std::string_view word) {
  for (const po::options_description& group : command.option_groups) {
    for (const auto& option : group.options()) {
      if (word == "--" + option->long_name()) return option.get();
    }
  }
  return nullptr;
}

}  // namespace

std::vector<std::string> completions(const std::vector<Command>& commands,
                                     const std::vector<std::string>& words) {
  if (words.empty()) return {};
  const std::string& begun = words.back();
  if (words.size() == 1) {
    std::vector<std::string> names;
    for (const Command& command : commands) names.emplace_back(command.name);
    for (const char* option : {"--help", "--version"}) names.emplace_back(option);
    return beginning_with(begun, std::move(names));
  }
  const auto command = std::find_if(commands.begin(), commands.end(),
                                    [&](const Command& known) { return known.name == words[0]; });
  if (command == commands.end()) return {};
  const std::string& before = words[words.size() - 2];
  const po::option_description* const option = option_called(*command, before);
  if (option != nullptr && option->semantic()->max_tokens() > 0) {
    // A list: what stands before its last comma stays.
    const std::size_t comma = begun.rfind(',');
    const std::string kept = comma == std::string::npos ? "" : begun.substr(0, comma + 1);
    std::vector<std::string> found =
        beginning_with(begun.substr(kept.size()), values_of(option->long_name()));
    for (std::string& one : found) one.insert(0, kept);
    return found;
  }
  if (command->name == "list" && words.size() == 2) {
    std::vector<std::string> found =
        beginning_with(begun, {"crops", "pots", "mixes", "components", "spots", "walls"});
    if (!found.empty()) return found;
  }
  if (!begun.starts_with('-')) return {};
  std::vector<std::string> names{"--help"};
  for (const po::options_description& group : command->option_groups) {
    for (const auto& one : group.options()) names.push_back("--" + one->long_name());
  }
  return beginning_with(begun, std::move(names));
}

std::string completion_script(const std::string& shell) {
  const auto texts = program_texts();
  const auto script = texts.find("wiltline." + shell);
  if (script == texts.end()) {
    throw RequestError(
        fmt::format("--completion: found {}; expected bash, zsh or fish", in_quotes(shell)));
  }
  return script->second.bytes;
}

}  // namespace wiltline::cli

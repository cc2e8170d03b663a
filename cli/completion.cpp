#include "completion.hpp"

#include <algorithm>

#include "name_lists.hpp"
#include "refuse.hpp"
#include "texts.hpp"
#include "wiltline/base/text.hpp"
#include "wiltline/garden/catalogue.hpp"

namespace wiltline::cli {
namespace {

/// The names of a table of the catalogue, by what one of them is called.
struct TableNames {
  std::string_view of;
  std::vector<std::string> (*names)(const Catalogue&);
};
constexpr TableNames name_tables[]{
    {"crop", [](const Catalogue& known) { return known.crops.all_names(); }},
    {"pot", [](const Catalogue& known) { return known.pots.all_names(); }},
    {"mix", [](const Catalogue& known) { return known.mixes.all_names(); }},
    {"spot", [](const Catalogue& known) { return known.spots.all_names(); }},
    {"wall", [](const Catalogue& known) { return known.walls.all_names(); }},
};

/// Words that an option takes, by its name.
std::vector<std::string> values_of(std::string_view option) {
  if (option == "format") return {"table", "csv", "json"};
  if (option == "units") return {"metric", "us"};
  if (option == "growth") return {"days", "degree-days"};
  for (const TableNames& table : name_tables) {
    if (option == table.of || option == plural(table.of)) {
      return table.names(read_catalogue(builtin_tables()));
    }
  }
  return {};
}

std::vector<std::string> beginning_with(std::string_view begun, std::vector<std::string> words) {
  std::erase_if(words, [&](const std::string& word) { return !word.starts_with(begun); });
  return words;
}

/// The words that a command takes after its name: those of its usage, "[ONE|TWO|...] [options]".
std::vector<std::string> topics_of(const Command& command) {
  const std::string_view usage = command.usage;
  if (!usage.starts_with('[')) return {};
  const auto topics = parts_between(usage.substr(1, usage.find(']') - 1), '|');
  return {topics.begin(), topics.end()};
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
  const Command* const command = find_command(commands, words[0]);
  if (command == nullptr) return {};
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
  if (words.size() == 2) {
    std::vector<std::string> found = beginning_with(begun, topics_of(*command));
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
    refuse("--completion: found {}; expected bash, zsh or fish", in_quotes(shell));
  }
  return script->second.bytes;
}

}  // namespace wiltline::cli

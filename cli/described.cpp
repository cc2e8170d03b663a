#include "described.hpp"

#include <algorithm>
#include <span>
#include <stdexcept>

#include "texts.hpp"
#include "wiltline/base/text.hpp"
#include "words.hpp"

namespace wiltline::cli {
namespace {

/// A line, and those indented below it, joined.
struct TextEntry {
  std::string head;
  std::string text;
};

struct Section {
  std::string title;
  std::vector<TextEntry> entries;
};

struct HelpText {
  std::vector<std::string> prose;  // its lines
  std::vector<Section> sections;
};

HelpText read_text(const std::string& bytes) {
  HelpText help;
  for (const std::string& line : lines_of(bytes)) {
    if (line.starts_with("== ")) {
      help.sections.push_back({line.substr(3), {}});
    } else if (help.sections.empty()) {
      help.prose.push_back(line);
    } else if (line.starts_with(' ')) {
      std::string& text = help.sections.back().entries.back().text;
      text += (text.empty() ? "" : " ") + std::string(trim(line));
    } else if (!line.empty()) {
      help.sections.back().entries.push_back({line, ""});
    }
  }
  return help;
}

/// Lines joined to paragraphs; indented ones stand as they are.
std::string paragraphs(std::span<const std::string> lines) {
  std::string out;
  bool goes_on = false;
  for (const std::string& line : lines) {
    const bool flows = !line.empty() && !line.starts_with(' ');
    if (!out.empty()) out += flows && goes_on ? ' ' : '\n';
    const bool ends = line.ends_with('\\');
    out += ends ? trim(line.substr(0, line.size() - 1)) : line;
    goes_on = flows && !ends;
  }
  return out.substr(0, out.find_last_not_of('\n') + 1);
}

/// Adds the option of a line such as `--weather FILE...`.
void add_option(po::options_description& options, const TextEntry& entry) {
  const std::size_t space = std::min(entry.head.find(' '), entry.head.size());
  const std::string name = entry.head.substr(2, space - 2);
  std::string shown(trim(entry.head.substr(space)));
  const char* const text = entry.text.c_str();
  if (shown.empty()) {
    options.add_options()(name.c_str(), text);
  } else if (shown.ends_with("...")) {
    shown.resize(shown.size() - 3);
    options.add_options()(name.c_str(), po::value<std::vector<std::string>>()->value_name(shown),
                          text);
  } else {
    options.add_options()(name.c_str(), po::value<std::string>()->value_name(shown), text);
  }
}

void add_options(po::options_description& options, const Section& section, const HelpText& shared) {
  for (const TextEntry& entry : section.entries) {
    if (entry.head.starts_with("--")) {
      add_option(options, entry);
      continue;
    }
    const auto list = std::ranges::find_if(
        shared.sections, [&](const Section& one) { return entry.head == "+ " + one.title; });
    if (list == shared.sections.end()) throw std::logic_error("help: no options " + entry.head);
    add_options(options, *list, shared);
  }
}

}  // namespace

Command described(std::string_view name, void (*run)(const Arguments&), Sections columns) {
  static const auto texts = program_texts();
  const HelpText help = read_text(texts.at(std::string(name) + ".txt").bytes);
  const HelpText shared = read_text(texts.at("shared.txt").bytes);
  Command command;
  command.name = name;
  command.purpose = help.prose.at(0);
  command.usage = help.prose.at(1);
  command.explanation = paragraphs(std::span(help.prose).subspan(3));
  command.columns = std::move(columns);
  command.run = [run](const Arguments& arguments) {
    run(arguments);
    return 0;
  };
  for (const Section& section : help.sections) {
    if (section.title == "Examples") {
      for (const auto& [what, line] : section.entries) {
        command.examples.push_back({what.substr(0, what.size() - 1), line});
      }
    } else {
      po::options_description options(section.title);
      add_options(options, section, shared);
      command.option_groups.push_back(std::move(options));
    }
  }
  return command;
}

}  // namespace wiltline::cli

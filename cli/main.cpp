// The program: finds the command, parses its options, runs it and turns what goes wrong into one
// line a problem and an exit code.

#include <fcntl.h>
#include <fmt/format.h>
#include <unistd.h>

#include <algorithm>
#include <csignal>
#include <cstdio>
#include <exception>
#include <sstream>

#include "command.hpp"
#include "completion.hpp"
#include "manual.hpp"
#include "output.hpp"
#include "refuse.hpp"
#include "settings.hpp"
#include "terminal.hpp"
#include "version.hpp"
#include "wiltline/base/errors.hpp"
#include "wiltline/base/text.hpp"
#include "words.hpp"

namespace wiltline::cli {

namespace {

enum ExitCode : int { answered = 0, failed = 1, wrong_request = 2, wrong_input = 3 };

constexpr std::size_t help_width = 78;

std::vector<Command> all_commands() {
  return {season_command(),  compare_command(),  choose_command(), heatwave_command(),
          absence_command(), forecast_command(), plan_command(),   calibrate_command(),
          et0_command(),     weather_command(),  sweep_command(),  capacity_command(),
          list_command(),    begin_command()};
}

std::string program_help(const std::vector<Command>& commands) {
  std::string out =
      "wiltline keeps the water account of every pot in a container garden: which pot goes dry,\n"
      "when, and what would have prevented it.\n\n"
      "usage: wiltline COMMAND [options]\n\n";
  for (const Command& command : commands) {
    out += fmt::format("  {:<10} {}\n", command.name, command.purpose);
  }
  out +=
      "\nwiltline COMMAND -h shows a command's options, --help everything about it.\n"
      "wiltline --version shows the version; wiltline --completion bash (zsh, fish) prints a "
      "script\n"
      "that makes the shell complete commands, options and names.\n";
  return out;
}

std::string options_text(const Command& command) {
  std::ostringstream stream;
  for (const po::options_description& group : command.option_groups) stream << group << '\n';
  // The option library leaves spaces at the ends of lines.
  std::string out;
  for (const std::string& line : lines_of(stream.str())) {
    out += line.substr(0, line.find_last_not_of(' ') + 1) + '\n';
  }
  return out;
}

/// The column table, for people.
std::string columns_text(const Command& command) {
  constexpr std::size_t name_width = 26;
  std::string out;
  for (const auto& [heading, columns] : command.columns) {
    out += fmt::format("{}:\n", heading);
    for (const ColumnHead& column : columns) {
      constexpr std::size_t indent = name_width + 3;
      out += fmt::format("  {:<{}} {}\n", column.name, name_width,
                         wrapped(column.meaning, help_width, indent, indent));
    }
    out += '\n';
  }
  return out;
}

std::string short_help(const Command& command) {
  return fmt::format("wiltline {}: {}\nusage: wiltline {} {}\n\n{}", command.name, command.purpose,
                     command.name, command.usage, options_text(command));
}

std::string long_help(const Command& command) {
  std::string out = fmt::format("wiltline {}: {}\nusage: wiltline {} {}\n\n", command.name,
                                command.purpose, command.name, command.usage);
  for (const std::string& line : lines_of(command.explanation)) {
    // An indented line is kept as it stands.
    out += (line.starts_with(' ') ? line : wrapped(line, help_width, 0)) + '\n';
  }
  out += '\n' + options_text(command) + columns_text(command);
  out += "Examples\n";
  for (const Example& example : command.examples) {
    out += fmt::format("  {}:\n    {}\n", example.what, example.line);
  }
  out +=
      "\nExit code: 0 answered; 1 could not write; 2 something typed on the command line is "
      "wrong;\n"
      "3 something in a file is wrong.\n";
  return out;
}

std::vector<std::string> option_names(const po::options_description& options) {
  std::vector<std::string> names;
  for (const auto& option : options.options()) names.push_back("--" + option->long_name());
  return names;
}

[[noreturn]] void refuse_without_value(const std::string& option) {
  refuse("found {} without a value; expected one after it", option);
}

/// Parses a command's words. Never guesses a shortened option; refuses stray words.
Arguments parse(const Command& command, const std::vector<std::string>& words) {
  po::options_description all;
  for (const po::options_description& group : command.option_groups) all.add(group);
  const std::vector<std::string> names = option_names(all);
  po::options_description hidden;
  hidden.add(all);
  hidden.add_options()("stray words", po::value<std::vector<std::string>>());
  po::positional_options_description positions;
  positions.add("stray words", -1);

  po::variables_map values;
  try {
    const int style = po::command_line_style::unix_style & ~po::command_line_style::allow_guessing;
    const po::parsed_options parsed =
        po::command_line_parser(words).options(hidden).positional(positions).style(style).run();
    for (const po::option& option : parsed.options) {
      // `--output --steps`: the parser would take the next option for a value.
      const auto& tokens = option.original_tokens;
      if (option.position_key < 0 && tokens.size() > 1 && tokens[1].starts_with("--")) {
        refuse_without_value(tokens[0]);
      }
    }
    po::store(parsed, values);
  } catch (const po::unknown_option& error) {
    const std::string hint = nearest_hint(error.get_option_name(), names);
    refuse("found unknown option {}; expected an option of wiltline {}{}",
           in_quotes(error.get_option_name()), command.name,
           hint.empty() ? fmt::format(" (wiltline {} -h)", command.name) : hint);
  } catch (const po::multiple_occurrences& error) {
    refuse("found {} a second time; expected it once", error.get_option_name());
  } catch (const po::invalid_command_line_syntax& error) {
    if (error.kind() == po::invalid_command_line_syntax::extra_parameter) {
      refuse("found {} with a value; expected it without one", error.get_option_name());
    }
    refuse_without_value(error.get_option_name());
  }
  std::optional<std::string> topic;
  if (values.count("stray words") > 0) {
    const auto stray = values["stray words"].as<std::vector<std::string>>();
    values.erase("stray words");
    if (command.takes_files) {
      values.insert({"weather", po::variable_value(boost::any(stray), false)});
    } else {
      const std::size_t allowed = command.takes_topic ? 1 : 0;
      if (stray.size() > allowed) {
        refuse("found the stray word {}; expected options that begin with --",
               in_quotes(stray[allowed]));
      }
      topic = stray.front();
    }
  }
  SettingsUse settings = take_settings(all, values);
  return {std::move(values), std::move(topic), std::move(settings)};
}

void print(const std::string& text) {
  Output("-").write(text);
}

int run(const std::vector<std::string>& words) {
  const std::vector<Command> commands = all_commands();
  if (words.empty()) {
    (void)std::fputs(program_help(commands).c_str(), stderr);
    refuse("no command; expected one of those above");
  }
  const bool alone = words.size() == 1;
  if (alone && (words[0] == "-h" || words[0] == "--help" || words[0] == "help")) {
    print(program_help(commands));
    return answered;
  }
  if (alone && words[0] == "--version") {
    print(fmt::format("wiltline {}\n", version));
    return answered;
  }
  if (words[0] == "--complete") {
    std::string lines;
    for (const std::string& word : completions(commands, {words.begin() + 1, words.end()})) {
      lines += word + '\n';
    }
    print(lines);
    return answered;
  }
  if (words[0] == "--completion") {
    print(completion_script(words.size() == 2 ? words[1] : ""));
    return answered;
  }
  if (alone && words[0] == "--manual") {
    print(manual_page(commands));
    return answered;
  }
  const Command* const command = find_command(commands, words[0]);
  if (command == nullptr) {
    if (words[0].starts_with('-')) {
      refuse("found {} before a command; expected the command first (wiltline -h)",
             in_quotes(words[0]));
    }
    std::vector<std::string> names;
    for (const Command& known : commands) names.emplace_back(known.name);
    refuse("found unknown command {}; expected a command (wiltline -h){}", in_quotes(words[0]),
           nearest_hint(words[0], names));
  }
  const std::vector<std::string> rest(words.begin() + 1, words.end());
  // Help comes before anything that could be wrong with the other words.
  for (const std::string& word : rest) {
    if (word == "-h" || word == "--help") {
      print(word == "-h" ? short_help(*command) : long_help(*command));
      return answered;
    }
    if (word == "--manual") {
      print(manual_page(*command));
      return answered;
    }
  }
  return command->run(parse(*command, rest));
}

/// Each line of a message on its own, with the program's name before it.
void complain(std::string_view message) {
  for (const std::string& line : lines_of(message)) say(fmt::format("wiltline: {}", line));
}

int guarded(const std::vector<std::string>& words) {
  try {
    return run(words);
  } catch (const InputError& error) {
    for (const Problem& problem : error.problems()) {
      complain(problem.text(in_words(problem.advice)));
      // A person sees where it is; a log keeps one line a problem.
      if (::isatty(STDERR_FILENO) != 1) continue;
      if (const std::string line = line_with_mark(problem, page_width()); !line.empty()) {
        (void)std::fputs((line + '\n').c_str(), stderr);
      }
    }
    return wrong_input;
  } catch (const RequestError& error) {
    complain(error.what());
    return wrong_request;
  } catch (const po::error& error) {
    complain(error.what());
    return wrong_request;
  } catch (const WriteError& error) {
    complain(error.what());
    return failed;
  } catch (const std::exception& error) {
    complain(fmt::format("our fault: {}", error.what()));
    return failed;
  }
}

}  // namespace
}  // namespace wiltline::cli

int main(int argc, char** argv) {
  // A file opened by the program must never become a standard stream that was closed.
  while (true) {
    const int descriptor = ::open("/dev/null", O_RDONLY | O_CLOEXEC);
    if (descriptor < 0) break;
    if (descriptor > STDERR_FILENO) {
      ::close(descriptor);
      break;
    }
  }
  std::signal(SIGPIPE, SIG_IGN);  // a closed pipe is no error: the write says so
  return wiltline::cli::guarded({argv + 1, argv + argc});
}

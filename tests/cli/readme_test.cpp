// What the README tells people to type runs, as it stands.
#include <doctest/doctest.h>

#include <filesystem>
#include <set>
#include <sstream>
#include <string>
#include <vector>

#include "cli/run_program.hpp"

namespace wiltline::test {
namespace {

const std::filesystem::path source = WILTLINE_SOURCE;

/// The words of a command behind the program's name; a text in double quotes is one.
std::vector<std::string> words_of(const std::string& command) {
  std::vector<std::string> words;
  std::string word;
  bool quoted = false;
  bool begun = false;
  const auto end = [&] {
    if (begun) words.push_back(word);
    word.clear();
    begun = false;
  };
  for (const char c : command) {
    if (c == '"') {
      quoted = !quoted;
      begun = true;
    } else if (c == ' ' && !quoted) {
      end();
    } else {
      word += c;
      begun = true;
    }
  }
  end();
  REQUIRE(!quoted);
  REQUIRE(words.front() == "wiltline");
  words.erase(words.begin());
  return words;
}

struct Readme {
  std::string start;                // what makes the folder of the table
  std::vector<std::string> table;   // a command for each question
  std::vector<std::string> blocks;  // indented commands, run where the README lies
};

Readme readme() {
  Readme found;
  std::istringstream lines(bytes_of(source / "README.md"));
  const auto quoted_command = [](const std::string& line) {
    const std::size_t at = line.rfind("`wiltline ");
    return at == std::string::npos ? std::string{}
                                   : line.substr(at + 1, line.find('`', at + 1) - at - 1);
  };
  for (std::string line; std::getline(lines, line);) {
    if (line.starts_with("| ")) {
      if (const std::string command = quoted_command(line); !command.empty()) {
        found.table.push_back(command);
      }
    } else if (found.table.empty() && found.start.empty() && !line.starts_with(" ")) {
      found.start = quoted_command(line);
    } else if (line.starts_with("    wiltline ")) {
      std::string command = line.substr(4);
      while (command.ends_with('\\')) {
        command.pop_back();
        REQUIRE(std::getline(lines, line));
        command += line.substr(line.find_first_not_of(' '));
      }
      found.blocks.push_back(command);
    }
  }
  return found;
}

void check_runs(const std::string& command, const std::filesystem::path& folder) {
  INFO(command);
  const Outcome outcome = run_program({.arguments = words_of(command), .folder = folder});
  CHECK_MESSAGE(outcome.exit_code == 0, outcome.err);
  // weather writes a file of ours and says how it was understood.
  const bool to_file =
      command.find("--output") != std::string::npos && !command.starts_with("wiltline weather");
  CHECK(outcome.out.empty() == to_file);
}

/// A folder in which what the repository brings lies as beside the README.
void lay_out(const ScratchFolder& folder) {
  for (const char* name : {"models", "weather-samples"}) {
    std::filesystem::create_directory_symlink(source / name, folder.path() / name);
  }
}

}  // namespace

TEST_CASE("every question in the README's table has a command that runs in a starter garden") {
  const Readme found = readme();
  const ScratchFolder folder;
  lay_out(folder);
  check_runs(found.start, folder.path());
  std::set<std::string> asked;
  for (const std::string& command : found.table) {
    check_runs(command, folder.path() / "my-garden");
    asked.insert(words_of(command).front());
  }
  CHECK(std::filesystem::exists(folder.path() / "my-garden/visits.ics"));
  // Every command of the program has its question; what begins with a dash is an option.
  std::istringstream known(
      run_program({.arguments = {"--complete", ""}, .folder = folder.path()}).out);
  std::size_t commands = 0;
  for (std::string word; std::getline(known, word);) {
    if (word.empty() || word.front() == '-') continue;
    ++commands;
    CHECK_MESSAGE(asked.contains(word), word);
  }
  CHECK(commands >= 13);
}

TEST_CASE("every command block of the README runs") {
  const Readme found = readme();
  CHECK(found.blocks.size() > 15);
  const ScratchFolder folder;
  lay_out(folder);
  for (const std::string& command : found.blocks) check_runs(command, folder.path());
}

}  // namespace wiltline::test

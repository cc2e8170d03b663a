// The house: rooms include only rooms that stand before them, the library stays silent and blind,
// and the top of the source tree holds only what belongs there.
#include <doctest/doctest.h>

#include <algorithm>
#include <array>
#include <cctype>
#include <cstdio>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <optional>
#include <regex>
#include <set>
#include <sstream>
#include <string>
#include <string_view>
#include <vector>

namespace wiltline::test {
namespace {

namespace fs = std::filesystem;

const fs::path source = WILTLINE_SOURCE;

/// Rooms in the order in which they may know each other.
constexpr std::array<std::string_view, 11> rooms{
    "base",   "sun",    "weather", "evapotranspiration", "crop",  "container",
    "garden", "budget", "account", "questions",          "tables"};

std::optional<std::size_t> place_of(std::string_view room) {
  const auto found = std::find(rooms.begin(), rooms.end(), room);
  if (found == rooms.end()) return std::nullopt;
  return static_cast<std::size_t>(found - rooms.begin());
}

/// The one header that stands in no room: it includes any, and no room includes it.
constexpr std::string_view front_door = "wiltline.hpp";

/// Crop and container stand side by side.
bool may_include(std::size_t from, std::size_t to) {
  if (rooms[from] == "container" && rooms[to] == "crop") return false;
  return to <= from;
}

struct SourceFile {
  std::string path;  // from lib/wiltline/, such as crop/canopy.cpp
  std::string text;
};

std::string room_of(std::string_view path) {
  return std::string(path.substr(0, path.find('/')));
}

std::vector<std::string> lines_of(const std::string& text) {
  std::vector<std::string> lines;
  std::istringstream stream(text);
  for (std::string line; std::getline(stream, line);) lines.push_back(line);
  return lines;
}

/// The path of `#include "…"`, if the line is one.
std::optional<std::string> included_by(std::string_view line) {
  const std::size_t hash = line.find_first_not_of(" \t");
  if (hash == std::string_view::npos || line[hash] != '#') return std::nullopt;
  const std::size_t word = line.find_first_not_of(" \t", hash + 1);
  if (word == std::string_view::npos || line.substr(word, 7) != "include") return std::nullopt;
  const std::size_t open = line.find_first_of("\"<", word);
  if (open == std::string_view::npos) return std::nullopt;
  const std::size_t close = line.find_first_of("\">", open + 1);
  return std::string(line.substr(open + 1, close - open - 1));
}

/// What is wrong with a file's includes of the project, one text a problem.
std::vector<std::string> include_problems(const SourceFile& file) {
  std::vector<std::string> problems;
  const auto from = place_of(file.path == front_door ? rooms.back() : room_of(file.path));
  if (!from) return {file.path + ": in no known room"};
  for (const std::string& line : lines_of(file.text)) {
    const auto included = included_by(line);
    if (!included) continue;
    constexpr std::string_view prefix = "wiltline/";
    if (!included->starts_with(prefix)) {
      // Quotes are for our own headers, which are named by their whole path.
      if (line.find('"') != std::string::npos) problems.push_back(file.path + ": " + line);
      continue;
    }
    const auto to = place_of(room_of(std::string_view(*included).substr(prefix.size())));
    if (!to || !may_include(*from, *to)) problems.push_back(file.path + ": " + line);
  }
  return problems;
}

/// Words with which a library would print, end the program or look at its surroundings.
constexpr std::array<std::string_view, 18> forbidden{
    "std::cout",  "std::cerr",  "std::clog",         "fmt::print",   "printf(",
    "fputs(",     "std::puts(", "putchar(",          "exit(",        "abort(",
    "setlocale",  "getenv",     "system_clock",      "steady_clock", "high_resolution_clock",
    "std::time(", "localtime",  "std::random_device"};

std::vector<std::string> conduct_problems(const SourceFile& file) {
  std::vector<std::string> problems;
  for (const std::string& line : lines_of(file.text)) {
    const std::string_view code = std::string_view(line).substr(0, line.find("//"));
    for (const std::string_view word : forbidden) {
      if (code.find(word) != std::string_view::npos) problems.push_back(file.path + ": " + line);
    }
  }
  const bool header = file.path.ends_with(".hpp");
  const auto lines = lines_of(file.text);
  if (header && std::count(lines.begin(), lines.end(), "#pragma once") != 1) {
    problems.push_back(file.path + ": no #pragma once");
  }
  return problems;
}

/// The texts of a file's string literals, those that only white space parts joined, without
/// comments and character literals.
std::vector<std::string> literals_of(std::string_view text) {
  std::vector<std::string> literals;
  bool joins = false;
  for (std::size_t i = 0; i < text.size(); ++i) {
    const char c = text[i];
    if (c == '/' && text.substr(i, 2) == "//") {
      i = std::min(text.find('\n', i), text.size());
    } else if (c == '"' || c == '\'') {
      // A digit before it: a separator within a number.
      if (c == '\'' && i > 0 && std::isalnum(static_cast<unsigned char>(text[i - 1])) != 0)
        continue;
      std::string literal;
      for (++i; i < text.size() && text[i] != c; ++i) {
        if (text[i] == '\\') ++i;
        literal += text[i];
      }
      if (c == '"' && joins) {
        literals.back() += literal;
      } else if (c == '"') {
        literals.push_back(literal);
      }
      joins = c == '"';
    } else if (std::isspace(static_cast<unsigned char>(c)) == 0) {
      joins = false;
    }
  }
  return literals;
}

/// Texts that name an option or a command: only a program has any.
std::vector<std::string> option_problems(const SourceFile& file) {
  static const std::regex of_a_program("--[a-z{]|wiltline [a-z]");
  std::vector<std::string> problems;
  for (const std::string& literal : literals_of(file.text)) {
    if (std::regex_search(literal, of_a_program)) problems.push_back(file.path + ": " + literal);
  }
  return problems;
}

std::vector<SourceFile> library() {
  std::vector<SourceFile> files;
  const fs::path root = source / "lib/wiltline";
  for (const auto& entry : fs::recursive_directory_iterator(root)) {
    const std::string extension = entry.path().extension().string();
    if (extension != ".hpp" && extension != ".cpp") continue;
    std::ifstream stream(entry.path(), std::ios::binary);
    files.push_back({entry.path().lexically_relative(root).generic_string(),
                     {std::istreambuf_iterator<char>(stream), {}}});
  }
  return files;
}

const std::set<std::string> allowed_at_the_top{
    "CMakeLists.txt", "README.md", "DEVELOPERS.md", "LICENSE",        "lib", "cli",
    "models",         "tests",     "bench",         "weather-samples"};

/// Names at the top that do not belong there; names with a leading point are tools' business.
std::vector<std::string> strangers(const std::set<std::string>& names) {
  std::vector<std::string> result;
  for (const std::string& name : names) {
    if (!name.starts_with('.') && !allowed_at_the_top.contains(name)) result.push_back(name);
  }
  return result;
}

/// What is at the top: the files under version control, or, in a copy without it, whatever is there
/// but build trees.
std::set<std::string> names_at_the_top() {
  std::set<std::string> names;
  const std::string command = "git -C '" + source.string() + "' ls-files 2>/dev/null";
  if (std::FILE* const stream = ::popen(command.c_str(), "r")) {
    std::array<char, 4096> line{};
    while (std::fgets(line.data(), static_cast<int>(line.size()), stream) != nullptr) {
      std::string_view path = line.data();
      path = path.substr(0, path.find_first_of("/\n"));
      names.emplace(path);
    }
    ::pclose(stream);
  }
  if (!names.empty()) return names;
  for (const auto& entry : fs::directory_iterator(source)) {
    const std::string name = entry.path().filename().string();
    if (!name.starts_with("build")) names.insert(name);
  }
  return names;
}

TEST_CASE("rooms include only rooms that stand before them") {
  const auto files = library();
  CHECK(files.size() > 50);
  std::set<std::string> seen;
  for (const SourceFile& file : files) {
    for (const std::string& problem : include_problems(file)) FAIL_CHECK(problem);
    seen.insert(room_of(file.path));
  }
  for (const std::string_view room : rooms) {
    INFO(room);
    CHECK(seen.contains(std::string(room)));
  }
}

TEST_CASE(
    "the library does not print, exit or look at clock and surroundings; headers guard "
    "themselves") {
  for (const SourceFile& file : library()) {
    for (const std::string& problem : conduct_problems(file)) FAIL_CHECK(problem);
  }
}

TEST_CASE("the library's texts name no option and no command of a program") {
  std::size_t literals = 0;
  for (const SourceFile& file : library()) {
    for (const std::string& problem : option_problems(file)) FAIL_CHECK(problem);
    literals += literals_of(file.text).size();
  }
  CHECK(literals > 500);
}

TEST_CASE("the top of the source tree holds only what belongs there") {
  const auto names = names_at_the_top();
  for (const std::string& name : strangers(names)) FAIL_CHECK(name);
  for (const char* name : {"CMakeLists.txt", "lib", "cli", "models", "tests", "weather-samples"}) {
    INFO(name);
    CHECK(names.contains(name));
  }
}

TEST_CASE("these checks find what they look for") {
  const auto include = [](const char* from, const std::string& line) {
    return include_problems({from, "#pragma once\n" + line + '\n'}).size();
  };
  CHECK(include("base/csv.cpp", "#include \"wiltline/weather/site.hpp\"") == 1);
  CHECK(include("garden/spot.hpp", "#include \"wiltline/budget/day.hpp\"") == 1);
  CHECK(include("crop/crop.hpp", "#include \"wiltline/container/pot.hpp\"") == 1);
  CHECK(include("container/pot.hpp", "#include \"wiltline/crop/crop.hpp\"") == 1);
  CHECK(include("container/pot.hpp", "  #  include <wiltline/crop/crop.hpp>") == 1);
  CHECK(include("crop/crop.hpp", "#include \"wiltline/cellar/wine.hpp\"") == 1);
  CHECK(include("crop/crop.hpp", "#include \"canopy.hpp\"") == 1);
  CHECK(include("cellar/wine.hpp", "") == 1);
  CHECK(include("crop/crop.hpp", "#include \"wiltline/crop/canopy.hpp\"") == 0);
  CHECK(include("garden/planting.hpp", "#include \"wiltline/container/pot.hpp\"") == 0);
  CHECK(include("garden/planting.hpp", "#include <vector>") == 0);

  for (const std::string_view word : forbidden) {
    INFO(word);
    CHECK(conduct_problems({"base/text.cpp", "  " + std::string(word) + ";\n"}).size() >= 1);
    CHECK(conduct_problems({"base/text.cpp", "  go();  // " + std::string(word) + '\n'}).empty());
  }
  CHECK(conduct_problems({"base/text.hpp", "int x;\n"}).size() == 1);
  CHECK(conduct_problems({"base/text.hpp", "#pragma once\nint x;\n"}).empty());
  CHECK(conduct_problems({"base/text.cpp", "int x;\n"}).empty());

  const auto options = [](const std::string& code) {
    return option_problems({"base/text.cpp", code}).size();
  };
  CHECK(options("add(\"or --fill-gaps\");") == 1);
  CHECK(options("add(\"(wiltline \"\n    \"list)\"); go('\"', \"--a\");") == 2);
  CHECK(options("add(\"a\\\"--b\");") == 1);
  CHECK(options("format(\"or --{}\", option);") == 1);
  CHECK(options("--i; // as \"--growth\" says\n#include \"wiltline/base/text.hpp\"\n") == 0);
  CHECK(options("x = 1'000; --y; add(\"a - b -- 5\");") == 0);

  CHECK(strangers({"lib", "notes.txt", ".gitignore", "README.md"}) ==
        std::vector<std::string>{"notes.txt"});
}

}  // namespace
}  // namespace wiltline::test

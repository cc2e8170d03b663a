// What the READMEs show and state is what is compiled and run.
#include <doctest/doctest.h>

#include <algorithm>
#include <fstream>
#include <iterator>
#include <regex>
#include <sstream>
#include <string>

#include "wiltline/base/csv.hpp"
#include "wiltline/base/files.hpp"

namespace wiltline::test {
namespace {

std::string text_of(const std::string& path) {
  std::ifstream stream(std::string(WILTLINE_SOURCE) + "/" + path, std::ios::binary);
  return {std::istreambuf_iterator<char>(stream), {}};
}

/// From the first `#include` on, indented as the README indents a block.
std::string as_block(const std::string& program) {
  std::istringstream lines(program.substr(program.find("#include")));
  std::string block;
  for (std::string line; std::getline(lines, line);) {
    block += line.empty() ? "\n" : "    " + line + "\n";
  }
  return block;
}

}  // namespace

TEST_CASE("the README shows an example that is compiled, of at most ten lines") {
  const std::string program = text_of("tests/examples/season.cpp");
  const std::size_t main = program.find("int main");
  REQUIRE(main != std::string::npos);
  CHECK(std::count(program.begin() + static_cast<std::ptrdiff_t>(main), program.end(), '\n') <= 10);
  CHECK(text_of("README.md").find(as_block(program)) != std::string::npos);
}

TEST_CASE("the numbers that models/README.md says were fitted are those of the tables") {
  // `name` value, in the table of fitted numbers.
  static const std::regex named("`([a-z_]+)` ([0-9.]*[0-9])");
  const CsvTable parameters(read_file(std::string(WILTLINE_SOURCE) + "/models/parameters.csv"));
  const std::size_t name = parameters.column("parameter").value();
  const std::size_t value = parameters.column("value").value();
  std::istringstream lines(text_of("models/README.md"));
  int found = 0;
  for (std::string line; std::getline(lines, line);) {
    if (!line.starts_with("| ")) continue;
    for (std::sregex_iterator at(line.begin(), line.end(), named), end; at != end; ++at) {
      CAPTURE(at->str());
      std::string in_table = "no such parameter";
      for (std::size_t row = 0; row < parameters.rows(); ++row) {
        if (parameters.cell(row, name) == at->str(1)) in_table = parameters.cell(row, value);
      }
      CHECK(in_table == at->str(2));
      ++found;
    }
  }
  CHECK(found == 7);
}

}  // namespace wiltline::test

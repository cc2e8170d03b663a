// The README's program is the one that is compiled and run.
#include <doctest/doctest.h>

#include <algorithm>
#include <fstream>
#include <iterator>
#include <sstream>
#include <string>

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

}  // namespace wiltline::test

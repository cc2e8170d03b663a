// What is told to gardeners is tested under its own name.
#include <doctest/doctest.h>

#include <filesystem>
#include <fstream>
#include <iterator>
#include <set>
#include <string>

namespace wiltline::test {
namespace {

namespace fs = std::filesystem;

/// Plain data, without a function of its own.
const std::set<std::string> only_data{"questions/reading_errors"};

}  // namespace

TEST_CASE(
    "every header of the account and of the questions has a test file of its name that includes "
    "it") {
  const fs::path source = WILTLINE_SOURCE;
  int headers = 0;
  for (const std::string room : {"account", "questions"}) {
    for (const auto& entry : fs::directory_iterator(source / "lib/wiltline" / room)) {
      if (entry.path().extension() != ".hpp") continue;
      ++headers;
      const std::string name = room + '/' + entry.path().stem().string();
      if (only_data.contains(name)) continue;
      INFO(name);
      std::ifstream test(source / "tests" / (name + "_test.cpp"));
      const std::string text(std::istreambuf_iterator<char>(test), {});
      CHECK(text.find("#include \"wiltline/" + name + ".hpp\"") != std::string::npos);
    }
  }
  CHECK(headers > 15);
}

}  // namespace wiltline::test

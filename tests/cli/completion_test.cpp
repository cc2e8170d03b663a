// What shells offer, and the manual pages: from the same tables as the help.
#include <doctest/doctest.h>

#include <string>
#include <vector>

#include "cli/run_program.hpp"

namespace wiltline::test {
namespace {

std::string offered(std::vector<std::string> words) {
  words.insert(words.begin(), "--complete");
  const ScratchFolder folder;
  const Outcome outcome = run_program({.arguments = std::move(words), .folder = folder.path()});
  CHECK(outcome.exit_code == 0);
  CHECK(outcome.err.empty());
  return outcome.out;
}

std::string said(std::vector<std::string> words) {
  const ScratchFolder folder;
  return run_program({.arguments = std::move(words), .folder = folder.path()}).out;
}

}  // namespace

TEST_CASE("completion: commands, options, names of the tables, and files where nothing is known") {
  CHECK(offered({"sea"}) == "season\n");
  CHECK(offered({"season", "--led"}) == "--ledger\n");
  CHECK(offered({"compare", "--crop", "leaf l"}) == "leaf lettuce\n");
  CHECK(offered({"compare", "--pots", "fabric 19 l,half barrel 5"}) ==
        "fabric 19 l,half barrel 50 l\n");
  CHECK(offered({"season", "--format", ""}) == "table\ncsv\njson\n");
  CHECK(offered({"list", "mi"}) == "mixes\n");
  CHECK(offered({"list", "pa"}) == "parameters\n");
  CHECK(offered({"season", "--garden", ""}).empty());
  CHECK(offered({"season", "gard"}).empty());
  CHECK(offered({"nothing", "--x"}).empty());
  CHECK(offered({}).empty());
}

TEST_CASE("completion: a script for each shell, and none for another") {
  for (const char* shell : {"bash", "zsh", "fish"}) {
    CHECK(said({"--completion", shell}).find("--complete") != std::string::npos);
  }
  const ScratchFolder folder;
  const Outcome outcome =
      run_program({.arguments = {"--completion", "csh"}, .folder = folder.path()});
  CHECK(outcome.exit_code == 2);
  CHECK(outcome.err == "wiltline: --completion: found \"csh\"; expected bash, zsh or fish\n");
}

TEST_CASE("manual pages: options, examples, and no line taken for an order") {
  const std::string page = said({"season", "--manual"});
  CHECK(page.find(".TH WILTLINE\\-SEASON 1") == 0);
  CHECK(page.find(".B \\-\\-ledger") != std::string::npos);
  CHECK(page.find("wiltline season \\-\\-garden") != std::string::npos);
  CHECK(page.find("\n'") == std::string::npos);
  CHECK(said({"--manual"}).find("wiltline\\-absence") != std::string::npos);
}

}  // namespace wiltline::test

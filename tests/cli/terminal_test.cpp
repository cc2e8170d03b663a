// What is shown on a terminal alone: strips, marks under faults, no colour unless wanted.
#include "terminal.hpp"

#include <doctest/doctest.h>
#include <fcntl.h>
#include <sys/ioctl.h>
#include <unistd.h>

#include <cstdlib>
#include <string>
#include <thread>
#include <vector>

#include "cli/run_program.hpp"

namespace wiltline::test {
namespace {

const std::string sample = std::string(WILTLINE_SOURCE) + "/weather-samples/tolvenau.csv";
const std::string garden = std::string(WILTLINE_SOURCE) + "/models/gardens/courtyard.csv";

/// A terminal that a program writes to, and what it wrote.
class Terminal {
 public:
  explicit Terminal(unsigned short columns) : master_(::posix_openpt(O_RDWR | O_NOCTTY)) {
    REQUIRE(master_ >= 0);
    REQUIRE(::grantpt(master_) == 0);
    REQUIRE(::unlockpt(master_) == 0);
    path_ = ::ptsname(master_);
    held_ = ::open(path_.c_str(), O_RDWR | O_NOCTTY);  // so that reading does not end too early
    const winsize size{.ws_row = 50, .ws_col = columns, .ws_xpixel = 0, .ws_ypixel = 0};
    REQUIRE(::ioctl(held_, TIOCSWINSZ, &size) == 0);
    reader_ = std::thread([this] {
      char buffer[4096];
      for (ssize_t got = 0; (got = ::read(master_, buffer, sizeof buffer)) > 0;) {
        text_.append(buffer, static_cast<std::size_t>(got));
      }
    });
  }
  ~Terminal() { ::close(master_); }
  Terminal(const Terminal&) = delete;
  Terminal& operator=(const Terminal&) = delete;
  [[nodiscard]] const std::string& path() const { return path_; }
  /// Once nobody writes any more.
  [[nodiscard]] std::string text() {
    ::close(held_);
    reader_.join();
    return text_;
  }

 private:
  int master_;
  int held_ = -1;
  std::string path_, text_;
  std::thread reader_;
};

std::size_t widest_line(const std::string& text) {
  std::size_t widest = 0;
  std::size_t width = 0;
  for (const char c : text) {
    if (c == '\n') {
      widest = std::max(widest, width);
      width = 0;
    } else if (c != '\r' && (static_cast<unsigned char>(c) & 0xC0U) != 0x80U) {
      ++width;
    }
  }
  return widest;
}

std::string season_on(unsigned short columns,
                      const std::map<std::string, std::string>& environment) {
  const ScratchFolder place;
  Terminal terminal(columns);
  Call call{{"season", "--garden", garden, "--weather", sample, "--from", "2022-01-01", "--to",
             "2022-12-31"},
            place.path()};
  call.environment = environment;
  call.output_path = terminal.path();
  CHECK(run_program(call).exit_code == 0);
  return terminal.text();
}

LedgerLine day_of(std::vector<WaterLeft> left) {
  LedgerLine line;
  line.left = std::move(left);
  return line;
}

TEST_CASE("a strip is higher where more was left, and says in letters what went wrong") {
  const std::vector<LedgerLine> ledger{
      day_of({{.hour = 0, .litres = 8}, {.hour = 24, .litres = 7.9}}),
      day_of({{.hour = 0, .litres = 4.1}}), day_of({{.hour = 0, .litres = 0.5}}),
      day_of({{.hour = 0, .litres = 0.4, .beyond = Line::wilting}}),
      day_of({{.hour = 0, .litres = 0.0, .beyond = Line::dry}})};
  CHECK(cli::water_strip(ledger, 1, false) == "█▅▁wD");
  CHECK(cli::water_strip(ledger, 2, false) == "▅wD");
  // A colour comes on top of the letter, never in its place.
  CHECK(cli::water_strip(ledger, 1, true).find("D\x1b[0m") != std::string::npos);
}

TEST_CASE("a strip is on a terminal, within its width, coloured only where that is wanted") {
  const std::string plain = season_on(80, {{"TERM", "xterm"}, {"NO_COLOR", "1"}});
  CHECK(plain.find("Water left") != std::string::npos);
  CHECK(plain.find('\x1b') == std::string::npos);
  CHECK(widest_line(plain) <= 80);
  CHECK(season_on(80, {{"TERM", "dumb"}, {"NO_COLOR", ""}}).find('\x1b') == std::string::npos);
  CHECK(season_on(100, {{"TERM", "xterm"}, {"NO_COLOR", ""}}).find("\x1b[1;35m") !=
        std::string::npos);
}

TEST_CASE("a fault is shown in its line, on a terminal alone") {
  const ScratchFolder place;
  place.write("garden.csv",
              "name,crop,pot,mix,plants,planted,spot,routine\n"
              "Käthes Topf,tomatoe,nursery 37 l,potting mix,1,2022-06-10,patio,daily 07:00\n");
  Call call{{"season", "--garden", "garden.csv", "--weather", sample}, place.path()};
  const Outcome piped = run_program(call);
  CHECK(piped.exit_code == 3);
  CHECK(std::count(piped.err.begin(), piped.err.end(), '\n') == 1);
  Terminal terminal(80);
  call.error_path = terminal.path();
  CHECK(run_program(call).exit_code == 3);
  const std::string shown = terminal.text();
  CHECK(shown.find("    Käthes Topf,tomatoe,") != std::string::npos);
  CHECK(shown.find("\n                ^") != std::string::npos);  // under the t of tomatoe
  CHECK(widest_line(shown.substr(shown.find('\n') + 1)) <= 80);
}

}  // namespace
}  // namespace wiltline::test

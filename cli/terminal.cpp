#include "terminal.hpp"

#include <fmt/format.h>
#include <sys/ioctl.h>
#include <unistd.h>

#include <algorithm>
#include <cstdlib>
#include <filesystem>
#include <fstream>

#include "report.hpp"
#include "wiltline/base/text.hpp"
#include "words.hpp"

namespace wiltline::cli {
namespace {

constexpr std::string_view blocks[]{"▁", "▂", "▃", "▄", "▅", "▆", "▇", "█"};

/// Days `first` to before `end` as one character.
std::string strip_character(const std::vector<LedgerLine>& ledger, std::size_t first,
                            std::size_t end, double most_l, bool colour) {
  double least_l = most_l;
  bool wilted = false;
  bool dry = false;
  for (std::size_t day = first; day < end; ++day) {
    for (const WaterLeft& at : ledger[day].left) {
      least_l = std::min(least_l, at.litres);
      if (!ledger[day].settled) continue;  // young plants are counted apart
      wilted = wilted || at.beyond == Line::wilting;
      dry = dry || at.beyond == Line::dry;
    }
  }
  if (wilted || dry) {
    const std::string_view letter = dry ? "D" : "w";
    return colour ? fmt::format("\x1b[1;35m{}\x1b[0m", letter) : std::string(letter);
  }
  const double share = most_l > 0.0 ? least_l / most_l : 0.0;
  const auto height = static_cast<std::size_t>(share * static_cast<double>(std::size(blocks)));
  return std::string(blocks[std::min(height, std::size(blocks) - 1)]);
}

}  // namespace

std::size_t page_width() {
  constexpr std::size_t least = 60;
  constexpr std::size_t most = 100;
  winsize size{};
  if (::ioctl(STDOUT_FILENO, TIOCGWINSZ, &size) != 0 || size.ws_col == 0) return most;
  return std::clamp<std::size_t>(size.ws_col, least, most);
}

bool on_terminal() {
  return ::isatty(STDOUT_FILENO) == 1;
}

bool colours_wanted() {
  const char* const no_colour = std::getenv("NO_COLOR");
  const char* const kind = std::getenv("TERM");
  return on_terminal() && (no_colour == nullptr || *no_colour == '\0') && kind != nullptr &&
         std::string_view(kind) != "dumb";
}

std::string water_strip(const std::vector<LedgerLine>& ledger, std::size_t days_a_block,
                        bool colour) {
  double most_l = 0.0;
  for (const LedgerLine& line : ledger) {
    for (const WaterLeft& at : line.left) most_l = std::max(most_l, at.litres);
  }
  std::string out;
  for (std::size_t day = 0; day < ledger.size(); day += days_a_block) {
    out +=
        strip_character(ledger, day, std::min(day + days_a_block, ledger.size()), most_l, colour);
  }
  return out;
}

std::string water_strips(const std::vector<PotDays>& pots, std::size_t width, bool colour) {
  constexpr std::size_t widest_name = 26;
  // Years stand under one another: days are counted from 1 January of the year of planting.
  const auto first_day = [](const PotDays& pot) {
    return static_cast<std::size_t>(day_of_year(pot.ledger.front().date) - 1);
  };
  std::size_t name_width = 0;
  std::size_t first = 366;
  std::size_t last = 0;
  for (const PotDays& pot : pots) {
    name_width = std::max(name_width, width_of(shortened(pot.name, widest_name)));
    first = std::min(first, first_day(pot));
    last = std::max(last, first_day(pot) + pot.ledger.size());
  }
  if (pots.empty()) return {};
  const std::size_t room = width - name_width - 2;
  const std::size_t days_a_block = (last - first + room - 1) / room;
  const auto column = [&](std::size_t day) { return (day - first) / days_a_block; };
  std::string months(room, ' ');
  const int year = year_of(pots.front().ledger.front().date);
  constexpr std::string_view letters = "JFMAMJJASOND";
  for (unsigned month = 0; month < 24; ++month) {
    const Date begins = make_date(year + static_cast<int>(month / 12), 1 + month % 12, 1);
    const auto day = static_cast<std::size_t>((begins - make_date(year, 1, 1)).count());
    if (day >= first && day < last) months[column(day)] = letters[month % 12];
  }
  std::string out =
      '\n' + paragraph(fmt::format("Water left: each block is the lowest of {} beside the season's "
                                   "highest. Once settled in, w: wilted, D: went dry.",
                                   days_in_words(static_cast<int>(days_a_block))));
  out += fmt::format("{}  {}\n", std::string(name_width, ' '),
                     months.substr(0, months.find_last_not_of(' ') + 1));
  for (const PotDays& pot : pots) {
    const std::string shown = shortened(pot.name, widest_name);
    out += fmt::format("{}{}  {}{}\n", shown, std::string(name_width - width_of(shown), ' '),
                       std::string(column(first_day(pot)), ' '),
                       water_strip(pot.ledger, days_a_block, colour));
  }
  return out;
}

std::string line_with_mark(const Problem& problem, std::size_t width) {
  std::error_code error;
  if (problem.line == 0 || !std::filesystem::is_regular_file(problem.file, error)) return {};
  std::ifstream file(problem.file, std::ios::binary);
  std::string line;
  for (std::size_t i = 0; i < problem.line; ++i) {
    if (!std::getline(file, line)) return {};
  }
  // Compressed, or in another encoding than ours: no line of text to show.
  if (line.find('\0') != std::string::npos) return {};
  // Characters, each as the terminal may show it; the column counts bytes.
  std::string shown;
  std::size_t before = 0;  // characters left of the mark
  std::string_view rest = line;
  while (!rest.empty()) {
    const Character character = first_character(rest);
    if (!character.code) return {};
    const std::size_t at = line.size() - rest.size();
    if (problem.column > 0 && at < problem.column - 1) ++before;
    if (*character.code != '\r') shown += printable(rest.substr(0, character.bytes));
    rest.remove_prefix(character.bytes);
  }
  constexpr std::size_t margin = 4;
  const std::size_t room = width - margin;
  const std::size_t from = before + margin < room ? 0 : before + margin - room;
  const auto cut = [&](std::string_view text) {
    std::string out;
    for (std::size_t i = 0; !text.empty() && i < from + room; ++i) {
      const std::size_t bytes = first_character(text).bytes;
      if (i >= from) out += text.substr(0, bytes);
      text.remove_prefix(bytes);
    }
    return out;
  };
  std::string out = fmt::format("    {}", cut(shown));
  if (problem.column > 0) out += fmt::format("\n    {}^", std::string(before - from, ' '));
  return out;
}

}  // namespace wiltline::cli

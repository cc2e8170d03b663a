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

std::size_t days_a_character(std::size_t days, std::size_t width) {
  return std::max<std::size_t>(1, (days + width - 1) / width);
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

std::string water_strip(const std::vector<LedgerLine>& ledger, std::size_t width, bool colour) {
  double most_l = 0.0;
  for (const LedgerLine& line : ledger) {
    for (const WaterLeft& at : line.left) most_l = std::max(most_l, at.litres);
  }
  const std::size_t step = days_a_character(ledger.size(), width);
  std::string out;
  for (std::size_t day = 0; day < ledger.size(); day += step) {
    out += strip_character(ledger, day, std::min(day + step, ledger.size()), most_l, colour);
  }
  return out;
}

std::string water_strips(const std::vector<std::pair<std::string, std::vector<LedgerLine>>>& pots,
                         std::size_t width, bool colour) {
  constexpr std::size_t widest_name = 26;
  std::size_t name_width = 0;
  for (const auto& [name, ledger] : pots) {
    name_width = std::max(name_width, width_of(shortened(name, widest_name)));
  }
  const std::size_t room = width - name_width - 2;
  std::string out = '\n' + paragraph(
                               "Water left, from planting to the last day: each block is the "
                               "lowest of some days beside the season's highest; w: wilted, "
                               "D: went dry.");
  for (const auto& [name, ledger] : pots) {
    const std::string shown = shortened(name, widest_name);
    out += fmt::format("{}{}  {}\n", shown, std::string(name_width - width_of(shown), ' '),
                       water_strip(ledger, room, colour));
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

#include "wiltline/weather/dialect.hpp"

#include <fmt/format.h>

#include <array>
#include <string>

#include "wiltline/base/text.hpp"

namespace wiltline {
namespace {

constexpr std::array<char, 3> separators{',', ';', '\t'};
constexpr std::size_t lines_looked_at = 100;

std::string_view bare(std::string_view cell) {
  cell = trim(cell);
  if (cell.size() >= 2 && cell.front() == '"' && cell.back() == '"') {
    cell = trim(cell.substr(1, cell.size() - 2));
  }
  return cell;
}

}  // namespace

std::vector<std::string_view> split_line(std::string_view line, char separator) {
  std::vector<std::string_view> cells;
  std::size_t begin = 0;
  bool quoted = false;
  for (std::size_t i = 0; i <= line.size(); ++i) {
    if (i < line.size() && line[i] == '"') quoted = !quoted;
    if (i < line.size() && (quoted || line[i] != separator)) continue;
    cells.push_back(bare(line.substr(begin, i - begin)));
    begin = i + 1;
  }
  return cells;
}

std::string_view separator_word(char separator) {
  return separator == ',' ? "commas" : separator == ';' ? "semicolons" : "tabs";
}

std::optional<Dialect> find_dialect(std::string_view text, const KnownNames& known) {
  std::optional<Dialect> best;
  std::size_t most = 1;
  std::size_t looked_at = 0;
  bool take_first_row = false;
  each_line(text, [&](std::string_view line, std::size_t number) {
    if (take_first_row) {
      best->first_row = split_line(line, best->separator);
      take_first_row = false;
    }
    for (const char separator : separators) {
      if (line.find(separator) == std::string_view::npos) continue;
      std::vector<std::string_view> cells = split_line(line, separator);
      const std::size_t found = known(cells);
      if (found <= most) continue;
      most = found;
      best = Dialect{separator, number, std::move(cells), {}};
      take_first_row = true;
    }
    return ++looked_at < lines_looked_at;
  });
  return best;
}

std::optional<Problem> changed_separator(std::string_view text, const Dialect& dialect,
                                         std::string_view file) {
  std::optional<Problem> problem;
  each_line(text, [&](std::string_view line, std::size_t number) {
    if (number < dialect.header_line) return true;
    if (line.find(dialect.separator) != std::string_view::npos) return true;
    for (const char other : separators) {
      if (line.find(other) == std::string_view::npos) continue;
      problem = Problem{
          std::string(file), number, 1,
          fmt::format("a line separated by {}", separator_word(other)),
          fmt::format("{}, as on line {}", separator_word(dialect.separator), dialect.header_line)};
      return false;
    }
    return true;
  });
  return problem;
}

}  // namespace wiltline

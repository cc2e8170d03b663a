#include "wiltline/base/csv.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <bit>
#include <cmath>
#include <limits>
#include <utility>

#define CSV_IO_NO_THREAD  // its reader thread is not used: the bytes are here already
#include <libfccp/csv.h>

#include "wiltline/base/encoding.hpp"
#include "wiltline/base/numbers.hpp"
#include "wiltline/base/short_decimal.hpp"
#include "wiltline/base/text.hpp"

namespace wiltline {
namespace {

// The cell rules come from fast-cpp-csv-parser: where a cell ends, what is trimmed, how quotes open
// and close. Its line reader and number parser are not used (it turns an empty cell, `-` and `.`
// into 0).
template <char separator>
using QuotePolicy = io::double_quote_escape<separator, '"'>;
template <char separator>
using PlainPolicy = io::no_quote_escape<separator>;  // the same cells where a line holds no quote
using TrimPolicy = io::trim_chars<' ', '\t'>;

constexpr std::string_view byte_order_mark = "\xEF\xBB\xBF";

/// Where the cell that begins here ends.
template <char separator>
const char* cell_end(const char* begin, bool quotes) {
  return quotes ? QuotePolicy<separator>::find_next_column_end(begin)
                : PlainPolicy<separator>::find_next_column_end(begin);
}

const char* cell_end(const char* begin, bool quotes, char separator) {
  if (separator == ',') return cell_end<','>(begin, quotes);
  return separator == ';' ? cell_end<';'>(begin, quotes) : cell_end<'\t'>(begin, quotes);
}

/// A comment's text without the separators and quotes that a spreadsheet puts around it.
std::string_view bare_comment(std::string_view text) {
  text = text.substr(0, text.find_last_not_of(",;\t \"") + 1);
  return trim(text.substr(text.find('#') + 1));
}

enum class QuoteFault { none, text_after, inside };

/// What is wrong with the quotes of a trimmed cell. The parser joins whatever stands between any
/// two quotes, commas too, so this must be looked at here.
QuoteFault quote_fault(std::string_view cell) {
  if (!cell.starts_with('"')) {
    return cell.find('"') == std::string_view::npos ? QuoteFault::none : QuoteFault::inside;
  }
  std::size_t close = 1;
  while (close < cell.size() &&
         (cell[close] != '"' || (close + 1 < cell.size() && cell[close + 1] == '"'))) {
    close += cell[close] == '"' ? 2 : 1;
  }
  return close + 1 == cell.size() ? QuoteFault::none : QuoteFault::text_after;
}

/// Where the next of a given byte stands, for questions about one line after the other: the bytes
/// are searched once.
class NextByte {
 public:
  NextByte(const std::string& bytes, char wanted)
      : bytes_(&bytes), wanted_(wanted), at_(bytes.find(wanted)) {}

  /// The first one at `begin` or later. `begin` never falls.
  [[nodiscard]] std::size_t from(std::size_t begin) {
    if (at_ < begin) at_ = bytes_->find(wanted_, begin);
    return at_;
  }

 private:
  const std::string* bytes_;
  char wanted_;
  std::size_t at_;  // npos: none is left
};

/// How many lines end within a text.
std::size_t line_feeds(std::string_view text) {
  constexpr std::size_t most_counted_in_a_byte = 255;
  std::size_t found = 0;
  while (!text.empty()) {
    const std::string_view part = text.substr(0, most_counted_in_a_byte);
    std::uint8_t here = 0;
    for (const char c : part) here = static_cast<std::uint8_t>(here + (c == '\n' ? 1 : 0));
    found += here;
    text.remove_prefix(part.size());
  }
  return found;
}

/// A number with a comma for its point.
bool parse_decimal_comma(std::string_view text, double& value) {
  const std::size_t comma = text.find(',');
  if (comma == std::string_view::npos || text.find('.') != std::string_view::npos) return false;
  std::string with_point(text);
  with_point[comma] = '.';
  return parse_number(with_point, value);
}

/// The number of a cell, NaN if it holds none.
double any_number(std::string_view text, bool with_decimal_comma) {
  double value = std::numeric_limits<double>::quiet_NaN();
  if (!parse_number(text, value) && with_decimal_comma) parse_decimal_comma(text, value);
  return value;
}

}  // namespace

struct CsvTable::Marks {
  explicit Marks(const std::string& bytes)
      : nul(bytes, '\0'), carriage_return(bytes, '\r'), quote(bytes, '"') {}

  /// True if one of them stands from `begin` to before `end`. `begin` never falls.
  [[nodiscard]] bool any_within(std::size_t begin, std::size_t end) {
    return nul.from(begin) < end || carriage_return.from(begin) < end || quote.from(begin) < end;
  }

  NextByte nul;
  NextByte carriage_return;
  NextByte quote;
};

/// Where cells of a file without quotes may end: its separators and line feeds, in order. 64 bytes
/// are looked at together, so that neither short cells nor long ones keep the processor guessing.
class CsvTable::CellEnds {
 public:
  CellEnds(std::string_view bytes, char separator) : bytes_(bytes), separator_(separator) {}

  /// From the row at `begin` on, which never falls.
  void go_to(std::size_t begin) {
    const std::size_t block = begin / block_size * block_size;
    if (block != block_) look_at(block);
    left_ &= ~std::uint64_t{0} << (begin - block);
  }
  /// The next one, npos after the last.
  [[nodiscard]] std::size_t next() {
    while (left_ == 0) {
      if (bytes_.size() - block_ <= block_size) return std::string::npos;
      look_at(block_ + block_size);
    }
    const auto at = static_cast<std::size_t>(std::countr_zero(left_));
    left_ &= left_ - 1;
    return block_ + at;
  }

 private:
  static constexpr std::size_t block_size = 64;

  void look_at(std::size_t block) {
    block_ = block;
    const char* from = bytes_.data() + block;
    std::array<char, block_size> last;
    if (bytes_.size() - block < block_size) {
      last.fill('\0');
      std::copy(from, bytes_.data() + bytes_.size(), last.begin());
      from = last.data();
    }
    std::array<char, block_size> ends;
    for (std::size_t i = 0; i < block_size; ++i) {
      ends[i] = static_cast<char>((from[i] == separator_ ? 1 : 0) | (from[i] == '\n' ? 1 : 0));
    }
    // A product gathers the lowest bits of eight bytes in its highest byte.
    constexpr std::uint64_t gathering = 0x0102040810204080;
    left_ = 0;
    for (std::size_t i = 0; i < block_size; i += 8) {
      left_ |= (eight_bytes(ends.data() + i) * gathering >> 56) << i;
    }
  }

  std::string_view bytes_;
  char separator_;
  std::size_t block_ = std::string::npos;
  std::uint64_t left_ = 0;  // a bit for each byte of the block
};

std::string csv_quoted(std::string_view text) {
  std::string quoted = "\"";
  for (const char c : text) {
    if (c == '"') quoted += '"';
    quoted += c;
  }
  return quoted + '"';
}

std::string csv_text(std::string_view text, char separator) {
  const bool plain = text.find_first_of("\"\n\r") == std::string_view::npos &&
                     text.find(separator) == std::string_view::npos && !text.starts_with('#') &&
                     trim(text) == text;
  return plain ? std::string(text) : csv_quoted(text);
}

CsvTable::CsvTable(FileBytes file, CsvForm form)
    : form_(std::move(form)), file_(std::make_unique<FileBytes>(std::move(file))) {
  std::string& bytes = file_->bytes;
  ProblemList problems;
  if (is_utf16(bytes)) {
    problems.add({file_->name, 1, 1, "UTF-16 text", "UTF-8 text"});
    problems.throw_if_any();
  }
  header_ = form_.header;
  header_columns_.assign(header_.size(), 1);
  Marks marks(bytes);
  Line line{1, bytes.starts_with(byte_order_mark) ? byte_order_mark.size() : 0};
  while (!problems.full()) {
    if (!header_.empty()) line = take_plain_rows(line, marks);
    if (line.begin >= bytes.size()) break;
    const std::size_t newline = std::min(bytes.find('\n', line.begin), bytes.size());
    if (!take_line(line, newline, marks, problems)) break;
    line = {line.number + 1, newline + 1};
  }
  if (problems.empty() && header_.empty()) {
    problems.add(
        {file_->name, 0, 0, "no header row", "a header row and at least one row below it"});
  } else if (problems.empty() && row_lines_.empty() && !form_.may_be_empty) {
    problems.add({file_->name, header_line_.number, 0, "a header row only",
                  "at least one row below the header"});
  }
  problems.throw_if_any();
}

/// Takes rows for as long as they have no quotes and as many cells as the header, and gives the
/// line that does not: take_line() says what it is.
CsvTable::Line CsvTable::take_plain_rows(Line line, Marks& marks) {
  const std::string_view bytes = file_->bytes;
  const std::size_t columns = header_.size();
  std::array<Cell, most_columns> cells;
  if (columns > cells.size()) return line;
  CellEnds ends(bytes, form_.separator);
  for (; line.begin < bytes.size(); ++line.number) {
    const auto first = static_cast<unsigned char>(bytes[line.begin]);
    if (first <= ' ' || first == '#' || first == ',' || first == ';') return line;  // perhaps blank
    ends.go_to(line.begin);
    std::size_t begin = line.begin;
    const auto cell_to = [&](std::size_t end) {
      const auto before = static_cast<std::uint32_t>(begin - line.begin);
      const auto size = static_cast<std::uint32_t>(end - begin);
      // Seldom: what is to be trimmed is no higher. The byte before an empty cell ends another.
      const bool plain = bytes[begin] > ' ' && bytes[end - 1] > ' ';
      begin = end + 1;
      return plain ? Cell{before, size} : trimmed(bytes.data() + line.begin, {before, size});
    };
    std::size_t end = 0;
    for (std::size_t i = 0; i + 1 < columns; ++i) {
      end = ends.next();
      if (end == std::string::npos || bytes[end] == '\n') return line;
      cells[i] = cell_to(end);
    }
    end = ends.next();
    if (end == std::string::npos || bytes[end] != '\n') return line;
    const std::size_t text_end = bytes[end - 1] == '\r' ? end - 1 : end;  // CRLF
    cells[columns - 1] = cell_to(text_end);
    if (end - line.begin > longest_line_bytes || marks.any_within(line.begin, text_end)) {
      return line;
    }
    cells_.insert(cells_.end(), cells.begin(),
                  cells.begin() + static_cast<std::ptrdiff_t>(columns));
    row_lines_.push_back(line);
    line.begin = end + 1;
  }
  return line;
}

/// A cell of a line without the blanks around it; what TrimPolicy does, which also writes.
CsvTable::Cell CsvTable::trimmed(const char* line, Cell cell) {
  const auto is_blank = [&](std::uint32_t at) { return line[at] == ' ' || line[at] == '\t'; };
  while (cell.size > 0 && is_blank(cell.begin)) {
    ++cell.begin;
    --cell.size;
  }
  while (cell.size > 0 && is_blank(cell.begin + cell.size - 1)) --cell.size;
  return cell;
}

/// Checks one line and files it as comment, header or row. False if reading cannot go on.
bool CsvTable::take_line(Line line, std::size_t end, Marks& marks, ProblemList& problems) {
  std::string& bytes = file_->bytes;
  if (end - line.begin > longest_line_bytes) {
    problems.add({file_->name, line.number, 0, "a line of more than 1 MiB", "shorter lines"});
    return false;
  }
  if (end > line.begin && bytes[end - 1] == '\r') --end;  // CRLF
  const std::string_view text(bytes.data() + line.begin, end - line.begin);
  const std::size_t bad_byte =
      std::min(marks.nul.from(line.begin), marks.carriage_return.from(line.begin));
  if (bad_byte < end) {
    const std::size_t bad = bad_byte - line.begin;
    problems.add({file_->name, line.number, bad + 1,
                  text[bad] == '\0' ? "a NUL byte" : "a carriage return inside a line",
                  text[bad] == '\0' ? "UTF-8 text" : "lines that end in LF or CRLF"});
    return false;
  }
  const std::string_view content = trim(text);
  const bool is_header = header_.empty();
  // A spreadsheet fills empty rows up with separators; where commas separate, blank cells may be
  // meant.
  const bool filled_up = is_header || semicolons_;
  if (content.empty() || (filled_up && content.find_first_not_of(",;") == std::string_view::npos)) {
    return true;
  }
  if (content.front() == '#' || (is_header && content.starts_with("\"#"))) {
    comments_.push_back({line.number, bare_comment(content)});
    return true;
  }
  if (header_.empty() && line.number < form_.header_line) return true;
  if (is_header && !form_.foreign) {
    semicolons_ =
        text.find(';') != std::string_view::npos && text.find(',') == std::string_view::npos;
    if (semicolons_) form_.separator = ';';
  }

  bytes[end] = '\0';  // the line feed (or the string's own end): the cell rules want a C string
  static_assert(longest_line_bytes < std::numeric_limits<int>::max());
  std::vector<Cell> header_cells;
  std::vector<Cell>& cells = is_header ? header_cells : cells_;
  const std::size_t cells_before = cells.size();
  const bool quotes = marks.quote.from(line.begin) < end;
  char* const line_begin = bytes.data() + line.begin;
  const auto byte_column = [&](const char* at) {
    return static_cast<std::size_t>(at - line_begin) + 1;
  };
  char* rest = line_begin;
  while (rest != nullptr) {
    char* begin = rest;
    char* stop = nullptr;
    try {
      stop = begin + (cell_end(begin, quotes, form_.separator) - begin);
    } catch (const io::error::escaped_string_not_closed&) {
      problems.add({file_->name, line.number, byte_column(begin),
                    "a quote that is not closed on its line", "a closing quote"});
      cells.resize(cells_before);
      return !is_header;  // without its header no row can be judged
    }
    rest = *stop == '\0' ? nullptr : stop + 1;
    *stop = '\0';
    TrimPolicy::trim(begin, stop);  // a tab that separates ends the cell before
    if (quotes) {
      if (const QuoteFault fault = quote_fault({begin, stop}); fault != QuoteFault::none) {
        const bool after = fault == QuoteFault::text_after;
        problems.add(
            {file_->name, line.number, byte_column(begin),
             after ? "text after a closing quote" : "a quote inside a cell",
             after ? fmt::format("a {} after a closing quote", semicolons_ ? "semicolon" : "comma")
                   : "quotes around the whole cell"});
      }
      QuotePolicy<','>::unescape(begin, stop);
    }
    cells.push_back(
        {static_cast<std::uint32_t>(begin - line_begin), static_cast<std::uint32_t>(stop - begin)});
    if (cells.size() - cells_before > most_columns) {
      problems.add(
          {file_->name, line.number, 0, fmt::format("more than {} cells", most_columns), "fewer"});
      return false;
    }
  }

  if (is_header) {
    take_header(line, header_cells, problems);
    return problems.empty();
  }
  std::size_t found = cells_.size() - cells_before;
  while (form_.foreign && found > header_.size() && cells_.back().size == 0) {
    cells_.pop_back();
    --found;
  }
  if (found != header_.size()) {
    const bool too_long = found > header_.size();
    const std::size_t column =
        too_long ? cells_[cells_before + header_.size()].begin + 1 : text.size() + 1;
    problems.add({file_->name, line.number, column,
                  fmt::format("{} cell{}", found, found == 1 ? "" : "s"),
                  fmt::format("{}, as in the header", header_.size())});
    cells_.resize(cells_before);
    return true;
  }
  row_lines_.push_back(line);
  return true;
}

void CsvTable::take_header(Line line, const std::vector<Cell>& cells, ProblemList& problems) {
  header_line_ = line;
  const auto name = [&](const Cell& cell) {
    return std::string_view(file_->bytes).substr(line.begin + cell.begin, cell.size);
  };
  if (cells.size() == 1 && name(cells.front()).find('\t') != std::string_view::npos) {
    problems.add({file_->name, line.number, 1, "a header separated by tabs",
                  "commas or semicolons between the columns"});
  }
  for (const Cell& place : cells) {
    const std::string_view cell = name(place);
    const std::size_t at = place.begin + 1;
    if (form_.foreign) {
      // Whoever reads it looks at the columns that it knows.
    } else if (cell.empty()) {
      problems.add({file_->name, line.number, at, "a column without a name", "a name"});
    } else if (std::find(header_.begin(), header_.end(), cell) != header_.end()) {
      problems.add({file_->name, line.number, at,
                    fmt::format("column {} a second time", in_quotes(cell)), "every column once"});
    }
    header_.emplace_back(cell);
    header_columns_.push_back(at);
  }
  reserve_rows(line.begin);
}

/// Room for all rows at once. No row is shorter than its line feed, no cell than its comma.
void CsvTable::reserve_rows(std::size_t from) {
  const std::string_view rest = std::string_view(file_->bytes).substr(from);
  const std::size_t lines = line_feeds(rest) + 1;
  row_lines_.reserve(lines);
  cells_.reserve(std::min(lines * header_.size(), rest.size() + 1));
}

std::optional<std::size_t> CsvTable::column(std::string_view name) const {
  const auto found = std::find(header_.begin(), header_.end(), name);
  if (found == header_.end()) return std::nullopt;
  return static_cast<std::size_t>(found - header_.begin());
}

Problem CsvTable::problem_at(std::size_t row, std::size_t column, std::string found,
                             std::string expected, Advice advice) const {
  return {file_->name,      row_lines_[row].number, cell_at(row, column).begin + 1,
          std::move(found), std::move(expected),    std::move(advice)};
}

Problem CsvTable::problem_in_header(std::size_t column, std::string found, std::string expected,
                                    Advice advice) const {
  return {file_->name,      header_line_.number, header_columns_[column],
          std::move(found), std::move(expected), std::move(advice)};
}

void CsvTable::refuse_unknown_columns(std::span<const std::string> known,
                                      ProblemList& problems) const {
  for (std::size_t i = 0; i < header_.size(); ++i) {
    if (header_[i] == "notes") continue;
    if (std::find(known.begin(), known.end(), header_[i]) != known.end()) continue;
    const auto nearest = nearest_name(header_[i], known);
    problems.add(problem_in_header(
        i, fmt::format("unknown column {}", in_quotes(header_[i])),
        nearest ? fmt::format("a known column; nearest: {}", *nearest) : "a known column"));
  }
}

Bounds Bounds::said() const {
  if (!allowed.empty()) return *this;
  const bool open = high == std::numeric_limits<double>::infinity();
  return {low, high, open ? fmt::format("at least {}", low) : fmt::format("{} to {}", low, high)};
}

NumberColumn::NumberColumn(const CsvTable& table, std::string_view stem,
                           std::span<const UnitOption> units, Need need, ProblemList& problems)
    : table_(&table), need_(need) {
  for (const UnitOption& unit : units) {
    const std::string name = fmt::format("{}{}", stem, unit.suffix);
    const auto column = table.column(name);
    if (!column) continue;
    if (column_) {
      problems.add(table.problem_in_header(*column, fmt::format("both {} and {}", name_, name),
                                           "one of them"));
      return;
    }
    column_ = column;
    name_ = name;
    unit_ = unit;
  }
  if (!column_ && need_ != Need::nothing) {
    std::vector<std::string> names;
    add_names(names, stem, units);
    problems.add(table.problem_in_header(0, fmt::format("no column {}", fmt::join(names, " or ")),
                                         "that column"));
  }
}

std::optional<double> NumberColumn::read(std::size_t row, ProblemList& problems,
                                         const Bounds& bounds) const {
  if (!column_) return std::nullopt;
  const std::string_view text = table_->cell(row, *column_);
  if (text.empty()) return std::nullopt;
  const double number = (any_number(text, table_->semicolons()) + unit_.offset) * unit_.factor;
  if (number >= bounds.low && number <= bounds.high) return number;
  refuse(row, problems, bounds);
  return std::nullopt;
}

void NumberColumn::refuse(std::size_t row, ProblemList& problems, const Bounds& bounds) const {
  const std::string_view text = table_->cell(row, *column_);
  if (std::isnan(any_number(text, table_->semicolons()))) {
    problems.add(
        table_->problem_at(row, *column_, fmt::format("{} in {}", in_quotes(text), name_),
                           need_ == Need::value ? "a number" : "a number, or nothing if unknown"));
    return;
  }
  std::string expected = bounds.allowed;
  const bool converted = unit_.factor != 1.0 || unit_.offset != 0.0;
  if (converted) {
    expected += fmt::format(" ({:.4g} to {:.4g} as {})", bounds.low / unit_.factor - unit_.offset,
                            bounds.high / unit_.factor - unit_.offset, name_);
  }
  problems.add(
      table_->problem_at(row, *column_, fmt::format("{} in {}", text, name_), std::move(expected)));
}

void NumberColumns::add(const NumberColumn& column, Bounds bounds) {
  wanted_.push_back(
      {column.column(), column.unit().offset, column.unit().factor, bounds.low, bounds.high});
  refusing_.emplace_back(column, std::move(bounds));
  numbers_.push_back(0.0);
}

std::span<const double> NumberColumns::read(std::size_t row, ProblemList& problems) {
  const CsvTable::Cell* const cells = &table_->cell_at(row, 0);
  const std::string& bytes = table_->file_->bytes;
  const char* const line = bytes.data() + table_->row_lines_[row].begin;
  const auto readable = static_cast<std::size_t>(bytes.data() + bytes.size() - line);
  double* number = numbers_.data();
  for (const Wanted& wanted : wanted_) {
    const CsvTable::Cell cell = cells[wanted.column];
    double value = std::numeric_limits<double>::quiet_NaN();
    if (cell.size - 1U < 8 && cell.begin + 8 <= readable) {
      value = (short_decimal(line + cell.begin, cell.size) + wanted.offset) * wanted.factor;
    }
    if (!(value >= wanted.low && value <= wanted.high)) value = any(wanted, row, problems);
    *number++ = value;
  }
  return numbers_;
}

/// The number of any cell, refused or not.
double NumberColumns::any(const Wanted& wanted, std::size_t row, ProblemList& problems) const {
  const auto& [column, bounds] = refusing_[static_cast<std::size_t>(&wanted - wanted_.data())];
  return column.read(row, problems, bounds).value_or(std::numeric_limits<double>::quiet_NaN());
}

void add_names(std::vector<std::string>& names, std::string_view stem,
               std::span<const UnitOption> units) {
  for (const UnitOption& unit : units) names.push_back(fmt::format("{}{}", stem, unit.suffix));
}

}  // namespace wiltline

#include "report.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <nlohmann/json.hpp>
#include <numeric>
#include <stdexcept>

#include "terminal.hpp"
#include "version.hpp"
#include "wiltline/base/csv.hpp"
#include "wiltline/base/text.hpp"
#include "words.hpp"

namespace wiltline::cli {
namespace {

using Json = nlohmann::ordered_json;

constexpr int schema_version = 1;

/// Minus zero prints as zero.
std::string fixed(double value, int digits) {
  std::string text = fmt::format("{:.{}f}", value, digits);
  const bool nothing = text.find_first_not_of("-0.") == std::string::npos;
  return nothing && text.front() == '-' ? text.substr(1) : text;
}

/// A text cell of CSV: quoted where it must be; a leading = + - @, tab or line break that a
/// spreadsheet would take for a formula, or skip to find one, is neutralised with an apostrophe
/// inside quotes (a lone `-` is none).
std::string cell_for_spreadsheets(const std::string& text) {
  constexpr std::string_view begins_a_formula = "=+-@\t\r\n";
  const bool formula =
      !text.empty() && text != "-" && begins_a_formula.find(text.front()) != std::string_view::npos;
  return formula ? csv_quoted("'" + text) : csv_text(text);
}

std::string csv_cell(const TableCell& cell, const ColumnHead& column) {
  if (const auto* number = std::get_if<double>(&cell)) return fixed(*number, column.digits);
  if (const auto* text = std::get_if<std::string>(&cell)) return cell_for_spreadsheets(*text);
  return text_of(cell);
}

Json json_cell(const TableCell& cell) {
  if (const auto* number = std::get_if<double>(&cell)) return *number;
  if (const auto* count = std::get_if<long>(&cell)) return *count;
  if (std::holds_alternative<std::monostate>(cell)) return nullptr;
  return text_of(cell);
}

/// A column's name as words, one below the other, without the unit at its end if that is shown.
std::string heading_of(const ColumnHead& column, std::string_view unit) {
  static constexpr std::pair<std::string_view, std::string_view> other_words[]{
      {"sureness", "how sure"},
      {"et0_mm", "ET0"},
      {"ks", "Ks"},
      {"demand_l", "could transpire"},
      {"frost_kept_off_c", "frost kept off, °C"}};
  constexpr std::size_t width = 12;
  std::string name(column.name);
  for (const auto& [known, words] : other_words) {
    if (name == known) name = words;
  }
  for (const std::string_view suffix :
       {"_mm", "_l", "_cm", "_m2", "_m_s", "_m3_m3", "_mj_m2", "_kpa", "_c", "_h", "_m"}) {
    if (!unit.empty() && name.ends_with(suffix)) {
      name.resize(name.size() - suffix.size());
      break;
    }
  }
  std::ranges::replace(name, '_', ' ');
  if (const std::size_t at = name.find("kpa"); at != std::string::npos) name.replace(at, 3, "kPa");
  return wrapped(name, width, 0) + (unit.empty() ? "" : fmt::format(",\n{}", unit));
}

/// JSON text in which control characters stand as \u escapes, so that no terminal acts on them;
/// those the JSON writer has escaped already, and its own line breaks, stay.
std::string with_controls_escaped(std::string_view json) {
  std::string out;
  out.reserve(json.size());
  while (!json.empty()) {
    const Character character = first_character(json);
    if (character.code && *character.code >= ' ' && is_control(*character.code)) {
      out += fmt::format("\\u{:04x}", static_cast<unsigned>(*character.code));
    } else {
      out += json.substr(0, character.bytes);
    }
    json.remove_prefix(character.bytes);
  }
  return out;
}

std::size_t widest_line(const std::vector<std::string>& lines) {
  std::size_t width = 0;
  for (const std::string& line : lines) width = std::max(width, width_of(line));
  return width;
}

/// A row with a cell too few or too many is our fault, not the reader's.
void check_width(const std::vector<TableCell>& row, std::span<const ColumnHead> columns) {
  if (row.size() != columns.size()) {
    throw std::logic_error(
        fmt::format("a row of {} cells under {} columns", row.size(), columns.size()));
  }
}

}  // namespace

std::string csv_header(std::span<const ColumnHead> columns) {
  std::string out;
  for (const ColumnHead& column : columns) {
    if (!out.empty()) out += ',';
    out += column.name;
  }
  return out + '\n';
}

std::string csv_row(const std::vector<TableCell>& row, std::span<const ColumnHead> columns) {
  check_width(row, columns);
  std::string out;
  for (std::size_t i = 0; i < row.size(); ++i) {
    if (i > 0) out += ',';
    out += csv_cell(row[i], columns[i]);
  }
  return out + '\n';
}

std::string to_csv(const Report& report) {
  std::string out = csv_header(report.columns);
  for (const auto& row : report.rows) out += csv_row(row, report.columns);
  return out;
}

std::string to_json(const Report& report) {
  for (const auto& row : report.rows) check_width(row, report.columns);
  Json root;
  root["schema"] = schema_version;
  root["program"] = "wiltline";
  root["version"] = version;
  root["command"] = report.command;
  root["inputs"] = Json::object();
  for (const auto& [name, value] : report.inputs) {
    Json& input = root["inputs"][name];
    if (input.is_null()) {
      input = value;
    } else if (input.is_string()) {
      input = Json::array({input, value});  // an option given several times
    } else {
      input.push_back(value);
    }
  }
  root["notes"] = report.notes;
  if (!report.caution.empty()) root["notes"].push_back(report.caution);
  for (const auto& [name, fields] : report.extra) {
    root[name] = Json::object();
    for (const auto& [field, number] : fields) root[name][field] = number;
  }
  root["rows"] = Json::array();
  for (const auto& row : report.rows) {
    Json object = Json::object();
    for (std::size_t i = 0; i < row.size(); ++i) {
      object[std::string(report.columns[i].name)] = json_cell(row[i]);
    }
    root["rows"].push_back(std::move(object));
  }
  return with_controls_escaped(root.dump(2, ' ', false, Json::error_handler_t::replace)) + '\n';
}

std::string shown_cell(const TableCell& cell, const ColumnHead& column, bool us) {
  if (const auto* number = std::get_if<double>(&cell)) {
    const int digits =
        us && column.quantity == Quantity::water_depth_mm ? column.digits + 1 : column.digits;
    return fixed(in_units(column.quantity, *number, us), digits);
  }
  return printable(text_of(cell));
}

std::string to_plain_table(const Report& report, bool us) {
  const auto cell_text = [&](const std::vector<TableCell>& row, std::size_t i) {
    return shown_cell(row[i], report.columns[i], us);
  };
  std::vector<std::string> names;
  std::vector<std::size_t> widths;
  for (std::size_t i = 0; i < report.columns.size(); ++i) {
    names.push_back(heading_of(report.columns[i], unit_text(report.columns[i].quantity, us)));
    std::size_t width = widest_line(lines_of(names[i]));
    for (const auto& row : report.rows) {
      width = std::max(width, width_of(shortened(cell_text(row, i), TextTable::widest)));
    }
    widths.push_back(width);
  }
  const std::size_t keys = std::min(report.key_columns, report.columns.size());
  const auto add_width = [&](std::size_t sum, std::size_t i) { return sum + widths[i] + 2; };
  std::size_t key_width = 0;
  for (std::size_t i = 0; i < keys; ++i) key_width = add_width(key_width, i);
  std::string out;
  std::size_t next = keys;
  do {
    std::vector<std::size_t> shown(keys);
    std::iota(shown.begin(), shown.end(), std::size_t{0});
    std::size_t width = key_width;
    while (next < widths.size() &&
           (shown.size() == keys || add_width(width, next) <= page_width() + 2)) {
      width = add_width(width, next);
      shown.push_back(next++);
    }
    std::vector<TextTable::Heading> headings;
    for (const std::size_t i : shown) {
      const bool left = report.columns[i].quantity == Quantity::text;
      headings.push_back({names[i], left ? Side::left : Side::right});
    }
    TextTable table(std::move(headings));
    for (const auto& row : report.rows) {
      std::vector<std::string> cells;
      for (const std::size_t i : shown) cells.push_back(cell_text(row, i));
      table.add(std::move(cells));
    }
    out += (out.empty() ? "" : "\n") + table.text();
  } while (next < widths.size());
  return out;
}

void TextTable::add(std::vector<std::string> cells) {
  for (std::string& cell : cells) cell = shortened(cell, widest);
  rows_.push_back(std::move(cells));
}

std::string TextTable::text() const {
  std::vector<std::vector<std::string>> heading_lines;
  std::size_t height = 1;
  std::vector<std::size_t> widths;
  for (const Heading& heading : headings_) {
    heading_lines.push_back(lines_of(heading.text));
    height = std::max(height, heading_lines.back().size());
    widths.push_back(widest_line(heading_lines.back()));
  }
  std::vector<std::size_t> least = widths;  // a heading and a word stay whole
  for (const auto& row : rows_) {
    for (std::size_t i = 0; i < row.size(); ++i) {
      widths[i] = std::max(widths[i], width_of(row[i]));
      for (const std::string_view word : words(row[i])) {
        least[i] = std::max(least[i], width_of(word));
      }
    }
  }
  std::size_t total = std::accumulate(widths.begin(), widths.end(), 2 * (widths.size() - 1));
  while (total > page_width()) {
    std::size_t widest_column = widths.size();
    for (std::size_t i = 0; i < widths.size(); ++i) {
      if (headings_[i].side != Side::left || widths[i] <= least[i]) continue;
      if (widest_column == widths.size() || widths[i] > widths[widest_column]) widest_column = i;
    }
    if (widest_column == widths.size()) break;
    --widths[widest_column];
    --total;
  }
  const std::string gap(total > page_width() ? 1 : 2, ' ');

  std::string out;
  const auto put_row = [&](const auto& cell_text) {
    std::string line;
    for (std::size_t i = 0; i < widths.size(); ++i) {
      const std::string cell = cell_text(i);
      const std::string padding(widths[i] - width_of(cell), ' ');
      if (i > 0) line += gap;
      line += headings_[i].side == Side::left ? cell + padding : padding + cell;
    }
    line.erase(line.find_last_not_of(' ') + 1);
    out += line + '\n';
  };
  const auto heading_line = [&](std::size_t i, std::size_t line) {
    const std::size_t above = height - heading_lines[i].size();  // headings stand on the rule
    return line < above ? std::string{} : heading_lines[i][line - above];
  };
  for (std::size_t line = 0; line < height; ++line) {
    put_row([&](std::size_t i) { return heading_line(i, line); });
  }
  put_row([&](std::size_t i) { return std::string(widths[i], '-'); });
  for (const auto& row : rows_) {
    std::vector<std::vector<std::string>> lines;
    std::size_t lines_high = 1;
    for (std::size_t i = 0; i < row.size(); ++i) {
      const bool fits = width_of(row[i]) <= widths[i];
      lines.push_back(fits ? std::vector{row[i]} : lines_of(wrapped(row[i], widths[i], 0)));
      lines_high = std::max(lines_high, lines.back().size());
    }
    for (std::size_t line = 0; line < lines_high; ++line) {
      put_row(
          [&](std::size_t i) { return line < lines[i].size() ? lines[i][line] : std::string{}; });
    }
  }
  return out;
}

std::string printable(std::string_view text) {
  return without_control_characters(text);
}

std::string wrapped(std::string_view text, std::size_t width, std::size_t indent,
                    std::size_t from) {
  std::string out;
  std::size_t column = from;
  bool line_begun = false;
  for (const std::string_view word : words(text)) {
    const std::size_t size = width_of(word);
    if (line_begun && column + 1 + size > width) {
      out += '\n' + std::string(indent, ' ');
      column = indent;
    } else if (line_begun) {
      out += ' ';
      ++column;
    }
    out += word;
    column += size;
    line_begun = true;
  }
  return out;
}

std::string paragraph(std::string_view text) {
  return wrapped(text, page_width(), 2) + '\n';
}

std::string notes_text(const Report& report) {
  std::string out;
  for (const std::string& note : report.notes) out += paragraph(printable(note));
  if (!report.caution.empty()) out += paragraph(report.caution);
  return out;
}

}  // namespace wiltline::cli

#include "page/page.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>

#include "page/parts.hpp"
#include "version.hpp"

namespace wiltline::cli {
namespace {

using Json = nlohmann::ordered_json;

/// Text that no browser takes for markup.
std::string escaped(std::string_view text) {
  std::string out;
  for (const char c : printable(text)) {
    switch (c) {
      case '&':
        out += "&amp;";
        break;
      case '<':
        out += "&lt;";
        break;
      case '>':
        out += "&gt;";
        break;
      case '"':
        out += "&quot;";
        break;
      case '\'':
        out += "&#39;";
        break;
      default:
        out += c;
    }
  }
  return out;
}

/// JSON that may stand inside a script element.
std::string for_script(const Json& json) {
  std::string out;
  for (const char c : json.dump(-1, ' ', true, Json::error_handler_t::replace)) {
    if (c == '<') {
      out += "\\u003c";
    } else {
      out += c;
    }
  }
  return out;
}

/// A drawn number needs no more digits than an eye can follow.
double rounded(double value) {
  constexpr double hundredths = 100.0;
  return std::round(value * hundredths) / hundredths;
}

Picture picture(std::string kind, std::string title, std::string says, Json data) {
  data["kind"] = std::move(kind);
  data["title"] = printable(title);
  data["says"] = printable(says);
  return {std::move(title), std::move(says),
          data.dump(-1, ' ', true, Json::error_handler_t::replace)};
}

std::string table_html(const Report& report, bool us) {
  std::string out = "<table><thead><tr>";
  const auto kind = [&](std::size_t i) {
    return report.columns[i].quantity == Quantity::text ? " class=\"text\"" : "";
  };
  for (std::size_t i = 0; i < report.columns.size(); ++i) {
    const ColumnHead& column = report.columns[i];
    std::string name(column.name);
    std::replace(name.begin(), name.end(), '_', ' ');
    const std::string_view unit = us ? unit_text(column.quantity, us) : std::string_view{};
    out +=
        fmt::format("<th scope=\"col\"{} title=\"{}\">{}{}</th>", kind(i), escaped(column.meaning),
                    escaped(name), unit.empty() ? "" : fmt::format(" ({})", escaped(unit)));
  }
  out += "</tr></thead><tbody>\n";
  for (const auto& row : report.rows) {
    out += "<tr>";
    for (std::size_t i = 0; i < row.size(); ++i) {
      out +=
          fmt::format("<td{}>{}</td>", kind(i), escaped(shown_cell(row[i], report.columns[i], us)));
    }
    out += "</tr>\n";
  }
  return out + "</tbody></table>";
}

}  // namespace

Picture ranges_picture(std::string title, std::string says, std::string unit,
                       const std::vector<RangeRow>& rows) {
  Json data;
  data["unit"] = std::move(unit);
  data["rows"] = Json::array();
  for (const RangeRow& row : rows) {
    Json one;
    one["label"] = printable(row.label);
    if (row.value) one["value"] = rounded(*row.value);
    if (row.low && row.high) {
      one["low"] = rounded(*row.low);
      one["high"] = rounded(*row.high);
    }
    one["text"] = printable(row.text);
    data["rows"].push_back(std::move(one));
  }
  return picture("ranges", std::move(title), std::move(says), std::move(data));
}

void add_ranges(Report& report, const RangeColumns& columns, bool us) {
  const auto place = [&](std::string_view name) -> std::optional<std::size_t> {
    for (std::size_t i = 0; i < report.columns.size(); ++i) {
      if (report.columns[i].name == name) return i;
    }
    return std::nullopt;
  };
  const auto value_at = place(columns.value);
  if (!value_at) return;
  const ColumnHead& measured = report.columns[*value_at];
  std::vector<RangeRow> rows;
  for (const auto& row : report.rows) {
    const auto number = [&](std::string_view name) -> std::optional<double> {
      const auto at = place(name);
      if (!at) return std::nullopt;
      if (const auto* count = std::get_if<long>(&row[*at])) return static_cast<double>(*count);
      const auto* found = std::get_if<double>(&row[*at]);
      if (found == nullptr) return std::nullopt;
      return in_units(report.columns[*at].quantity, *found, us);
    };
    const auto joined = [&](const std::vector<std::string_view>& names) {
      std::string text;
      for (const std::string_view name : names) {
        const auto at = place(name);
        const std::string cell = at ? shown_cell(row[*at], report.columns[*at], us) : "";
        if (!cell.empty()) text += (text.empty() ? "" : ", ") + cell;
      }
      return text;
    };
    RangeRow one{.label = joined(columns.label),
                 .value = number(columns.value),
                 .low = number(columns.low),
                 .high = number(columns.high),
                 .text = {}};
    one.text = shown_cell(row[*value_at], measured, us);
    if (const std::string more = joined(columns.words); !more.empty()) {
      one.text += (one.text.empty() ? "" : " · ") + more;
    }
    rows.push_back(std::move(one));
  }
  std::stable_sort(rows.begin(), rows.end(), [](const RangeRow& a, const RangeRow& b) {
    return a.value.value_or(-1.0) > b.value.value_or(-1.0);
  });
  std::string unit(unit_text(measured.quantity, us));
  report.pictures.push_back(ranges_picture(columns.title, columns.says, std::move(unit), rows));
}

Picture bars_picture(std::string title, std::string says, std::string unit,
                     const std::vector<std::string>& categories,
                     const std::vector<BarSeries>& series) {
  Json data;
  data["unit"] = std::move(unit);
  data["categories"] = categories;
  data["series"] = Json::array();
  for (const BarSeries& one : series) {
    Json values = Json::array();
    for (const double value : one.values) values.push_back(rounded(value));
    data["series"].push_back({{"name", one.name}, {"values", std::move(values)}});
  }
  return picture("bars", std::move(title), std::move(says), std::move(data));
}

Picture levels_picture(std::string title, std::string says, std::string unit,
                       const std::vector<PotLevels>& pots) {
  Json data;
  data["unit"] = std::move(unit);
  data["pots"] = Json::array();
  for (const PotLevels& pot : pots) {
    Json one;
    one["label"] = printable(pot.label);
    one["first"] = to_string(pot.first);
    one["full"] = rounded(pot.full);
    for (const char* list : {"level", "needs", "gave", "rain", "state"}) one[list] = Json::array();
    one["marks"] = Json::object();
    for (std::size_t i = 0; i < pot.days.size(); ++i) {
      const PotLevels::Day& day = pot.days[i];
      one["level"].push_back(rounded(day.level));
      one["needs"].push_back(rounded(day.short_below));
      one["gave"].push_back(rounded(day.watered));
      one["rain"].push_back(rounded(day.rain));
      one["state"].push_back(day.state);
      if (!day.marks.empty()) one["marks"][std::to_string(i)] = day.marks;
    }
    data["pots"].push_back(std::move(one));
  }
  return picture("levels", std::move(title), std::move(says), std::move(data));
}

Picture grid_picture(std::string title, std::string says, const std::vector<std::string>& columns,
                     const std::vector<std::vector<std::string>>& rows) {
  Json data;
  data["columns"] = columns;
  data["rows"] = Json::array();
  for (const auto& row : rows) {
    Json cells = Json::array();
    for (const std::string& cell : row) cells.push_back(printable(cell));
    data["rows"].push_back(std::move(cells));
  }
  return picture("grid", std::move(title), std::move(says), std::move(data));
}

Picture sheet_picture(std::string title, std::string says, const std::vector<SheetGroup>& groups) {
  Json data;
  data["groups"] = Json::array();
  for (const SheetGroup& group : groups) {
    Json lines = Json::array();
    for (const std::string& line : group.lines) lines.push_back(printable(line));
    data["groups"].push_back({{"heading", printable(group.heading)}, {"lines", std::move(lines)}});
  }
  return picture("sheet", std::move(title), std::move(says), std::move(data));
}

std::string to_page(const Report& report, const std::string& text, bool us) {
  const auto parts = page_parts();
  std::string asked = "wiltline " + report.command;
  for (const auto& [name, value] : report.inputs) {
    if (name == "page" || name == "output") continue;
    asked += " --" + name + (value == "yes" ? "" : " " + value);
  }
  std::string body;
  if (!report.answer.empty())
    body += fmt::format("<p class=\"answer\">{}</p>\n", escaped(report.answer));
  Json pictures = Json::array();
  for (std::size_t i = 0; i < report.pictures.size(); ++i) {
    const Picture& one = report.pictures[i];
    body +=
        fmt::format("<h2>{}</h2>\n<figure id=\"picture-{}\"><figcaption>{}</figcaption></figure>\n",
                    escaped(one.title), i, escaped(one.says));
    pictures.push_back(Json::parse(one.data));
  }
  body += fmt::format("<h2>As the program prints it</h2>\n<pre tabindex=\"0\">{}</pre>\n", [&] {
    std::string lines;
    std::size_t begin = 0;
    while (begin < text.size()) {
      const std::size_t end = std::min(text.find('\n', begin), text.size());
      lines += escaped(std::string_view(text).substr(begin, end - begin)) + '\n';
      begin = end + 1;
    }
    return lines;
  }());
  body += fmt::format(
      "<h2>All figures</h2>\n<div class=\"scroll\" tabindex=\"0\" role=\"region\" "
      "aria-label=\"all figures\">{}</div>\n",
      table_html(report, us));
  return fmt::format(
      "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n"
      "<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n"
      "<meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; style-src "
      "'unsafe-inline'; script-src 'unsafe-inline'; img-src data:\">\n"
      "<link rel=\"icon\" href=\"data:,\">\n"
      "<title>wiltline {}</title>\n<style>\n{}</style>\n</head>\n<body>\n<main>\n"
      "<h1>{}</h1>\n<p class=\"asked\">Asked: <code>{}</code></p>\n{}</main>\n"
      "<footer class=\"quiet\"><p>{}</p><p>Made by wiltline {}. Pictures drawn with D3 (copyright "
      "Michael Bostock, BSD 3-Clause licence).</p></footer>\n"
      "<script type=\"application/json\" id=\"pictures\">{}</script>\n<script>{}</script>\n"
      "<script>{}</script>\n</body>\n</html>\n",
      escaped(report.command), parts.at("page.css").bytes, escaped(report.title), escaped(asked),
      body, escaped(report.caution), version, for_script(pictures), parts.at("d3.min.js").bytes,
      parts.at("page.js").bytes);
}

}  // namespace wiltline::cli

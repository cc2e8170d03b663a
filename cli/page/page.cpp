#include "page/page.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <nlohmann/json.hpp>

#include "texts.hpp"
#include "version.hpp"
#include "wiltline/base/text.hpp"
#include "wiltline/base/units.hpp"
#include "wiltline/questions/calibrate.hpp"
#include "words.hpp"

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

/// JSON, all of it ASCII, that may stand inside a script element.
std::string for_script(std::string_view json) {
  std::string out;
  for (const char c : json) {
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

Picture picture(std::string kind, const Caption& caption, Json data) {
  data["kind"] = std::move(kind);
  data["title"] = printable(caption.title);
  data["says"] = printable(caption.says);
  return {caption.title, caption.says, data.dump(-1, ' ', true, Json::error_handler_t::replace)};
}

Json printable_list(const std::vector<std::string>& texts) {
  Json list = Json::array();
  for (const std::string& text : texts) list.push_back(printable(text));
  return list;
}

std::optional<std::size_t> place_of(std::string_view name, const Report& report) {
  for (std::size_t i = 0; i < report.columns.size(); ++i) {
    if (report.columns[i].name == name) return i;
  }
  return std::nullopt;
}

/// A cell's number as people read it; empty if it has none.
std::optional<double> number_in(const TableCell& cell, const ColumnHead& column, bool us) {
  if (const auto* whole = std::get_if<long>(&cell)) return static_cast<double>(*whole);
  const auto* found = std::get_if<double>(&cell);
  if (found == nullptr) return std::nullopt;
  return in_units(column.quantity, *found, us);
}

std::string name_in_words(const ColumnHead& column, bool us) {
  std::string name(column.name);
  std::ranges::replace(name, '_', ' ');
  const std::string_view unit = us ? unit_text(column.quantity, us) : std::string_view{};
  return unit.empty() ? name : fmt::format("{} ({})", name, unit);
}

std::string table_html(const Report& report, bool us) {
  std::string out = "<table><thead><tr>";
  const auto kind = [&](std::size_t i) {
    return report.columns[i].quantity == Quantity::text ? " class=\"text\"" : "";
  };
  for (std::size_t i = 0; i < report.columns.size(); ++i) {
    out += fmt::format("<th scope=\"col\"{}>{}</th>", kind(i),
                       escaped(name_in_words(report.columns[i], us)));
  }
  out += "</tr></thead><tbody>\n";
  for (const auto& row : report.rows) {
    out += "<tr>";
    for (std::size_t i = 0; i < row.size(); ++i) {
      constexpr std::size_t one_line = 40;
      const std::string cell = shown_cell(row[i], report.columns[i], us);
      out += fmt::format("<td{}>{}</td>", cell.size() > one_line ? " class=\"text long\"" : kind(i),
                         escaped(cell));
    }
    out += "</tr>\n";
  }
  return out + "</tbody></table>";
}

std::string meanings_html(const Report& report, bool us) {
  std::string out = "<details><summary>What the columns mean</summary>\n<dl>";
  for (const ColumnHead& column : report.columns) {
    out += fmt::format("<dt>{}</dt><dd>{}</dd>\n", escaped(name_in_words(column, us)),
                       escaped(column.meaning));
  }
  return out + "</dl></details>\n";
}

/// Text of several lines, each escaped.
std::string lines_html(std::string_view text) {
  std::string html;
  for (const std::string& line : lines_of(text)) html += escaped(line) + '\n';
  return html;
}

/// The command as it was typed.
std::string asked_text(const Report& report) {
  std::string asked = "wiltline " + report.command;
  for (const auto& [name, value] : report.inputs) {
    if (name == "page" || name == "output") continue;
    const bool bare = !value.empty() && value.find_first_of(" \t\"'") == std::string::npos;
    const std::string word = bare ? value : in_quotes(value);
    if (name != "topic") asked += " --" + name;
    if (name == "topic" || value != "yes") asked += ' ' + word;
  }
  return asked;
}

constexpr std::size_t columns_on_paper = 9;  // a table of more is left out in print

}  // namespace

void sort_by_value(std::vector<RangeRow>& rows) {
  std::ranges::stable_sort(rows, [](const RangeRow& a, const RangeRow& b) {
    return a.value.value_or(-1.0) > b.value.value_or(-1.0);
  });
}

Picture ranges_picture(const Caption& caption, std::string unit, const std::vector<RangeRow>& rows,
                       const std::optional<Date>& from) {
  Json data;
  data["unit"] = std::move(unit);
  if (from) data["from"] = to_string(*from);
  data["rows"] = Json::array();
  for (const RangeRow& row : rows) {
    Json one;
    one["label"] = printable(row.label);
    if (row.value) one["value"] = rounded(*row.value);
    if (row.low) one["low"] = rounded(*row.low);
    if (row.high) one["high"] = rounded(*row.high);
    one["text"] = printable(row.text);
    one["marks"] = Json::array();
    for (const auto& [at, what] : row.marks) one["marks"].push_back({rounded(at), what});
    data["rows"].push_back(std::move(one));
  }
  return picture("ranges", caption, std::move(data));
}

void add_ranges(Report& report, const Caption& caption, const RangeColumns& columns, bool us) {
  const auto value_at = place_of(columns.value, report);
  if (!value_at) return;
  const ColumnHead& measured = report.columns[*value_at];
  std::vector<RangeRow> rows;
  for (const auto& row : report.rows) {
    const auto number = [&](std::string_view name) -> std::optional<double> {
      const auto at = place_of(name, report);
      return at ? number_in(row[*at], report.columns[*at], us) : std::nullopt;
    };
    const auto shown = [&](std::string_view name) {
      const auto at = place_of(name, report);
      return at ? shown_cell(row[*at], report.columns[*at], us) : std::string();
    };
    std::string label;
    for (const std::string_view name : columns.label) {
      if (const std::string cell = shown(name); !cell.empty()) {
        label += (label.empty() ? "" : ", ") + cell;
      }
    }
    RangeRow one{.label = std::move(label),
                 .value = number(columns.value),
                 .low = number(columns.low),
                 .high = number(columns.high),
                 .text = shown_cell(row[*value_at], measured, us)};
    for (const auto& [what, name] : columns.words) {
      if (const std::string cell = shown(name); !cell.empty()) {
        one.text += fmt::format("{}{}", what, cell);
      }
    }
    rows.push_back(std::move(one));
  }
  sort_by_value(rows);
  report.pictures.push_back(
      ranges_picture(caption, std::string(unit_text(measured.quantity, us)), rows));
}

void add_amounts(Report& report, const Caption& caption, Quantity quantity, bool us) {
  std::vector<RangeRow> rows;
  for (std::size_t i = 0; i < report.columns.size(); ++i) {
    const ColumnHead& column = report.columns[i];
    const TableCell& cell = report.rows.front()[i];
    if (column.quantity != quantity || std::holds_alternative<std::monostate>(cell)) continue;
    std::string label = name_in_words(column, false);
    if (label.ends_with(" l")) label.resize(label.size() - 2);  // the axis has the unit
    rows.push_back({.label = std::move(label),
                    .value = number_in(cell, column, us),
                    .text = shown_cell(cell, column, us)});
  }
  report.pictures.push_back(ranges_picture(caption, std::string(unit_text(quantity, us)), rows));
}

Picture bars_picture(const Caption& caption, std::string unit,
                     const std::vector<std::string>& categories,
                     const std::vector<BarSeries>& series) {
  Json data;
  data["unit"] = std::move(unit);
  data["categories"] = printable_list(categories);
  data["series"] = Json::array();
  for (const BarSeries& one : series) {
    Json values = Json::array();
    for (const double value : one.values) values.push_back(rounded(value));
    data["series"].push_back({{"name", one.name}, {"values", std::move(values)}});
  }
  return picture("bars", caption, std::move(data));
}

void add_daily_bars(Report& report, const Caption& caption,
                    const std::vector<std::pair<std::string_view, std::string>>& columns, bool us) {
  constexpr std::size_t most_days = 31;  // one by one
  const auto date_at = place_of("date", report);
  if (!date_at) return;
  const bool by_day = report.rows.size() <= most_days;
  struct Sum {
    double sum = 0.0;
    int count = 0;
  };
  std::map<std::string, std::size_t> place;  // by day, or by month
  std::vector<std::string> categories;
  std::vector<std::vector<Sum>> sums;  // a category, a column
  std::string unit;
  for (const auto& row : report.rows) {
    const auto* const date = std::get_if<Date>(&row[*date_at]);
    if (date == nullptr) continue;
    const std::string key =
        by_day ? date_in_words(*date) : std::string(short_month_name(month_of(*date)));
    const auto [entry, is_new] = place.emplace(key, categories.size());
    if (is_new) {
      categories.push_back(key);
      sums.emplace_back(columns.size());
    }
    for (std::size_t i = 0; i < columns.size(); ++i) {
      const auto at = place_of(columns[i].first, report);
      const auto value =
          at ? number_in(row[*at], report.columns[*at], us) : std::optional<double>();
      if (!value) continue;
      unit = unit_text(report.columns[*at].quantity, us);
      sums[entry->second][i].sum += *value;
      ++sums[entry->second][i].count;
    }
  }
  std::vector<BarSeries> series;
  for (std::size_t i = 0; i < columns.size(); ++i) {
    BarSeries one{columns[i].second + (by_day ? "" : ", mean of the month's days"), {}};
    for (const auto& sum : sums) {
      one.values.push_back(sum[i].count > 0 ? sum[i].sum / sum[i].count : 0.0);
    }
    series.push_back(std::move(one));
  }
  report.pictures.push_back(bars_picture(caption, unit, categories, series));
}

Picture water_picture(const Caption& caption, const std::vector<PotWater>& pots, bool us) {
  constexpr double thousandths = 1000.0;
  const auto volume = [us](double litres) {
    return std::lround(in_units(Quantity::litres, litres, us) * thousandths);
  };
  const auto minute = [](const WaterLeft& at) { return minute_of_day(at.hour); };
  const auto how_bad = [](const WaterLeft& at) {
    return at.beyond ? static_cast<int>(*at.beyond) : 0;
  };
  Json data;
  data["unit"] = unit_text(Quantity::litres, us);
  data["pots"] = Json::array();
  for (const PotWater& pot : pots) {
    Json samples = Json::array();
    std::string states;
    Json crossings = Json::array();
    Json pourings = Json::array();
    Json rain = Json::array();
    std::size_t day = 0;
    for (const LedgerLine& line : *pot.days) {
      const std::vector<WaterLeft>& left = line.left;
      for (std::size_t i = 0; i < left.size(); ++i) {
        if (i + 1 < left.size() && left[i + 1].poured_l > 0.0) continue;  // said with the pouring
        if (left[i].crossing) {
          crossings.push_back({day, minute(left[i]), volume(left[i].litres), how_bad(left[i])});
        } else if (left[i].poured_l > 0.0) {
          pourings.push_back({day, minute(left[i]), volume(left[i - 1].litres),
                              volume(left[i].litres), volume(left[i].poured_l), how_bad(left[i])});
        } else {
          samples.push_back(volume(left[i].litres));
          states += static_cast<char>('0' + how_bad(left[i]));
        }
      }
      if (line.rain_l > 0.0) rain.push_back({day, volume(line.rain_l)});
      ++day;
    }
    data["pots"].push_back({{"label", printable(pot.label)},
                            {"first", to_string(pot.days->front().date)},
                            {"samples", std::move(samples)},
                            {"states", std::move(states)},
                            {"crossings", std::move(crossings)},
                            {"pourings", std::move(pourings)},
                            {"rain", std::move(rain)}});
  }
  return picture("water", caption, std::move(data));
}

Picture weights_picture(const Caption& caption, const std::vector<PotWeights>& pots, bool us) {
  const auto weight = [us](double kg) { return rounded(in_units(Quantity::mass_kg, kg, us)); };
  Json data;
  data["unit"] = unit_text(Quantity::mass_kg, us);
  data["pots"] = Json::array();
  for (const PotWeights& pot : pots) {
    const Date first = pot.points->front().when.date;
    Json points = Json::array();
    for (const AccountPoint& one : *pot.points) {
      const auto day = static_cast<double>((one.when.date - first).count());
      Json point{{"at", day + one.when.hour / units::hours_per_day},
                 {"foretold", weight(one.foretold_kg)},
                 {"then", weight(one.then_kg)}};
      if (one.kind != ReadingKind::watered) {
        const double sure_kg = nine_in_ten_errors * one.error_kg.value();
        point["weighed"] = weight(one.weighed_kg.value());
        point["low"] = weight(one.foretold_kg - sure_kg);
        point["high"] = weight(one.foretold_kg + sure_kg);
        point["outlies"] = one.outlies;
      }
      points.push_back(std::move(point));
    }
    data["pots"].push_back({{"label", printable(pot.label)},
                            {"first", to_string(first)},
                            {"points", std::move(points)}});
  }
  return picture("weights", caption, std::move(data));
}

Picture grid_picture(const Caption& caption, const std::vector<std::string>& columns,
                     const std::vector<std::vector<std::string>>& rows) {
  Json data;
  data["columns"] = printable_list(columns);
  data["rows"] = Json::array();
  for (const auto& row : rows) data["rows"].push_back(printable_list(row));
  return picture("grid", caption, std::move(data));
}

Picture sheet_picture(const Caption& caption, const std::vector<SheetGroup>& groups) {
  Json data;
  data["groups"] = Json::array();
  for (const SheetGroup& group : groups) {
    data["groups"].push_back(
        {{"heading", printable(group.heading)}, {"lines", printable_list(group.lines)}});
  }
  return picture("sheet", caption, std::move(data));
}

std::string to_page(const Report& report, const std::string& text, bool us) {
  const auto parts = page_parts();
  std::string body;
  if (!report.answer.empty()) {
    body += fmt::format("<p class=\"answer\">{}</p>\n", escaped(report.answer));
  }
  std::string pictures;
  for (std::size_t i = 0; i < report.pictures.size(); ++i) {
    const Picture& one = report.pictures[i];
    body += fmt::format(
        "<section><h2>{}</h2>\n<figure id=\"picture-{}\"><figcaption>{}</figcaption></figure>"
        "</section>\n",
        escaped(one.title), i, escaped(one.says));
    pictures += (i == 0 ? "" : ",") + for_script(one.data);
  }
  body += fmt::format(
      "<section class=\"words\"><h2>In words</h2>\n<pre class=\"scroll\" tabindex=\"0\" "
      "role=\"region\" "
      "aria-label=\"the answer as text\">{}</pre></section>\n",
      lines_html(text));
  body += fmt::format(
      "<section class=\"{}\"><h2>All figures</h2>\n<div class=\"scroll\" tabindex=\"0\" "
      "role=\"region\" aria-label=\"all figures\" id=\"figures\">{}</div>\n{}</section>\n",
      report.columns.size() > columns_on_paper ? "screen" : "", table_html(report, us),
      meanings_html(report, us));
  const std::string title = report.title.empty() ? "wiltline " + report.command : report.title;
  using fmt::arg;
  return fmt::format(
      fmt::runtime(parts.at("page.html").bytes), arg("title", escaped(title)),
      arg("style", parts.at("page.css").bytes), arg("asked", escaped(asked_text(report))),
      arg("body", body), arg("caution", escaped(report.caution)), arg("version", version),
      arg("licence", lines_html(parts.at("copyright").bytes)), arg("pictures", pictures),
      arg("library", parts.at("d3.min.js").bytes), arg("script", parts.at("page.js").bytes));
}

}  // namespace wiltline::cli

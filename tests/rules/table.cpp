#include "table.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <stdexcept>

#include "handbook/rows.hpp"
#include "measures.hpp"

namespace wiltline::test {
namespace {

std::string rounded(double value) {
  return fmt::format("{:.{}f}", value, value >= 10.0 ? 0 : value >= 1.0 ? 1 : 2);
}

const Measure& measure_of(const std::string& name) {
  for (const auto* measures : {&season_measures(), &library_measures()}) {
    const auto found = measures->find(name);
    if (found != measures->end()) return found->second;
  }
  throw std::runtime_error("unknown measure: " + name);
}

RowKind kind_of(std::string_view text) {
  if (text == "check") return RowKind::check;
  if (text == "fitted") return RowKind::fitted;
  if (text == "not through the model") return RowKind::not_through_model;
  throw std::runtime_error("unknown kind: " + std::string(text));
}

std::string verdict_of(double value, double low, double high) {
  if (value >= low && value <= high) return "agrees";
  return value < low ? "model gives less" : "model gives more";
}

Judged judge(const printed::Table& table, std::size_t row) {
  const auto cell = [&](const char* column) { return std::string(table.cell(row, column)); };
  Judged judged{.id = cell("id"),
                .kind = kind_of(cell("kind")),
                .statement = cell("statement"),
                .band = {},
                .figure = cell("figure"),
                .source = cell("source"),
                .run = {},
                .computed = {},
                .verdict = {},
                .expected_verdict = cell("verdict"),
                .reason = cell("reason")};
  if (judged.kind == RowKind::not_through_model) return judged;
  judged.low = printed::number(table.cell(row, "low"));
  judged.high = printed::number(table.cell(row, "high"));
  const std::string unit = cell("unit");
  const std::string name = cell("measure");
  const std::string against = cell("against");
  const Setting setting(cell("run"));
  double value = measure_of(name)(setting);
  if (!against.empty()) value /= measure_of(name)(setting.with(against));
  judged.run =
      fmt::format("{}{}: {}", name,
                  against.empty() ? "" : fmt::format(", over that with {}", against), cell("run"));
  judged.band = fmt::format("{} to {} {}", rounded(judged.low), rounded(judged.high), unit);
  judged.computed = fmt::format("{} {}", rounded(value), unit);
  judged.verdict = verdict_of(value, judged.low, judged.high);
  return judged;
}

}  // namespace

std::vector<Judged> judge_table(const std::string& path) {
  const printed::Table table(path);
  std::vector<Judged> rows;
  for (std::size_t row = 0; row < table.rows(); ++row) {
    try {
      rows.push_back(judge(table, row));
    } catch (const std::exception& error) {
      throw std::runtime_error(
          fmt::format("row {}: {}", std::string(table.cell(row, "id")), error.what()));
    }
  }
  return rows;
}

std::string table_text(const std::vector<Judged>& rows) {
  std::string out;
  for (const RowKind kind : {RowKind::check, RowKind::fitted, RowKind::not_through_model}) {
    const auto of_kind = [kind](const Judged& row) { return row.kind == kind; };
    const auto total = std::count_if(rows.begin(), rows.end(), of_kind);
    if (total == 0) continue;
    const auto agreeing = std::count_if(rows.begin(), rows.end(), [&](const Judged& row) {
      return of_kind(row) && row.verdict == "agrees";
    });
    out += kind == RowKind::check ? fmt::format("Checks: {} of {} agree\n", agreeing, total)
           : kind == RowKind::fitted
               ? fmt::format("Fitted, no checks: {} of {} agree\n", agreeing, total)
               : fmt::format("Not through the model: {}\n", total);
    for (const Judged& row : rows) {
      if (!of_kind(row)) continue;
      out += fmt::format("{:<4} {}\n", row.id, row.statement);
      if (kind == RowKind::not_through_model) {
        out += fmt::format("     {}; source: {}\n", row.reason, row.source);
        continue;
      }
      out += fmt::format("     says {} ({}); source: {}\n", row.band, row.figure, row.source);
      out += fmt::format("     model {} ({})\n", row.computed, row.run);
      out += fmt::format("     {}{}\n", row.verdict,
                         row.reason.empty() ? "" : fmt::format(": {}", row.reason));
    }
    out += '\n';
  }
  return out;
}

}  // namespace wiltline::test

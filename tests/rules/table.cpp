#include "table.hpp"

#include <fmt/format.h>

#include <stdexcept>

#include "scenario.hpp"
#include "wiltline/base/csv.hpp"
#include "wiltline/base/numbers.hpp"

namespace wiltline::test {
namespace {

constexpr const char* agrees = "agrees";
constexpr const char* habit_safer = "differs: habit is safer";
constexpr const char* we_may_be_wrong = "differs: we may be wrong";
constexpr const char* cannot_be_tested = "cannot be tested";

std::string rounded(double value) {
  return fmt::format("{:.{}f}", value, value >= 10.0 ? 0 : value >= 1.0 ? 1 : 2);
}

}  // namespace

std::vector<Judged> judge_table(const std::string& path) {
  const CsvTable table(read_file(path));
  const auto cell = [&](std::size_t row, const char* column) {
    return std::string(table.cell(row, table.column(column).value()));
  };
  std::vector<Judged> rows;
  for (std::size_t i = 0; i < table.rows(); ++i) {
    Judged judged;
    judged.id = cell(i, "id");
    judged.statement = cell(i, "statement");
    judged.source = cell(i, "source");
    judged.expected_verdict = cell(i, "verdict");
    judged.reason = cell(i, "reason");
    const std::string scenario = cell(i, "scenario");
    const auto low = parse_number(cell(i, "low"));
    const auto high = parse_number(cell(i, "high"));
    const std::string unit = cell(i, "unit");
    if (scenario.empty()) {
      judged.verdict = cannot_be_tested;
      judged.band = "-";
      rows.push_back(std::move(judged));
      continue;
    }
    const auto known = scenarios().find(scenario);
    if (known == scenarios().end() || !low || !high) {
      throw std::runtime_error("row " + judged.id + ": unknown scenario or no band");
    }
    const Answer answer = known->second();
    judged.band = *low == *high ? fmt::format("{} {}", rounded(*low), unit)
                                : fmt::format("{} to {} {}", rounded(*low), rounded(*high), unit);
    judged.computed = fmt::format("{} {} ({})", rounded(answer.value), unit, answer.how);
    // A habit that gives more than the model asks for errs to the safe side.
    const bool more_is_safe = cell(i, "habit") == "more is safer";
    judged.verdict = answer.value >= *low && answer.value <= *high ? agrees
                     : more_is_safe && answer.value < *low         ? habit_safer
                                                                   : we_may_be_wrong;
    rows.push_back(std::move(judged));
  }
  return rows;
}

std::string table_text(const std::vector<Judged>& rows) {
  std::string out;
  for (const Judged& row : rows) {
    out += fmt::format("{:<4} {}\n", row.id, row.statement);
    out += fmt::format("     says {}; source: {}\n", row.band, row.source);
    if (!row.computed.empty()) out += fmt::format("     model {}\n", row.computed);
    out += fmt::format("     {}{}\n", row.verdict,
                       row.reason.empty() ? "" : fmt::format(": {}", row.reason));
  }
  return out;
}

}  // namespace wiltline::test

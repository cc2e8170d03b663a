// Columns: the kind of their cells follows from what they take, and parts that are not there leave
// cells empty.
#include "wiltline/tables/columns.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <optional>
#include <string>
#include <vector>

#include "wiltline/tables/season_columns.hpp"

namespace wiltline::test {
namespace {

using tables::CellKind;
using tables::Column;
using tables::TableCell;

enum class Season { cool, warm };
std::string to_string(Season season) {
  return season == Season::cool ? "cool" : "warm";
}

struct Part {
  std::optional<double> litres;
};
struct Row {
  std::string name;
  int count = 2;
  bool dry = true;
  Season season = Season::warm;
  Date day = make_date(2024, 7, 15);
  std::optional<Instant> visit{};
  const Part* part = nullptr;
};

constexpr Column<Row> row_list[]{{"name", "a", [](auto& row) { return row.name; }},
                                 {"count", "b", [](auto& row) { return row.count; }},
                                 {"dry", "c", [](auto& row) { return row.dry; }},
                                 {"season", "d", [](auto& row) { return row.season; }},
                                 {"day", "e", [](auto& row) { return row.day; }},
                                 {"visit", "f", [](auto& row) { return row.visit; }}};
constexpr Column<Part> part_list[]{
    {"given_l", tables::litres, 2, "g", [](auto& part) { return part.litres; }}};

tables::Table<Row> table() {
  tables::Table<Row> table("first");
  table.add(row_list);
  table.section("then");
  table.add(part_list, &Row::part);
  return table;
}

}  // namespace

TEST_CASE("a column knows what its cells are before there is a row") {
  const std::vector<CellKind> kinds{CellKind::text,  CellKind::integer, CellKind::truth,
                                    CellKind::text,  CellKind::day,     CellKind::time,
                                    CellKind::number};
  const auto heads = table().heads();
  REQUIRE(heads.size() == kinds.size());
  for (std::size_t i = 0; i < kinds.size(); ++i) {
    INFO(heads[i].name);
    CHECK(heads[i].kind == kinds[i]);
    CHECK(heads[i].may_be_empty == (i >= 5));
  }
  CHECK(heads[1].quantity == tables::count);
  CHECK(heads[2].quantity == tables::text);
}

TEST_CASE("cells hold what a row holds, and nothing where it or its part is not there") {
  Row row{.name = "basil"};
  CHECK(table().cells(row) == std::vector<TableCell>{std::string("basil"), 2L, true,
                                                     std::string("warm"), make_date(2024, 7, 15),
                                                     TableCell(), TableCell()});
  const Part unknown{};
  row.part = &unknown;
  CHECK(table().cell(row, 6) == TableCell());
  const Part known{1.5};
  row.part = &known;
  row.visit = Instant{make_date(2024, 7, 16), 7.5};
  CHECK(table().cell(row, 6) == TableCell(1.5));
  CHECK(tables::text_of(table().cell(row, 5)) == "2024-07-16T07:30");
  CHECK(tables::text_of(table().cell(row, 4)) == "2024-07-15");
  CHECK(tables::text_of(table().cell(row, 2)) == "yes");
  CHECK(tables::text_of(table().cell(row, 1)) == "2");
  CHECK(tables::text_of(TableCell()).empty());
}

TEST_CASE("the care of a day: each word is named in the column's meaning, in the same order") {
  std::string text = tables::care_text({1, 1, 1, 1, 1, 1, 1, 1, 1});
  CHECK(std::count(text.begin(), text.end(), '+') == 8);
  for (std::size_t at = text.find('+'); at != std::string::npos; at = text.find('+')) {
    text.replace(at, 1, ", ");
  }
  const std::string_view meaning = tables::ledger_care_columns[0].meaning;
  CHECK(meaning.find("joined by +: " + text + "; - if nothing") != std::string_view::npos);
  CHECK(tables::care_text({}) == "-");
}

TEST_CASE("columns stand under the titles they were added under") {
  const tables::Sections sections = table().sections();
  REQUIRE(sections.size() == 2);
  CHECK(sections[0].first == "first");
  CHECK(sections[0].second.size() == 6);
  CHECK(sections[1].first == "then");
  CHECK(sections[1].second.front().name == "given_l");
}

}  // namespace wiltline::test

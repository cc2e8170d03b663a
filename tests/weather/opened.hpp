// A table opened under the built-in names, its columns found.
#pragma once

#include <map>
#include <string>
#include <vector>

#include "wiltline/weather/open_table.hpp"

namespace wiltline::test {

inline OpenTable opened(const std::string& text, const std::string& layout = {}) {
  // The meanings outlive the table, whose columns point to them.
  static std::map<std::string, std::vector<ColumnMeaning>> meanings;
  auto& of = meanings[layout];
  if (of.empty()) of = of_layout(builtin_column_meanings(), layout);
  OpenTable open{ForeignTable::open({"w.csv", text}, builtin_column_meanings()).value()};
  open.columns = open.table.columns_under(of);
  open.said.layout = layout;
  return open;
}

}  // namespace wiltline::test

// What is told of a weather file before it is read, and what it was understood to say.
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "wiltline/weather/dates.hpp"
#include "wiltline/weather/layout.hpp"

namespace wiltline {

/// What is told of a file before it is read; empty is found out.
struct FileHints {
  std::string layout;                  // a name of layout_names()
  std::vector<ColumnMeaning> columns;  // names that go before the built-in ones
  std::optional<DateOrder> dates;
  [[nodiscard]] bool any() const { return !layout.empty() || !columns.empty() || dates; }
};

/// What a file was understood to say.
struct Understanding {
  std::string file;
  bool own = false;  // one of our own files, of which there is nothing to understand
  std::string_view encoding = "UTF-8";
  char separator = ',';
  bool decimal_comma = false;
  std::string layout;  // empty: by the names of its columns
  std::string dates;   // in words
  struct Taken {
    std::string name;
    std::string as;  // quantity and unit
  };
  std::vector<Taken> taken;
  std::vector<std::string> left_out;
  std::size_t rows = 0;
  std::optional<double> step_h;  // of hours
  /// What stood for no reading, and how often.
  std::vector<std::pair<std::string, std::size_t>> missing;
  std::size_t zero_marks = 0;  // marks taken as nothing, such as a trace of rain
  std::size_t failed = 0;      // readings that failed their service's own checks, left out
  std::vector<std::string> remarks;

  /// All of it, a few words on each.
  [[nodiscard]] std::vector<std::string> parts() const;
  /// The same in one line.
  [[nodiscard]] std::string summary() const;
};

}  // namespace wiltline

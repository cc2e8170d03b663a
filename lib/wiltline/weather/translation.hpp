// From a weather file of any layout to the text of one of our own, and back to where each thing
// stood: the reader of our own files is the one that checks days.
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "wiltline/base/errors.hpp"
#include "wiltline/base/files.hpp"
#include "wiltline/weather/dates.hpp"
#include "wiltline/weather/hours.hpp"
#include "wiltline/weather/layout.hpp"
#include "wiltline/weather/site.hpp"

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

/// One place of a file, as the text of one of our own files.
struct TranslatedPlace {
  std::string name;
  SiteValues site;
  std::string text;
  std::optional<HourlyReadings> hours;

  struct Origin {
    std::size_t line = 0;
    std::size_t column = 0;
  };
  std::size_t header_line = 1;
  std::vector<std::string> their_names;  // of each column of `text`
  std::vector<Origin> origins;           // of each cell below the header, row by row

  /// The problem of a line and column of `text`, where it stood in the file.
  [[nodiscard]] Problem where_it_stood(Problem problem) const;
};

struct Translation {
  Understanding understood;
  std::vector<TranslatedPlace> places;
};

/// True for a file that names its columns as ours do and writes its first date as ours do.
[[nodiscard]] bool is_own_format(std::string_view text);

/// Throws InputError: a file that cannot be understood, or understood in two ways. `site`: what is
/// known of the place from elsewhere. Empty if nothing in it looks like weather.
[[nodiscard]] std::optional<Translation> translate(FileBytes file, const FileHints& hints,
                                                   const SiteValues& site);

}  // namespace wiltline

// How and where an answer is written.
#pragma once

#include <functional>
#include <memory>
#include <string>
#include <utility>
#include <vector>

#include "command.hpp"
#include "output.hpp"

namespace wiltline::cli {

/// How and where to answer.
struct Presentation {
  Format format = Format::table;
  bool us_units = false;
  std::shared_ptr<Output> page;  // where --page says, opened; null without it
};
[[nodiscard]] Presentation presentation(const Arguments& arguments);
/// True if the answer is a table on a terminal.
[[nodiscard]] bool answers_on_terminal(const Arguments& arguments, const Presentation& how);

/// The options as given, for JSON.
[[nodiscard]] std::vector<std::pair<std::string, std::string>> inputs_of(
    const Arguments& arguments);

/// True if both lead to one file, there already or not; `-` is none.
[[nodiscard]] bool same_file(const std::string& one, const std::string& other);
/// Throws RequestError if the file that an option names for writing is one of those read, under
/// whatever path; the file of the option `may_replace` (null: none) excepted.
void refuse_overwriting(const Arguments& arguments, const char* option, const std::string& path,
                        const char* may_replace = nullptr);
/// Where --output says, opened, or standard output.
[[nodiscard]] Output open_output(const Arguments& arguments);

/// The file that an option names for something beside the answer, opened; null without the option.
[[nodiscard]] std::unique_ptr<Output> own_output(const Arguments& arguments, const char* option,
                                                 const char* may_replace = nullptr);

/// Writes a report in its format, and its page if one is asked for; `table` makes the text for
/// people. Notes go to standard error with CSV.
void deliver(const Report& report, const Presentation& how, Output& output,
             const std::function<std::string()>& table);

}  // namespace wiltline::cli

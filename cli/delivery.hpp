// How and where an answer is written.
#pragma once

#include <functional>
#include <string>
#include <utility>
#include <vector>

#include "command.hpp"
#include "output.hpp"

namespace wiltline::cli {

/// --format, --units, --output, --no-settings.
[[nodiscard]] po::options_description output_options();

/// How and where to answer.
struct Presentation {
  Format format = Format::table;
  bool us_units = false;
};
[[nodiscard]] Presentation presentation(const Arguments& arguments);

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

/// Writes a report in its format; `table` makes the text for people when that is asked for. Notes
/// go to standard error with CSV.
void deliver(const Report& report, const Presentation& how, Output& output,
             const std::function<std::string()>& table);

}  // namespace wiltline::cli

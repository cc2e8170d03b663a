#include "delivery.hpp"

#include <fmt/format.h>
#include <filesystem>

#include "page/page.hpp"
#include "refuse.hpp"
#include "shared_options.hpp"
#include "terminal.hpp"
#include "wiltline/base/text.hpp"
#include "wiltline/garden/catalogue.hpp"

namespace wiltline::cli {
namespace {

namespace fs = std::filesystem;

/// Throws RequestError if the file is one of those read.
void refuse_inputs(const Arguments& arguments, const char* option, const std::string& path,
                   const char* may_replace) {
  std::error_code error;
  if (!fs::is_regular_file(path, error)) return;
  const auto refuse_if = [&](const std::string& input, const std::string& read_as) {
    // Standard input may be a file.
    const std::string file = input == "-" ? "/dev/stdin" : input;
    if (!fs::equivalent(path, file, error) || error) return;
    refuse("--{}: found {}, read as {}; expected another file", option, in_quotes(path), read_as);
  };
  for (const std::string& file : arguments.texts("weather")) refuse_if(file, "--weather");
  for (const char* input : input_file_options) {
    if (may_replace != nullptr && std::string_view(input) == may_replace) continue;
    if (const auto file = arguments.text(input)) refuse_if(*file, fmt::format("--{}", input));
  }
  if (!arguments.settings().file.empty()) refuse_if(arguments.settings().file, "settings");
  if (const auto folder = arguments.text("models")) {
    for (const std::string& table : model_table_names()) {
      refuse_if((fs::path(*folder) / table).string(), "a table of --models");
    }
  }
  if (const auto folder = arguments.text("weather-dir")) {
    for (fs::directory_iterator entry(*folder, error), end; !error && entry != end;
         entry.increment(error)) {
      const fs::path& file = entry->path();
      if (file.extension() == ".csv") refuse_if(file.string(), "a record of --weather-dir");
    }
  }
}

}  // namespace

Presentation presentation(const Arguments& arguments) {
  Presentation how;
  how.format = arguments.word<Format>(
      "format", "table", {{"table", Format::table}, {"csv", Format::csv}, {"json", Format::json}});
  how.us_units = arguments.word<bool>("units", "metric", {{"metric", false}, {"us", true}});
  if (const auto page = arguments.text("page")) {
    refuse_overwriting(arguments, "page", *page);
    for (const char* const other : {"output", "save-state", "calendar", "write"}) {
      if (const auto file = arguments.text(other); file && same_file(*page, *file)) {
        refuse("--page: found the file of --{}; expected another", other);
      }
    }
    if (*page == "-" && arguments.text("output", "-") == "-") {
      refuse("--page: found -, where the answer goes; expected a file");
    }
    how.page = std::make_shared<Output>(*page, "page");
  }
  return how;
}

bool answers_on_terminal(const Arguments& arguments, const Presentation& how) {
  return how.format == Format::table && arguments.text("output", "-") == "-" && on_terminal();
}

std::vector<std::pair<std::string, std::string>> inputs_of(const Arguments& arguments) {
  std::vector<std::pair<std::string, std::string>> inputs;
  if (arguments.topic()) inputs.emplace_back("topic", *arguments.topic());
  for (const auto& [name, value] : arguments.values()) {
    if (const auto* text = boost::any_cast<std::string>(&value.value())) {
      // An option without a value holds an empty text; one with a value is never empty but as "".
      inputs.emplace_back(name, text->empty() ? "yes" : *text);
    } else if (const auto* texts = boost::any_cast<std::vector<std::string>>(&value.value())) {
      for (const std::string& one : *texts) inputs.emplace_back(name, one);
    } else {
      inputs.emplace_back(name, "yes");
    }
  }
  return inputs;
}

bool same_file(const std::string& one, const std::string& other) {
  if (one == "-" || other == "-") return false;
  std::error_code error;
  if (fs::equivalent(one, other, error) && !error) return true;
  const auto target = [&](const std::string& path) {
    return fs::weakly_canonical(fs::absolute(end_of_links(path), error), error);
  };
  return target(one) == target(other);
}

void refuse_overwriting(const Arguments& arguments, const char* option, const std::string& path,
                        const char* may_replace) {
  if (path == "-") return;
  refuse_inputs(arguments, option, path, may_replace);
  // An answer among the weather would be read as weather the next time.
  const auto folder = arguments.text("weather-dir");
  if (!folder) return;
  std::error_code error;
  const fs::path parent = fs::path(end_of_links(path)).parent_path();
  if (!fs::equivalent(parent.empty() ? fs::path(".") : parent, *folder, error)) return;
  refuse("--{}: found a file in the weather folder, {}; expected one elsewhere", option,
         in_quotes(path));
}

Output open_output(const Arguments& arguments) {
  const std::string path = arguments.text("output", "-");
  refuse_overwriting(arguments, "output", path);
  return Output(path);
}

std::unique_ptr<Output> own_output(const Arguments& arguments, const char* option,
                                   const char* may_replace) {
  const auto path = arguments.text(option);
  if (!path) return nullptr;
  if (*path == "-" || same_file(*path, arguments.text("output", "-"))) {
    refuse("--{}: found {}; expected a file of its own", option, in_quotes(*path));
  }
  refuse_overwriting(arguments, option, *path, may_replace);
  return std::make_unique<Output>(*path);
}

void deliver(const Report& report, const Presentation& how, Output& output,
             const std::function<std::string()>& table) {
  if (how.page) how.page->write(to_page(report, table(), how.us_units));
  switch (how.format) {
    case Format::json:
      output.write(to_json(report));
      return;
    case Format::table:
      output.write(table() + report.on_terminal);
      return;
    case Format::csv:
      break;
  }
  for (const std::string& note : report.notes) say(note);
  if (!report.caution.empty()) say(report.caution);
  output.write(to_csv(report));
}

}  // namespace wiltline::cli

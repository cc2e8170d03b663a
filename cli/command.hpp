// A command of the program and what it is given.
#pragma once

#include <boost/program_options.hpp>
#include <functional>
#include <initializer_list>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "refuse.hpp"
#include "report.hpp"
#include "wiltline/base/result.hpp"
#include "wiltline/base/word_of.hpp"

namespace wiltline::cli {

namespace po = boost::program_options;

/// What was taken from a settings file.
struct SettingsUse {
  std::string file;  // empty if there is none
  std::string note;  // what was taken, for the answer; empty if nothing was
};

/// What of the program's own helps with a problem.
[[nodiscard]] std::string in_words(const Advice& advice);

/// What an option's text says. Throws RequestError if it has a fault.
template <typename Value>
[[nodiscard]] Value accepted(const char* option, Result<Value> read) {
  if (read) return *std::move(read);
  const Fault& fault = read.fault();
  refuse("--{}: {}", option, fault.text(in_words(fault.advice)));
}

/// The options as typed or set. Values are kept as text and parsed here, so that every message says
/// what was found and what is expected. All throw RequestError.
class Arguments {
 public:
  Arguments(po::variables_map values, std::optional<std::string> topic, SettingsUse settings)
      : values_(std::move(values)), topic_(std::move(topic)), settings_(std::move(settings)) {}

  [[nodiscard]] bool flag(const char* name) const { return values_.count(name) > 0; }
  [[nodiscard]] std::optional<std::string> text(const char* name) const;
  /// The same, or `otherwise` where it is not given.
  [[nodiscard]] std::string text(const char* name, std::string_view otherwise) const;
  [[nodiscard]] std::vector<std::string> texts(const char* name) const;
  /// What the word of an option, or `otherwise` where it is not given, stands for.
  template <typename Value>
  [[nodiscard]] Value word(const char* name, std::string_view otherwise,
                           std::initializer_list<std::pair<std::string_view, Value>> words) const {
    return accepted(name, word_of<Value>(text(name, otherwise), words));
  }
  [[nodiscard]] std::optional<double> number(const char* name, double low, double high) const;
  /// The word after the command, where it takes one.
  [[nodiscard]] const std::optional<std::string>& topic() const { return topic_; }
  [[nodiscard]] const po::variables_map& values() const { return values_; }
  [[nodiscard]] const SettingsUse& settings() const { return settings_; }

 private:
  po::variables_map values_;
  std::optional<std::string> topic_;
  SettingsUse settings_;
};

struct Example {
  std::string what;
  std::string line;
};

struct Command {
  std::string_view name;
  std::string purpose;      // one line
  std::string usage;        // what follows the name
  std::string explanation;  // for --help
  std::vector<Example> examples;
  /// The columns it gives, by heading: for --help.
  Sections columns;
  std::vector<po::options_description> option_groups;
  bool takes_topic = false;
  bool takes_files = false;  // its words are weather files, as if each stood after --weather
  std::function<int(const Arguments&)> run;  // gives the exit code
};

/// The command of this name; null if there is none.
[[nodiscard]] const Command* find_command(const std::vector<Command>& commands,
                                          std::string_view name);

[[nodiscard]] Command et0_command();
[[nodiscard]] Command season_command();
[[nodiscard]] Command compare_command();
[[nodiscard]] Command choose_command();
[[nodiscard]] Command heatwave_command();
[[nodiscard]] Command absence_command();
[[nodiscard]] Command forecast_command();
[[nodiscard]] Command plan_command();
[[nodiscard]] Command calibrate_command();
[[nodiscard]] Command capacity_command();
[[nodiscard]] Command list_command();
[[nodiscard]] Command sweep_command();
[[nodiscard]] Command weather_command();
[[nodiscard]] Command begin_command();

}  // namespace wiltline::cli

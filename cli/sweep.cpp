// wiltline sweep: the cross product of weather records, crops, pots, mixes, spots and plants.

#include "wiltline/questions/sweep.hpp"

#include <fmt/format.h>
#include <sys/stat.h>
#include <unistd.h>

#include <algorithm>
#include <chrono>
#include <csignal>
#include <cstdio>
#include <filesystem>

#include "command.hpp"
#include "planting_options.hpp"
#include "resumable_file.hpp"
#include "season_cells.hpp"
#include "shared_options.hpp"
#include "sweep_parts.hpp"
#include "sweep_progress.hpp"
#include "version.hpp"
#include "wiltline/base/numbers.hpp"
#include "wiltline/base/sha256.hpp"

namespace wiltline::cli {
namespace {

constexpr std::string_view all_word = "all";

// A signal that ends the sweep lets the block in the making be finished and kept; a second one does
// not wait.
volatile std::sig_atomic_t stop_signal = 0;

extern "C" void ask_to_stop(int signal) {
  stop_signal = signal;
  std::signal(signal, SIG_DFL);
}

/// A signal that whoever started the program has had ignored (nohup) stays so.
void listen_for_signals() {
  for (const int signal : {SIGINT, SIGTERM, SIGHUP}) {
    if (std::signal(signal, ask_to_stop) == SIG_IGN) std::signal(signal, SIG_IGN);
  }
}

/// Ends the program as the signal would have: a shell sees 128 + its number.
void end_by(int signal) {
  std::signal(signal, SIG_DFL);
  (void)std::raise(signal);
}

std::vector<Column> sweep_columns() {
  constexpr std::size_t name_crop_pot = 3;  // these are keys here
  std::vector<Column> columns;
  const auto add = [&columns](std::span<const Column> more) {
    columns.insert(columns.end(), more.begin(), more.end());
  };
  add(sweep_key_columns());
  add(season_columns().subspan(name_crop_pot));
  add(season_care_columns());
  add(sweep_record_columns());
  return columns;
}

template <typename Value>
std::vector<Value> values_of(const Arguments& arguments, const char* option, const char* what,
                             const NamedTable<Value>& table, const char* otherwise) {
  const auto given = arguments.text(option);
  if (!given && otherwise == nullptr) {
    throw RequestError(
        fmt::format("no {0}; expected --{0} NAMES, separated by commas, or all", option));
  }
  const std::string text = given.value_or(otherwise == nullptr ? "" : otherwise);
  std::vector<Value> values;
  if (folded(text) == all_word) {
    for (const Entry<Value>& entry : table.entries()) values.push_back(entry.value);
    return values;
  }
  for (const std::string_view name : listed(option, text)) {
    values.push_back(known(option, what, name, table));
  }
  return values;
}

std::vector<Mix> mixes_of(const Arguments& arguments, const Catalogue& catalogue) {
  std::vector<Mix> mixes;
  const auto add = [&](std::string_view name) {
    mixes.push_back(known_mix("mixes", name, catalogue));
  };
  const std::string text = arguments.text("mixes").value_or(std::string(usual_mix));
  if (folded(text) == all_word) {
    for (const std::string& name : catalogue.mixes.names()) add(name);
  } else {
    for (const std::string_view name : listed("mixes", text)) add(name);
  }
  return mixes;
}

std::vector<std::optional<int>> plants_of(const Arguments& arguments) {
  const auto text = arguments.text("plants");
  if (!text) return {std::nullopt};
  std::vector<std::optional<int>> numbers;
  for (const std::string_view one : listed("plants", *text)) {
    numbers.push_back(folded(one) == "usual" ? std::nullopt : std::optional(plants_number(one)));
  }
  return numbers;
}

Routine routine_of(const Arguments& arguments) {
  RoutineOrProblem read = parse_routine(arguments.text("routine").value_or("check daily 07:00"));
  if (!read.found.empty()) {
    throw RequestError(fmt::format("--routine: found {}; expected {}", read.found, read.expected));
  }
  return std::move(read.routine);
}

/// The *.csv of a folder, by name.
std::vector<std::string> weather_files(const Arguments& arguments) {
  namespace fs = std::filesystem;
  const auto folder = arguments.text("weather-dir");
  if (!folder) throw RequestError("no weather; expected --weather-dir DIR");
  std::error_code error;
  if (!fs::is_directory(*folder, error)) {
    const bool exists = fs::exists(*folder, error);
    throw RequestError(fmt::format("--weather-dir: found {} {}; expected a folder of weather files",
                                   exists ? "the file" : "no folder", in_quotes(*folder)));
  }
  std::vector<std::string> files;
  for (fs::directory_iterator entry(*folder, error), end; !error && entry != end;
       entry.increment(error)) {
    const fs::path& path = entry->path();
    const bool hidden = path.filename().string().starts_with('.');
    if (path.extension() == ".csv" && !hidden && !fs::is_directory(path)) {
      files.push_back(path.string());
    }
  }
  if (error) {
    throw RequestError(fmt::format("{}: cannot be read: {}", *folder, error.message()));
  }
  if (files.empty()) {
    throw RequestError(fmt::format("--weather-dir: found no *.csv in {}; expected weather files",
                                   in_quotes(*folder)));
  }
  std::sort(files.begin(), files.end());
  return files;
}

/// An answer among the weather would be read as weather the next time.
void refuse_answer_among_weather(const std::string& path, const std::string& folder) {
  namespace fs = std::filesystem;
  std::error_code error;
  const fs::path parent = fs::path(end_of_links(path)).parent_path();
  if (!fs::equivalent(parent.empty() ? fs::path(".") : parent, folder, error)) return;
  throw RequestError(
      fmt::format("--output: found a file in the weather folder, {}; expected one "
                  "elsewhere",
                  in_quotes(path)));
}

std::string name_in_folder(const std::string& file) {
  return std::filesystem::path(file).filename().string();
}

/// Everything a sweep is made of.
struct Sweep {
  Catalogue catalogue;
  SeasonOptions options;
  MissingDataOptions missing;
  RecordReader reader;
  std::vector<std::string> files;
  SweepPlan plan;
  std::vector<Column> columns = sweep_columns();
};

Sweep sweep_of(const Arguments& arguments, std::vector<std::string>& notes) {
  constexpr int most_draws = 1000000;
  const int draws = whole_number(arguments, "draws", 0, most_draws).value_or(0);
  const auto seed = whole_number(arguments, "seed", 0, 1000000000);
  if (draws == 0 && seed) {
    throw RequestError("found --seed without --draws; expected both or neither");
  }
  Catalogue catalogue = load_catalogue(arguments, notes);
  SweepAxes axes{
      .crops = values_of(arguments, "crops", "crop", catalogue.crops, nullptr),
      .spots = values_of(arguments, "spots", "spot", catalogue.spots, "patio"),
      .pots = values_of(arguments, "pots", "pot", catalogue.pots, "all"),
      .mixes = mixes_of(arguments, catalogue),
      .plants = plants_of(arguments),
      .planted = planted_option(arguments),
      .routine = routine_of(arguments),
      .draws = static_cast<std::size_t>(draws),
      .seed = static_cast<std::uint64_t>(seed.value_or(1)),
  };
  const SeasonOptions options{.growth = growth_clock(arguments),
                              .threads = thread_count(arguments)};
  const MissingDataOptions missing = missing_data_options(arguments);
  RecordReader reader(arguments, true);
  std::vector<std::string> files = weather_files(arguments);
  SweepPlan plan(std::move(axes), files.size(), catalogue.parameters);
  return {std::move(catalogue), options,          missing,
          std::move(reader),    std::move(files), std::move(plan)};
}

/// What all parts depend on, as text: program, tables, names, options.
std::string common_inputs(const Arguments& arguments, const Sweep& sweep) {
  std::string text = fmt::format("wiltline {}\n", version);
  const auto folder = arguments.text("models");
  for (const auto& [name, file] : folder ? tables_in_folder(*folder).tables : builtin_tables()) {
    text += fmt::format("table {} {}\n", name, sha256_hex(file.bytes));
  }
  text += sweep.plan.text();
  for (const char* option : {"latitude", "elevation", "wind-height", "longitude", "utc-offset",
                             "from", "to", "fill-gaps", "dew-offset", "growth"}) {
    if (const auto value = arguments.text(option)) text += fmt::format("{} {}\n", option, *value);
  }
  if (arguments.flag("coastal")) text += "coastal\n";
  if (const auto site = arguments.text("site")) {
    text += fmt::format("site {}\n", sha256_hex(read_file(*site).bytes));
  }
  for (const std::string& file : sweep.files) {
    text += fmt::format("weather {}\n", name_in_folder(file));
  }
  return text;
}

/// The digest of all that some blocks depend on: what all depend on, and the bytes of their
/// records.
std::string digest_of(const std::string& common, const Sweep& sweep, BlockRange blocks,
                      const std::vector<std::string>& record_digests) {
  Sha256 digest;
  digest.add(common);
  digest.add(fmt::format("blocks {} {}\n", blocks.first, blocks.last));
  if (blocks.first < blocks.last) {
    const std::size_t last = sweep.plan.block(blocks.last - 1).record;
    for (std::size_t r = sweep.plan.block(blocks.first).record; r <= last; ++r) {
      digest.add(fmt::format("record {}\n", record_digests[r]));
    }
  }
  return digest.hex();
}

/// What the check of the records found, before anything is run.
struct Checked {
  std::vector<std::string> digests;  // by record; empty for those of other parts
  std::vector<std::size_t> starts;   // plantings a crossing has in the record
  std::vector<std::string> without_start;
  std::size_t solar_clocks = 0;
  std::size_t records = 0;
};

/// Reads every record of some blocks once, so that what is wrong in the last of them is said before
/// the first is run.
Checked check_records(const Sweep& sweep, BlockRange blocks, Progress& progress) {
  Checked checked;
  checked.digests.resize(sweep.files.size());
  checked.starts.resize(sweep.files.size());
  if (blocks.first == blocks.last) return checked;
  const std::size_t first = sweep.plan.block(blocks.first).record;
  const std::size_t last = sweep.plan.block(blocks.last - 1).record;
  for (std::size_t r = first; r <= last; ++r) {
    progress.show(fmt::format("checking weather: {} of {}", r - first + 1, last - first + 1));
    FileBytes file = read_file(sweep.files[r]);
    checked.digests[r] = sha256_hex(file.bytes);
    const WeatherRecord record = sweep.reader.read(std::move(file));
    const Planting planting = sweep.plan.planting(sweep.plan.at(0), record.site());
    checked.starts[r] = planting_dates(planting, record).size();
    if (checked.starts[r] == 0) checked.without_start.push_back(name_in_folder(sweep.files[r]));
    if (record.site().clock_is_solar()) ++checked.solar_clocks;
    ++checked.records;
  }
  return checked;
}

/// The record of the block at hand, kept while blocks of the same record follow.
class CurrentRecord {
 public:
  CurrentRecord(const Sweep& sweep, const std::vector<std::string>& digests)
      : sweep_(sweep), digests_(digests) {}

  /// `index`: of the record. One draw's spots are kept.
  PreparedWeather& at(std::size_t index, std::size_t draw) {
    if (weather_ && index == index_) {
      if (draw != draw_) weather_ = weather_->afresh();
      draw_ = draw;
      return *weather_;
    }
    weather_.reset();
    draw_ = draw;
    FileBytes file = read_file(sweep_.files[index]);
    if (sha256_hex(file.bytes) != digests_[index]) {
      throw InputError({{sweep_.files[index], 0, 0, "a file that changed while the sweep ran",
                         "the same content to the end"}});
    }
    record_.emplace(sweep_.reader.read(std::move(file)));
    weather_.emplace(*record_, sweep_.missing);
    index_ = index;
    estimated_ = estimated_text();
    return *weather_;
  }
  [[nodiscard]] const std::string& estimated() const { return estimated_; }

 private:
  [[nodiscard]] std::string estimated_text() const {
    const SourceCounts& sources = weather_->sources();
    std::string text;
    const auto add = [&text](const char* what, std::size_t days) {
      if (days == 0) return;
      text += fmt::format("{}{}:{}", text.empty() ? "" : "+", what, days);
    };
    add("humidity", sources.humidity.back());
    add("radiation", sources.radiation.back());
    add("wind", sources.wind.back());
    add("day", sources.days_filled);
    add("rain", weather_->days_without_rain_reading());
    return text.empty() ? "-" : text;
  }

  const Sweep& sweep_;
  const std::vector<std::string>& digests_;
  std::size_t index_ = 0;
  std::size_t draw_ = 0;
  std::optional<WeatherRecord> record_;
  std::optional<PreparedWeather> weather_;
  std::string estimated_;
};

/// The rows of a block.
std::string rows_of(const Sweep& sweep, const SweepBlock& block, CurrentRecord& current) {
  PreparedWeather& weather = current.at(block.record, block.draw);
  const SweepSeasons run = run_block(sweep.plan, block, weather, sweep.catalogue, sweep.options);
  const SweepAxes& axes = sweep.plan.axes();
  const std::string name = name_in_folder(sweep.files[block.record]);
  std::string text;
  for (std::size_t i = 0; i < run.seasons.size(); ++i) {
    const SweepCase& crossing = run.cases[i];
    const SeasonResult& season = run.seasons[i];
    std::vector<Cell> row{name,
                          axes.crops[crossing.crop].name,
                          axes.pots[crossing.pot].name,
                          axes.mixes[crossing.mix].name,
                          axes.spots[crossing.spot].name,
                          static_cast<long>(season.planting->plants),
                          static_cast<long>(block.draw),
                          to_string(season.first)};
    add_summary_cells(season.summary, row);
    add_care_cells(season.summary, row);
    row.emplace_back(static_cast<long>(season.summary.days));
    row.emplace_back(season.summary.cut_by_record ? "yes" : "no");
    row.emplace_back(current.estimated());
    text += csv_row(row, sweep.columns);
  }
  return text;
}

/// Seasons before a block, among some blocks.
std::size_t seasons_in(const Sweep& sweep, const Checked& checked, BlockRange blocks) {
  std::size_t seasons = 0;
  for (std::size_t b = blocks.first; b < blocks.last; ++b) {
    const SweepBlock block = sweep.plan.block(b);
    seasons += checked.starts[block.record] * block.size;
  }
  return seasons;
}

/// Runs blocks in their order, each handed over as text; stops early if `hand_over` says so or a
/// signal came.
void run_blocks(const Sweep& sweep, const Checked& checked, BlockRange blocks, std::size_t done,
                Progress& progress, const std::function<bool(std::string)>& hand_over) {
  CurrentRecord current(sweep, checked.digests);
  const std::size_t all = seasons_in(sweep, checked, blocks);
  const std::size_t before = seasons_in(sweep, checked, {blocks.first, blocks.first + done});
  progress.begin(all, before);
  std::size_t seasons = before;
  for (std::size_t b = blocks.first + done; b < blocks.last && stop_signal == 0; ++b) {
    const SweepBlock block = sweep.plan.block(b);
    if (!hand_over(rows_of(sweep, block, current))) break;
    seasons += checked.starts[block.record] * block.size;
    progress.show(seasons);
  }
  progress.clear();
}

void say_what_was_left_out(const Sweep& sweep, const Checked& checked) {
  constexpr std::size_t most_named = 5;
  if (const std::size_t dry = sweep.plan.left_out(); dry > 0) {
    say(
        fmt::format("left out: {} of {} crossings, because the mix holds no water for plants in "
                    "that pot",
                    dry, sweep.plan.cases()));
  }
  if (!checked.without_start.empty()) {
    const auto& names = checked.without_start;
    const std::vector<std::string> shown(
        names.begin(),
        names.begin() + static_cast<std::ptrdiff_t>(std::min(names.size(), most_named)));
    say(fmt::format("no rows for {} of {} records, which do not hold the day of planting: {}{}",
                    names.size(), checked.records, fmt::join(shown, ", "),
                    names.size() > most_named ? " and more" : ""));
  }
  if (checked.solar_clocks > 0) {
    say(
        fmt::format("visits at solar time in {} of {} records, which give no longitude and UTC "
                    "offset",
                    checked.solar_clocks, checked.records));
  }
  say("what was estimated for a record stands in the column estimated");
}

bool is_regular_or_new(const std::string& path) {
  struct stat existing {};
  return ::stat(path.c_str(), &existing) != 0 || S_ISREG(existing.st_mode) ||
         S_ISDIR(existing.st_mode);
}

/// To standard output, a pipe or a device: nothing can be kept, so nothing is resumed.
void run_to_stream(const Sweep& sweep, const Checked& checked, BlockRange blocks,
                   Progress& progress, const std::string& path) {
  Output output(path);
  if (!output.append(csv_header(sweep.columns))) return;
  run_blocks(sweep, checked, blocks, 0, progress,
             [&output](const std::string& rows) { return output.append(rows); });
  output.finish();
}

void run_to_file(const Sweep& sweep, const Checked& checked, BlockRange blocks, Progress& progress,
                 const std::string& path, const std::string& inputs,
                 const std::optional<PartNumber>& part, bool restart) {
  ResumableFile file(path, inputs, restart);
  listen_for_signals();
  if (file.pieces() == 0) {
    file.append(csv_header(sweep.columns));
    file.end_piece();
  }
  const std::size_t done = file.pieces() - 1;  // the header is a piece
  if (file.resumed()) {
    say(fmt::format("going on after {} of {} blocks", done, blocks.last - blocks.first));
  }
  run_blocks(sweep, checked, blocks, done, progress, [&file](const std::string& rows) {
    file.append(rows);
    file.end_piece();
    return true;
  });
  file.keep();
  if (stop_signal != 0) {
    say(fmt::format("stopped after {} of {} blocks; the same command goes on from there",
                    file.pieces() - 1, blocks.last - blocks.first));
    end_by(stop_signal);
  }
  std::string seal;
  if (part) {
    seal = to_line({fmt::format("{}/{}", part->k, part->n), inputs, file.digest()});
  }
  file.finish(seal);
}

void join(const Arguments& arguments, const Sweep& sweep, const std::string& file) {
  const std::size_t n = count_parts(file);
  std::vector<std::string> digests;
  Progress progress;
  for (const std::string& weather : sweep.files) {
    progress.show(
        fmt::format("checking weather: {} of {}", digests.size() + 1, sweep.files.size()));
    digests.push_back(sha256_hex(read_file(weather).bytes));
  }
  progress.clear();
  const std::string common = common_inputs(arguments, sweep);
  join_parts(file, n, csv_header(sweep.columns), [&](PartNumber part) {
    return digest_of(common, sweep, sweep.plan.part(part.k, part.n), digests);
  });
  say(fmt::format("joined {} parts in {}; they are no longer needed", n, file));
}

void run_sweep_command(const Arguments& arguments) {
  const auto part_text = arguments.text("part");
  const bool joining = arguments.flag("join");
  const bool restart = arguments.flag("restart");
  if (part_text && joining) {
    throw RequestError("found both --part and --join; expected one of them");
  }
  if (restart && joining) {
    throw RequestError("found both --restart and --join; expected one of them");
  }
  const std::string path = arguments.text("output").value_or("-");
  if (path.empty()) throw RequestError("--output: found \"\"; expected a file");
  const bool to_file = path != "-" && is_regular_or_new(path);
  for (const auto& [given, option] :
       {std::pair{part_text.has_value(), "part"}, {joining, "join"}, {restart, "restart"}}) {
    if (given && !to_file) {
      throw RequestError(
          fmt::format("--{}: found no file to write; expected --output FILE", option));
    }
  }
  std::optional<PartNumber> part;
  if (part_text) part = parse_part(*part_text);

  std::vector<std::string> notes;
  const Sweep sweep = sweep_of(arguments, notes);
  for (const std::string& note : notes) say(note);
  if (to_file) refuse_answer_among_weather(path, *arguments.text("weather-dir"));
  if (joining) return join(arguments, sweep, path);

  const BlockRange blocks =
      part ? sweep.plan.part(part->k, part->n) : BlockRange{0, sweep.plan.blocks()};
  Progress progress;
  const Checked checked = check_records(sweep, blocks, progress);
  progress.clear();
  if (!part && checked.without_start.size() == checked.records) {
    throw RequestError(
        "--planted: found no record that holds that day; expected a day within the weather");
  }
  if (!to_file) {
    run_to_stream(sweep, checked, blocks, progress, path);
  } else {
    const std::string target = part ? part_path(path, *part) : path;
    const std::string inputs =
        digest_of(common_inputs(arguments, sweep), sweep, blocks, checked.digests);
    const auto seal = part && !restart ? read_seal(target) : std::nullopt;
    if (seal && seal->inputs == inputs) {
      say(fmt::format("{} is finished already", target));
      return;
    }
    if (seal) {
      throw RequestError(
          fmt::format("{}: found a part made from other weather, options, models or program; "
                      "expected the same, or --restart to write it anew",
                      target));
    }
    run_to_file(sweep, checked, blocks, progress, target, inputs, part, restart);
  }
  say_what_was_left_out(sweep, checked);
}

}  // namespace

Command sweep_command() {
  static const std::vector<Column> columns = sweep_columns();
  Command command;
  command.name = "sweep";
  command.purpose = "every crossing of many weather records, crops, pots, mixes and spots, as CSV";
  command.usage = "--weather-dir DIR --crops NAMES [options]";
  command.explanation =
      "Runs a season for every year of every record in a folder, crossed with every crop, pot, "
      "mix, "
      "spot and number of plants named, and writes one row each. Lists are separated by commas; "
      "all "
      "stands for everything known. The order is fixed: record by record, within it draw, crop, "
      "spot, pot, "
      "mix, plants, year.\n"
      "\n"
      "Memory does not grow with the number of rows. While it runs, FILE.partial and FILE.journal "
      "hold what is finished; FILE appears when all is. A sweep that was stopped or killed goes on "
      "when the same command is given again, and writes the same bytes. A sweep to standard output "
      "starts over.\n"
      "\n"
      "--part 3/8 does the third of eight parts and writes FILE.part-3-of-8: eight such commands "
      "may "
      "run anywhere, in any order, without knowing of each other. The same command with --join in "
      "place of --part checks that all parts are there and were made from the same weather, "
      "options, "
      "models and program, and writes FILE as a single run would have.";
  command.examples = {
      {"tomato and basil in three pots over every sample record",
       "wiltline sweep --weather-dir weather-samples --crops tomato,basil --pots \"nursery 11 l, "
       "nursery 37 l, clay 3 l\" --output sweep.csv"},
      {"every pot, watered when it asks, planted in May of every year",
       "wiltline sweep --weather-dir weather-samples --crops pepper --planted 05-20 --routine "
       "as-needed"},
      {"the first of two parts",
       "wiltline sweep --weather-dir weather-samples --crops kale --part 1/2 --output kale.csv"},
      {"the second",
       "wiltline sweep --weather-dir weather-samples --crops kale --part 2/2 --output kale.csv"},
      {"and both joined",
       "wiltline sweep --weather-dir weather-samples --crops kale --join --output kale.csv"}};
  command.columns = {{"Columns", columns}};
  po::options_description own("Sweep");
  own.add_options()("crops", text_value("NAMES"), "crops, separated by commas, or all")(
      "pots", text_value("NAMES"), "pots; else all")(
      "mixes", text_value("MIXES"), "mixes by name, or as peat 60 perlite 40; else potting mix")(
      "spots", text_value("NAMES"), "spots; else patio")(
      "plants", text_value("NUMBERS"),
      "plants in each pot, as 1,2,3; usual (default): as many as the crop's litres are for")(
      "draws", text_value("N"),
      "rows for N draws of plant, mix, spot and model from their ranges, too; 0 (default): for "
      "central values only")("seed", text_value("N"), "which draws (default 1)")(
      "planted", text_value("DAY"),
      "05-15 for every year, or 2024-05-15; else 05-15, south of the equator 11-15")(
      "routine", text_value("ROUTINE"), "as in a garden; else check daily 07:00")(
      "growth", text_value("BY"), "days (default) or degree-days")(
      "models", text_value("DIR"), "folder of model tables to use instead of the built-in ones");
  add_threads_option(own);
  po::options_description answer("Answer");
  answer.add_options()("output", text_value("FILE"),
                       "write to a file, which can be resumed, instead of standard output")(
      "part", text_value("K/N"), "do the K-th of N parts, to FILE.part-K-of-N")(
      "join", "check the parts of FILE and join them")(
      "restart", "throw away what an unfinished sweep left in FILE.partial");
  command.option_groups.push_back(own);
  command.option_groups.push_back(weather_folder_options());
  command.option_groups.push_back(answer);
  command.run = run_sweep_command;
  return command;
}

}  // namespace wiltline::cli

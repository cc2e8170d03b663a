// wiltline sweep: the cross product of weather records, crops, pots, mixes, spots and plants.

#include "wiltline/questions/sweep.hpp"

#include <fmt/format.h>
#include <sys/stat.h>

#include <algorithm>
#include <csignal>
#include <functional>

#include "command.hpp"
#include "delivery.hpp"
#include "described.hpp"
#include "progress.hpp"
#include "refuse.hpp"
#include "sweep/inputs.hpp"
#include "sweep/parts.hpp"
#include "sweep/resumable_file.hpp"
#include "sweep/rows.hpp"
#include "sweep/sha256.hpp"
#include "weather_options.hpp"

namespace wiltline::cli {
namespace {

// A signal that ends the sweep lets the block being run be finished and kept; a second one does
// not wait.
volatile std::sig_atomic_t stop_signal = 0;

extern "C" void ask_to_stop(int signal) {
  stop_signal = signal;
  std::signal(signal, SIG_DFL);
}

/// Ends the program as the signal would have: a shell sees 128 + its number.
void end_by(int signal) {
  std::signal(signal, SIG_DFL);
  (void)std::raise(signal);
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

/// How many seasons some blocks hold.
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
  SweepRows rows(sweep, checked.digests);
  const std::size_t all = seasons_in(sweep, checked, blocks);
  const std::size_t before = seasons_in(sweep, checked, {blocks.first, blocks.first + done});
  progress.begin(all, before);
  std::size_t seasons = before;
  for (std::size_t b = blocks.first + done; b < blocks.last && stop_signal == 0; ++b) {
    const SweepBlock block = sweep.plan.block(b);
    if (!hand_over(rows.of(block))) break;
    seasons += checked.starts[block.record] * block.size;
    progress.show(seasons);
  }
  progress.clear();
  if (rows.waterless() > 0) {
    say(fmt::format(
        "left out in this run: {} drawn crossings whose mix holds no water for plants in "
        "that pot",
        rows.waterless()));
  }
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
  if (!output.append(csv_header(sweep_table().heads()))) return;
  run_blocks(sweep, checked, blocks, 0, progress,
             [&output](const std::string& rows) { return output.append(rows); });
  output.finish();
}

void run_to_file(const Sweep& sweep, const Checked& checked, BlockRange blocks, Progress& progress,
                 const std::string& path, const std::string& inputs,
                 const std::optional<PartNumber>& part, bool restart) {
  ResumableFile file(path, inputs, restart);
  handle_ending_signals(ask_to_stop);
  if (file.pieces() == 0) {
    file.append(csv_header(sweep_table().heads()));
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
  file.finish(part ? to_line({in_words(*part), inputs, file.digest()}) : "");
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
  join_parts(file, n, csv_header(sweep_table().heads()), [&](PartNumber part) {
    return digest_of(common, sweep, sweep.plan.part(part.k, part.n), digests);
  });
  say(fmt::format("joined {} parts in {}; they are no longer needed", n, file));
}

void run_sweep_command(const Arguments& arguments) {
  const auto part_text = arguments.text("part");
  const bool joining = arguments.flag("join");
  const bool restart = arguments.flag("restart");
  if (part_text && joining) {
    refuse("found both --part and --join; expected one of them");
  }
  if (restart && joining) {
    refuse("found both --restart and --join; expected one of them");
  }
  const std::string path = arguments.text("output", "-");
  if (path.empty()) refuse("--output: found \"\"; expected a file");
  const bool to_file = path != "-" && is_regular_or_new(path);
  for (const auto& [given, option] :
       {std::pair{part_text.has_value(), "part"}, {joining, "join"}, {restart, "restart"}}) {
    if (given && !to_file) {
      refuse("--{}: found no file to write; expected --output FILE", option);
    }
  }
  std::optional<PartNumber> part;
  if (part_text) part = parse_part(*part_text);

  std::vector<std::string> notes;
  const Sweep sweep = sweep_of(arguments, notes);
  for (const std::string& note : notes) say(note);
  if (to_file) refuse_overwriting(arguments, "output", path);
  if (joining) return join(arguments, sweep, path);

  const BlockRange blocks =
      part ? sweep.plan.part(part->k, part->n) : BlockRange{0, sweep.plan.blocks()};
  Progress progress;
  const Checked checked = check_records(sweep, blocks, progress);
  progress.clear();
  if (!part && checked.without_start.size() == checked.records) {
    refuse("--planted: found no record that holds that day; expected a day within the weather");
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
      refuse(
          "{}: found a part made from other weather, options, models or program; expected the "
          "same, or --restart to write it anew",
          target);
    }
    run_to_file(sweep, checked, blocks, progress, target, inputs, part, restart);
  }
  say_what_was_left_out(sweep, checked);
}

}  // namespace

Command sweep_command() {
  return described("sweep", run_sweep_command, sections_of(sweep_table()));
}

}  // namespace wiltline::cli

#include "sweep/inputs.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <filesystem>

#include "garden_options.hpp"
#include "planting_options.hpp"
#include "refuse.hpp"
#include "shared_options.hpp"
#include "sweep/sha256.hpp"
#include "version.hpp"

namespace wiltline::cli {
namespace {

template <typename Value>
std::vector<Value> values_of_option(const Arguments& arguments, const char* option,
                                    const char* what, const NamedTable<Value>& table,
                                    std::optional<std::string_view> otherwise) {
  const auto given = arguments.text(option);
  if (!given && !otherwise) {
    refuse("no {0}; expected --{0} NAMES, separated by commas, or all", option);
  }
  return values_of(option, what, given.value_or(std::string(otherwise.value_or(""))), table);
}

std::vector<Mix> mixes_of(const Arguments& arguments, const Catalogue& catalogue) {
  std::vector<Mix> mixes;
  const auto add = [&](std::string_view name) {
    mixes.push_back(known_mix("mixes", name, catalogue));
  };
  const std::string text = arguments.text("mixes", usual_mix);
  if (folded(text) == all_word) {
    for (const std::string& name : catalogue.mixes.names()) add(name);
  } else {
    for (const std::string_view name : listed("mixes", text)) add(name);
  }
  return mixes;
}

std::vector<std::optional<int>> plants_of(const Arguments& arguments) {
  if (!arguments.flag("plants")) return {std::nullopt};
  return each_listed(arguments, "plants", [](std::string_view one) {
    return folded(one) == "usual" ? std::nullopt : std::optional(plants_number(one));
  });
}

Routine routine_of(const Arguments& arguments) {
  return accepted("routine", parse_routine(arguments.text("routine", "check daily 07:00")));
}

}  // namespace

Sweep sweep_of(const Arguments& arguments, std::vector<std::string>& notes) {
  constexpr int most_draws = 1000000;
  const int draws = whole_number(arguments, "draws", 0, most_draws).value_or(0);
  const std::uint64_t seed = seed_option(arguments);
  if (draws == 0 && arguments.flag("seed")) {
    refuse("found --seed without --draws; expected both or neither");
  }
  Catalogue catalogue = load_catalogue(arguments, notes);
  SweepAxes axes{
      .crops = values_of_option(arguments, "crops", "crop", catalogue.crops, std::nullopt),
      .spots = values_of_option(arguments, "spots", "spot", catalogue.spots, usual_spot),
      .pots = known_pots("pots", arguments.text("pots", all_word), catalogue),
      .mixes = mixes_of(arguments, catalogue),
      .plants = plants_of(arguments),
      .planted = planted_option(arguments),
      .routine = routine_of(arguments),
      .draws = static_cast<std::size_t>(draws),
      .seed = seed,
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

std::string name_in_folder(const std::string& file) {
  return std::filesystem::path(file).filename().string();
}

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

}  // namespace wiltline::cli

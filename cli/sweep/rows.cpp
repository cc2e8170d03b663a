#include "sweep/rows.hpp"

#include <fmt/format.h>

#include "report.hpp"
#include "sweep/sha256.hpp"
#include "wiltline/base/errors.hpp"
#include "wiltline/tables/season_columns.hpp"

namespace wiltline::cli {
namespace {

using R = const SweepRow&;

constexpr Column<SweepRow> key_list[]{
    {"weather", "weather record: its file in the folder", [](R row) { return row.weather; }},
    {"crop", "crop", [](R row) { return row.season->planting->crop.name; }},
    {"pot", "pot", [](R row) { return row.season->planting->pot.name; }},
    {"mix", "mix", [](R row) { return row.season->planting->mix.name; }},
    {"spot", "spot", [](R row) { return row.season->planting->spot.name; }},
    {"plants", "plants in the pot", [](R row) { return row.season->planting->plants; }},
    {"draw", "parameter draw; 0: central values", [](R row) { return row.draw; }},
    {"planted", "day of planting", [](R row) { return row.season->first; }},
};

constexpr Column<SweepRow> record_list[]{
    {"days", "days of the account", [](R row) { return row.season->summary.days; }},
    {"cut_by_record", "yes: the weather ended before the crop did; else no",
     [](R row) { return row.season->summary.ended_by == EndedBy::record; }},
    {"estimated",
     "days of the whole record on which something was not measured, as wind:1461, joined by "
     "+: humidity, radiation, wind, day (temperatures filled in), rain (taken as none); - if "
     "all was",
     [](R row) { return row.estimated; }},
};

}  // namespace

Table<SweepRow> sweep_table() {
  const auto season = [](R row) { return row.season; };
  const auto summary = [](R row) { return &row.season->summary; };
  Table<SweepRow> table("Columns");
  table.add(key_list);
  table.add(tables::summary_columns, summary);
  table.add(tables::care_columns, summary);
  table.add(record_list);
  table.add(tables::end_columns, season);
  table.add(tables::settling_columns, summary);
  return table;
}

std::string SweepRows::of(const SweepBlock& block) {
  const Place& place = place_of(block);
  const SweepSeasons run =
      run_block(sweep_.plan, block, place, sweep_.catalogue, sweep_.options, &drawn_);
  SweepRow row{name_in_folder(sweep_.files[block.record]), block.draw, nullptr, estimated_};
  waterless_ += run.waterless();
  std::string rows;
  for (const SeasonResult& season : run.seasons()) {
    row.season = &season;
    rows += csv_row(table_.cells(row), table_.heads());
  }
  return rows;
}

const Place& SweepRows::place_of(const SweepBlock& block) {
  if (place_ && block.record == index_) return *place_;
  place_.reset();
  drawn_.reset();
  FileBytes file = read_file(sweep_.files[block.record]);
  if (sha256_hex(file.bytes) != digests_[block.record]) {
    throw InputError({{sweep_.files[block.record], 0, 0, "a file that changed while the sweep ran",
                       "the same content to the end"}});
  }
  place_.emplace(sweep_.reader.read(std::move(file)), sweep_.catalogue.parameters, sweep_.missing);
  index_ = block.record;
  estimated_ = estimated_text();
  return *place_;
}

std::string SweepRows::estimated_text() const {
  const SourceCounts& sources = place_->sources();
  std::string joined;
  const auto add = [&joined](const char* what, std::size_t days_estimated) {
    if (days_estimated == 0) return;
    joined += fmt::format("{}{}:{}", joined.empty() ? "" : "+", what, days_estimated);
  };
  add("humidity", sources.humidity.back());
  add("radiation", sources.radiation.back());
  add("wind", sources.wind.back());
  add("day", sources.days_filled);
  add("rain", place_->days_without_rain_reading());
  return joined.empty() ? "-" : joined;
}

}  // namespace wiltline::cli

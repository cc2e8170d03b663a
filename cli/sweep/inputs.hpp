// What a sweep is made of, from its options; and the digests by which its parts know each other.
#pragma once

#include <string>
#include <vector>

#include "weather_options.hpp"
#include "wiltline/questions/sweep.hpp"

namespace wiltline::cli {

/// Everything a sweep is made of.
struct Sweep {
  Catalogue catalogue;
  SeasonOptions options;
  MissingDataOptions missing;
  RecordReader reader;
  std::vector<std::string> files;
  SweepPlan plan;
};
[[nodiscard]] Sweep sweep_of(const Arguments& arguments, std::vector<std::string>& notes);

[[nodiscard]] std::string name_in_folder(const std::string& file);

/// What all parts depend on, as text: program, tables, names, options.
[[nodiscard]] std::string common_inputs(const Arguments& arguments, const Sweep& sweep);
/// The digest of all that some blocks depend on: what all depend on, and the bytes of their
/// records.
[[nodiscard]] std::string digest_of(const std::string& common, const Sweep& sweep,
                                    BlockRange blocks,
                                    const std::vector<std::string>& record_digests);

}  // namespace wiltline::cli

// The parts of a sweep as files, and how they are put together.
#pragma once

#include <cstddef>
#include <cstdint>
#include <functional>
#include <optional>
#include <string>
#include <vector>

namespace wiltline::cli {

/// The K-th of N parts, from 1.
struct PartNumber {
  std::size_t k = 1;
  std::size_t n = 1;
};

/// Reads `3/8`. Throws RequestError.
[[nodiscard]] PartNumber parse_part(const std::string& text);

/// `3/8`.
[[nodiscard]] std::string in_words(PartNumber part);

/// `FILE.part-3-of-8`.
[[nodiscard]] std::string part_path(const std::string& file, PartNumber part);

/// The last line of a part: which it is, a digest of all it depends on and one of the rows above.
struct PartSeal {
  std::string part;  // 3/8
  std::string inputs;
  std::string rows;
};
[[nodiscard]] std::string to_line(const PartSeal& seal);

/// The seal of a part file; empty if it has none. `rows_end`, if given: where the seal begins.
[[nodiscard]] std::optional<PartSeal> read_seal(const std::string& path,
                                                std::uint64_t* rows_end = nullptr);

/// In how many parts `file` was swept, by the names of the parts beside it. Throws RequestError if
/// there are none, of several numbers, some are missing or unfinished.
[[nodiscard]] std::size_t count_parts(const std::string& file);

/// Writes the rows of all parts of `file` to it, the header once, as a single run would have.
/// `inputs`: the digest that the K-th part must have been made from. Throws InputError if a part is
/// damaged or of other inputs, WriteError.
void join_parts(const std::string& file, std::size_t parts, const std::string& header,
                const std::function<std::string(PartNumber)>& inputs);

}  // namespace wiltline::cli

#include "sweep/parts.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <map>
#include <set>
#include <string_view>
#include <system_error>

#include "output.hpp"
#include "refuse.hpp"
#include "sweep/sha256.hpp"
#include "wiltline/base/errors.hpp"
#include "wiltline/base/numbers.hpp"
#include "wiltline/base/text.hpp"

namespace wiltline::cli {
namespace {

constexpr int most_parts = 1'000'000;
constexpr std::size_t longest_seal_bytes = 256;
constexpr std::string_view seal_title = "# wiltline sweep part ";

std::optional<PartNumber> numbers_of(std::string_view text, std::string_view between) {
  const std::size_t at = text.find(between);
  if (at == std::string_view::npos) return std::nullopt;
  const auto k = parse_integer(text.substr(0, at));
  const auto n = parse_integer(text.substr(at + between.size()));
  if (!k || !n || *k < 1 || *n > most_parts || *k > *n) return std::nullopt;
  return PartNumber{static_cast<std::size_t>(*k), static_cast<std::size_t>(*n)};
}

/// Numbers as a list, runs as 3-5, at most a few.
std::string listed_numbers(const std::vector<std::size_t>& numbers) {
  constexpr int most_shown = 10;
  std::string text;
  int shown = 0;
  for (std::size_t i = 0; i < numbers.size();) {
    std::size_t end = i + 1;
    while (end < numbers.size() && numbers[end] == numbers[end - 1] + 1) ++end;
    if (shown++ == most_shown) return text + " and more";
    if (!text.empty()) text += ", ";
    text += end - i == 1 ? fmt::format("{}", numbers[i])
                         : fmt::format("{}-{}", numbers[i], numbers[end - 1]);
    i = end;
  }
  return text;
}

}  // namespace

PartNumber parse_part(const std::string& text) {
  if (const auto part = numbers_of(text, "/")) return *part;
  refuse("--part: found {}; expected K/N, the K-th of N parts, as 3/8", in_quotes(text));
}

std::string in_words(PartNumber part) {
  return fmt::format("{}/{}", part.k, part.n);
}

std::string part_path(const std::string& file, PartNumber part) {
  return fmt::format("{}.part-{}-of-{}", file, part.k, part.n);
}

std::string to_line(const PartSeal& seal) {
  return fmt::format("{}{} inputs {} rows {} end\n", seal_title, seal.part, seal.inputs, seal.rows);
}

std::optional<PartSeal> read_seal(const std::string& path, std::uint64_t* rows_end) {
  std::ifstream file(path, std::ios::binary);
  file.seekg(0, std::ios::end);
  const auto size = static_cast<std::streamoff>(file.tellg());
  if (!file || size <= 0) return std::nullopt;
  const std::streamoff from =
      std::max<std::streamoff>(0, size - static_cast<std::streamoff>(longest_seal_bytes));
  file.seekg(from);
  std::string tail(static_cast<std::size_t>(size - from), '\0');
  if (!file.read(tail.data(), static_cast<std::streamsize>(tail.size()))) return std::nullopt;
  const std::size_t begin = tail.rfind(seal_title);
  if (begin == std::string::npos || !tail.ends_with(" end\n")) return std::nullopt;
  const auto parts = words(std::string_view(tail).substr(begin + seal_title.size()));
  if (parts.size() != 6 || parts[1] != "inputs" || parts[3] != "rows") return std::nullopt;
  if (rows_end != nullptr) *rows_end = static_cast<std::uint64_t>(from) + begin;
  return PartSeal{std::string(parts[0]), std::string(parts[2]), std::string(parts[4])};
}

std::size_t count_parts(const std::string& file) {
  namespace fs = std::filesystem;
  const fs::path path(file);
  const fs::path folder = path.has_parent_path() ? path.parent_path() : fs::path(".");
  const std::string start = path.filename().string() + ".part-";
  std::map<std::size_t, std::set<std::size_t>> found;  // parts by their number
  std::error_code error;
  for (const auto& entry : fs::directory_iterator(folder, error)) {
    const std::string name = entry.path().filename().string();
    if (!name.starts_with(start)) continue;
    std::string_view rest = std::string_view(name).substr(start.size());
    for (const std::string_view ending : {".partial", ".journal"}) {
      if (rest.ends_with(ending)) rest.remove_suffix(ending.size());
    }
    if (const auto part = numbers_of(rest, "-of-")) found[part->n].insert(part->k);
  }
  if (found.empty()) {
    refuse("--join: found no part of {}; expected {} and so on, from sweep --part", file,
           part_path(file, {1, 8}));
  }
  if (found.size() > 1) {
    std::vector<std::size_t> numbers;
    for (const auto& [n, parts] : found) numbers.push_back(n);
    refuse(
        "--join: found parts of {} cut in {} parts; expected parts of one cut; move the others "
        "away",
        file, fmt::join(numbers, " and in "));
  }
  const std::size_t n = found.begin()->first;
  std::vector<std::size_t> missing;
  std::vector<std::size_t> unfinished;
  for (std::size_t k = 1; k <= n; ++k) {
    if (fs::exists(part_path(file, {k, n}), error)) continue;
    const bool begun = fs::exists(part_path(file, {k, n}) + ".partial", error);
    (begun ? unfinished : missing).push_back(k);
  }
  if (missing.empty() && unfinished.empty()) return n;
  std::string what;
  if (!missing.empty()) what = fmt::format("no part {}", listed_numbers(missing));
  if (!unfinished.empty()) {
    what += fmt::format("{}part {} unfinished", what.empty() ? "" : " and ",
                        listed_numbers(unfinished));
  }
  refuse("--join: found {} of {} of {}; expected all; run --part again for those", what, n, file);
}

void join_parts(const std::string& file, std::size_t parts, const std::string& header,
                const std::function<std::string(PartNumber)>& inputs) {
  // Everything that can be told from the seals before the first byte is copied.
  std::vector<std::pair<PartSeal, std::uint64_t>> seals;
  ProblemList problems;
  for (std::size_t k = 1; k <= parts; ++k) {
    const PartNumber part{k, parts};
    const std::string path = part_path(file, part);
    std::uint64_t rows_end = 0;
    const auto seal = read_seal(path, &rows_end);
    if (!seal) {
      problems.add({path, 0, 0, "a file without the line that ends a finished part",
                    "a part as sweep --part wrote it"});
    } else if (seal->part != in_words(part)) {
      problems.add(
          {path, 0, 0, fmt::format("part {}", seal->part), fmt::format("part {}", in_words(part))});
    } else if (seal->inputs != inputs(part)) {
      problems.add({path, 0, 0, "a part made from other weather, options, models or program",
                    "one made from those given here; sweep this part again with --restart"});
    }
    if (problems.full()) break;
    seals.emplace_back(seal.value_or(PartSeal{}), rows_end);
  }
  problems.throw_if_any();

  Output output(file);
  (void)output.append(header);
  std::vector<char> block(std::size_t{1} << 20);
  for (std::size_t k = 1; k <= parts; ++k) {
    const std::string path = part_path(file, {k, parts});
    const auto& [seal, rows_end] = seals[k - 1];
    std::ifstream stream(path, std::ios::binary);
    Sha256 digest;
    std::string begin(header.size(), '\0');
    stream.read(begin.data(), static_cast<std::streamsize>(begin.size()));
    digest.add(begin);
    bool good = stream && begin == header;
    for (std::uint64_t at = header.size(); good && at < rows_end;) {
      const auto wanted =
          static_cast<std::size_t>(std::min<std::uint64_t>(block.size(), rows_end - at));
      good = !stream.read(block.data(), static_cast<std::streamsize>(wanted)).fail();
      if (!good) break;
      const std::string_view rows(block.data(), wanted);
      digest.add(rows);
      (void)output.append(rows);
      at += wanted;
    }
    if (!good || digest.hex() != seal.rows) {
      throw InputError({{path, 0, 0, "rows that differ from the checksum in its last line",
                         "a part as sweep --part wrote it; sweep it again with --restart"}});
    }
  }
  output.finish();
}

}  // namespace wiltline::cli

// The one home of reading files. Nothing else in the library opens anything.
#pragma once

#include <cstddef>
#include <string>

namespace wiltline {

/// The bytes of a file and the name to call it by in messages.
struct FileBytes {
  std::string name;
  std::string bytes;
};

/// The largest file that is read: 256 MiB, over four million days of weather.
inline constexpr std::size_t largest_file_bytes = std::size_t{256} << 20;

/// Reads a whole file, or standard input for `-`; what gzip packed is unpacked.
/// Throws RequestError if it does not exist, is a directory or cannot be read; InputError if larger
/// than largest_file_bytes, packed or not (no more than a few times that is ever held).
[[nodiscard]] FileBytes read_file(const std::string& path);

}  // namespace wiltline

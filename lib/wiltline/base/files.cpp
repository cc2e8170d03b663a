#include "wiltline/base/files.hpp"

#include <fmt/format.h>

#include <cerrno>
#include <cstdio>
#include <filesystem>
#include <memory>
#include <system_error>

#include "wiltline/base/errors.hpp"
#include "wiltline/base/text.hpp"

namespace wiltline {
namespace {

std::string read_stream(std::FILE* stream, const std::string& name) {
  constexpr std::size_t block = std::size_t{1} << 16;
  std::string bytes;
  while (true) {
    const std::size_t before = bytes.size();
    bytes.resize(before + block);
    const std::size_t got = std::fread(bytes.data() + before, 1, block, stream);
    bytes.resize(before + got);
    if (bytes.size() > largest_file_bytes) {
      throw InputError({{name, 0, 0, "a file of more than 256 MiB", "at most 256 MiB"}});
    }
    if (got < block) break;
  }
  if (std::ferror(stream) != 0) {
    throw RequestError(
        fmt::format("{}: cannot be read: {}", name, std::generic_category().message(errno)));
  }
  return bytes;
}

}  // namespace

FileBytes read_file(const std::string& path) {
  if (path == "-") return {"(standard input)", read_stream(stdin, "(standard input)")};

  std::error_code error;
  if (std::filesystem::is_directory(path, error)) {
    throw RequestError(fmt::format("{}: found a folder; expected a file", path));
  }
  const std::unique_ptr<std::FILE, int (*)(std::FILE*)> stream(std::fopen(path.c_str(), "rb"),
                                                               &std::fclose);
  if (!stream) {
    throw RequestError(fmt::format("{}: cannot be opened: {}", path.empty() ? "\"\"" : path,
                                   std::generic_category().message(errno)));
  }
  return {path, read_stream(stream.get(), path)};
}

}  // namespace wiltline

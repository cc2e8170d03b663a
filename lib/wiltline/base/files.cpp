#include "wiltline/base/files.hpp"

#include <fmt/format.h>
#include <zlib.h>

#include <cerrno>
#include <cstdio>
#include <filesystem>
#include <memory>
#include <new>
#include <string_view>
#include <system_error>

#include "wiltline/base/errors.hpp"

namespace wiltline {
namespace {

[[noreturn]] void refuse_size(const std::string& name) {
  throw InputError({{name, 0, 0, "a file of more than 256 MiB", "at most 256 MiB"}});
}

std::string read_stream(std::FILE* stream, const std::string& name) {
  constexpr std::size_t block = std::size_t{1} << 16;
  std::string bytes;
  while (true) {
    const std::size_t before = bytes.size();
    bytes.resize(before + block);
    const std::size_t got = std::fread(bytes.data() + before, 1, block, stream);
    bytes.resize(before + got);
    if (bytes.size() > largest_file_bytes) {
      refuse_size(name);
    }
    if (got < block) break;
  }
  if (std::ferror(stream) != 0) {
    throw RequestError(
        fmt::format("{}: cannot be read: {}", name, std::generic_category().message(errno)));
  }
  return bytes;
}

bool is_packed(std::string_view bytes) {
  return bytes.starts_with("\x1f\x8b");
}

/// What gzip packed, in one piece or several after each other.
std::string unpacked(const std::string& packed, const std::string& name) {
  z_stream stream{};
  constexpr int gzip_window = 15 + 16;  // zlib's way of saying: gzip, largest window
  if (inflateInit2(&stream, gzip_window) != Z_OK) throw std::bad_alloc();
  const std::unique_ptr<z_stream, int (*)(z_stream*)> ended(&stream, &inflateEnd);
  std::string bytes;
  constexpr std::size_t block = std::size_t{1} << 18;
  // zlib does not write to its input, but asks for it so; files are smaller than its counters.
  stream.next_in = reinterpret_cast<Bytef*>(const_cast<char*>(packed.data()));
  stream.avail_in = static_cast<uInt>(packed.size());
  while (true) {
    const std::size_t before = bytes.size();
    bytes.resize(before + block);
    stream.next_out = reinterpret_cast<Bytef*>(bytes.data() + before);
    stream.avail_out = static_cast<uInt>(block);
    const int outcome = inflate(&stream, Z_NO_FLUSH);
    bytes.resize(before + block - stream.avail_out);
    if (bytes.size() > largest_file_bytes) refuse_size(name);
    if (outcome == Z_STREAM_END) {
      if (stream.avail_in == 0) return bytes;
      if (inflateReset(&stream) == Z_OK) continue;
    }
    if (outcome != Z_OK) {
      throw InputError({{name, 0, 0, "gzip data that is broken or ends early", "all of it"}});
    }
  }
}

FileBytes opened_up(FileBytes file) {
  if (is_packed(file.bytes)) file.bytes = unpacked(file.bytes, file.name);
  return file;
}

}  // namespace

FileBytes read_file(const std::string& path) {
  if (path == "-") {
    return opened_up({"(standard input)", read_stream(stdin, "(standard input)")});
  }

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
  return opened_up({path, read_stream(stream.get(), path)});
}

}  // namespace wiltline

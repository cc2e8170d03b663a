// Reading files: every byte, or a RequestError that says which path and why.
#include <doctest/doctest.h>

#include <array>
#include <string>

#include "support/refusal.hpp"
#include "support/temporary_folder.hpp"
#include "wiltline/base/files.hpp"

namespace wiltline::test {
TEST_CASE("files: a file is read byte for byte and called by its path") {
  const TemporaryFolder folder;
  const std::string bytes("date,\r\n\0\xEF\xBB\xBF\xFF\n last", 19);
  const std::string path = folder.write("odd.csv", bytes);
  const FileBytes file = read_file(path);
  CHECK(file.name == path);
  CHECK(file.bytes == bytes);
}

TEST_CASE("files: empty files, and files of several read blocks") {
  const TemporaryFolder folder;
  CHECK(read_file(folder.write("empty.csv", "")).bytes.empty());
  for (const std::size_t size :
       {std::size_t{1}, (std::size_t{1} << 16) - 1, std::size_t{1} << 16,
        (std::size_t{1} << 16) + 1, std::size_t{3} << 16, std::size_t{200000}}) {
    CAPTURE(size);
    std::string bytes(size, ' ');
    for (std::size_t i = 0; i < size; ++i) bytes[i] = static_cast<char>('a' + i % 23);
    CHECK(read_file(folder.write("blocks.csv", bytes)).bytes == bytes);
  }
}

TEST_CASE("files: what cannot be read is a wrong request") {
  const TemporaryFolder folder;
  const std::string missing = folder.path("missing.csv");
  CHECK(refusal([&] { (void)read_file(missing); }) ==
        "request: " + missing + ": cannot be opened: No such file or directory");
  const std::string inside = folder.write("file.csv", "x") + "/inside.csv";
  CHECK(refusal([&] { (void)read_file(inside); }) ==
        "request: " + inside + ": cannot be opened: Not a directory");
  const std::string directory = folder.path("");
  CHECK(refusal([&] { (void)read_file(directory); }) ==
        "request: " + directory + ": found a folder; expected a file");
  CHECK(refusal([&] { (void)read_file(""); }) ==
        "request: \"\": cannot be opened: No such file or directory");
}

TEST_CASE("files: what gzip packed is unpacked, in one piece or in several") {
  // `printf 'date,tmin_c\n' | gzip -n`
  constexpr std::array<unsigned char, 32> bytes{0x1f, 0x8b, 0x08, 0x00, 0x00, 0x00, 0x00, 0x00,
                                                0x02, 0x03, 0x4b, 0x49, 0x2c, 0x49, 0xd5, 0x29,
                                                0xc9, 0xcd, 0xcc, 0x8b, 0x4f, 0xe6, 0x02, 0x00,
                                                0xb7, 0x8b, 0x27, 0xac, 0x0c, 0x00, 0x00, 0x00};
  const std::string packed(bytes.begin(), bytes.end());
  const TemporaryFolder folder;
  CHECK(read_file(folder.write("one.csv.gz", packed)).bytes == "date,tmin_c\n");
  CHECK(read_file(folder.write("two.csv.gz", packed + packed)).bytes ==
        "date,tmin_c\ndate,tmin_c\n");
  for (const std::size_t size : {std::size_t{2}, std::size_t{9}, packed.size() - 1}) {
    CAPTURE(size);
    const std::string path = folder.write("cut.csv.gz", packed.substr(0, size));
    CHECK(refusal([&] { (void)read_file(path); }) ==
          path + ": found gzip data that is broken or ends early; expected all of it");
  }
  std::string spoilt = packed;
  spoilt[12] = '?';
  CHECK(refusal([&] { (void)read_file(folder.write("spoilt.csv.gz", spoilt)); }).find("broken") !=
        std::string::npos);
}

}  // namespace wiltline::test

// A folder for a test's own files.
#pragma once

#include <filesystem>
#include <fstream>
#include <string>

namespace wiltline::test {

/// An empty folder that is gone again, with all in it, at the end of the test.
class TemporaryFolder {
 public:
  TemporaryFolder() {
    const auto base = std::filesystem::temp_directory_path();
    for (int i = 0;; ++i) {
      path_ = base / ("wiltline-test-" + std::to_string(i));
      if (std::filesystem::create_directory(path_)) break;
    }
  }
  TemporaryFolder(const TemporaryFolder&) = delete;
  TemporaryFolder& operator=(const TemporaryFolder&) = delete;
  ~TemporaryFolder() {
    std::error_code ignored;
    std::filesystem::remove_all(path_, ignored);
  }

  [[nodiscard]] std::string path() const { return path_.string(); }
  [[nodiscard]] std::string path(const std::string& name) const { return (path_ / name).string(); }
  /// Writes a file and returns its path.
  std::string write(const std::string& name, const std::string& bytes) const {
    std::ofstream(path_ / name, std::ios::binary) << bytes;
    return path(name);
  }

 private:
  std::filesystem::path path_;
};

}  // namespace wiltline::test

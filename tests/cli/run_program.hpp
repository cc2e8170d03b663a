// Runs the built program as a shell would, and collects what it says.
#pragma once

#include <filesystem>
#include <map>
#include <set>
#include <string>
#include <string_view>
#include <vector>

namespace wiltline::test {

/// A fresh, empty folder under the build tree, removed at the end with everything in it.
class ScratchFolder {
 public:
  ScratchFolder();
  ~ScratchFolder();
  ScratchFolder(const ScratchFolder&) = delete;
  ScratchFolder& operator=(const ScratchFolder&) = delete;

  [[nodiscard]] const std::filesystem::path& path() const { return path_; }
  void write(const std::string& name, std::string_view text) const;
  [[nodiscard]] std::string read(const std::string& name) const;
  /// The names of everything in it, hidden files too, one a line.
  [[nodiscard]] std::string listing() const;

 private:
  std::filesystem::path path_;
};

/// The bytes of a file; throws if there is none.
[[nodiscard]] std::string bytes_of(const std::filesystem::path& path);

/// Where the program's standard output goes.
enum class Reader {
  patient,     // reads everything
  first_line,  // reads a line and goes, as `| head -1` does
  gone,        // has gone before the program starts
};

/// What the program is given.
struct Call {
  std::vector<std::string> arguments;
  std::filesystem::path folder;                         // working directory
  std::string input = {};                               // on standard input
  std::map<std::string, std::string> environment = {};  // on top of the test's own
  Reader reader = Reader::patient;
  std::string output_path = {};  // standard output opened here; empty: a pipe
  std::string error_path = {};   // standard error likewise
  std::set<int> closed = {};     // descriptors the program starts without
};

/// What came of it. `signal` is what ended the program, 0 if it ended by itself.
struct Outcome {
  int exit_code = -1;
  int signal = 0;
  std::string out;
  std::string err;
};

/// Runs the program to its end. Throws if it cannot be started or takes longer than two minutes.
[[nodiscard]] Outcome run_program(const Call& call);

/// The same in a scratch folder, with nothing unusual about it.
[[nodiscard]] Outcome run_program(const ScratchFolder& folder, std::vector<std::string> arguments,
                                  std::string input = {});

/// The words as one line, for messages about a failed check.
[[nodiscard]] std::string command_line(const std::vector<std::string>& arguments);

}  // namespace wiltline::test

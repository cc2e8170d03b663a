// What the sources may not do: start programs, talk to a network, look at the environment, or make
// temporary files but the one beside an output.
#include <doctest/doctest.h>

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <regex>
#include <sstream>
#include <string>
#include <vector>

namespace wiltline::test {
namespace {

namespace fs = std::filesystem;

/// The one place that makes a temporary file.
const std::string maker = "cli/output.cpp";

struct SourceFile {
  std::string path;  // from the top of the source tree
  std::string text;
};

std::vector<SourceFile> sources() {
  const fs::path top = WILTLINE_SOURCE;
  std::vector<SourceFile> files;
  for (const char* folder : {"lib", "cli"}) {
    for (const auto& entry : fs::recursive_directory_iterator(top / folder)) {
      const std::string extension = entry.path().extension().string();
      if (extension != ".hpp" && extension != ".cpp" && extension != ".in") continue;
      std::ifstream stream(entry.path(), std::ios::binary);
      files.push_back({entry.path().lexically_relative(top).generic_string(),
                       {std::istreambuf_iterator<char>(stream), {}}});
    }
  }
  return files;
}

/// The lines, without comments, that reach out of the program.
std::vector<std::string> reaching_out(const SourceFile& file) {
  static const std::regex calls(
      R"(\b(system|popen|v?fork|exec[lv]p?e?|execvpe|fexecve|posix_spawnp?|dlopen|socket|connect)"
      R"(|getaddrinfo|gethostbyname)\s*\()");
  static const std::regex names(
      R"(\b((secure_)?getenv|environ|tmpfile|tmpnam|tempnam|temp_directory_path|mkdtemp)\b)");
  static const std::regex temporary(R"(\bmko?stemps?\b)");
  std::vector<std::string> found;
  int made = 0;
  std::istringstream stream(file.text);
  for (std::string line; std::getline(stream, line);) {
    const std::string code = line.substr(0, line.find("//"));
    const bool makes = std::regex_search(code, temporary);
    made += makes ? 1 : 0;
    const bool elsewhere = makes && (file.path != maker || made > 1);
    if (elsewhere || std::regex_search(code, calls) || std::regex_search(code, names)) {
      found.push_back(file.path + ": " + line);
    }
  }
  return found;
}

/// What a terminal is and what its owner wants, which only the environment says.
bool asks_about_the_terminal(const std::string& line) {
  return line.starts_with("cli/terminal.cpp: ") &&
         (line.find("std::getenv(\"NO_COLOR\")") != std::string::npos ||
          line.find("std::getenv(\"TERM\")") != std::string::npos);
}

TEST_CASE("the sources start no program, reach no network and read no environment") {
  const auto files = sources();
  CHECK(files.size() > 100);
  CHECK(std::any_of(files.begin(), files.end(),
                    [](const SourceFile& file) { return file.path == maker; }));
  for (const SourceFile& file : files) {
    for (const std::string& line : reaching_out(file)) {
      if (!asks_about_the_terminal(line)) FAIL_CHECK(line);
    }
  }
}

TEST_CASE("this check finds what it looks for") {
  const auto found = [](const std::string& path, const std::string& text) {
    return reaching_out({path, text}).size();
  };
  for (const char* line : {"std::system(\"ls\");",
                           "FILE* f = popen (\"ls\", \"r\");",
                           "if (::fork() == 0) {",
                           "vfork();",
                           "execl(\"/bin/sh\", nullptr);",
                           "execlp(a);",
                           "execle(a);",
                           "execv(a, b);",
                           "execvp(a, b);",
                           "execve(a, b, c);",
                           "execvpe(a, b, c);",
                           "fexecve(a, b, c);",
                           "posix_spawn(&child, a);",
                           "posix_spawnp(&child, a);",
                           "dlopen(a, 0);",
                           "int s = ::socket(AF_INET, SOCK_STREAM, 0);",
                           "connect(s, a, n);",
                           "getaddrinfo(a, b);",
                           "gethostbyname(a);",
                           "std::getenv(\"HOME\")",
                           "secure_getenv(a)",
                           "extern char** environ;",
                           "std::tmpfile()",
                           "std::tmpnam(a)",
                           "tempnam(a, b)",
                           "mkdtemp(a)",
                           "fs::temp_directory_path()",
                           "mkstemp(a)",
                           "mkostemp(a, 0)",
                           "mkstemps(a, 4)"}) {
    INFO(line);
    CHECK(found("lib/wiltline/base/files.cpp", std::string("  ") + line + '\n') == 1);
    CHECK(found("lib/wiltline/base/files.cpp", std::string("go();  // ") + line + '\n') == 0);
  }
  CHECK(found("cli/output.cpp", "mkostemps(a, 8, 0);\n") == 0);
  CHECK(found("cli/output.cpp", "mkostemps(a, 8, 0);\nmkostemps(b, 8, 0);\n") == 1);
  CHECK(found("cli/words.cpp", "root_system(1); disconnect(2); executed(3); forked(4);\n") == 0);
}

}  // namespace
}  // namespace wiltline::test

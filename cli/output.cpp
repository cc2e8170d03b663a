#include "output.hpp"

#include <fcntl.h>
#include <fmt/format.h>
#include <sys/stat.h>
#include <unistd.h>

#include <algorithm>
#include <array>
#include <cerrno>
#include <climits>
#include <csignal>
#include <cstdio>
#include <filesystem>
#include <system_error>
#include <utility>

#include "refuse.hpp"
#include "wiltline/base/errors.hpp"
#include "wiltline/base/text.hpp"

namespace wiltline::cli {
namespace {

constexpr mode_t new_file_mode = 0666;  // less the umask

mode_t current_umask() {
  const mode_t mask = ::umask(0);
  (void)::umask(mask);
  return mask;
}

constexpr std::array ending_signals{SIGINT, SIGTERM, SIGHUP};

// What a signal that ends the program leaves behind must not be a half-written file. The handler
// may only touch plain memory and make system calls.
struct BegunFile {
  std::array<char, PATH_MAX> path{};
  volatile std::sig_atomic_t is_begun = 0;
};
std::array<BegunFile, 4> begun_files{};  // an answer and what goes beside it

extern "C" void remove_begun_files(int signal) {
  for (const BegunFile& file : begun_files) {
    if (file.is_begun != 0) ::unlink(file.path.data());
  }
  std::signal(signal, SIG_DFL);
  (void)std::raise(signal);
}

/// A file is made and noted, or renamed and forgotten, without a signal in between.
class SignalsHeld {
 public:
  SignalsHeld() {
    sigset_t held;
    ::sigemptyset(&held);
    for (const int signal : ending_signals) ::sigaddset(&held, signal);
    ::pthread_sigmask(SIG_BLOCK, &held, &before_);
  }
  SignalsHeld(const SignalsHeld&) = delete;
  SignalsHeld& operator=(const SignalsHeld&) = delete;
  ~SignalsHeld() { ::pthread_sigmask(SIG_SETMASK, &before_, nullptr); }

 private:
  sigset_t before_{};
};

void remove_if_stopped(const std::string& path) {
  for (BegunFile& file : begun_files) {
    if (file.is_begun != 0 || path.size() >= file.path.size()) continue;
    std::copy(path.begin(), path.end(), file.path.begin());
    file.path[path.size()] = '\0';
    file.is_begun = 1;
    break;
  }
  handle_ending_signals(remove_begun_files);
}

void forget(const std::string& path) {
  for (BegunFile& file : begun_files) {
    if (file.is_begun != 0 && path == file.path.data()) file.is_begun = 0;
  }
}

}  // namespace

void handle_ending_signals(void (*handler)(int)) {
  for (const int signal : ending_signals) {
    if (std::signal(signal, handler) == SIG_IGN) std::signal(signal, SIG_IGN);
  }
}

Written write_all(int descriptor, std::string_view text) {
  while (!text.empty()) {
    const ssize_t got = ::write(descriptor, text.data(), text.size());
    if (got >= 0) {
      text.remove_prefix(static_cast<std::size_t>(got));
    } else if (errno == EPIPE) {
      return Written::reader_gone;
    } else if (errno != EINTR) {
      return Written::failed;
    }
  }
  return Written::all;
}

WriteError cannot(const std::string& path, const char* doing) {
  return WriteError(fmt::format("{}: {}: {}", path, doing, std::generic_category().message(errno)));
}

std::string end_of_links(const std::string& path) {
  constexpr int most_links = 40;
  std::filesystem::path target = path;
  std::error_code error;
  for (int i = 0; i < most_links && std::filesystem::is_symlink(target, error); ++i) {
    target = target.parent_path() / std::filesystem::read_symlink(target, error);
  }
  return target.string();
}

void write_new_files(const std::string& folder, const std::vector<NewFile>& files) {
  const std::filesystem::path place(folder);
  std::error_code error;
  for (const NewFile& file : files) {
    if (std::filesystem::symlink_status(place / file.name, error).type() ==
        std::filesystem::file_type::not_found) {
      continue;
    }
    refuse("{}: found {} there already; expected a folder without it", folder,
           in_quotes(file.name));
  }
  const SignalsHeld held;  // what is begun is ended or undone
  const bool made = ::mkdir(folder.c_str(), 0777) == 0;
  if (!made && errno != EEXIST) throw cannot(folder, "cannot be made");
  std::vector<std::string> begun;
  try {
    for (const NewFile& file : files) {
      const std::string path = (place / file.name).string();
      const int descriptor =
          ::open(path.c_str(), O_WRONLY | O_CREAT | O_EXCL | O_CLOEXEC, new_file_mode);
      if (descriptor < 0) throw cannot(path, "cannot be written");
      begun.push_back(path);
      const bool written =
          write_all(descriptor, file.text) == Written::all && ::fsync(descriptor) == 0;
      const int code = errno;
      ::close(descriptor);
      errno = code;
      if (!written) throw cannot(path, "cannot be written");
    }
  } catch (const WriteError&) {
    for (const std::string& path : begun) ::unlink(path.c_str());
    if (made) ::rmdir(folder.c_str());
    throw;
  }
}

Output::Output(std::string path, std::string_view option) : path_(std::move(path)) {
  if (path_ == "-") return;
  if (path_.empty()) refuse("--{}: found \"\"; expected a file", option);
  struct stat existing {};
  const bool exists = ::stat(path_.c_str(), &existing) == 0;
  if (!exists && errno == ELOOP) fail("cannot be written");
  if (exists && S_ISDIR(existing.st_mode)) {
    throw WriteError(fmt::format("{}: found a folder; expected a file to write", path_));
  }
  if (exists && !S_ISREG(existing.st_mode)) {
    descriptor_ = ::open(path_.c_str(), O_WRONLY | O_CLOEXEC);
    if (descriptor_ < 0) fail("cannot be opened for writing");
    return;
  }
  target_ = end_of_links(path_);
  // A file of its own beside the target, renamed over it at the end.
  const std::filesystem::path target(target_);
  temporary_ =
      (target.parent_path() / fmt::format(".{}.XXXXXX.partial", target.filename().string()))
          .string();
  constexpr int suffix_size = 8;  // ".partial"
  {
    const SignalsHeld held;
    descriptor_ = ::mkostemps(temporary_.data(), suffix_size, O_CLOEXEC);
    if (descriptor_ >= 0) remove_if_stopped(temporary_);
  }
  if (descriptor_ < 0) {
    temporary_.clear();
    fail("cannot be written");
  }
  if (!exists) (void)::fchmod(descriptor_, new_file_mode & ~current_umask());
  if (exists) {
    if (::access(target_.c_str(), W_OK) != 0) fail("cannot be written");
    (void)::fchmod(descriptor_, existing.st_mode & 07777U);
  }
}

Output::~Output() {
  abandon();
}

void Output::abandon() {
  if (descriptor_ >= 0) ::close(std::exchange(descriptor_, -1));
  if (temporary_.empty()) return;
  const SignalsHeld held;
  ::unlink(temporary_.c_str());
  forget(temporary_);
  temporary_.clear();
}

void Output::write(const std::string& text) {
  (void)append(text);
  finish();
}

bool Output::append(std::string_view text) {
  const bool to_file = descriptor_ >= 0;
  const Written written = write_all(to_file ? descriptor_ : STDOUT_FILENO, text);
  if (written == Written::failed) {
    if (!to_file) throw cannot("standard output", "cannot be written");
    fail("cannot be written");
  }
  return written == Written::all;
}

void Output::finish() {
  if (descriptor_ < 0 || temporary_.empty()) return;
  if (::fsync(descriptor_) != 0 || ::close(std::exchange(descriptor_, -1)) != 0) {
    fail("cannot be written");
  }
  {
    const SignalsHeld held;
    if (std::rename(temporary_.c_str(), target_.c_str()) == 0) {
      forget(temporary_);
      temporary_.clear();
    }
  }
  if (!temporary_.empty()) fail("cannot be replaced");
}

void say(std::string_view line) {
  const std::string text = without_control_characters(line) + '\n';
  (void)std::fwrite(text.data(), 1, text.size(), stderr);
}

void Output::fail(const char* doing) {
  const WriteError problem = cannot(path_, doing);
  abandon();
  throw problem;
}

}  // namespace wiltline::cli

#include "cli/run_program.hpp"

#include <fcntl.h>
#include <poll.h>
#include <spawn.h>
#include <sys/wait.h>
#include <unistd.h>

#include <array>
#include <atomic>
#include <cerrno>
#include <chrono>
#include <csignal>
#include <fstream>
#include <iterator>
#include <set>
#include <stdexcept>
#include <system_error>
#include <utility>

extern char** environ;  // NOLINT(readability-redundant-declaration): POSIX leaves it to us

namespace wiltline::test {
namespace {

constexpr std::chrono::minutes longest_run{2};

void require_success(int error, const char* doing) {
  if (error != 0) throw std::system_error(error, std::generic_category(), doing);
}

/// A descriptor that closes itself.
class Descriptor {
 public:
  explicit Descriptor(int number = -1) : number_(number) {}
  Descriptor(Descriptor&& other) noexcept : number_(std::exchange(other.number_, -1)) {}
  Descriptor& operator=(Descriptor&& other) noexcept {
    std::swap(number_, other.number_);
    return *this;
  }
  Descriptor(const Descriptor&) = delete;
  Descriptor& operator=(const Descriptor&) = delete;
  ~Descriptor() { close(); }

  [[nodiscard]] int number() const { return number_; }
  [[nodiscard]] bool open() const { return number_ >= 0; }
  void close() {
    if (number_ >= 0) ::close(std::exchange(number_, -1));
  }

 private:
  int number_;
};

struct Pipe {
  Pipe() {
    std::array<int, 2> ends{};
    require_success(::pipe2(ends.data(), O_CLOEXEC) == 0 ? 0 : errno, "pipe2");
    read_end = Descriptor(ends[0]);
    write_end = Descriptor(ends[1]);
  }
  Descriptor read_end;
  Descriptor write_end;
};

/// What posix_spawn is told about the program's descriptors, folder and signals.
class SpawnPlan {
 public:
  SpawnPlan() {
    require_success(::posix_spawn_file_actions_init(&actions_), "spawn actions");
    require_success(::posix_spawnattr_init(&attributes_), "spawn attributes");
    // The test ignores SIGPIPE; the program must find it as a shell leaves it.
    sigset_t usual;
    sigemptyset(&usual);
    sigaddset(&usual, SIGPIPE);
    ::posix_spawnattr_setsigdefault(&attributes_, &usual);
    ::posix_spawnattr_setflags(&attributes_, POSIX_SPAWN_SETSIGDEF);
  }
  SpawnPlan(const SpawnPlan&) = delete;
  SpawnPlan& operator=(const SpawnPlan&) = delete;
  ~SpawnPlan() {
    ::posix_spawn_file_actions_destroy(&actions_);
    ::posix_spawnattr_destroy(&attributes_);
  }

  void connect(const Descriptor& ours, int theirs) {
    require_success(::posix_spawn_file_actions_adddup2(&actions_, ours.number(), theirs), "dup2");
  }
  void open_for_writing(const std::string& path, int theirs) {
    require_success(
        ::posix_spawn_file_actions_addopen(&actions_, theirs, path.c_str(), O_WRONLY, 0), "open");
  }
  void close(int theirs) {
    require_success(::posix_spawn_file_actions_addclose(&actions_, theirs), "close");
  }
  void work_in(const std::filesystem::path& folder) {
    require_success(::posix_spawn_file_actions_addchdir_np(&actions_, folder.c_str()), "chdir");
  }

  pid_t start(const char* program, std::vector<std::string> words,
              std::vector<std::string> environment) const {
    const auto pointers = [](std::vector<std::string>& texts) {
      std::vector<char*> result;
      for (std::string& text : texts) result.push_back(text.data());
      result.push_back(nullptr);
      return result;
    };
    pid_t child = -1;
    require_success(::posix_spawn(&child, program, &actions_, &attributes_, pointers(words).data(),
                                  pointers(environment).data()),
                    program);
    return child;
  }

 private:
  posix_spawn_file_actions_t actions_{};
  posix_spawnattr_t attributes_{};
};

std::vector<std::string> environment_with(const std::map<std::string, std::string>& changes) {
  std::vector<std::string> result;
  for (char** entry = environ; *entry != nullptr; ++entry) {
    const std::string_view text = *entry;
    if (!changes.contains(std::string(text.substr(0, text.find('='))))) result.emplace_back(text);
  }
  for (const auto& [name, value] : changes) result.push_back(name + '=' + value);
  return result;
}

/// Feeds and reads the program's streams until it has closed them all.
class Conversation {
 public:
  Conversation(const Call& call, Descriptor input, Descriptor out, Descriptor err)
      : call_(call), input_(std::move(input)), out_(std::move(out)), err_(std::move(err)) {
    ::fcntl(input_.number(), F_SETFL, O_NONBLOCK);
  }

  /// False if the time is up.
  bool hold(Outcome& outcome) {
    const auto end = std::chrono::steady_clock::now() + longest_run;
    while (input_.open() || out_.open() || err_.open()) {
      const auto left = std::chrono::duration_cast<std::chrono::milliseconds>(
          end - std::chrono::steady_clock::now());
      if (left.count() <= 0) return false;
      // A closed descriptor is -1 here, which poll passes over.
      std::array<pollfd, 3> watched{
          {{input_.number(), POLLOUT, 0}, {out_.number(), POLLIN, 0}, {err_.number(), POLLIN, 0}}};
      if (::poll(watched.data(), watched.size(), static_cast<int>(left.count())) < 0) continue;
      if (watched[0].revents != 0) feed();
      if (watched[1].revents != 0) read_from(out_, outcome.out);
      if (watched[2].revents != 0) read_from(err_, outcome.err);
      if (call_.reader == Reader::first_line && outcome.out.find('\n') != std::string::npos) {
        out_.close();
      }
    }
    return true;
  }

 private:
  void feed() {
    const std::string_view rest = std::string_view(call_.input).substr(fed_);
    const ssize_t got = rest.empty() ? 0 : ::write(input_.number(), rest.data(), rest.size());
    if (got > 0) fed_ += static_cast<std::size_t>(got);
    if (fed_ == call_.input.size() || (got < 0 && errno == EPIPE)) input_.close();
  }

  static void read_from(Descriptor& from, std::string& text) {
    std::array<char, 4096> block{};
    const ssize_t got = ::read(from.number(), block.data(), block.size());
    if (got > 0) text.append(block.data(), static_cast<std::size_t>(got));
    if (got == 0) from.close();
  }

  const Call& call_;
  Descriptor input_;
  Descriptor out_;
  Descriptor err_;
  std::size_t fed_ = 0;
};

}  // namespace

ScratchFolder::ScratchFolder() {
  static std::atomic<int> made{0};
  path_ = std::filesystem::path(WILTLINE_TEST_SCRATCH) /
          ("run-" + std::to_string(::getpid()) + '-' + std::to_string(++made));
  std::filesystem::remove_all(path_);
  std::filesystem::create_directories(path_);
}

ScratchFolder::~ScratchFolder() {
  std::error_code ignored;
  std::filesystem::remove_all(path_, ignored);
}

void ScratchFolder::write(const std::string& name, std::string_view text) const {
  std::ofstream file(path_ / name, std::ios::binary);
  file.write(text.data(), static_cast<std::streamsize>(text.size()));
  if (!file.flush()) throw std::runtime_error("cannot write " + name);
}

std::string ScratchFolder::read(const std::string& name) const {
  return bytes_of(path_ / name);
}

std::string ScratchFolder::listing() const {
  std::set<std::string> names;
  for (const auto& entry : std::filesystem::directory_iterator(path_)) {
    names.insert(entry.path().filename().string());
  }
  std::string text;
  for (const std::string& name : names) text += name + '\n';
  return text;
}

std::string bytes_of(const std::filesystem::path& path) {
  std::ifstream file(path, std::ios::binary);
  if (!file) throw std::runtime_error("cannot read " + path.string());
  return {std::istreambuf_iterator<char>(file), {}};
}

Outcome run_program(const Call& call) {
  std::signal(SIGPIPE, SIG_IGN);  // a program that stops reading must not end the test
  Pipe input;
  Pipe out;
  Pipe err;
  SpawnPlan plan;
  plan.work_in(call.folder);
  plan.connect(input.read_end, STDIN_FILENO);
  plan.connect(out.write_end, STDOUT_FILENO);
  plan.connect(err.write_end, STDERR_FILENO);
  if (!call.output_path.empty()) plan.open_for_writing(call.output_path, STDOUT_FILENO);
  if (!call.error_path.empty()) plan.open_for_writing(call.error_path, STDERR_FILENO);
  for (const int descriptor : call.closed) plan.close(descriptor);
  if (call.reader == Reader::gone) out.read_end.close();

  std::vector<std::string> words{"wiltline"};
  words.insert(words.end(), call.arguments.begin(), call.arguments.end());
  const pid_t child = plan.start(WILTLINE_PROGRAM, words, environment_with(call.environment));
  input.read_end.close();
  out.write_end.close();
  err.write_end.close();

  Outcome outcome;
  Conversation conversation(call, std::move(input.write_end), std::move(out.read_end),
                            std::move(err.read_end));
  const bool in_time = conversation.hold(outcome);
  if (!in_time) ::kill(child, SIGKILL);
  int status = 0;
  while (::waitpid(child, &status, 0) < 0 && errno == EINTR) {
  }
  if (!in_time) throw std::runtime_error("took too long: " + command_line(call.arguments));
  if (WIFEXITED(status)) outcome.exit_code = WEXITSTATUS(status);
  if (WIFSIGNALED(status)) outcome.signal = WTERMSIG(status);
  return outcome;
}

Outcome run_program(const ScratchFolder& folder, std::vector<std::string> arguments,
                    std::string input) {
  return run_program(
      {.arguments = std::move(arguments), .folder = folder.path(), .input = std::move(input)});
}

std::string command_line(const std::vector<std::string>& arguments) {
  std::string line = "wiltline";
  for (const std::string& word : arguments) {
    const bool plain = !word.empty() && word.find_first_of(" \"'*") == std::string::npos;
    line += plain ? ' ' + word : " '" + word + '\'';
  }
  return line;
}

}  // namespace wiltline::test

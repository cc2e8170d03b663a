// How far a long answer is, as one line that is written over.
#pragma once

#include <chrono>
#include <cstddef>
#include <string>

namespace wiltline::cli {

/// `done` of `all` seasons, `before` of which an earlier run had done, after `seconds` of this run.
[[nodiscard]] std::string progress_text(std::size_t done, std::size_t all, std::size_t before,
                                        double seconds);

/// A line on standard error, a few times a second; nothing unless that is a terminal.
class Progress {
 public:
  /// `quiet`: for how long nothing is shown at first.
  explicit Progress(std::chrono::milliseconds quiet = {});
  Progress(const Progress&) = delete;
  Progress& operator=(const Progress&) = delete;
  ~Progress() { clear(); }
  void begin(std::size_t all, std::size_t before);
  void show(std::size_t done);
  void show(const std::string& text);
  /// Takes the line away, for what comes after.
  void clear();

 private:
  [[nodiscard]] bool due() const;
  void put(const std::string& text);

  using Clock = std::chrono::steady_clock;
  bool on_;
  std::chrono::milliseconds quiet_;
  bool shown_ = false;
  std::size_t all_ = 0;
  std::size_t before_ = 0;
  Clock::time_point begun_;
  Clock::time_point last_;
};

}  // namespace wiltline::cli

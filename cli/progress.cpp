#include "progress.hpp"

#include <fmt/format.h>
#include <unistd.h>

#include <cmath>
#include <cstdio>

namespace wiltline::cli {
namespace {

constexpr std::chrono::milliseconds between_lines{250};

/// A time to come, as exact as it deserves.
std::string rough_time(double seconds) {
  if (seconds < 90.0) return fmt::format("{:.0f} s", std::ceil(seconds));
  if (seconds < 5400.0) return fmt::format("{:.0f} min", std::ceil(seconds / 60.0));
  if (seconds < 172800.0) return fmt::format("{:.0f} h", std::ceil(seconds / 3600.0));
  return fmt::format("{:.0f} days", std::ceil(seconds / 86400.0));
}

}  // namespace

std::string progress_text(std::size_t done, std::size_t all, std::size_t before, double seconds) {
  std::string text = fmt::format("{} of {} seasons", done, all);
  if (done <= before || seconds <= 0.0) return text;
  const double rate = static_cast<double>(done - before) / seconds;
  text += fmt::format(", {:.0f} a second, about {} left", rate,
                      rough_time(static_cast<double>(all - done) / rate));
  return text;
}

Progress::Progress(std::chrono::milliseconds quiet)
    : on_(::isatty(STDERR_FILENO) == 1), quiet_(quiet), begun_(Clock::now()), last_(begun_) {}

void Progress::begin(std::size_t all, std::size_t before) {
  all_ = all;
  before_ = before;
  begun_ = Clock::now();
}

bool Progress::due() const {
  return on_ && Clock::now() - last_ >= (shown_ ? between_lines : quiet_);
}

void Progress::show(std::size_t done) {
  if (!due()) return;
  const std::chrono::duration<double> passed = Clock::now() - begun_;
  put(progress_text(done, all_, before_, passed.count()));
}

void Progress::show(const std::string& text) {
  if (due()) put(text);
}

void Progress::put(const std::string& text) {
  (void)std::fputs(fmt::format("\r\x1b[K{}", text).c_str(), stderr);
  (void)std::fflush(stderr);
  shown_ = true;
  last_ = Clock::now();
}

void Progress::clear() {
  if (!shown_) return;
  (void)std::fputs("\r\x1b[K", stderr);
  (void)std::fflush(stderr);
  shown_ = false;
}

}  // namespace wiltline::cli

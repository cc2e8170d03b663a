#include "sweep/resumable_file.hpp"

#include <fcntl.h>
#include <fmt/format.h>
#include <sys/file.h>
#include <sys/stat.h>
#include <unistd.h>

#include <algorithm>
#include <cerrno>
#include <charconv>
#include <cstdio>
#include <optional>
#include <system_error>
#include <utility>
#include <vector>

#include "output.hpp"
#include "refuse.hpp"
#include "wiltline/base/errors.hpp"
#include "wiltline/base/files.hpp"
#include "wiltline/base/text.hpp"

namespace wiltline::cli {
namespace {

constexpr mode_t new_file_mode = 0666;  // less the umask
constexpr std::chrono::milliseconds between_marks{20};
constexpr std::size_t most_pending_bytes = std::size_t{1} << 20;
constexpr std::string_view journal_title = "wiltline sweep journal 1 inputs ";

/// A line of the journal, and where it ends.
struct Mark {
  std::size_t pieces = 0;
  std::uint64_t bytes = 0;
  std::string_view digest;
  std::size_t line_end = 0;
};

template <typename Number>
bool read_whole(std::string_view text, Number& number) {
  const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), number);
  return error == std::errc{} && end == text.data() + text.size();
}

/// The marks of a journal up to the first line that is none: the last may be half-written.
std::vector<Mark> marks_of(std::string_view journal, std::size_t from) {
  std::vector<Mark> marks;
  while (true) {
    const std::size_t newline = journal.find('\n', from);
    if (newline == std::string_view::npos) return marks;
    const std::vector<std::string_view> parts = words(journal.substr(from, newline - from));
    Mark mark;
    if (parts.size() != 3 || !read_whole(parts[0], mark.pieces) ||
        !read_whole(parts[1], mark.bytes)) {
      return marks;
    }
    mark.digest = parts[2];
    mark.line_end = newline + 1;
    marks.push_back(mark);
    from = newline + 1;
  }
}

}  // namespace

ResumableFile::ResumableFile(std::string path, std::string inputs, bool restart)
    : path_(std::move(path)),
      target_(end_of_links(path_)),
      partial_(target_ + ".partial"),
      journal_(target_ + ".journal"),
      inputs_(std::move(inputs)),
      last_mark_(std::chrono::steady_clock::now()) {
  struct stat existing {};
  if (::stat(path_.c_str(), &existing) == 0) {
    if (S_ISDIR(existing.st_mode)) {
      throw WriteError(fmt::format("{}: found a folder; expected a file to write", path_));
    }
    if (::access(path_.c_str(), W_OK) != 0) throw cannot(path_, "cannot be written");
  }
  open_journal();
  try {
    // A journal alone is left over from a run that was ended just after it gave the file its name.
    const bool begun = ::access(partial_.c_str(), F_OK) == 0;
    partial_descriptor_ =
        ::open(partial_.c_str(), O_RDWR | O_CREAT | O_CLOEXEC | O_NOFOLLOW, new_file_mode);
    if (partial_descriptor_ < 0)
      throw cannot(errno == ELOOP ? partial_ : path_, "cannot be written");
    resumed_ = begun && !restart && read_journal();
    if (!resumed_) start_anew();
  } catch (...) {
    // What another sweep began stays as it is; a journal just made goes again.
    struct stat made {};
    if (::fstat(journal_descriptor_, &made) == 0 && made.st_size == 0) {
      if (partial_descriptor_ >= 0) ::unlink(partial_.c_str());
      ::unlink(journal_.c_str());
    }
    close();
    throw;
  }
}

ResumableFile::~ResumableFile() {
  if (!finished_ && bytes_ == 0 && journal_descriptor_ >= 0) {
    ::unlink(partial_.c_str());
    ::unlink(journal_.c_str());
  }
  close();
}

void ResumableFile::close() {
  if (partial_descriptor_ >= 0) ::close(std::exchange(partial_descriptor_, -1));
  if (journal_descriptor_ >= 0) ::close(std::exchange(journal_descriptor_, -1));
}

/// Opens the journal and locks it. A run that finished meanwhile has removed the one that was
/// opened, so it is opened again until the locked one is the one under the name.
void ResumableFile::open_journal() {
  while (true) {
    journal_descriptor_ =
        ::open(journal_.c_str(), O_RDWR | O_CREAT | O_CLOEXEC | O_NOFOLLOW, new_file_mode);
    if (journal_descriptor_ < 0)
      throw cannot(errno == ELOOP ? journal_ : path_, "cannot be written");
    if (::flock(journal_descriptor_, LOCK_EX | LOCK_NB) != 0) {
      const bool busy = errno == EWOULDBLOCK;
      if (!busy) throw cannot(journal_, "cannot be locked");
      close();
      throw WriteError(
          fmt::format("{}: found another sweep writing it; expected one at a time", path_));
    }
    struct stat opened {};
    struct stat named {};
    if (::fstat(journal_descriptor_, &opened) == 0 && ::stat(journal_.c_str(), &named) == 0 &&
        opened.st_ino == named.st_ino && opened.st_dev == named.st_dev) {
      return;
    }
    ::close(std::exchange(journal_descriptor_, -1));
  }
}

/// True if the partial file goes on from a mark. Its bytes are read once, to be compared with the
/// journal's digests on the way.
bool ResumableFile::read_journal() {
  const std::string journal = read_file(journal_).bytes;
  const std::size_t title_end = journal.find('\n');
  if (title_end == std::string::npos || !journal.starts_with(journal_title)) return false;
  if (journal.substr(journal_title.size(), title_end - journal_title.size()) != inputs_) {
    refuse(
        "{}: found an unfinished sweep of other weather, options, models or program; expected the "
        "same, or --restart to throw it away",
        partial_);
  }
  const std::vector<Mark> marks = marks_of(journal, title_end + 1);
  Sha256 digest;
  std::uint64_t bytes = 0;
  std::optional<Mark> good;
  std::vector<char> block(std::size_t{1} << 16);
  for (const Mark& mark : marks) {
    if (mark.bytes < bytes) break;
    while (bytes < mark.bytes) {
      const auto wanted =
          static_cast<std::size_t>(std::min<std::uint64_t>(block.size(), mark.bytes - bytes));
      const ssize_t got =
          ::pread(partial_descriptor_, block.data(), wanted, static_cast<off_t>(bytes));
      if (got < 0) throw cannot(partial_, "cannot be read");
      if (got == 0) break;
      digest.add({block.data(), static_cast<std::size_t>(got)});
      bytes += static_cast<std::uint64_t>(got);
    }
    if (bytes != mark.bytes || digest.hex() != mark.digest) break;
    good = mark;
    written_ = digest;
  }
  if (!good) return false;
  if (::ftruncate(partial_descriptor_, static_cast<off_t>(good->bytes)) != 0 ||
      ::lseek(partial_descriptor_, 0, SEEK_END) < 0) {
    throw cannot(partial_, "cannot be written");
  }
  if (::ftruncate(journal_descriptor_, static_cast<off_t>(good->line_end)) != 0 ||
      ::lseek(journal_descriptor_, 0, SEEK_END) < 0) {
    throw cannot(journal_, "cannot be written");
  }
  bytes_ = good->bytes;
  pieces_ = good->pieces;
  return true;
}

void ResumableFile::start_anew() {
  // The journal first: marks of an older file must never be taken for those of a new one.
  if (::ftruncate(journal_descriptor_, 0) != 0 || ::lseek(journal_descriptor_, 0, SEEK_SET) < 0 ||
      ::ftruncate(partial_descriptor_, 0) != 0 || ::lseek(partial_descriptor_, 0, SEEK_SET) < 0) {
    throw cannot(path_, "cannot be written");
  }
  write(journal_descriptor_, fmt::format("{}{}\n", journal_title, inputs_));
}

void ResumableFile::write(int descriptor, std::string_view text) {
  if (write_all(descriptor, text) != Written::all) throw cannot(path_, "cannot be written");
}

void ResumableFile::end_piece() {
  ++pieces_;
  pending_whole_ = pending_.size();
  if (pending_whole_ >= most_pending_bytes ||
      std::chrono::steady_clock::now() - last_mark_ >= between_marks) {
    keep();
  }
}

void ResumableFile::keep() {
  const std::string_view whole = std::string_view(pending_).substr(0, pending_whole_);
  write(partial_descriptor_, whole);
  written_.add(whole);
  bytes_ += whole.size();
  pending_.erase(0, pending_whole_);
  pending_whole_ = 0;
  write(journal_descriptor_, fmt::format("{} {} {}\n", pieces_, bytes_, written_.hex()));
  last_mark_ = std::chrono::steady_clock::now();
}

void ResumableFile::finish(std::string_view trailer) {
  if (pending_whole_ > 0) keep();
  write(partial_descriptor_, trailer);
  if (::fsync(partial_descriptor_) != 0) throw cannot(path_, "cannot be written");
  if (std::rename(partial_.c_str(), target_.c_str()) != 0)
    throw cannot(path_, "cannot be replaced");
  finished_ = true;
  ::unlink(journal_.c_str());
  close();
}

}  // namespace wiltline::cli

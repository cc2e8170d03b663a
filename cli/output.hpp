// Where an answer is written: standard output or a file, whole or not at all.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "wiltline/base/errors.hpp"

namespace wiltline::cli {

/// The place an answer goes to. A file is opened when this is built, so that a bad path fails
/// before the work is done; its content appears under its name only when write() has succeeded. A
/// device, FIFO or other non-regular path is written through and never replaced.
class Output {
 public:
  /// `path`: `-` for standard output. Throws RequestError, with the option's name, if it is empty,
  /// WriteError if it cannot be written. A file begun is removed if SIGINT, SIGTERM or SIGHUP ends
  /// the program.
  explicit Output(std::string path, std::string_view option = "output");
  Output(const Output&) = delete;
  Output& operator=(const Output&) = delete;
  ~Output();

  /// Writes everything, once. A reader that has gone away (closed pipe) is no error.
  /// Throws WriteError; a file then keeps its old content, or stays absent.
  void write(const std::string& text);
  /// The same in pieces: append() as often as needed, then finish(). append() is false once the
  /// reader has gone away.
  bool append(std::string_view text);
  void finish();

 private:
  [[noreturn]] void fail(const char* doing);
  void abandon();  // closes and removes what was begun

  std::string path_;
  std::string target_;     // with links followed
  std::string temporary_;  // beside the target; empty if written through
  int descriptor_ = -1;
};

/// A file to be, by its name.
struct NewFile {
  std::string name;
  std::string text;
};
/// Writes files into a folder, which is made if it is not there: all of them or none, and never
/// over something. Throws RequestError if one is there already, WriteError if one cannot be
/// written.
void write_new_files(const std::string& folder, const std::vector<NewFile>& files);

/// Writes all of a text to what is open; if it cannot, errno says why.
enum class Written { all, reader_gone, failed };
[[nodiscard]] Written write_all(int descriptor, std::string_view text);
/// What could not be done with a file, for the reason in errno.
[[nodiscard]] WriteError cannot(const std::string& path, const char* doing);

/// Has the signals that end the program (SIGINT, SIGTERM, SIGHUP) handled; one that whoever started
/// it has had ignored (nohup) stays so.
void handle_ending_signals(void (*handler)(int));

/// Where a path leads, links followed, also a link whose file is not there yet.
[[nodiscard]] std::string end_of_links(const std::string& path);

/// A line to standard error, control characters shown as `?`. That it cannot be written is no
/// reason to fail: there is nobody to tell.
void say(std::string_view line);

}  // namespace wiltline::cli

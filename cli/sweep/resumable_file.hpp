// A long answer in a file: kept piece by piece as it grows, under its own name only when whole.
#pragma once

#include <chrono>
#include <cstddef>
#include <cstdint>
#include <string>
#include <string_view>

#include "sweep/sha256.hpp"

namespace wiltline::cli {

/// `FILE.partial` grows; `FILE.journal` says up to where it is good: a line per mark with the
/// pieces finished, the bytes they take and their SHA-256. Killed at any moment, the next run keeps
/// what the last matching mark covers and cuts off the rest. finish() renames the partial
/// file to FILE. A lock on the journal keeps a second run of the same file out.
class ResumableFile {
 public:
  /// `inputs`: a digest of all the file depends on. Throws WriteError if the file cannot be written
  /// or another run writes it, RequestError if what is there was begun from other inputs, unless
  /// `restart`.
  ResumableFile(std::string path, std::string inputs, bool restart);
  ResumableFile(const ResumableFile&) = delete;
  ResumableFile& operator=(const ResumableFile&) = delete;
  /// Keeps what was begun, unless no piece was finished.
  ~ResumableFile();

  /// Finished pieces that are kept. A piece is what stands between two end_piece().
  [[nodiscard]] std::size_t pieces() const { return pieces_; }
  [[nodiscard]] bool resumed() const { return resumed_; }

  void append(std::string_view text) { pending_ += text; }
  /// The piece is whole. Written out now or, if the last time was a moment ago, with a later one.
  void end_piece();
  /// Writes out and marks all finished pieces.
  void keep();
  /// Of all pieces written out: call keep() before.
  [[nodiscard]] std::string digest() const { return written_.hex(); }
  /// Adds `trailer`, which is no piece, and gives the file its name.
  void finish(std::string_view trailer);

 private:
  void open_journal();
  bool read_journal();
  void start_anew();
  void write(int descriptor, std::string_view text);
  void close();

  std::string path_;
  std::string target_;  // with links followed
  std::string partial_;
  std::string journal_;
  std::string inputs_;
  int partial_descriptor_ = -1;
  int journal_descriptor_ = -1;
  std::string pending_;            // finished pieces not yet written, and the one being written
  std::size_t pending_whole_ = 0;  // bytes of it that are finished pieces
  Sha256 written_;
  std::uint64_t bytes_ = 0;
  std::size_t pieces_ = 0;
  bool resumed_ = false;
  bool finished_ = false;
  std::chrono::steady_clock::time_point last_mark_;
};

}  // namespace wiltline::cli

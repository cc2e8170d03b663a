// SHA-256 (FIPS 180-4), by nettle: tells whether two runs read the same bytes.
#pragma once

#include <nettle/sha2.h>

#include <string>
#include <string_view>

namespace wiltline::cli {

/// A SHA-256 digest that grows. Copies are independent, so a digest of everything so far can be
/// taken at any time.
class Sha256 {
 public:
  Sha256() { nettle_sha256_init(&context_); }
  void add(std::string_view bytes);
  /// Of everything added so far, 64 lower-case hexadecimal digits.
  [[nodiscard]] std::string hex() const;

 private:
  sha256_ctx context_{};
};

/// The digest of a text.
[[nodiscard]] std::string sha256_hex(std::string_view bytes);

}  // namespace wiltline::cli

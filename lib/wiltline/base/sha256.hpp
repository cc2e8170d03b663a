// SHA-256 (FIPS 180-4): tells whether two runs read the same bytes.
#pragma once

#include <array>
#include <cstddef>
#include <cstdint>
#include <string>
#include <string_view>

namespace wiltline {

/// A SHA-256 digest in the making. Copies are independent, so a digest of everything so far can be
/// taken at any time.
class Sha256 {
 public:
  void add(std::string_view bytes);
  /// Of everything added so far, 64 lower-case hexadecimal digits.
  [[nodiscard]] std::string hex() const;

 private:
  static constexpr std::size_t block_bytes = 64;

  void take_block(const unsigned char* block);

  std::array<std::uint32_t, 8> state_{0x6a09e667U, 0xbb67ae85U, 0x3c6ef372U, 0xa54ff53aU,
                                      0x510e527fU, 0x9b05688cU, 0x1f83d9abU, 0x5be0cd19U};
  std::array<unsigned char, block_bytes> pending_{};
  std::uint64_t bytes_ = 0;
};

/// The digest of a text.
[[nodiscard]] std::string sha256_hex(std::string_view bytes);

}  // namespace wiltline

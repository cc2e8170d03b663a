#include "sweep/sha256.hpp"

#include <nettle/base16.h>

#include <array>
#include <cstdint>

namespace wiltline::cli {

void Sha256::add(std::string_view bytes) {
  nettle_sha256_update(&context_, bytes.size(),
                       reinterpret_cast<const std::uint8_t*>(bytes.data()));
}

std::string Sha256::hex() const {
  sha256_ctx context = context_;  // taking the digest starts its context again
  std::array<std::uint8_t, SHA256_DIGEST_SIZE> digest{};
  nettle_sha256_digest(&context, digest.size(), digest.data());
  std::string text(BASE16_ENCODE_LENGTH(SHA256_DIGEST_SIZE), '\0');
  nettle_base16_encode_update(text.data(), digest.size(), digest.data());
  return text;
}

std::string sha256_hex(std::string_view bytes) {
  Sha256 digest;
  digest.add(bytes);
  return digest.hex();
}

}  // namespace wiltline::cli

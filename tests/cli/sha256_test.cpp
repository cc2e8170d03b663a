#include "sweep/sha256.hpp"

#include <doctest/doctest.h>

namespace wiltline::cli {
namespace {

// The published test vectors of FIPS 180-4 (the two messages of its example document, the empty
// message and a million times the letter a).
TEST_CASE("SHA-256 of the published messages") {
  CHECK(sha256_hex("") == "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855");
  CHECK(sha256_hex("abc") == "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad");
  CHECK(sha256_hex("abcdbcdecdefdefgefghfghighijhijkijkljklmklmnlmnomnopnopq") ==
        "248d6a61d20638b8e5c026930c3e6039a33ce45964ff2167f6ecedd419db06c1");
  CHECK(sha256_hex(std::string(1'000'000, 'a')) ==
        "cdc76e5c9914fb9281a1c7e284d73e67f1809a48a497200e046d39ccc7112cd0");
}

TEST_CASE("SHA-256 does not depend on how the bytes come, and can be read on the way") {
  const std::string text(300, 'x');
  for (std::size_t cut = 0; cut <= text.size(); ++cut) {
    Sha256 digest;
    digest.add(text.substr(0, cut));
    CHECK(digest.hex() == sha256_hex(text.substr(0, cut)));
    digest.add(text.substr(cut));
    CHECK(digest.hex() == sha256_hex(text));
  }
}

}  // namespace
}  // namespace wiltline::cli

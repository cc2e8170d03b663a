// Bytes as UTF-8.
#include "wiltline/base/encoding.hpp"

#include <doctest/doctest.h>

namespace wiltline::test {

using namespace std::string_literals;

TEST_CASE("texts in other encodings") {
  CHECK(decoded("T (\xC2\xB0"
                "C)")
            .text == "T (°C)");
  CHECK(decoded("\xEF\xBB\xBF"
                "date")
            .text == "date");
  CHECK(decoded("\xEF\xBB\xBF"
                "date")
            .encoding == "UTF-8");
  CHECK(decoded("T (\xB0"
                "C)")
            .text == "T (°C)");
  CHECK(decoded("T (\xB0"
                "C)")
            .encoding == "Latin-1");
  CHECK(decoded("\xFF\xFE"
                "\xB0\x00"
                "C\0"s)
            .text == "°C");
  CHECK(decoded("\xFE\xFF\x00\xB0\x00"
                "C"s)
            .text == "°C");
  CHECK(decoded("\xFF\xFE\x3D\xD8\x00\xDE"s).text == "\xF0\x9F\x98\x80");  // a pair of surrogates
  CHECK(decoded("\xFF\xFE\x3D\xD8"
                "C\0"s)
            .text ==
        "\xEF\xBF\xBD"
        "C");  // half a pair
  CHECK(decoded("\xFF\xFE"
                "C"s)
            .text == "\xEF\xBF\xBD");  // half a character
  CHECK(decoded("").text.empty());
}

}  // namespace wiltline::test

#include "wiltline/base/word_of.hpp"

#include <doctest/doctest.h>

namespace wiltline {

TEST_CASE("one of some words: its value, or a fault that lists them in their order") {
  enum class Size { small, middle, large };
  const auto read = [](std::string_view text) {
    return word_of<Size>(
        text, {{"small", Size::small}, {"middle", Size::middle}, {"large", Size::large}});
  };
  CHECK(*read("small") == Size::small);
  CHECK(*read("large") == Size::large);
  for (const char* const text : {"", "smal", "small ", "Small", "smallmiddle"}) {
    CHECK_FALSE(read(text));
  }
  CHECK(read("huge").fault().text() == "found \"huge\"; expected small, middle or large");
  CHECK(word_of<bool>("", {{"yes", true}, {"no", false}}).fault().expected == "yes or no");
  CHECK(word_of<int>("two", {{"one", 1}}).fault().expected == "one");
}

}  // namespace wiltline

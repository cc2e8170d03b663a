// Problems: one line each with the place, all of a file at once, in file order, at most twenty.
#include <doctest/doctest.h>

#include <exception>
#include <stdexcept>
#include <string>
#include <type_traits>

#include "support/refusal.hpp"
#include "wiltline/base/errors.hpp"

namespace wiltline::test {

TEST_CASE("errors: a problem names its place as far as it is known") {
  const auto text = [](std::size_t line, std::size_t column) {
    return Problem{"w.csv", line, column, "\"28C\" in tmax_c", "a number"}.text();
  };
  CHECK(text(7, 12) == "w.csv:7:12: found \"28C\" in tmax_c; expected a number");
  CHECK(text(7, 0) == "w.csv:7: found \"28C\" in tmax_c; expected a number");
  CHECK(text(0, 0) == "w.csv: found \"28C\" in tmax_c; expected a number");
  CHECK(text(0, 12) ==
        "w.csv: found \"28C\" in tmax_c; expected a number");  // no column without line
}

TEST_CASE("errors: advice is told in the words of whoever has some, before the nearest name") {
  const Problem problem{"g.csv",
                        2,
                        3,
                        "unknown pot \"tube\"",
                        "a known pot",
                        {Advice::Kind::show_names, "pot", "; nearest: tub"}};
  CHECK(problem.text() ==
        "g.csv:2:3: found unknown pot \"tube\"; expected a known pot; nearest: tub");
  CHECK(problem.text(" (ask the shop)") ==
        "g.csv:2:3: found unknown pot \"tube\"; expected a known pot (ask the shop); nearest: tub");
  CHECK(std::string(InputError({problem}).what()) == problem.text());
}

TEST_CASE("errors: an input error lists its problems, one a line") {
  const InputError error({{"w.csv", 2, 1, "a", "b"}, {"w.csv", 3, 0, "c", "d"}});
  CHECK(std::string(error.what()) ==
        "w.csv:2:1: found a; expected b\nw.csv:3: found c; expected d");
  REQUIRE(error.problems().size() == 2);
  CHECK(error.problems()[1].line == 3);
}

TEST_CASE("errors: a list without problems throws nothing") {
  ProblemList list;
  CHECK(list.empty());
  CHECK_FALSE(list.full());
  CHECK_NOTHROW(list.throw_if_any());
}

TEST_CASE("errors: problems come out in file order, those of one place as they were found") {
  ProblemList list;
  list.add({"w.csv", 9, 1, "nine", "x"});
  list.add({"w.csv", 2, 8, "two, first", "x"});
  list.add({"w.csv", 10, 1, "ten", "x"});
  list.add({"w.csv", 2, 8, "two, second", "x"});
  list.add({"w.csv", 2, 3, "two, left", "x"});
  list.add({"w.csv", 0, 0, "nowhere", "x"});
  CHECK_FALSE(list.empty());
  CHECK(refusal([&] { list.throw_if_any(); }) ==
        "w.csv: found nowhere; expected x\n"
        "w.csv:2:3: found two, left; expected x\n"
        "w.csv:2:8: found two, first; expected x\n"
        "w.csv:2:8: found two, second; expected x\n"
        "w.csv:9:1: found nine; expected x\n"
        "w.csv:10:1: found ten; expected x");
}

TEST_CASE("errors: twenty problems are kept, no more") {
  ProblemList list;
  for (std::size_t line = 1; line <= 25; ++line) {
    CHECK(list.full() == (line > 20));
    list.add({"w.csv", line, 1, "a", "b"});
  }
  try {
    list.throw_if_any();
    FAIL("nothing thrown");
  } catch (const InputError& error) {
    REQUIRE(error.problems().size() == 20);
    CHECK(error.problems().front().line == 1);
    CHECK(error.problems().back().line == 20);
  }
}

TEST_CASE("errors: the three kinds can be told apart, and none is caught as another") {
  static_assert(std::is_base_of_v<std::exception, InputError>);
  static_assert(!std::is_base_of_v<std::runtime_error, InputError>);
  static_assert(!std::is_base_of_v<RequestError, WriteError>);
  static_assert(!std::is_base_of_v<WriteError, RequestError>);
  CHECK_THROWS_AS(throw RequestError("--spot: unknown"), std::runtime_error);
  CHECK_THROWS_WITH(throw RequestError("--spot: unknown"), "--spot: unknown");
  CHECK_THROWS_WITH_AS(throw WriteError("out.csv: disk full"), "out.csv: disk full", WriteError);
}

}  // namespace wiltline::test

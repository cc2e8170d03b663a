#include "wiltline/base/parallel.hpp"

#include <doctest/doctest.h>

#include <atomic>
#include <stdexcept>
#include <thread>
#include <vector>

namespace wiltline::test {

TEST_CASE("parallel: every task is called once, on however many threads") {
  for (const std::size_t threads : {0U, 1U, 2U, 7U}) {
    CAPTURE(threads);
    std::vector<std::atomic<int>> calls(100);
    run_tasks(calls.size(), threads, [&](std::size_t i) { ++calls[i]; });
    for (const std::atomic<int>& called : calls) CHECK(called == 1);
  }
  run_tasks(0, 2, [](std::size_t) { FAIL("there is no task"); });
}

TEST_CASE("parallel: what a task throws comes out, and on one thread no task begins after it") {
  for (const std::size_t threads : {1U, 3U}) {
    CAPTURE(threads);
    std::atomic<std::size_t> begun = 0;
    const auto task = [&](std::size_t i) {
      ++begun;
      if (i == 5) throw std::runtime_error("the sixth");
    };
    CHECK_THROWS_WITH_AS(run_tasks(1000, threads, task), "the sixth", std::runtime_error);
    CHECK(begun >= 6);
    if (threads == 1) CHECK(begun == 6);
  }
}

TEST_CASE("parallel: of several that fail the first comes out, whichever fails soonest") {
  for (int again = 0; again < 50; ++again) {
    std::atomic<bool> later_failed = false;
    const auto task = [&](std::size_t i) {
      if (i == 1) {
        while (!later_failed) std::this_thread::yield();
        throw std::runtime_error("the second");
      }
      if (i == 2) {
        later_failed = true;
        throw std::runtime_error("the third");
      }
    };
    CHECK_THROWS_WITH_AS(run_tasks(10, 3, task), "the second", std::runtime_error);
  }
}

}  // namespace wiltline::test

// A value, or what is wrong with the text it was to be read from.
#pragma once

#include <string>
#include <string_view>
#include <utility>
#include <variant>

#include "wiltline/base/errors.hpp"

namespace wiltline {

/// What was found and what is expected instead. Whoever knows the place (a cell, an option) adds
/// it.
struct Fault {
  std::string found;
  std::string expected;
  Advice advice{};

  /// `found …; expected …`, then `advised`: the advice in a program's words.
  [[nodiscard]] std::string text(std::string_view advised = {}) const {
    return "found " + found + "; expected " + expected + std::string(advised) + advice.after;
  }
};

/// Either a value or a fault. Asking for the one that is not there throws
/// std::bad_variant_access.
template <typename Value>
class Result {
 public:
  Result(Value value) : held_(std::move(value)) {}
  Result(Fault fault) : held_(std::move(fault)) {}

  explicit operator bool() const { return held_.index() == 0; }
  [[nodiscard]] const Value& operator*() const& { return std::get<0>(held_); }
  [[nodiscard]] Value operator*() && { return std::get<0>(std::move(held_)); }
  [[nodiscard]] const Value* operator->() const { return &std::get<0>(held_); }
  [[nodiscard]] const Fault& fault() const { return std::get<1>(held_); }

 private:
  std::variant<Value, Fault> held_;
};

}  // namespace wiltline

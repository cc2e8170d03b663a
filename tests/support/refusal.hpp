// What a call refuses, word for word.
#pragma once

#include <string>

#include "wiltline/base/errors.hpp"

namespace wiltline::test {

/// The message of the InputError that a call throws, all its lines; of a RequestError with
/// `request: ` before it; `nothing refused` if it throws neither.
template <typename Call>
[[nodiscard]] std::string refusal(const Call& call) {
  try {
    call();
  } catch (const InputError& error) {
    return error.what();
  } catch (const RequestError& error) {
    return std::string("request: ") + error.what();
  }
  return "nothing refused";
}

}  // namespace wiltline::test

// What every harness shares: input that is refused must be refused with one of our errors; anything
// else that comes out is a fault the fuzzer reports.
#pragma once

#include <cstdint>
#include <cstdlib>
#include <string>

#include "wiltline/base/errors.hpp"
#include "wiltline/garden/catalogue.hpp"

namespace wiltline::fuzz {

template <typename Read>
bool refused(const Read& read) {
  try {
    read();
  } catch (const InputError&) {
    return true;
  } catch (const RequestError&) {
    return true;
  }
  return false;
}

inline void require(bool holds) {
  if (!holds) std::abort();
}

inline const Catalogue& catalogue() {
  static const Catalogue known = read_catalogue(builtin_tables());
  return known;
}

inline std::string text_of(const std::uint8_t* data, std::size_t size) {
  return {reinterpret_cast<const char*>(data), size};
}

}  // namespace wiltline::fuzz

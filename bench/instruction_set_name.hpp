// What benchmarks call an instruction set in their labels.
#pragma once

#include <array>
#include <cstddef>

#include "wiltline/base/instruction_set.hpp"

namespace wiltline {

[[nodiscard]] inline const char* name_of(InstructionSet set) {
  constexpr std::array names{"baseline", "AVX2", "AVX-512"};
  return names[static_cast<std::size_t>(set)];
}

}  // namespace wiltline

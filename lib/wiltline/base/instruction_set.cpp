#include "wiltline/base/instruction_set.hpp"

namespace wiltline {

InstructionSet widest_instruction_set() {
#if defined(__x86_64__)
  if (__builtin_cpu_supports("avx512f") != 0 && __builtin_cpu_supports("avx512dq") != 0)
    return InstructionSet::avx512;
  if (__builtin_cpu_supports("avx2") != 0) return InstructionSet::avx2;
#endif
  return InstructionSet::baseline;
}

}  // namespace wiltline

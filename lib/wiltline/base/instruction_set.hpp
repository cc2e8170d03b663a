// Vector loops in the widest instructions the processor has, from one binary.
#pragma once

namespace wiltline {

/// Instructions that vector loops may use. The answers have the same bits with each.
enum class InstructionSet { baseline, avx2, avx512 };

/// The widest set this processor has.
[[nodiscard]] InstructionSet widest_instruction_set();

namespace detail {
#if defined(__x86_64__)
template <typename Loops>
[[gnu::target("avx2")]] void run_avx2(const Loops& loops) {
  loops();
}
// GCC would else keep to half of the registers' width.
#if defined(__clang__)
#define WILTLINE_AVX512 "avx512f,avx512dq"
#else
#define WILTLINE_AVX512 "avx512f,avx512dq,prefer-vector-width=512"
#endif
template <typename Loops>
[[gnu::target(WILTLINE_AVX512)]] void run_avx512(const Loops& loops) {
  loops();
}
#undef WILTLINE_AVX512
#endif
template <typename Loops>
void run_baseline(const Loops& loops) {
  loops();
}
}  // namespace detail

/// Calls `loops`, compiled for `set`. It and all it calls must be always_inline, or they keep the
/// baseline's instructions.
template <typename Loops>
void run_with(InstructionSet set, const Loops& loops) {
#if defined(__x86_64__)
  if (set == InstructionSet::avx512) return detail::run_avx512(loops);
  if (set == InstructionSet::avx2) return detail::run_avx2(loops);
#else
  (void)set;
#endif
  detail::run_baseline(loops);
}

}  // namespace wiltline

// How much of an answer's spread each of its inputs causes: Sobol's indices of the first order (the
// input by itself) and in total (with whatever it does together with others).
#pragma once

#include <cstddef>
#include <cstdint>
#include <optional>
#include <vector>

namespace wiltline {

/// Answers at two independent sets of points, A and B, a point a row.
struct PairedAnswers {
  std::vector<double> a;
  std::vector<double> b;
  /// A list for each input: the answers at A's points with that input as in B.
  std::vector<std::vector<double>> swapped;
};

/// An estimate, and what a twentieth and nineteen twentieths of its bootstrap samples lie below.
struct IndexEstimate {
  double value = 0.0;
  double low = 0.0;
  double high = 0.0;
};

/// Shares of the variance, an estimate an input. They are as sampled: an index that is 0 comes out
/// a little above or below it, and the largest may pass 1.
struct SobolIndices {
  double mean = 0.0;
  double variance = 0.0;
  std::vector<IndexEstimate> first_order;
  std::vector<IndexEstimate> total;
};

/// Fewer rows say nothing.
inline constexpr std::size_t fewest_index_rows = 32;

/// First order by Saltelli et al. (2010, Computer Physics Communications 181, table 2, estimator b)
/// with the mean taken off, total by Jansen (1999, the same, estimator f). The ranges come from
/// resampling whole rows 1000 times (percentiles; the same seed gives the same), which takes rows
/// as independent: over Sobol points they are rather too wide than too narrow. Empty if the answers
/// to A and B are all the same (to nine digits), or differ in so few rows that some samples have
/// only equal ones. Throws RequestError for fewer than fewest_index_rows rows, lists of other
/// lengths and values that are not finite.
[[nodiscard]] std::optional<SobolIndices> sobol_indices(const PairedAnswers& answers,
                                                        std::uint64_t seed);

}  // namespace wiltline

// Values of one kind that a question is asked about, however the caller keeps them.
#pragma once

#include <cstddef>
#include <span>
#include <vector>

namespace wiltline {

/// A view of one value, a vector, an array or a span. Nothing is copied: the values must outlive
/// the call.
template <typename Value>
class OneOrMany : public std::span<const Value> {
  using Span = std::span<const Value>;

 public:
  // Conversions are what the type is for.
  OneOrMany(const Value& one) : Span(&one, 1) {}
  OneOrMany(const std::vector<Value>& many) : Span(many) {}
  OneOrMany(std::span<const Value> many) : Span(many) {}
  template <std::size_t count>
  OneOrMany(const Value (&many)[count]) : Span(many) {}
};

}  // namespace wiltline

#include "wiltline/tables/columns.hpp"

#include "wiltline/base/numbers.hpp"

namespace wiltline::tables {
namespace {

struct InText {
  std::string operator()(std::monostate) const { return {}; }
  std::string operator()(double value) const { return shortest(value); }
  std::string operator()(long value) const { return std::to_string(value); }
  std::string operator()(bool value) const { return value ? "yes" : "no"; }
  std::string operator()(Date value) const { return to_string(value); }
  std::string operator()(const Instant& value) const { return to_string(value); }
  std::string operator()(const std::string& value) const { return value; }
};

}  // namespace

std::string text_of(const TableCell& cell) {
  return std::visit(InText(), cell);
}

}  // namespace wiltline::tables

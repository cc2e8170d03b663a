// What to buy for a whole garden, as capacity --garden answers it.
#pragma once

#include "columns.hpp"
#include "command.hpp"

namespace wiltline::cli {

[[nodiscard]] std::vector<ColumnHead> shopping_heads();

/// Runs capacity --garden and delivers its answer.
void answer_shopping(const Arguments& arguments);

}  // namespace wiltline::cli

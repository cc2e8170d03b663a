// What to buy for a whole garden, as capacity --garden answers it.
#pragma once

#include <optional>
#include <string>
#include <string_view>

#include "command.hpp"
#include "wiltline/garden/planting.hpp"

namespace wiltline::cli {

/// A line of the list: a component, a mix, all mix for the feed, or the pots of a planting.
struct ShoppingRow {
  std::string_view item;
  std::string name;
  double litres = 0.0;
  std::optional<double> bag_l = {};
  const Planting* planting = nullptr;
  std::optional<double> wet_kg = {};

  [[nodiscard]] std::optional<int> bags() const;
};
[[nodiscard]] Table<ShoppingRow> shopping_table();

/// Runs capacity --garden and delivers its answer.
void answer_shopping(const Arguments& arguments);

}  // namespace wiltline::cli

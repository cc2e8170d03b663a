#include "wiltline/garden/root_balls.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace wiltline {

double root_balls_l(const Planting& planting) {
  double litres = planting.plants * planting.crop.root_ball_l;
  for (const CropPlants& other : planting.beside) litres += other.plants * other.crop.root_ball_l;
  return litres;
}

std::optional<Fault> crowding(const Planting& planting) {
  const int plants = plants_in_pot(planting);
  const double balls_l = root_balls_l(planting);
  const double mix_l = planting.pot.mix_l();
  if (plants == 1 || balls_l <= mix_l) return std::nullopt;
  const double most = std::max(1.0, std::floor(plants * mix_l / balls_l));
  return Fault{fmt::format("{} plants, whose root balls take {:.2g} l, in {:.2g} l of mix", plants,
                           balls_l, mix_l),
               fmt::format("at most {:g} of them, or smaller root balls", most)};
}

}  // namespace wiltline

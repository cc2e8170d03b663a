// The garden that the harnesses of a forecast's files read against.
#pragma once

#include <vector>

#include "fuzz.hpp"
#include "wiltline/garden/reading.hpp"

namespace wiltline::fuzz {

inline const std::vector<Planting>& forecast_garden() {
  static const std::vector<Planting> garden = read_garden(
      {"garden.csv",
       "name,crop,pot,mix,plants,planted,spot,routine,mulch,saucer_l,tare_kg\n"
       "tomato,tomato,nursery 37 l,vegetable mix,1,05-15,patio,check daily 07:00,yes,0.5,1.2\n"
       "basil,basil,clay 3 l,potting mix,3,05-15,balcony,daily 18:00,,,\n"
       "\"a, \"\"b\"\"\",pepper,glazed 18 l,potting mix,1,2022-05-15,patio,as-needed,,,\n"},
      catalogue());
  return garden;
}

}  // namespace wiltline::fuzz

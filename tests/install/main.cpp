// One day's reference evapotranspiration and what one pot holds, from an installed wiltline.
#include <cstdio>

#include "wiltline/container/capacity.hpp"
#include "wiltline/evapotranspiration/daily.hpp"
#include "wiltline/garden/catalogue.hpp"

int main() {
  using namespace wiltline;
  // FAO-56 Example 18: Uccle, 6 July; the paper finds 3.9 mm.
  const Site site{.latitude_deg = 50.8, .elevation_m = 100.0, .wind_height_m = 10.0};
  WeatherDay day{.tmin_c = 12.3, .tmax_c = 21.5, .wind_m_s = 10.0 / 3.6, .sunshine_h = 9.25};
  day.rh_min_pct = 63.0;
  day.rh_max_pct = 84.0;
  const ReferenceDay reference = reference_day(site, make_date(2015, 7, 6), day);

  const Catalogue catalogue = read_catalogue(builtin_tables());
  const HeldWater pot =
      held_water(*catalogue.pots.find("nursery 11 l"), *catalogue.mix("peat 60 perlite 40"),
                 catalogue.parameters.refill_share);
  std::printf("et0 %.1f mm, pot %.1f L of mix\n", reference.et0.total_mm(), pot.mix_l);
}

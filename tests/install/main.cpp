// A day's reference evapotranspiration and a pot's account of it, from an installed wiltline.
#include <cstdio>
#include <wiltline/wiltline.hpp>

int main() {
  using namespace wiltline;
  // FAO-56 Example 18: Uccle, 6 July; the paper finds 3.9 mm.
  const FileBytes weather{"weather.csv",
                          "# latitude_deg = 50.8\n# elevation_m = 100\n# wind_height_m = 10\n"
                          "date,tmin_c,tmax_c,rh_max_pct,rh_min_pct,wind_km_h,sunshine_h\n"
                          "2015-07-06,12.3,21.5,84,63,10,9.25\n"};
  const FileBytes rows{"garden.csv",
                       "name,crop,pot,mix,plants,planted,spot,routine\n"
                       "it,tomato,nursery 11 l,peat 60 perlite 40,1,07-06,patio,daily 07:00\n"};
  const Catalogue catalogue = read_catalogue(builtin_tables());
  const Place place(read_weather(weather), catalogue.parameters);
  const auto garden = read_garden(rows, catalogue);
  for (const SeasonResult& pot : season(garden, place)) {
    std::printf("et0 %.1f mm, pot %.1f L of mix\n", place.reference().front().et0.total_mm(),
                pot.summary.mix_l);
  }
}

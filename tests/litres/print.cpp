// Prints litres a day by crop and climate: July mean of a plant at full canopy in its usual pot.
// Usage: wiltline_litres [MODELS_DIR [SPOT]]
#include <fmt/format.h>

#include <cstdio>
#include <string>

#include "support/litres.hpp"
#include "wiltline/questions/season.hpp"
#include "wiltline/weather/reading.hpp"

int main(int argc, char** argv) {
  using namespace wiltline;
  const Catalogue catalogue =
      read_catalogue(argc > 1 ? tables_in_folder(argv[1]).tables : builtin_tables());
  const Spot* const spot = catalogue.spots.find(argc > 2 ? argv[2] : "patio");
  if (spot == nullptr) {
    std::fprintf(stderr, "unknown spot; expected one of spots.csv\n");
    return 2;
  }
  const char* const places[] = {"tolvenau", "port-okaree", "zarquil-flats", "skerrowick"};
  std::string out = fmt::format("crop,pot,plants");
  for (const char* place : places) out += fmt::format(",{}", place);
  for (const char* place : places) out += fmt::format(",{} highest", place);
  out += ",highest per m2 of leaf\n";
  std::vector<WeatherRecord> records;
  for (const char* place : places) {
    records.push_back(read_weather(
        read_file(fmt::format("{}/weather-samples/{}.csv", WILTLINE_SOURCE, place)), {}));
  }
  std::vector<Place> weather;
  for (const WeatherRecord& record : records) {
    weather.emplace_back(record, catalogue.parameters);
  }
  constexpr unsigned july = 7;
  for (const auto& entry : catalogue.crops.entries()) {
    const Planting planting = test::usual_planting(catalogue, entry.value, *spot);
    out += fmt::format("{},{},{}", entry.name, planting.pot.name, planting.plants);
    std::string highest;
    double per_leaf = 0.0;
    for (std::size_t i = 0; i < records.size(); ++i) {
      const test::LitresADay litres = test::litres_a_day(planting, records[i], weather[i].at(*spot),
                                                         catalogue.parameters, july);
      out += fmt::format(",{:.2f}", litres.mean_l);
      highest += fmt::format(",{:.2f}", litres.highest_transpired_l);
      per_leaf = std::max(per_leaf, litres.highest_per_leaf_l_m2);
    }
    out += highest + fmt::format(",{:.2f}\n", per_leaf);
  }
  std::fputs(out.c_str(), stdout);
}

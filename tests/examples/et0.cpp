// Reference evapotranspiration by day. Arguments: garden file (not used), weather file.
#include <cstdio>

#include "wiltline/wiltline.hpp"

int main(int, char** argv) {
  using namespace wiltline;
  const WeatherRecord record = read_weather(read_file(argv[2]));
  for (const ReferenceDay& day : reference_days(record)) {
    std::printf("%.2f mm, estimated: %s\n", day.et0.total_mm(), day.estimated().c_str());
  }
}

// Names and units of columns. (Wrong rows of a table of columns: wrong_files_test.)
#include "wiltline/weather/layout.hpp"

#include <doctest/doctest.h>

#include <set>
#include <string>

#include "support/near.hpp"
#include "wiltline/base/units.hpp"

namespace wiltline::test {
namespace {

std::string said(std::string_view name, std::string_view unit_row = {}) {
  const auto column = understand(name, unit_row, of_layout(builtin_column_meanings(), ""));
  if (!column) return "unknown";
  return std::string(name_of(column->quantity)) + (column->unit ? " " + column->unit->text() : "");
}

double in_ours(std::string_view unit, std::string_view kind, double value) {
  return find_unit(unit, kind).value().convert(value);
}

}  // namespace

TEST_CASE("names in use anywhere") {
  CHECK(said("TMAX") == "tmax");
  CHECK(said("tmax_c") == "tmax °C");
  CHECK(said("Max Temp (°F)") == "tmax °F");
  CHECK(said("Max Temp", "[°F]") == "tmax °F");
  CHECK(said("wind_speed km/h") == "wind km/h");
  CHECK(said("wind_m_s") == "wind m/s");
  CHECK(said("solar_w_m2") == "solar W/m2");
  CHECK(said("vapour_pressure_kpa") == "vapour pressure kPa");
  CHECK(said("rh_max_pct") == "rh max %");
  CHECK(said("Precipitation [0.1 mm]") == "rain 0.1 mm");
  CHECK(said("Rain (furlong)") == "rain");
  CHECK(said("cloud cover") == "unknown");
  CHECK(said("tmax_q") == "unknown");
}

TEST_CASE("no name stands for two quantities of one layout") {
  for (std::string layout : [] {
         auto names = layout_names(builtin_column_meanings());
         names.emplace_back();
         return names;
       }()) {
    CAPTURE(layout);
    std::set<std::string> seen;
    for (const ColumnMeaning& row : of_layout(builtin_column_meanings(), layout)) {
      for (const std::string& name : row.names) {
        CAPTURE(name);
        CHECK(seen.insert(name).second);
      }
    }
    CHECK_FALSE(seen.empty());
  }
}

TEST_CASE("units") {
  CHECK(in_ours("0.1 c", "temperature", 112.0) == 11.2);  // the digits stay
  CHECK(near(in_ours("F", "temperature", 50.0), 10.0, 1e-12));
  CHECK(near(in_ours("K", "temperature", 273.15), 0.0, 1e-12));
  CHECK(near(in_ours("0.01 in", "depth", 100.0), 25.4, 1e-12));
  CHECK(near(in_ours("kn", "speed", 1.0), 0.514444, 1e-6));  // 1852 m an hour, exact
  CHECK(near(in_ours("W/m²", "radiation", 100.0), 8.64, 1e-12));
  CHECK(near(in_ours("kWh/m2", "radiation", 1.0), 3.6, 1e-12));
  CHECK(near(in_ours("J/cm2", "radiation", 1234.0), 12.34, 1e-12));
  CHECK(near(in_ours("mbar", "pressure", 12.0), 1.2, 1e-12));
  CHECK(near(in_ours("min", "time", 90.0), 1.5, 1e-12));
  // The table says what base/units does, to the last bit.
  const auto factor = [](std::string_view unit) {
    return find_unit(unit, {}).value().unit->factor;
  };
  CHECK(factor("in") == units::mm_per_inch);
  CHECK(factor("ft") == units::m_per_foot);
  CHECK(factor("km/h") == units::m_s_per_km_h);
  CHECK(factor("mph") == units::m_s_per_mph);
  CHECK(factor("W/m2") == units::mj_m2_per_w_m2_day);
  CHECK_FALSE(find_unit("mm", "temperature"));
  CHECK_FALSE(find_unit("0 mm", "depth"));
  CHECK(is_unit("(°C)"));
  CHECK_FALSE(is_unit("21.5"));
}

}  // namespace wiltline::test

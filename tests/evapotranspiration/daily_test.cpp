// A day from whatever was measured, and the same day at a spot.
#include <doctest/doctest.h>

#include <cmath>
#include <string>
#include <tuple>
#include <vector>

#include "evapotranspiration/days.hpp"
#include "support/fixtures.hpp"
#include "support/near.hpp"
#include "support/refusal.hpp"
#include "wiltline/evapotranspiration/daily.hpp"
#include "wiltline/evapotranspiration/psychrometrics.hpp"
#include "wiltline/evapotranspiration/radiation.hpp"
#include "wiltline/evapotranspiration/reference_et.hpp"

namespace wiltline::test {
namespace {

TEST_CASE("a day's two terms are FAO-56 eq. 6, and add up to it") {
  for_many_days([](const ReferenceDay& day) {
    const double deficit = day.vapour_pressure_deficit_kpa();
    const double whole =
        (0.408 * day.slope_kpa_c * day.rn_mj_m2 +
         day.gamma_kpa_c * 900.0 / (day.temperature_c + 273.0) * day.wind_2m_m_s * deficit) /
        (day.slope_kpa_c + day.gamma_kpa_c * (1.0 + 0.34 * day.wind_2m_m_s));
    CHECK(same(day.et0.total_mm(), whole));
    CHECK(day.et0.radiation_mm + day.et0.air_mm == day.et0.total_mm());
    CHECK(std::isfinite(whole));
    CHECK(day.et0.air_mm >= 0.0);
    CHECK(same(day.rn_mj_m2, day.rns_mj_m2 - day.rnl_mj_m2));
    CHECK(day.wind_2m_m_s >= 0.0);
  });
}

TEST_CASE("humidity: the best of what was observed, in FAO-56's order") {
  WeatherDay day = fully_observed();
  const auto takes = [&day](HumiditySource source, double vapour_pressure_kpa) {
    const ReferenceDay result = reference_day(a_site(), a_summer_day, day);
    CAPTURE(std::string(describe(result.humidity_source)));
    CHECK(result.humidity_source == source);
    CHECK(same(result.vapour_pressure_kpa, vapour_pressure_kpa));
    CHECK(result.humidity_estimated() == (source == HumiditySource::tmin));
    CHECK(result.estimated() == (source == HumiditySource::tmin ? "humidity" : "-"));
  };
  const double at_tmin = saturation_vapour_pressure_kpa(day.tmin_c);
  const double at_tmax = saturation_vapour_pressure_kpa(day.tmax_c);
  takes(HumiditySource::dew_point, saturation_vapour_pressure_kpa(13.0));
  day.dew_point_c.reset();
  takes(HumiditySource::vapour_pressure, 1.4);
  day.vapour_pressure_kpa.reset();
  takes(HumiditySource::rh_max_min, (0.90 * at_tmin + 0.45 * at_tmax) / 2.0);
  day.rh_min_pct.reset();
  takes(HumiditySource::rh_max, 0.90 * at_tmin);
  day.rh_max_pct.reset();
  takes(HumiditySource::rh_mean, 0.60 * (at_tmin + at_tmax) / 2.0);
  day.rh_min_pct = 45.0;  // without the highest, the lowest says nothing
  takes(HumiditySource::rh_mean, 0.60 * (at_tmin + at_tmax) / 2.0);
  day.rh_mean_pct.reset();
  takes(HumiditySource::tmin, at_tmin);
  day.rh_min_pct.reset();
  takes(HumiditySource::tmin, at_tmin);

  MissingDataOptions dry_site;
  dry_site.dew_point_offset_c = 2.5;
  CHECK(same(reference_day(a_site(), a_summer_day, day, dry_site).vapour_pressure_kpa,
             saturation_vapour_pressure_kpa(day.tmin_c - 2.5)));
  // The offset is for what is missing, not for what was observed.
  CHECK(reference_day(a_site(), a_summer_day, fully_observed(), dry_site).vapour_pressure_kpa ==
        reference_day(a_site(), a_summer_day, fully_observed()).vapour_pressure_kpa);
}

TEST_CASE("radiation: the best of what was observed, in FAO-56's order") {
  WeatherDay day = fully_observed();
  const auto result = [&day](const MissingDataOptions& options = {}) {
    return reference_day(a_site(), a_summer_day, day, options);
  };
  CHECK(result().radiation_source == RadiationSource::measured);
  CHECK(result().rs_mj_m2 == 24.0);
  CHECK(result().estimated() == "-");

  day.solar_mj_m2.reset();
  CHECK(result().radiation_source == RadiationSource::sunshine);
  CHECK(same(result().rs_mj_m2, (0.25 + 0.50 * 10.0 / result().daylight_h) * result().ra_mj_m2));
  CHECK(result().estimated() == "-");
  day.sunshine_h = 24.0;  // more than there is daylight: held at the daylight
  CHECK(same(result().rs_mj_m2, 0.75 * result().ra_mj_m2));

  day.sunshine_h.reset();
  CHECK(result().radiation_source == RadiationSource::temperature_range);
  CHECK(result().radiation_estimated());
  CHECK(result().estimated() == "radiation");
  const double root_of_range = std::sqrt(day.tmax_c - day.tmin_c);
  CHECK(same(result().rs_mj_m2, 0.16 * root_of_range * result().ra_mj_m2));
  MissingDataOptions coast;
  coast.range_coefficient = 0.19;
  CHECK(same(result(coast).rs_mj_m2, 0.19 * root_of_range * result().ra_mj_m2));
  day.tmax_c = day.tmin_c + 40.0;  // would be brighter than a clear sky: held there
  CHECK(result().rs_mj_m2 == result().rso_mj_m2);
}

TEST_CASE("wind: measured and brought to 2 m, calm stays calm, else 2 m/s") {
  WeatherDay day = fully_observed();
  Site site = a_site();
  const auto result = [&] { return reference_day(site, a_summer_day, day); };
  // FAO-56's table of eq. 47 prints 1.000 for a sensor at 2 m.
  CHECK(near(wind_height_factor(2.0), 1.0, 0.0005));
  CHECK(result().wind_source == WindSource::measured);
  CHECK(near(result().wind_2m_m_s, 2.5, 0.0005 * 2.5));
  site.wind_height_m = 10.0;
  CHECK(same(result().wind_2m_m_s, wind_at_2m_m_s(2.5, 10.0)));
  CHECK(result().wind_2m_m_s < 2.5);

  // What was measured is used as measured: the paper's advice to count at least 0.5 m/s is not
  // taken.
  for (const double calm_m_s : {0.0, 0.1, 0.4}) {
    CAPTURE(calm_m_s);
    day.wind_m_s = calm_m_s;
    CHECK(same(result().wind_2m_m_s, wind_at_2m_m_s(calm_m_s, 10.0)));
    CHECK(result().wind_source == WindSource::measured);
    CHECK(result().estimated() == "-");
    CHECK((result().et0.air_mm == 0.0) == (calm_m_s == 0.0));
  }
  day.wind_m_s.reset();
  CHECK(result().wind_2m_m_s == 2.0);  // of the height of a sensor that is not there
  CHECK(result().wind_source == WindSource::assumed);
  CHECK(result().wind_estimated());
  CHECK(result().estimated() == "wind");
}

WeatherDay without_humidity(WeatherDay day) {
  day.dew_point_c.reset();
  day.vapour_pressure_kpa.reset();
  day.rh_max_pct.reset();
  day.rh_min_pct.reset();
  day.rh_mean_pct.reset();
  return day;
}

WeatherDay without_radiation(WeatherDay day) {
  day.solar_mj_m2.reset();
  day.sunshine_h.reset();
  return day;
}

WeatherDay without_wind(WeatherDay day) {
  day.wind_m_s.reset();
  return day;
}

WeatherDay filled(WeatherDay day) {
  day.filled = true;
  return day;
}

TEST_CASE("what was estimated, in words") {
  const auto estimated = [](const WeatherDay& day) {
    return reference_day(a_site(), a_summer_day, day).estimated();
  };
  const WeatherDay all = fully_observed();
  const WeatherDay no_humidity = without_humidity(all);
  const WeatherDay no_radiation = without_radiation(all);
  const WeatherDay neither = without_radiation(no_humidity);
  CHECK(estimated(all) == "-");
  CHECK(estimated(no_humidity) == "humidity");
  CHECK(estimated(no_radiation) == "radiation");
  CHECK(estimated(neither) == "humidity+radiation");
  CHECK(estimated(without_wind(all)) == "wind");
  CHECK(estimated(without_wind(no_humidity)) == "humidity+wind");
  CHECK(estimated(without_wind(no_radiation)) == "radiation+wind");
  CHECK(estimated(without_wind(neither)) == "humidity+radiation+wind");
  CHECK(estimated(filled(all)) == "day");
  CHECK(estimated(filled(no_humidity)) == "humidity+day");
  CHECK(estimated(filled(no_radiation)) == "radiation+day");
  CHECK(estimated(filled(neither)) == "humidity+radiation+day");
  CHECK(estimated(filled(without_wind(all))) == "wind+day");
  CHECK(estimated(filled(without_wind(no_humidity))) == "humidity+wind+day");
  CHECK(estimated(filled(without_wind(no_radiation))) == "radiation+wind+day");
  CHECK(estimated(filled(without_wind(neither))) == "humidity+radiation+wind+day");
}

TEST_CASE("how often each source was used") {
  const WeatherDay poor = filled(without_humidity(fully_observed()));
  SourceCounts counts;
  counts.count(reference_day(a_site(), a_summer_day, fully_observed()));
  CHECK(counts.lines() ==
        std::vector<std::string>{"humidity from dew point", "radiation measured", "wind measured"});
  counts.count(reference_day(a_site(), a_summer_day, poor));
  counts.count(reference_day(a_site(), a_summer_day, poor));
  CHECK(counts.days == 3);
  CHECK(counts.days_filled == 2);
  const std::vector<std::string> lines = counts.lines();
  CHECK(lines.size() == 4);
  CHECK(lines[0] ==
        "humidity from dew point on 1 of 3 days, estimated from the lowest temperature on 2 of 3 "
        "days");
}

TEST_CASE("air damper than the day's mean saturation: no deficit, never a negative one") {
  WeatherDay day = fully_observed();
  day.dew_point_c = day.tmax_c + 1.0;
  const ReferenceDay result = reference_day(a_site(), a_summer_day, day);
  CHECK(result.vapour_pressure_kpa > result.es_kpa);
  CHECK(result.vapour_pressure_deficit_kpa() == 0.0);
  CHECK(result.et0.air_mm == 0.0);
  CHECK(result.et0.radiation_mm > 0.0);
}

TEST_CASE("a record's days are its days one by one, over leap and common years") {
  std::vector<WeatherDay> days(3 * 366, fully_observed());
  for (std::size_t i = 0; i < days.size(); ++i) {
    days[i].solar_mj_m2.reset();  // of the sunshine: it depends on the day of the year
    days[i].sunshine_h = 7.0;     // possible on the shortest day too
    days[i].tmin_c = -10.0 + static_cast<double>(i % 30);
  }
  for (WeatherDay& day : days) {
    day.dew_point_c = day.tmin_c;
    day.vapour_pressure_kpa.reset();
  }
  const WeatherRecord record("made up", a_site(), make_date(2023, 11, 20), days, true);
  const std::vector<ReferenceDay> all = reference_days(record, {});
  REQUIRE(all.size() == record.size());
  for (std::size_t i = 0; i < all.size(); ++i) {
    CAPTURE(to_string(record.date(i)));
    const ReferenceDay one = reference_day(a_site(), record.date(i), record.day(i));
    CHECK(all[i].ra_mj_m2 == one.ra_mj_m2);
    CHECK(all[i].daylight_h == one.daylight_h);
    CHECK(all[i].et0.total_mm() == one.et0.total_mm());
  }
}

TEST_CASE("polar night: nothing shines, everything is finite") {
  Site pole = a_site();
  pole.latitude_deg = 90.0;
  WeatherDay day = fully_observed();
  for (const bool observed : {true, false}) {
    day.tmin_c = -30.0;
    day.tmax_c = -22.0;
    day.dew_point_c = -33.0;
    day.solar_mj_m2.reset();
    day.sunshine_h.reset();
    if (observed) day.sunshine_h = 0.0;
    const ReferenceDay result = reference_day(pole, make_date(2023, 12, 21), day);
    CHECK(result.daylight_h == 0.0);
    CHECK(result.rs_mj_m2 == 0.0);
    CHECK(result.rn_mj_m2 < 0.0);
    // A half-clouded sky (judged).
    CHECK(same(result.rnl_mj_m2,
               net_long_wave_mj_m2(day.tmax_c, day.tmin_c, result.vapour_pressure_kpa, 0.5)));
    CHECK(std::isfinite(result.et0.total_mm()));
  }
}

TEST_CASE("more wind through a whole day, damp and dry") {
  WeatherDay day = fully_observed();
  const auto et0_at = [&day](double wind_m_s) {
    day.wind_m_s = wind_m_s;
    return reference_day(a_site(), a_summer_day, day).et0.total_mm();
  };
  day.dew_point_c = 4.0;
  CHECK(et0_at(6.0) > et0_at(2.0));
  day.dew_point_c = 21.5;
  CHECK(et0_at(6.0) < et0_at(2.0));
}

/// A spot with nothing around it has exactly the open site's terms.
bool neutral_spot_is_open(const ReferenceDay& day) {
  const ReferenceTerms spot = reference_terms_at(day, SpotExposure{});
  return spot.radiation_mm == day.et0.radiation_mm && spot.air_mm == day.et0.air_mm;
}

TEST_CASE("a spot in the open has the open site's terms") {
  for_many_days([](const ReferenceDay& day) {
    if (day.rnl_mj_m2 >= 0.0) CHECK(neutral_spot_is_open(day));
  });
}

// Under very dark cloud (Rs/Rso below 0.26) eq. 39 turns net long-wave into a small gain.
TEST_CASE("a spot in the open has the open site's terms on the darkest days too") {
  int dark_days = 0;
  int different = 0;
  for_many_days([&](const ReferenceDay& day) {
    if (day.rnl_mj_m2 >= 0.0) return;
    ++dark_days;
    if (!neutral_spot_is_open(day)) ++different;
  });
  CHECK(dark_days > 100);
  CHECK(different == 0);
}

TEST_CASE("what shade, sky and shelter change at a spot") {
  for_many_days([](const ReferenceDay& day) {
    if (day.rnl_mj_m2 < 0.0) return;
    const double weight = term_weights(day.slope_kpa_c, day.gamma_kpa_c, day.wind_2m_m_s).radiation;
    const auto at = [&day](double radiation, double sky, double wind) {
      SpotExposure spot;
      spot.radiation_share = radiation;
      spot.sky_view = sky;
      spot.wind_share = wind;
      return reference_terms_at(day, spot);
    };
    // Short-wave by its share, long-wave by the sky seen: shade is not cloud.
    for (const auto& [radiation, sky] :
         {std::tuple(0.3, 1.0), std::tuple(1.0, 0.4), std::tuple(0.3, 0.4), std::tuple(0.0, 0.0)}) {
      const double net = radiation * day.rns_mj_m2 - sky * day.rnl_mj_m2;
      CHECK(same(at(radiation, sky, 1.0).radiation_mm, 0.408 * net * weight));
      CHECK(at(radiation, sky, 1.0).air_mm == day.et0.air_mm);
    }
    // Never a gain of long-wave: without sun there is nothing to evaporate with.
    for (const double sky : {0.0, 0.5, 1.0}) CHECK(at(0.0, sky, 1.0).radiation_mm <= 0.0);
    // The spot's wind in both terms: in calmer air the radiation term has more of the energy.
    CHECK(at(1.0, 1.0, 0.0).air_mm == 0.0);
    const double calm_weight =
        term_weights(day.slope_kpa_c, day.gamma_kpa_c, 0.3 * day.wind_2m_m_s).radiation;
    CHECK(same(at(1.0, 1.0, 0.3).radiation_mm, 0.408 * day.rn_mj_m2 * calm_weight));
    // What warm surfaces give adds to net radiation, by the open site's sun.
    SpotExposure warm;
    warm.warm_share = 0.1;
    CHECK(same(reference_terms_at(day, warm).radiation_mm,
               0.408 * (day.rn_mj_m2 + 0.1 * day.rs_mj_m2) * weight));
    double before = 0.0;
    for (const double wind : {0.1, 0.4, 0.8, 1.0}) {
      const double air_mm = at(1.0, 1.0, wind).air_mm;
      CHECK(air_mm >= before);
      before = air_mm;
    }
    CHECK(before == day.et0.air_mm);
  });
}

TEST_CASE("diffuse share: all of it under full cloud, a little on a clear day") {
  const DiffuseLine line{0.2, 0.75, 0.15};
  for (const double overcast : {0.0, 0.1, 0.2}) CHECK(diffuse_share(overcast, line) == 1.0);
  for (const double clear : {0.75, 0.8, 1.0}) CHECK(same(diffuse_share(clear, line), 0.15));
  CHECK(same(diffuse_share(0.475, line), 0.575));  // half-way
  for (const double clearness : steps(0.0, 0.99, 0.01)) {
    CHECK(diffuse_share(clearness + 0.01, line) <= diffuse_share(clearness, line));
  }
}

}  // namespace

TEST_CASE("wind read at another height is brought to it by eq. 47") {
  Site site = a_site();
  site.wind_height_m = 10.0;
  const WeatherRecord at_10m("made up", site, a_summer_day, {fully_observed()}, true);
  const WeatherRecord at_2m = with_wind_height(at_10m, 2.0);
  CHECK(at_2m.site().wind_height_m == 2.0);
  CHECK_FALSE(at_2m.generated());
  CHECK(with_wind_height(WeatherRecord(at_10m).as_generated(), 2.0).generated());
  // FAO-56 Annex 2, Table 2.9: 10 m to 2 m is 0.748.
  CHECK(near(at_2m.day(0).wind_m_s.value(), 0.748 * 2.5, 0.0005 * 2.5));
  CHECK(near(reference_days(at_2m)[0].et0.total_mm(), reference_days(at_10m)[0].et0.total_mm(),
             0.001));
}

TEST_CASE("a range of nothing is no day without sun, three of them running are a mean twice") {
  WeatherDay day;
  day.tmin_c = day.tmax_c = 12.0;
  const auto days = [&](std::size_t count) {
    return WeatherRecord("made up", a_site(), a_summer_day, std::vector<WeatherDay>(count, day),
                         true);
  };
  const ReferenceDay one = reference_days(days(2))[1];
  CHECK(near(one.rs_mj_m2, 0.16 * one.ra_mj_m2, 1e-9));
  CHECK(refusal([&] {
          (void)reference_days(days(3));
        }).starts_with("made up: found tmin equal to tmax on 3 days running up to 2023-07-17"));
  day.sunshine_h = 1.0;
  CHECK(reference_days(days(3)).size() == 3);
}

TEST_CASE("a reference evapotranspiration that no weather gives") {
  // Warm dry air in the last light before a polar night, as of a record from elsewhere.
  Site site = a_site();
  site.latitude_deg = 65.0;
  WeatherDay day;
  day.tmin_c = 25.0;
  day.tmax_c = 26.0;
  day.vapour_pressure_kpa = 1.0;
  day.wind_m_s = 0.0;
  day.solar_mj_m2 = 0.3;
  const Date december = make_date(2023, 12, 20);
  const double alone_mm = reference_day(site, december, day).et0.total_mm();
  CAPTURE(alone_mm);
  REQUIRE(alone_mm < -1.5);
  CHECK(refusal([&] {
          (void)reference_days(WeatherRecord("made up", site, december, {day}, true));
        }).find("reference evapotranspiration of -") != std::string::npos);
  // The samples, winters included, and what was observed stay far from it.
  for (const char* name : {"skerrowick.csv", "tolvenau.csv"}) {
    CHECK(reference_days(sample(name)).size() > 1000);
  }
}

}  // namespace wiltline::test

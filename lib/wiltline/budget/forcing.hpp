// From the weather to what a pot feels: first for a spot, then for a planting on it.
#pragma once

#include <optional>
#include <span>
#include <vector>

#include "wiltline/base/units.hpp"
#include "wiltline/budget/day.hpp"
#include "wiltline/crop/canopy.hpp"
#include "wiltline/crop/growth.hpp"
#include "wiltline/crop/water_use.hpp"
#include "wiltline/evapotranspiration/daily.hpp"
#include "wiltline/evapotranspiration/demand_curve.hpp"

namespace wiltline {

/// One day at a spot. Shared by every planting that stands there.
struct SpotDay {
  double open_et0_mm = 0.0;  // of the open site
  ReferenceTerms et0;        // at the spot
  double leaf_air_mm = 0.0;  // the air term as leaves answer to it: saturated_air_mm
  double surface_mm = 0.0;   // ET0 of a wet top or wall: the air term with the spot's advection
  double diffuse_share = 0.0;
  double noon_elevation_rad = 0.0;
  double wind_2m_m_s = 0.0;
  double rh_min_pct = 0.0;
  double rain_mm = 0.0;  // that falls on the spot; unknown rain counts as none
  double mean_temperature_c = 0.0;
  double frost_tmin_c = 0.0;     // lowest, less what the spot keeps off; frost alone follows it
  int days_after_midsummer = 0;  // since the last
  DemandCurve curve{12.0, 0.0, 0.0, 0.0};

  /// ET0 at the spot, never below zero: dew does not water a pot.
  [[nodiscard]] double et0_mm() const { return et0.total_mm() > 0.0 ? et0.total_mm() : 0.0; }
};

/// Days since the last midsummer: 21 June, south of the equator 21 December.
[[nodiscard]] int days_after_midsummer(Date date, double latitude_deg);

/// When a share x of a day's demand has passed, days since planting. `age_days`: of the day.
[[nodiscard]] inline double days_since_planting(double age_days, const DemandCurve& curve,
                                                double x) {
  return age_days + curve.hours_at(x) / units::hours_per_day;
}

/// A day seen from a spot; `open`: its reference ET.
[[nodiscard]] SpotDay spot_day(const Site& site, Date date, const WeatherDay& weather,
                               const ReferenceDay& open, const Spot& spot,
                               const ModelParameters& model);

/// Share of the beam that falls in a spot's hours of direct sun, by day of the year (1 to 366): all
/// that the days of a record need. It takes longest of what a spot's day needs, and of weather
/// and model only the air's transmittance matters to it.
using SunShares = std::vector<double>;
[[nodiscard]] SunShares sun_shares(const Spot& spot, const WeatherRecord& record,
                                   const ModelParameters& model);

/// What a day of a record is for every spot alike, under any model.
struct OpenDay {
  int day_of_year = 0;
  int days_after_midsummer = 0;
  double clearness = 0.0;            // Rs / Ra
  double solar_minus_clock_h = 0.0;  // 0 where clock time is taken as solar time
  double noon_elevation_rad = 0.0;
  double rh_min_pct = 0.0;
};
/// Day by day.
[[nodiscard]] std::vector<OpenDay> open_days(const WeatherRecord& record,
                                             const std::vector<ReferenceDay>& reference);

/// Share of a day's demand that falls in the dark hours: it follows the air term.
[[nodiscard]] double night_share(const ModelParameters& model, double et_air_mm);

/// A record seen from a spot, day by day.
[[nodiscard]] std::vector<SpotDay> spot_days(const WeatherRecord& record,
                                             const std::vector<ReferenceDay>& reference,
                                             const Spot& spot, const ModelParameters& model);
/// `count` days of it from `first` on, with what was worked out before.
[[nodiscard]] std::vector<SpotDay> spot_days(const WeatherRecord& record,
                                             const std::vector<ReferenceDay>& reference,
                                             const std::vector<OpenDay>& open, const Spot& spot,
                                             const SunShares& in_sun, const ModelParameters& model,
                                             std::size_t first, std::size_t count);

/// Share of the open site's solar radiation that reaches a spot on a day, and how much of it is
/// diffuse: beam in the hours of direct sun, diffuse times sky view, both less what a net takes
/// away; and of the beam what paving or a wall that no neighbour covers throws back, from all
/// sides.
struct SpotRadiation {
  double share = 1.0;
  double diffuse_share = 0.0;
  double beam = 1.0;  // share that is direct sun
};
[[nodiscard]] SpotRadiation spot_radiation(const Spot& spot, double latitude_deg, int day_of_year,
                                           double open_diffuse_share, const ModelParameters& model);

/// What makes a crop the same in every pot of it at a spot.
struct CropSetting {
  const Crop* crop = nullptr;
  double advection = 1.0;
  CrownParameters crown;  // its closing: how far the neighbours of the spot have closed in
  double largest_leaf_share = 1.0;  // of full leaf area: less where it is picked leaf by leaf
  double leaf_factor = 1.0;         // less leaf on a hardened plant
  double first_leaf_share = 0.0;    // of full leaf area, on the day of planting
  bool one_plant = true;            // if not, CropDay::one_plant is left out: pots of several
};
[[nodiscard]] CropSetting crop_setting(const Planting& planting, const ModelParameters& model);
/// The same of another crop that grows in the same pot; it must outlive the setting.
[[nodiscard]] CropSetting crop_setting(const Planting& planting, const Crop& crop,
                                       const ModelParameters& model);

/// A crown as the pot below it meets it.
struct CrownOverPot {
  double plan_area_m2 = 0.0;
  double litres = 0.0;           // potential transpiration, before rain held on leaves
  double under_crown = 1.0;      // share of evaporation left under it
  double interception_mm = 0.0;  // most it holds back of a rain
};

/// A further crop of a mixed pot on a day.
struct CropBeside {
  double leaf_share = 0.0;  // as CropDay
  double full_cover = 0.0;
};

/// A crop at a spot on a day: computed once for all its pots. Of a mixed pot all its crops.
struct CropDay {
  double leaf_share = 0.0;  // of full leaf area
  double full_cover = 0.0;  // basal coefficient of full cover, late decline included
  double depletion_fraction = 0.0;
  double surface_mm = 0.0;  // as SpotDay
  double rain_mm = 0.0;
  CrownWeather weather;
  double capture_factor = 1.0;          // as Crop's; of a mixed pot the mean by plan area
  CrownOverPot one_plant;               // a single plant that no pot limits
  std::vector<CropBeside> beside = {};  // in the order of Planting::beside
};
[[nodiscard]] CropDay crop_day(const CropSetting& setting, const SpotDay& spot,
                               const Development& development, const ModelParameters& model);

/// The day of a mixed pot from those of its crops, the planting's own first: the pot is short as
/// soon as its most sensitive crop is. Empty: a crop that is no longer there.
[[nodiscard]] CropDay mixed_day(const Planting& planting,
                                std::span<const std::optional<CropDay>> crops);

/// What stays the same for a planting through a run, beside its PotParameters.
struct PlantingSetting {
  const Planting* planting = nullptr;
  PotParameters pot;
  Stand stand;
  CropSetting crop;
  double size_factor = 1.0;  // pot_limit of its litres per plant
  double use_factor = 1.0;   // on what the crown transpires, as learned
};
[[nodiscard]] PlantingSetting planting_setting(const Planting& planting, const PotParameters& pot,
                                               const ModelParameters& model);

/// The same plant as if it reached full size, whatever the pot.
[[nodiscard]] PlantingSetting at_full_size(PlantingSetting setting);

/// The crown of a planting: one plant in proportion to its size factor; several as the disc they
/// share, several crops as parts of it (shared_canopy).
[[nodiscard]] CrownOverPot crown_over_pot(const PlantingSetting& setting, const CropDay& day,
                                          const ModelParameters& model);

/// What the kernel needs to know of a planting's pot, crown and day.
[[nodiscard]] kernel::PotDay pot_day(const PlantingSetting& setting, const CropDay& day,
                                     const CrownOverPot& crown, const ModelParameters& model);

/// The crown and the forcing of a planting on one day.
struct PlantingDayForcing {
  DayForcing day;
  double canopy_m2 = 0.0;  // plan area of all plants
};

/// A day's forcing: crown, potential transpiration, evaporation from top and wall, rain caught, p
/// and growth of the roots. `age_days`: whole days since planting.
[[nodiscard]] PlantingDayForcing planting_day(const PlantingSetting& setting, const CropDay& day,
                                              double age_days, const ModelParameters& model);

}  // namespace wiltline

// Where the sun stands: FAO-56 chapter 3, equations 21 to 34, and the share of a day's direct sun
// that falls between two hours. Angles in radians unless a name says degrees; hours are solar hours
// (noon when the sun is highest). All latitudes from -90 to 90, polar days and nights included.
#pragma once

namespace wiltline {

inline constexpr double solar_constant_mj_m2_min = 0.0820;

[[nodiscard]] double radians(double degrees);  // eq. 22

/// Inverse relative distance Earth-Sun, squared form (eq. 23).
[[nodiscard]] double inverse_relative_distance(int day_of_year);

/// Solar declination, rad (eq. 24).
[[nodiscard]] double solar_declination_rad(int day_of_year);

/// Sunset hour angle, rad: 0 when the sun does not rise, pi when it does not set (eq. 25).
[[nodiscard]] double sunset_hour_angle_rad(double latitude_rad, double declination_rad);

/// The same by way of the arc tangent, for languages without an arc cosine (eq. 26, 27).
[[nodiscard]] double sunset_hour_angle_by_arctan_rad(double latitude_rad, double declination_rad);

/// Extraterrestrial radiation of a day, MJ m-2 d-1 (eq. 21).
[[nodiscard]] double extraterrestrial_radiation_mj_m2(double latitude_rad, int day_of_year);

/// Clear-sky radiation, MJ m-2 d-1, from that above the air and the elevation (eq. 37).
[[nodiscard]] double clear_sky_radiation_mj_m2(double extraterrestrial_mj_m2, double elevation_m);

/// Daylight hours (eq. 34).
[[nodiscard]] double daylight_h(double latitude_rad, int day_of_year);

/// Both of a day, computed together.
struct SunOfDay {
  double extraterrestrial_mj_m2 = 0.0;
  double daylight_h = 0.0;
};
[[nodiscard]] SunOfDay sun_of_day(double latitude_rad, int day_of_year);

/// The same for many days: what a latitude is to all of them is worked out once.
class SunAtLatitude {
 public:
  explicit SunAtLatitude(double latitude_rad);
  [[nodiscard]] SunOfDay on(int day_of_year) const;

 private:
  double sine_;
  double cosine_;
  double tangent_;
};

/// Seasonal correction of solar time, h (eq. 32, 33).
[[nodiscard]] double seasonal_correction_h(int day_of_year);

/// Solar time angle, rad, at the middle of a period (eq. 31). `clock_h`: standard clock time of
/// that middle; longitudes in degrees WEST of Greenwich, of the time zone's centre and of the site.
[[nodiscard]] double solar_time_angle_rad(double clock_h, int day_of_year,
                                          double zone_longitude_deg_w, double site_longitude_deg_w);

/// Extraterrestrial radiation of a period of `period_h` hours, MJ m-2 per period (eq. 28 to 30),
/// about a solar time angle. Hours in which the sun is down count nothing: the angles are held
/// between sunrise and sunset.
[[nodiscard]] double extraterrestrial_radiation_mj_m2_period(double latitude_rad, int day_of_year,
                                                             double solar_time_angle_rad,
                                                             double period_h);

/// Elevation of the sun at noon, rad (FAO-56 chapter 9: sin eta with the time angle 0).
[[nodiscard]] double noon_elevation_rad(double latitude_rad, double declination_rad);

/// Solar time minus clock time, h, at a longitude (degrees EAST) and UTC offset; eq. 31's
/// correction.
[[nodiscard]] double solar_minus_clock_h(double longitude_deg, double utc_offset_h,
                                         int day_of_year);

/// Share of a clear day's direct (beam) radiation on the ground that arrives between two solar
/// hours. Beam strength by air mass: transmittance^(1/sin elevation) (from memory: the usual
/// clear-sky form), `transmittance` above 0 and at most 1. 0 on a day without sunrise.
[[nodiscard]] double beam_share_between(double latitude_rad, int day_of_year, double from_h,
                                        double to_h, double transmittance);

}  // namespace wiltline

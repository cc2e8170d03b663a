#include "wiltline/sun/sky_limit.hpp"

namespace wiltline {
namespace {

constexpr double radiation_slack_mj_m2 = 0.1;  // (judged)
constexpr double sunshine_slack_h = 0.5;       // (judged)

}  // namespace

bool SkyLimit::allows_radiation(double solar_mj_m2) const {
  return solar_mj_m2 <= radiation_mj_m2 + radiation_slack_mj_m2;
}

bool SkyLimit::allows_sunshine(double sunshine_h) const {
  return sunshine_h <= daylight_h + sunshine_slack_h;
}

SkyLimit sky_limit(double latitude_deg, int day_of_year) {
  return sky_limit(sun_of_day(radians(latitude_deg), day_of_year));
}

}  // namespace wiltline

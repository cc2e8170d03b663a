// How far off readings of a pot and its account may be, and what a pot weighs beside its water: all
// judged.
#pragma once

namespace wiltline::reading_errors {

inline constexpr double day_use_error_share = 0.15;  // of a day's use, anew each day
// The same of a day whose weather is not known and taken as that of the day before.
inline constexpr double day_without_weather_error_share = 0.40;
inline constexpr double rain_error_share = 0.3;       // of the rain caught
inline constexpr double given_error_share = 0.05;     // of the litres given
inline constexpr double refilled_error_share = 0.03;  // of TAW, where water drained
inline constexpr double planted_error_share = 0.10;   // of TAW, on the day of planting
// Of the litres given, in what was measured to drain; and beside it, litres.
inline constexpr double drained_error_share = 0.10;
inline constexpr double drained_error_l = 0.05;
inline constexpr double scale_kg = 0.04;                  // of a household scale, 20 to 50 g
inline constexpr double scale_share = 0.002;              // of the weight, beside the scale's own
inline constexpr double wilting_line_error_share = 0.10;  // of TAW, about the wilting line
inline constexpr double top_limit_error_share = 0.3;      // of the limit of the finger test
inline constexpr double wrong_answer_share = 0.02;        // of all yes and no

inline constexpr double empty_kg_per_l = 0.3;              // of pots, as far apart as heavy
inline constexpr double mix_weight_error_share = 0.15;     // of the dry mix
inline constexpr double lower_limit_error_share = 0.2;     // of the water left there
inline constexpr double plant_kg_per_leaf_m2 = 2.0;        // with stems and fruit
inline constexpr double plant_error_kg_per_leaf_m2 = 1.0;  // how far off that is

// Beyond so many standard errors an amount is not believed; a yes or no of a chance under 6 %.
inline constexpr double outlier_limit_se = 4.0;
inline constexpr double outlier_limit_yes_no_se = 2.4;

}  // namespace wiltline::reading_errors

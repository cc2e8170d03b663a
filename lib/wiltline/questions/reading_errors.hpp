// How far off readings of a pot and its account may be, and what a pot weighs beside its water: all
// judged.
#pragma once

namespace wiltline::reading_errors {

inline constexpr double day = 0.15;        // of a day's use, anew each day
inline constexpr double other_day = 0.40;  // of one whose weather is not known: as the day before
inline constexpr double rain = 0.3;        // of the rain caught
inline constexpr double given = 0.05;      // of the litres given
inline constexpr double refilled = 0.03;   // of TAW, where water drained
inline constexpr double planted = 0.10;    // of TAW, on the day of planting
inline constexpr double drained = 0.10;    // of the litres given, of what was measured to drain
inline constexpr double drained_l = 0.05;  // the same, beside it
inline constexpr double scale_kg = 0.04;   // of a household scale, 20 to 50 g
inline constexpr double scale_share = 0.002;  // of the weight, beside the scale's own
inline constexpr double wilting = 0.10;       // of TAW, about the wilting line
inline constexpr double top = 0.3;            // of the limit of the finger test
inline constexpr double misseen = 0.02;       // of all yes and no

inline constexpr double empty_kg_per_l = 0.3;              // of pots, as far apart as heavy
inline constexpr double mix_weight = 0.15;                 // of the dry mix, as a share
inline constexpr double lower_limit = 0.2;                 // of the water left there, as a share
inline constexpr double plant_kg_per_leaf_m2 = 2.0;        // with stems and fruit
inline constexpr double plant_error_kg_per_leaf_m2 = 1.0;  // how far off that is

inline constexpr double outlying = 4.0;  // standard errors beyond which an amount is not believed
inline constexpr double outlying_yes_no = 2.4;  // a chance under 6 %

}  // namespace wiltline::reading_errors

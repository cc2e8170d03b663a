#include "wiltline/garden/learned_fields.hpp"

#include <fmt/format.h>

namespace wiltline {
namespace {

using L = const Learned&;

/// Four digits: more than is known.
std::string number_if(bool known, double value) {
  return known ? fmt::format("{:.4g}", value) : "";
}

}  // namespace

Fields<Learned> learned_fields() {
  namespace unit = unit_options;
  const auto nothing = Need::nothing;
  constexpr double least_factor = 0.05;
  constexpr double most_factor = 20.0;
  constexpr double most_correlation = Learned::most_correlation;
  Fields<Learned> fields;
  fields
      .number("use_factor", unit::none, nothing, &Learned::use_factor, {least_factor, most_factor})
      .written([](L of) { return number_if(of.use_factor_sd > 0.0, of.use_factor); })
      .number("use_factor_sd", unit::none, nothing, &Learned::use_factor_sd, {0.0, most_factor})
      .written([](L of) { return number_if(of.use_factor_sd > 0.0, of.use_factor_sd); })
      .number("usable", unit::volume, nothing, &Learned::usable_l,
              {0.001, 5000.0, "0.001 to 5000 litres"})
      .written([](L of) { return number_if(of.usable_l.has_value(), of.usable_l.value_or(0.0)); })
      .number("usable_sd", unit::volume, nothing, &Learned::usable_sd_l,
              {0.0, 5000.0, "0 to 5000 litres"})
      .written([](L of) { return number_if(of.usable_l.has_value(), of.usable_sd_l); })
      .number("wall_factor", unit::none, nothing, &Learned::wall_factor,
              {least_factor, most_factor})
      .written([](L of) { return number_if(of.wall_factor != 1.0, of.wall_factor); })
      .number("use_usable_correlation", unit::none, nothing, &Learned::use_usable_correlation,
              {-most_correlation, most_correlation})
      .written([](L of) {
        return number_if(of.use_usable_correlation != 0.0, of.use_usable_correlation);
      })
      .field("calibrated_until", nothing,
             [](const Cell& cell, Learned& of) { of.until = cell.instant(); })
      .written([](L of) { return of.until ? to_string(*of.until) : ""; });
  return fields;
}

}  // namespace wiltline

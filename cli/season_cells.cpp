#include "season_cells.hpp"

#include "wiltline/base/date.hpp"

namespace wiltline::cli {
namespace {

Cell date_cell(const std::optional<Date>& date) {
  return date ? Cell(to_string(*date)) : Cell();
}

void add(std::vector<Cell> cells, std::vector<Cell>& row) {
  for (Cell& cell : cells) row.push_back(std::move(cell));
}

}  // namespace

void add_summary_cells(const SeasonSummary& s, std::vector<Cell>& row) {
  add({s.mix_l, s.capacity_l, s.available_l, s.refill_at_l, s.peak_use_l_day,
       static_cast<long>(s.waterings), s.watered_l, s.rain_l, s.drained_l, s.used_l,
       static_cast<long>(s.stressed_days), static_cast<long>(s.wilting_days),
       static_cast<long>(s.dry_days), date_cell(s.first_dry), s.longest_gap_days},
      row);
}

void add_settling_cells(const SeasonSummary& s, std::vector<Cell>& row) {
  const SettlingIn& apart = s.settling_in;
  add({date_cell(apart.settled), static_cast<long>(apart.stressed_days),
       static_cast<long>(apart.wilting_days), static_cast<long>(apart.dry_days)},
      row);
}

void add_care_cells(const SeasonSummary& s, std::vector<Cell>& row) {
  add({s.peak_use_full_size_l_day, s.waterings_week_peak, static_cast<long>(s.care.finger_only),
       static_cast<long>(s.care.root_only), static_cast<long>(s.care.frost),
       static_cast<long>(s.care.too_warm), static_cast<long>(s.care.poor_fruit_set),
       static_cast<long>(s.care.blossom_end_rot), static_cast<long>(s.care.hot_roots),
       static_cast<long>(s.care.sheds_water), static_cast<long>(s.care.feed),
       date_cell(s.first_feed)},
      row);
}

}  // namespace wiltline::cli

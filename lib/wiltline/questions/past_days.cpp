#include "wiltline/questions/past_days.hpp"

#include <algorithm>

#include "wiltline/base/random.hpp"

namespace wiltline {
namespace {

constexpr int block_days = 5;
constexpr int window_days = 10;  // either side of the calendar date
constexpr std::chrono::days present{182};

struct Candidates {
  std::vector<std::size_t> starts;  // record indices
  int years = 0;                    // that have more than half of the window
};

/// Where a block for the days from `begin` on may start.
Candidates candidates(const WeatherRecord& record, Date begin, Date now) {
  const std::chrono::year_month_day civil{begin};
  const MonthDay day{static_cast<unsigned>(civil.month()), static_cast<unsigned>(civil.day())};
  Candidates found;
  for (int year = year_of(record.first()) - 1; year <= year_of(record.last()) + 1; ++year) {
    if (year == year_of(begin)) continue;
    const Date middle = day.nearest_in_year(year);
    const std::size_t before = found.starts.size();
    for (int offset = -window_days; offset <= window_days; ++offset) {
      const Date start = middle + std::chrono::days(offset);
      const Date end = start + std::chrono::days(block_days - 1);
      const bool another_year = start > now + present || end < now - present;
      if (another_year && record.contains(start) && record.contains(end)) {
        found.starts.push_back(record.index_of(start));
      }
    }
    // A year of which the record holds half or fewer of the start days is none of "N other years".
    constexpr std::size_t half_of_window = window_days;
    if (found.starts.size() - before > half_of_window) ++found.years;
  }
  return found;
}

}  // namespace

PastDays::PastDays(const WeatherRecord& record, Date first, Date last, Date now) {
  for (Date begin = first; begin <= last; begin += std::chrono::days(block_days)) {
    Candidates found = candidates(record, begin, now);
    if (begin == first) {
      years_ = found.years;
      starts_ = found.starts.size();
    }
    if (found.starts.empty()) break;
    blocks_.push_back(std::move(found.starts));
    last_ = std::min(begin + std::chrono::days(block_days - 1), last);
  }
  size_ = last_ ? static_cast<std::size_t>((*last_ - first).count()) + 1 : 0;
}

double PastDays::spells() const {
  return static_cast<double>(starts_) / block_days;
}

std::vector<std::size_t> PastDays::draw(std::uint64_t seed, std::uint64_t member) const {
  RandomBits random(seed, member);
  std::vector<std::size_t> days;
  for (const std::vector<std::size_t>& block : blocks_) {
    const std::size_t first = block[random.below(block.size())];
    for (std::size_t i = 0; i < block_days && days.size() < size_; ++i) days.push_back(first + i);
  }
  return days;
}

double tail_share(double spells) {
  constexpr double tenth = 0.1;
  if (spells == 0.0) return tenth;
  return std::max(0.0, (tenth * (spells + 1.0) - 0.5) / spells);
}

}  // namespace wiltline

#include "uncertain.hpp"

#include <fmt/format.h>

#include <cmath>
#include <memory>

#include "progress.hpp"
#include "refuse.hpp"
#include "shared_options.hpp"
#include "words.hpp"

namespace wiltline::cli {
namespace {

std::string range_text(const std::string& low, const std::string& high) {
  return low == high ? low : fmt::format("{} to {}", low, high);
}

std::string litres_text(const Spread& spread, bool us) {
  return volume_range_text(spread.p10, spread.p90, us);
}

std::string whole_text(const Spread& spread) {
  return range_text(fmt::format("{:.0f}", spread.p10), fmt::format("{:.0f}", spread.p90));
}

std::string moved_text(const std::optional<Influence>& influence) {
  return influence ? fmt::format("; what matters most: {}", term_in_words(influence->name)) : "";
}

/// The draws that count: those in which the pot holds water.
template <typename Answer>
DrawOptions counted(const Answer& spread, DrawOptions draws) {
  draws.draws -= spread.waterless_draws;
  return draws;
}

template <typename Answer>
std::string waterless_text(const Answer& spread, const DrawOptions& draws) {
  if (spread.waterless_draws == 0) return "";
  return "; " + left_out_text(spread.waterless_draws, draws.draws);
}

/// `62 of 100 runs`.
std::string of_draws(double share, const DrawOptions& draws) {
  return fmt::format("{:.0f} of {} runs", share * static_cast<double>(draws.draws), draws.draws);
}

}  // namespace

std::optional<std::size_t> draws_option(const Arguments& arguments, int fewest) {
  constexpr int fewest_to_rank = 64;
  constexpr int most = 10000;
  const auto draws = whole_number(arguments, "uncertain",
                                  arguments.flag("what-matters") ? fewest_to_rank : fewest, most);
  return draws ? std::optional(static_cast<std::size_t>(*draws)) : std::nullopt;
}

std::optional<DrawOptions> draw_options(const Arguments& arguments) {
  constexpr int fewest_draws = 10;
  const auto draws = draws_option(arguments, fewest_draws);
  const std::uint64_t seed = seed_option(arguments);
  if (!draws && arguments.flag("seed")) {
    refuse("found --seed without --uncertain; expected both or neither");
  }
  if (!draws) return std::nullopt;
  const auto progress = std::make_shared<Progress>(std::chrono::seconds(1));
  return DrawOptions{
      .draws = *draws, .seed = seed, .done = [all = *draws, progress](std::size_t done) {
        progress->show(fmt::format("recalculated {} of {} times", done, all));
        if (done == all) progress->clear();
      }};
}

std::string left_out_text(std::size_t left_out, std::size_t runs) {
  return fmt::format("{} of {} runs left out: this mix then holds no water for plants in this pot",
                     left_out, runs);
}

std::string draws_text(const DrawOptions& draws) {
  return fmt::format(
      "How sure: recalculated {} times with plant, mix, spot and model varied within their likely "
      "ranges. 8 in 10 of the answers lie between the two figures.",
      draws.draws);
}

std::string spread_text(const SeasonSpread& spread, const DrawOptions& all, bool us) {
  const DrawOptions draws = counted(spread, all);
  const std::string wilting =
      spread.unwilted_share == 1.0
          ? "no wilting day in any run"
          : fmt::format("{} wilting days (none in {})", whole_text(spread.wilting_days),
                        of_draws(spread.unwilted_share, draws));
  return fmt::format("{} given, {}{}", litres_text(spread.watered_l, us), wilting,
                     moved_text(spread.moves_most)) +
         waterless_text(spread, all);
}

std::string spread_text(const ChoiceSpread& spread, const DrawOptions& all, bool us) {
  const DrawOptions draws = counted(spread, all);
  return fmt::format("enough in {}; {} given a summer, {} wilting days in the worst{}",
                     of_draws(spread.enough_share, draws), litres_text(spread.watered_l, us),
                     whole_text(spread.wilting_days), moved_text(spread.moves_most)) +
         waterless_text(spread, all);
}

std::string spread_text(const AbsenceSpread& spread, const DrawOptions& all,
                        const std::string& share_asked) {
  const DrawOptions draws = counted(spread, all);
  const auto percent = [](double share) {
    return fmt::format("{:.0f}", std::floor(100.0 * share));
  };
  return fmt::format("{} % of trips survived, at least {} in {}{}",
                     range_text(percent(spread.share.p10), percent(spread.share.p90)), share_asked,
                     of_draws(spread.enough_share, draws), moved_text(spread.moves_most)) +
         waterless_text(spread, all);
}

std::string spread_text(const HeatwaveSpread& spread, const DrawOptions& all, bool us) {
  const DrawOptions draws = counted(spread, all);
  return fmt::format(
             "{} on the thirstiest day, {} waterings a day; 07:00 is enough in {}, with 19:00 in "
             "{:.0f}{}",
             litres_text(spread.peak_use_l_day, us),
             range_text(fmt::format("{:.1f}", spread.waterings_per_day.p10),
                        fmt::format("{:.1f}", spread.waterings_per_day.p90)),
             of_draws(spread.once_a_day_share, draws),
             spread.twice_a_day_share * static_cast<double>(draws.draws),
             moved_text(spread.moves_most)) +
         waterless_text(spread, all);
}

}  // namespace wiltline::cli

// How sure an answer is, in options and words: the question asked again for draws from the
// ranges of the model tables.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "command.hpp"
#include "report.hpp"
#include "wiltline/questions/drawn_answers.hpp"

namespace wiltline::cli {

/// How many draws --uncertain asks for, `fewest` or more; with --what-matters 64 or more.
[[nodiscard]] std::optional<std::size_t> draws_option(const Arguments& arguments, int fewest);
/// The draws asked for; empty without --uncertain.
[[nodiscard]] std::optional<DrawOptions> draw_options(const Arguments& arguments);

/// `12 of 100 runs left out: …`, of draws in which a pot holds no water.
[[nodiscard]] std::string left_out_text(std::size_t left_out, std::size_t runs);
/// The sentence that stands before the spreads of a table.
[[nodiscard]] std::string draws_text(const DrawOptions& draws);
/// `12 to 19 L given, 0 to 4 wilting days, none in 62 of 100 draws; leaf area moves this most`.
[[nodiscard]] std::string spread_text(const SeasonSpread& spread, const DrawOptions& draws,
                                      bool us);
[[nodiscard]] std::string spread_text(const ChoiceSpread& spread, const DrawOptions& draws,
                                      bool us);
/// `share_asked`: as a text, such as 95 %.
[[nodiscard]] std::string spread_text(const AbsenceSpread& spread, const DrawOptions& draws,
                                      const std::string& share_asked);
[[nodiscard]] std::string spread_text(const HeatwaveSpread& spread, const DrawOptions& draws,
                                      bool us);

}  // namespace wiltline::cli

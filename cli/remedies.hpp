// What would have prevented wilting, in words.
#pragma once

#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "wiltline/questions/remedies.hpp"

namespace wiltline::cli {

/// The remedies of one planting as paragraphs: those that suffice, then those that help.
void say_remedies(const std::string& name, const std::vector<Remedy>& remedies, bool us,
                  const std::function<void(const std::string&)>& say);
void say_remedies(const std::string& name, const std::vector<AbsenceRemedy>& remedies, bool us,
                  const std::function<void(const std::string&)>& say);

/// True if a saucer is among them.
[[nodiscard]] bool offers_saucer(const std::vector<Remedy>& remedies);

/// The change of the first remedy if it suffices.
[[nodiscard]] std::optional<std::string> first_remedy(const std::vector<Remedy>& remedies);
/// All of them in one cell: `mulch 14 -> 0; a saucer … 14 -> 9`, wilting days before and after;
/// empty without remedies.
[[nodiscard]] std::optional<std::string> remedies_in_a_cell(const std::vector<Remedy>& remedies);

}  // namespace wiltline::cli

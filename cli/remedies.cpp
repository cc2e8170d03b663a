#include "remedies.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "report.hpp"
#include "wiltline/base/units.hpp"
#include "words.hpp"

namespace wiltline::cli {
namespace {

std::string days_change(const Remedy& remedy) {
  std::string text =
      fmt::format("wilting days {} → {}", remedy.before.wilting, remedy.after.wilting);
  if (remedy.before.dry > 0) {
    text += fmt::format(", dry days {} → {}", remedy.before.dry, remedy.after.dry);
  }
  return text;
}

/// A change, with what must be known of it before it is made.
std::string told(const Change& change, bool us) {
  std::string text = printable(change.text);
  if (change.steps > 1) text = "two changes together: " + text;
  if (change.wet_kg) {
    text += fmt::format(
        ", whose wet mix alone weighs about {}: check what the floor may carry (local code, "
        "landlord)",
        us ? rough(*change.wet_kg / units::kg_per_pound) + " lb" : rough(*change.wet_kg) + " kg");
  }
  return text;
}

/// Two paragraphs at most: `does` says whether a remedy suffices, `change` what it changed.
template <typename SomeRemedy, typename Does, typename Changed>
void say_both(const std::string& name, const std::vector<SomeRemedy>& remedies, const Does& does,
              const Changed& changed, bool us, const std::function<void(const std::string&)>& say) {
  std::string enough;
  std::string some;
  for (const SomeRemedy& remedy : remedies) {
    std::string& list = does(remedy) ? enough : some;
    list += fmt::format("{}{} ({})", list.empty() ? "" : "; ", told(remedy.change, us),
                        changed(remedy));
  }
  if (!enough.empty()) say(fmt::format("{}: would have been enough: {}.", name, enough));
  if (!some.empty()) {
    say(fmt::format("{}: would have helped, but not been enough: {}.", name, some));
  }
  if (remedies.empty())
    say(fmt::format("{}: no single change of those tried would have helped.", name));
}

}  // namespace

void say_remedies(const std::string& name, const std::vector<Remedy>& remedies, bool us,
                  const std::function<void(const std::string&)>& say) {
  say_both(
      name, remedies, [](const Remedy& remedy) { return remedy.suffices(); }, days_change, us, say);
}

void say_remedies(const std::string& name, const std::vector<AbsenceRemedy>& remedies, bool us,
                  const std::function<void(const std::string&)>& say) {
  say_both(
      name, remedies, [](const AbsenceRemedy& remedy) { return remedy.suffices; },
      [](const AbsenceRemedy& remedy) {
        // A change may also move the day on which the pot has settled in, and so the windows.
        const std::string before =
            remedy.windows_before == remedy.windows_after
                ? fmt::format("{}", remedy.passed_before)
                : fmt::format("{} of {}", remedy.passed_before, remedy.windows_before);
        return fmt::format("trips survived {} → {} of {}", before, remedy.passed_after,
                           remedy.windows_after);
      },
      us, say);
}

bool offers_saucer(const std::vector<Remedy>& remedies) {
  return std::ranges::any_of(
      remedies, [](const Remedy& remedy) { return remedy.change.kind == RemedyKind::saucer; });
}

std::optional<std::string> first_remedy(const std::vector<Remedy>& remedies) {
  const bool any = !remedies.empty() && remedies.front().suffices();
  return any ? std::optional(remedies.front().change.text) : std::nullopt;
}

std::optional<std::string> remedies_in_a_cell(const std::vector<Remedy>& remedies) {
  std::string text;
  for (const Remedy& remedy : remedies) {
    text += fmt::format("{}{} {} -> {}", text.empty() ? "" : "; ", remedy.change.text,
                        remedy.before.wilting, remedy.after.wilting);
  }
  return text.empty() ? std::nullopt : std::optional(text);
}

}  // namespace wiltline::cli

#include "remedies.hpp"

#include <fmt/format.h>

#include "report.hpp"

namespace wiltline::cli {
namespace {

std::string days_change(const Remedy& remedy) {
  std::string text =
      fmt::format("wilting days {} -> {}", remedy.before.wilting, remedy.after.wilting);
  if (remedy.before.dry > 0) {
    text += fmt::format(", dry {} -> {}", remedy.before.dry, remedy.after.dry);
  }
  return text;
}

/// Two paragraphs at most: `does` says whether a remedy suffices, `change` what it changed.
template <typename SomeRemedy, typename Does, typename Changed>
void say_both(const std::string& name, const std::vector<SomeRemedy>& remedies, const Does& does,
              const Changed& changed, const std::function<void(const std::string&)>& say) {
  std::string enough;
  std::string some;
  for (const SomeRemedy& remedy : remedies) {
    std::string& list = does(remedy) ? enough : some;
    list += fmt::format("{}{} ({})", list.empty() ? "" : "; ", printable(remedy.change.text),
                        changed(remedy));
  }
  if (!enough.empty()) say(fmt::format("{}. Would have prevented it: {}.", name, enough));
  if (!some.empty()) {
    say(fmt::format("{}. Would have helped, not enough alone: {}.", name, some));
  }
  if (remedies.empty()) say(fmt::format("{}. No single change tried would have helped.", name));
}

}  // namespace

void say_remedies(const std::string& name, const std::vector<Remedy>& remedies,
                  const std::function<void(const std::string&)>& say) {
  say_both(
      name, remedies, [](const Remedy& remedy) { return remedy.suffices(); }, days_change, say);
}

void say_remedies(const std::string& name, const std::vector<AbsenceRemedy>& remedies,
                  const std::function<void(const std::string&)>& say) {
  say_both(
      name, remedies, [](const AbsenceRemedy& remedy) { return remedy.suffices; },
      [](const AbsenceRemedy& remedy) {
        // A change may also move the day on which the pot has settled in, and so the windows.
        const std::string before =
            remedy.windows_before == remedy.windows_after
                ? fmt::format("{}", remedy.passed_before)
                : fmt::format("{} of {}", remedy.passed_before, remedy.windows_before);
        return fmt::format("windows passed {} -> {} of {}", before, remedy.passed_after,
                           remedy.windows_after);
      },
      say);
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

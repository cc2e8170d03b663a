#include "diary.hpp"

#include "refuse.hpp"
#include "wiltline/base/numbers.hpp"
#include "wiltline/base/text.hpp"
#include "wiltline/base/units.hpp"
#include "wiltline/budget/state_correction.hpp"

namespace wiltline::cli {
namespace {

/// Splits NAME<sign>REST at the last sign; no sign: all is name.
std::pair<std::string, std::optional<std::string>> split_last(const std::string& text, char sign) {
  const std::size_t at = text.rfind(sign);
  if (at == std::string::npos) return {std::string(trim(text)), std::nullopt};
  return {std::string(trim(text.substr(0, at))), std::string(trim(text.substr(at + 1)))};
}

/// `12.3`, `12.3kg` or `27lb`.
std::optional<double> kilograms(std::string_view text) {
  const bool pounds = text.ends_with("lb");
  if (pounds || text.ends_with("kg")) text = trim(text.substr(0, text.size() - 2));
  const auto number = parse_number(text);
  if (!number) return std::nullopt;
  const double kg = pounds ? *number * units::kg_per_pound : *number;
  return kg > 0.0 && kg <= heaviest_pot_kg ? std::optional(kg) : std::nullopt;
}

}  // namespace

Diary::Diary(const Garden& garden, const ModelParameters& model, const Instant& now)
    : garden_(garden), model_(model), now_(now), events_(garden.plantings.size()) {
  for (std::size_t i = 0; i < garden.plantings.size(); ++i) {
    index_.emplace(garden.plantings[i].name, i);
  }
}

std::size_t Diary::named(const char* option, const std::string& name) const {
  const auto found = index_.find(name);
  if (found != index_.end()) return found->second;
  std::vector<std::string> names;
  for (const Planting& planting : garden_.plantings) names.push_back(planting.name);
  refuse("--{}: found unknown planting {}; expected a name of {}{}", option, in_quotes(name),
         garden_.file, nearest_hint(name, names));
}

void Diary::add_watered(const Arguments& arguments) {
  for (const std::string& text : arguments.texts("watered")) {
    // A planting may be called all, and a name may hold an @: a whole name comes first.
    const bool whole = index_.contains(std::string(trim(text)));
    const auto [name, time] = whole
                                  ? std::pair{std::string(trim(text)), std::optional<std::string>{}}
                                  : split_last(text, '@');
    Instant when = now_;
    if (time) {
      const auto parsed = parse_instant(*time);
      if (!parsed) {
        refuse(
            "--watered: found {}; expected NAME, or NAME@ and a date and hour, as "
            "broccoli@2024-07-15T08:30",
            in_quotes(text));
      }
      if (*parsed > now_) {
        refuse("--watered: found {}, after now; expected a time up to {}", to_string(*parsed),
               to_string(now_));
      }
      when = *parsed;
    }
    const PotEvent event{when, PotEventKind::watered, std::nullopt};
    if (name == "all" && !index_.contains(name)) {
      for (auto& list : events_) list.push_back(event);
    } else {
      events_[named("watered", name)].push_back(event);
    }
  }
}

void Diary::add_weights(const Arguments& arguments) {
  for (const std::string& text : arguments.texts("weight")) {
    const auto [name, weight] = split_last(text, '=');
    const auto kg = weight ? kilograms(*weight) : std::nullopt;
    if (!kg) {
      refuse(
          "--weight: found {}; expected NAME=KG or NAME=POUNDSlb, as broccoli=12.3 or "
          "broccoli=27lb",
          in_quotes(text));
    }
    const std::size_t i = named("weight", name);
    if (const auto fault = weight_fault(garden_.plantings[i], model_, *kg)) {
      refuse("--weight: {}", fault->text());
    }
    add_once(i, "weight", {now_, PotEventKind::weighed, kg});
  }
}

void Diary::add_tops(const Arguments& arguments) {
  for (const std::string& text : arguments.texts("top")) {
    const auto [name, how] = split_last(text, '=');
    if (!how || (*how != "dry" && *how != "moist")) {
      refuse("--top: found {}; expected NAME=dry or NAME=moist", in_quotes(text));
    }
    const std::size_t i = named("top", name);
    add_once(i, "top",
             {now_, *how == "dry" ? PotEventKind::top_felt_dry : PotEventKind::top_felt_moist, {}});
  }
}

void Diary::add_log(const std::vector<LogEntry>& entries) {
  for (const LogEntry& entry : entries) {
    events_[named("log", entry.name)].push_back(entry.event);
  }
}

void Diary::add_once(std::size_t i, const char* option, const PotEvent& event) {
  const bool is_weight = event.kind == PotEventKind::weighed;
  for (const PotEvent& known : events_[i]) {
    const bool known_is_weight = known.kind == PotEventKind::weighed;
    if (known.kind == PotEventKind::watered || known_is_weight != is_weight) continue;
    refuse("--{}: found {} a second time; expected it once", option,
           in_quotes(garden_.plantings[i].name));
  }
  events_[i].push_back(event);
}

}  // namespace wiltline::cli

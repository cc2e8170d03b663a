#include "wiltline/weather/site.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <set>
#include <utility>

#include "wiltline/base/numbers.hpp"
#include "wiltline/base/text.hpp"
#include "wiltline/weather/dialect.hpp"

namespace wiltline {
namespace {

struct SiteKey {
  std::string_view name;
  std::optional<double> SiteValues::*member;
  double low;
  double high;
};

constexpr std::array<SiteKey, 5> keys{{
    {"latitude_deg", &SiteValues::latitude_deg, -90.0, 90.0},
    {"elevation_m", &SiteValues::elevation_m, -500.0, 9000.0},
    {"wind_height_m", &SiteValues::wind_height_m, 0.5, 200.0},
    {"longitude_deg", &SiteValues::longitude_deg, -180.0, 180.0},
    {"utc_offset_h", &SiteValues::utc_offset_h, -14.0, 14.0},
}};

const SiteKey* find_key(std::string_view name) {
  const auto found = std::ranges::find(keys, name, &SiteKey::name);
  return found == keys.end() ? nullptr : &*found;
}

struct KeyValue {
  std::string_view key;
  std::string_view value;
};

std::optional<KeyValue> key_value(std::string_view text) {
  const std::size_t equals = text.find('=');
  if (equals == std::string_view::npos) return std::nullopt;
  return KeyValue{trim(text.substr(0, equals)), trim(text.substr(equals + 1))};
}

/// Takes values from the lines of a file, each key once.
class SiteLines {
 public:
  SiteLines(const std::string& file, ProblemList& problems) : file_(file), problems_(problems) {}

  /// `pair`: of a key that is known.
  void take(std::size_t line, const KeyValue& pair) {
    if (!seen_.emplace(pair.key).second) {
      complain(line, fmt::format("{} a second time", pair.key), "it once");
      return;
    }
    const auto number = parse_number(pair.value);
    std::string expected = number ? set_site_value(values_, pair.key, *number) : "a number";
    if (expected.empty()) return;
    complain(line, fmt::format("{} for {}", in_quotes(pair.value), pair.key), std::move(expected));
  }
  void complain(std::size_t line, std::string found, std::string expected) {
    problems_.add({file_, line, 1, std::move(found), std::move(expected)});
  }
  [[nodiscard]] bool none() const { return seen_.empty(); }
  [[nodiscard]] const SiteValues& values() const { return values_; }

 private:
  const std::string& file_;
  ProblemList& problems_;
  SiteValues values_;
  std::set<std::string, std::less<>> seen_;
};

}  // namespace

std::optional<Fault> clock_fault(const std::optional<double>& longitude_deg,
                                 const std::optional<double>& utc_offset_h) {
  if (!longitude_deg || !utc_offset_h) return std::nullopt;
  constexpr double degrees_per_hour = 15.0;
  constexpr double day_h = 24.0;
  // West China keeps a clock three hours ahead of its sun; an hour more is let pass (judged).
  constexpr double most_h = 4.0;
  const double solar_h = *longitude_deg / degrees_per_hour;
  // Beside the date line a clock may be a whole day on.
  const double apart_h = std::abs(std::remainder(*utc_offset_h - solar_h, day_h));
  if (apart_h <= most_h) return std::nullopt;
  const bool sign = std::abs(std::remainder(-*utc_offset_h - solar_h, day_h)) <= most_h;
  return Fault{
      fmt::format("utc_offset_h {:g} at longitude_deg {:g}", *utc_offset_h, *longitude_deg),
      fmt::format("a clock within {:g} hours of the sun, about UTC{:+.0f} there{}", most_h, solar_h,
                  sign ? " (west is negative in both)" : "")};
}

void check_site(const Site& site, const std::string& name) {
  const SiteValues values{site.latitude_deg, site.elevation_m, site.wind_height_m,
                          site.longitude_deg, site.utc_offset_h};
  ProblemList problems;
  for (const SiteKey& key : keys) {
    const std::optional<double>& value = values.*key.member;
    if (!value || (*value >= key.low && *value <= key.high)) continue;
    problems.add({name, 0, 0, fmt::format("{} {:g}", key.name, *value),
                  fmt::format("{} to {}", key.low, key.high)});
  }
  if (problems.empty()) {
    if (auto fault = clock_fault(site.longitude_deg, site.utc_offset_h)) {
      problems.add({name, 0, 0, std::move(fault->found), std::move(fault->expected)});
    }
  }
  problems.throw_if_any();
}

SiteValues SiteValues::or_else(const SiteValues& fallback) const {
  SiteValues result = *this;
  for (const SiteKey& key : keys) {
    if (!(result.*key.member)) result.*key.member = fallback.*key.member;
  }
  return result;
}

const std::vector<std::string>& site_keys() {
  static const std::vector<std::string> names = [] {
    std::vector<std::string> result;
    for (const SiteKey& key : keys) result.emplace_back(key.name);
    return result;
  }();
  return names;
}

std::string set_site_value(SiteValues& values, std::string_view key, double number) {
  const SiteKey* const known = find_key(key);
  if (!(number >= known->low && number <= known->high)) {
    return fmt::format("{} to {}", known->low, known->high);
  }
  values.*known->member = number;
  return {};
}

Site complete_site(const SiteValues& known, bool has_wind, const std::string& file,
                   ProblemList& problems) {
  const auto need = [&](const std::optional<double>& value, std::string_view key,
                        std::string_view example) {
    if (!value) {
      problems.add({file,
                    0,
                    0,
                    fmt::format("no {}", key),
                    fmt::format("a line # {} = {} at the top", key, example),
                    {Advice::Kind::give_site_value, std::string(key)}});
    }
    return value.value_or(0.0);
  };
  Site site;
  site.latitude_deg = need(known.latitude_deg, "latitude_deg", "44.2");
  site.elevation_m = need(known.elevation_m, "elevation_m", "210");
  if (has_wind) site.wind_height_m = need(known.wind_height_m, "wind_height_m", "10");
  site.longitude_deg = known.longitude_deg;
  site.utc_offset_h = known.utc_offset_h;
  if (auto fault = clock_fault(site.longitude_deg, site.utc_offset_h)) {
    problems.add({file, 0, 0, std::move(fault->found), std::move(fault->expected)});
  }
  return site;
}

bool says_generated(const CsvTable& table) {
  return std::ranges::any_of(table.comments(), [](const CsvTable::Comment& comment) {
    const auto pair = key_value(comment.text);
    return pair && pair->key == "generated_days" && pair->value == "yes";
  });
}

SiteValues site_from_comments(const CsvTable& table, ProblemList& problems) {
  SiteLines lines(table.file(), problems);
  for (const CsvTable::Comment& comment : table.comments()) {
    const auto pair = key_value(comment.text);
    if (pair && find_key(pair->key) != nullptr) lines.take(comment.line, *pair);
  }
  return lines.values();
}

SiteValues read_site(const FileBytes& file) {
  ProblemList problems;
  SiteLines lines(file.name, problems);
  each_line(file.bytes, [&](std::string_view line, std::size_t number) {
    line = trim(line);
    if (line.front() == ';' || line == "[site]") return true;
    const auto pair = key_value(line);
    if (!pair) {
      lines.complain(number, in_quotes(line), "a line such as latitude_deg = 44.2");
    } else if (find_key(pair->key) == nullptr) {
      lines.complain(number, fmt::format("unknown key {}", in_quotes(pair->key)),
                     fmt::format("one of {}{}", fmt::join(site_keys(), ", "),
                                 nearest_hint(pair->key, site_keys())));
    } else {
      lines.take(number, *pair);
    }
    return true;
  });
  if (lines.none() && problems.empty()) {
    problems.add({file.name, 0, 0, "no site values", "lines such as latitude_deg = 44.2"});
  }
  problems.throw_if_any();
  return lines.values();
}

}  // namespace wiltline

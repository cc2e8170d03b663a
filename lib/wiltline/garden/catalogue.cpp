#include "wiltline/garden/catalogue.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <filesystem>

#include "wiltline/base/numbers.hpp"

namespace wiltline {

std::string_view to_string(Sureness sureness) {
  return sureness_words[static_cast<std::size_t>(sureness)];
}

Result<Mix> Catalogue::mix(std::string_view name_or_composition, CurveChoice choice) const {
  const MixRecipe* const recipe = mixes.find(name_or_composition);
  Composition composition;
  if (recipe != nullptr) {
    composition = recipe->composition;
  } else {
    // A composition holds a number; anything else was meant as a name.
    const auto parts = words(name_or_composition);
    const bool has_number = std::ranges::any_of(
        parts, [](std::string_view word) { return parse_number(word).has_value(); });
    if (!has_number) {
      return Fault{fmt::format("unknown mix {}", in_quotes(name_or_composition)),
                   fmt::format("a known mix or a composition such as peat 60 perlite 40{}",
                               nearest_hint(name_or_composition, mixes.names()))};
    }
    Result<Composition> parsed = parse_composition(name_or_composition);
    if (!parsed) return parsed.fault();
    composition = *std::move(parsed);
  }
  std::vector<MixComponent> parts;
  for (const CompositionPart& part : composition) {
    const MixComponent* const component = components.find(part.component);
    if (component == nullptr) {
      return Fault{fmt::format("unknown component {}", in_quotes(part.component)),
                   fmt::format("one of {}{}", fmt::join(components.names(), ", "),
                               nearest_hint(part.component, components.names()))};
    }
    parts.push_back(*component);
  }
  const double shrinkage =
      recipe != nullptr ? recipe->shrinkage.value
                        : estimated_shrinkage(composition, parts, parameters.coarse_shrinkage);
  return blend(std::string(trim(name_or_composition)), std::move(composition), parts, shrinkage,
               parameters.lower_limit_suction_kpa, choice);
}

const std::vector<std::string>& model_table_names() {
  static const std::vector<std::string> names{"crops.csv",     "mix-components.csv", "mixes.csv",
                                              "pots.csv",      "spots.csv",          "walls.csv",
                                              "parameters.csv"};
  return names;
}

FolderTables tables_in_folder(const std::string& folder) {
  std::error_code error;
  if (!std::filesystem::is_directory(folder, error)) {
    throw RequestError(fmt::format("{}: found no such folder; expected a folder of model tables",
                                   in_quotes(folder)));
  }
  FolderTables result{builtin_tables(), {}};
  for (const std::string& name : model_table_names()) {
    const std::string path = (std::filesystem::path(folder) / name).string();
    if (std::filesystem::exists(path, error)) {
      result.tables[name] = read_file(path);
    } else {
      result.missing.push_back(name);
    }
  }
  if (result.missing.size() == model_table_names().size()) {
    throw RequestError(fmt::format("{}: found no model table; expected at least one of {}",
                                   in_quotes(folder), fmt::join(model_table_names(), ", ")));
  }
  return result;
}

}  // namespace wiltline

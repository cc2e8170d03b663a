// The known crops, mix components, mixes, pots, spots and walls, and the model's free numbers: the
// tables in models/, read and checked once.
#pragma once

#include <array>
#include <map>
#include <string>
#include <string_view>
#include <unordered_map>
#include <vector>

#include "wiltline/base/csv.hpp"
#include "wiltline/base/ranged.hpp"
#include "wiltline/base/result.hpp"
#include "wiltline/base/text.hpp"
#include "wiltline/container/mix.hpp"
#include "wiltline/container/pot.hpp"
#include "wiltline/crop/crop.hpp"
#include "wiltline/garden/model_parameters.hpp"
#include "wiltline/garden/spot.hpp"

namespace wiltline {

/// How far a row can be trusted.
enum class Sureness {
  read,      // in a published table or text
  recalled,  // known from memory, not seen
  computed,  // worked out or fitted from cited numbers
  judged,    // our judgement
};
/// As the tables write them.
inline constexpr std::array<std::string_view, 4> sureness_words{"read", "recalled", "computed",
                                                                "judged"};
[[nodiscard]] std::string_view to_string(Sureness sureness);

/// A row of a table with where it comes from.
template <typename Value>
struct Entry {
  std::string name;
  Value value;
  std::string source;
  Sureness sureness = Sureness::judged;
  std::vector<std::string> also_called{};  // other names that find it
};

/// A table of named rows, in file order.
template <typename Value>
class NamedTable {
 public:
  void add(Entry<Value> entry) {
    index_.emplace(folded(entry.name), names_.size());
    for (const std::string& other : entry.also_called) {
      index_.emplace(folded(other), names_.size());
    }
    names_.push_back(entry.name);
    all_names_.push_back(entry.name);
    all_names_.insert(all_names_.end(), entry.also_called.begin(), entry.also_called.end());
    entries_.push_back(std::move(entry));
  }
  [[nodiscard]] const std::vector<Entry<Value>>& entries() const { return entries_; }
  [[nodiscard]] const std::vector<std::string>& names() const { return names_; }
  /// The names and the other names: for suggestions.
  [[nodiscard]] const std::vector<std::string>& all_names() const { return all_names_; }
  /// By name or other name, without regard to case, spaces, `-` and `_`. Null if unknown. Lives
  /// until a row is added.
  [[nodiscard]] const Value* find(std::string_view name) const {
    const auto found = index_.find(folded(name));
    return found == index_.end() ? nullptr : &entries_[found->second].value;
  }

 private:
  std::vector<Entry<Value>> entries_;
  std::vector<std::string> names_;
  std::vector<std::string> all_names_;
  std::unordered_map<std::string, std::size_t> index_;
};

/// A named mix as its row says it, before blending.
struct MixRecipe {
  Composition composition;
  Ranged shrinkage;
  std::string use;
};

/// A free number's row.
struct ParameterRow {
  Ranged number;
  std::string unit;
};

/// Everything known. Built by read_catalogue and not changed after.
class Catalogue {
 public:
  NamedTable<Crop> crops;
  NamedTable<MixComponent> components;
  NamedTable<MixRecipe> mixes;
  NamedTable<Pot> pots;
  NamedTable<Spot> spots;
  NamedTable<Wall> walls;
  NamedTable<ParameterRow> parameter_rows;
  ModelParameters parameters;

  /// A mix by its name, or by its composition (`peat 60 perlite 40`); of the central curves of its
  /// components, or of those that plausibly hold least or most.
  [[nodiscard]] Result<Mix> mix(std::string_view name_or_composition,
                                CurveChoice choice = CurveChoice::central) const;
};

/// The names of the tables: crops.csv, mix-components.csv, mixes.csv, pots.csv, spots.csv,
/// walls.csv, parameters.csv.
[[nodiscard]] const std::vector<std::string>& model_table_names();

/// Reads the seven tables, given by name. Throws InputError with the problems of the first table
/// that has any, and RequestError where one is not given.
[[nodiscard]] Catalogue read_catalogue(const std::map<std::string, FileBytes>& tables);

/// The tables compiled into the library.
[[nodiscard]] std::map<std::string, FileBytes> builtin_tables();

/// The tables of a folder. Tables the folder does not hold are the built-in ones; `missing` names
/// them. Throws RequestError if the folder does not exist or holds none of them, and what
/// read_file() does.
struct FolderTables {
  std::map<std::string, FileBytes> tables;
  std::vector<std::string> missing;
};
[[nodiscard]] FolderTables tables_in_folder(const std::string& folder);

}  // namespace wiltline

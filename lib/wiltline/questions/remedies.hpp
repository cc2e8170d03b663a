// What would have kept a planting from wilting: changes, each run again.
//
// Order of effort (judged, no source): what costs little (pouring until it drains, and at every
// visit, mulch, a saucer); then standing it elsewhere (in a group, out of the afternoon sun, under
// a net); then what is decided at planting (another mix, fewer plants, a tight wall, a bigger pot
// of the same kind); last what is done every day (coming daily, the same and watering until it
// drains, a second visit). Every change can be written as a row of a garden.
//
// Over several places: RequestError as check_places, and if their models differ, for a change is
// worked out once for all. Else errors are those of run_seasons and absence.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "wiltline/questions/absence.hpp"
#include "wiltline/questions/season.hpp"

namespace wiltline {

/// In the order of effort.
enum class RemedyKind {
  until_it_drains,
  every_visit,  // water without looking first
  mulch,
  saucer,
  group,
  afternoon_shade,
  shade_net,
  other_mix,
  fewer_plants,
  tight_wall,
  bigger_pot,
  daily_visits,
  daily_until_it_drains,
  second_visit,
};

/// A change to a planting, not yet run.
struct Change {
  RemedyKind kind = RemedyKind::mulch;
  std::string text;   // as people are told, such as `mulch` or `pot nursery 50 l`
  Planting planting;  // with the change
  int steps = 1;      // two where only two things together make it
  /// Of a bigger pot where the floor's load is limited: mix at container capacity, reservoir and
  /// saucer full, without pot and plant.
  std::optional<double> wet_kg{};
};

/// How plantings grow while changes are tried, and how many bigger pots are tried.
struct RemedyOptions {
  GrowthClock growth = GrowthClock::stage_days;
  std::size_t sizes_up = 3;  // next bigger pots of the same kind that are tried
};

/// All changes that apply to a planting, in the order of effort; several of a kind (mixes, sizes)
/// in theirs. Mixes and pots in which nothing would be left for plants under `model` are left out.
[[nodiscard]] std::vector<Change> changes_to(const Planting& planting, const Catalogue& catalogue,
                                             const ModelParameters& model,
                                             const RemedyOptions& options);

/// Days a planting was short, over one or more seasons.
struct ShortDays {
  int wilting = 0;
  int dry = 0;
};

/// A change that helps, and how much.
struct Remedy {
  Change change;
  ShortDays before;
  ShortDays after;

  /// True if no wilting or dry day is left.
  [[nodiscard]] bool suffices() const { return after.wilting == 0 && after.dry == 0; }
};

/// What would have prevented the wilting and dry days of a planting's seasons in every record: days
/// are summed, and a remedy that suffices does so in all of them. One remedy a kind, the first of
/// the kind that suffices or else its best. The first that suffices in the order of effort comes
/// first; then those of less effort that help, by the days left. Nothing of more effort is offered
/// once one suffices. Empty if nothing helps, or nothing was short. For one season, set
/// Planting::planted to its date.
[[nodiscard]] std::vector<Remedy> remedies(const Planting& planting, Places places,
                                           const Catalogue& catalogue,
                                           const RemedyOptions& options);

/// A planting and what would have kept it from wilting.
struct PlantingRemedies {
  const Planting* planting = nullptr;
  std::vector<Remedy> remedies;
};
/// The same for every planting of a garden, in order. Results point to `garden`.
[[nodiscard]] std::vector<PlantingRemedies> remedies(Plantings garden, Places places,
                                                     const Catalogue& catalogue,
                                                     const RemedyOptions& options = {});

/// A change with which a pot would have come through more windows of an absence.
struct AbsenceRemedy {
  Change change;
  // Windows begin once a pot has settled in, which a change may bring forward or put off.
  int windows_before = 0;
  int passed_before = 0;
  int windows_after = 0;
  int passed_after = 0;
  bool suffices = false;  // at or above the share asked
};

/// What would have brought a planting through at least the share of windows asked, in the same
/// order. Changes of the routine are left out: nobody comes. Empty if it came through by itself.
[[nodiscard]] std::vector<AbsenceRemedy> absence_remedies(const Planting& planting, Places places,
                                                          const Catalogue& catalogue,
                                                          const AbsenceOptions& absence_options,
                                                          const RemedyOptions& options);

}  // namespace wiltline

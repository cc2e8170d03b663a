// Many seasons in one call: grouped by what they share, run in chunks, on several threads.

#include <algorithm>
#include <map>
#include <unordered_map>

#include "wiltline/account/season_run.hpp"
#include "wiltline/base/errors.hpp"
#include "wiltline/base/parallel.hpp"
#include "wiltline/questions/season.hpp"

namespace wiltline {
namespace {

constexpr std::size_t most_seasons_a_task = 64 * chunk_pots;
constexpr std::size_t fewest_seasons_for_threads =
    64;  // starting a thread costs more than fewer take

/// Starts that share a course. A task works it out once and keeps to one thread.
struct Task {
  const std::vector<SpotDay>* spot_days = nullptr;
  std::vector<std::size_t> starts;
};

/// Each planting once, however often it starts, and which of them share a course.
class Courses {
 public:
  Courses(std::span<const SeasonStart> starts, const ModelParameters& model, std::size_t threads)
      : index_of_start_(starts.size()) {
    std::unordered_map<const Planting*, std::size_t> known;
    std::vector<const Planting*> plantings;
    std::unordered_multimap<std::string, std::size_t> courses_by_crop;
    for (std::size_t i = 0; i < starts.size(); ++i) {
      const Planting* planting = starts[i].planting;
      const auto [entry, is_new] = known.emplace(planting, plantings.size());
      index_of_start_[i] = entry->second;
      if (!is_new) continue;
      plantings.push_back(planting);
      const auto [begin, end] = courses_by_crop.equal_range(planting->crop.name);
      const auto same = std::find_if(begin, end, [&](const auto& other) {
        return same_course(*first_of_course_[other.second], *planting);
      });
      course_.push_back(same != end ? same->second : first_of_course_.size());
      if (same != end) continue;
      courses_by_crop.emplace(planting->crop.name, first_of_course_.size());
      first_of_course_.push_back(planting);
    }
    settings_.resize(plantings.size());
    run_tasks(plantings.size(), threads, [&](std::size_t i) {
      settings_[i] = planting_setting(*plantings[i], build_pot(*plantings[i], model), model);
    });
  }

  [[nodiscard]] const PlantingSetting* setting_of(std::size_t start) const {
    return &settings_[index_of_start_[start]];
  }

  [[nodiscard]] std::vector<Task> tasks(std::span<const SeasonStart> starts,
                                        const Place& place) const {
    std::vector<Task> result;
    std::map<std::pair<std::size_t, Date>, std::size_t> open;  // the task that still takes starts
    for (std::size_t i = 0; i < starts.size(); ++i) {
      const std::size_t course = course_[index_of_start_[i]];
      const auto [entry, is_new] = open.emplace(std::pair(course, starts[i].planted), 0);
      if (is_new || result[entry->second].starts.size() >= most_seasons_a_task) {
        entry->second = result.size();
        result.push_back({&place.at(first_of_course_[course]->spot), {}});
      }
      result[entry->second].starts.push_back(i);
    }
    return result;
  }

  /// Pots that dry out alike side by side: a vector of them has as many edges to pass as the one
  /// with most.
  void sort(std::vector<std::size_t>& starts) const {
    std::ranges::stable_sort(starts, {}, [this](std::size_t at) { return lasts(*setting_of(at)); });
  }

 private:
  /// How long a pot lasts, against others of the crop.
  static double lasts(const PlantingSetting& setting) {
    return setting.pot.total_available_l / (setting.size_factor * setting.stand.plants);
  }

  std::vector<PlantingSetting> settings_;
  std::vector<std::size_t> course_;  // of each setting
  std::vector<const Planting*> first_of_course_;
  std::vector<std::size_t> index_of_start_;
};

}  // namespace

std::vector<SeasonResult> season(Plantings garden, const Place& place,
                                 const SeasonOptions& options) {
  return run_seasons(season_starts(garden, place.record()), place, options);
}

void check_starts(std::span<const SeasonStart> starts, const Place& place) {
  for (const SeasonStart& start : starts) {
    if (start.planting == nullptr) throw RequestError("found a start without a planting");
    (void)place.record().index_of(start.planted);  // throws for a day outside the record
  }
}

std::vector<SeasonResult> run_seasons(std::span<const SeasonStart> starts, const Place& place,
                                      const SeasonOptions& options) {
  place.require_rain();
  check_starts(starts, place);
  const ModelParameters& model = place.model();
  std::vector<SeasonResult> results(starts.size());
  if (options.ledger) {
    for (std::size_t i = 0; i < starts.size(); ++i) {
      results[i] = run_season(*starts[i].planting, starts[i].planted, place, options);
    }
    return results;
  }
  const std::size_t threads = starts.size() < fewest_seasons_for_threads ? 1 : options.threads;
  const Courses courses(starts, model, threads);
  std::vector<Task> tasks = courses.tasks(starts, place);
  run_tasks(tasks.size(), threads, [&](std::size_t index) {
    Task& task = tasks[index];
    courses.sort(task.starts);
    const SeasonStart& first = starts[task.starts.front()];
    const Course course = plan_course(*first.planting, first.planted, place.record(),
                                      *task.spot_days, model, options.growth);
    for (std::size_t begin = 0; begin < task.starts.size(); begin += chunk_pots) {
      const std::size_t count = std::min(chunk_pots, task.starts.size() - begin);
      std::array<const PlantingSetting*, chunk_pots> settings{};
      std::array<SeasonResult*, chunk_pots> chunk_results{};
      for (std::size_t i = 0; i < count; ++i) {
        const std::size_t start = task.starts[begin + i];
        settings[i] = courses.setting_of(start);
        chunk_results[i] = &results[start];
      }
      run_chunk(std::span(settings).first(count), course, model, options.instructions,
                std::span(chunk_results).first(count));
    }
  });
  return results;
}

}  // namespace wiltline

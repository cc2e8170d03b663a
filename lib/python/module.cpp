// The Python module: weather, gardens and places. Questions stand in questions.cpp. No logic of its
// own: it turns Python's values into the library's and answers into columns.
#include <pybind11/stl/filesystem.h>

#include <cmath>
#include <filesystem>
#include <map>
#include <utility>

#include "columns.hpp"
#include "wiltline/base/csv.hpp"
#include "wiltline/base/text.hpp"
#include "wiltline/garden/pot_names.hpp"
#include "wiltline/tables/planting_columns.hpp"
#include "wiltline/weather/own_text.hpp"

namespace wiltline::python {
namespace {

using Path = std::filesystem::path;

using Numbers = py::array_t<double, py::array::c_style | py::array::forcecast>;

WeatherRecord weather_from_arrays(const py::object& first, const Numbers& tmin_c,
                                  const Numbers& tmax_c, double latitude_deg, double elevation_m,
                                  double wind_height_m, std::optional<double> longitude_deg,
                                  std::optional<double> utc_offset_h, const std::string& name,
                                  const py::kwargs& more) {
  if (tmin_c.ndim() != 1) throw RequestError("tmin_c: expected one dimension");
  std::vector<WeatherDay> days(static_cast<std::size_t>(tmin_c.size()));
  const auto each = [&](const std::string& column, const Numbers& numbers, const auto& put) {
    if (numbers.ndim() != 1 || numbers.size() != tmin_c.size()) {
      throw RequestError(column + ": found another number of days than tmin_c has");
    }
    for (std::size_t i = 0; i < days.size(); ++i) put(days[i], numbers.data()[i]);
  };
  each("tmin_c", tmin_c, [](WeatherDay& day, double value) { day.tmin_c = value; });
  each("tmax_c", tmax_c, [](WeatherDay& day, double value) { day.tmax_c = value; });
  bool rain = false;
  for (const auto& [key, values] : more) {
    const auto column = key.cast<std::string>();
    const auto known = std::find_if(
        own_columns.begin(), own_columns.end(),
        [&](const OwnColumn& own) { return own.element != nullptr && column == own.name(); });
    if (known == own_columns.end()) {
      std::string names;
      for (const OwnColumn& own : own_columns) {
        if (own.element != nullptr) names += (names.empty() ? "" : ", ") + own.name();
      }
      throw RequestError("found " + in_quotes(column) + "; expected a column such as " + names);
    }
    rain = rain || column == "rain_mm";
    each(column, values.cast<Numbers>(), [&](WeatherDay& day, double value) {
      if (!std::isnan(value)) day.*(known->element) = value;
    });
  }
  const Site site{.latitude_deg = latitude_deg,
                  .elevation_m = elevation_m,
                  .wind_height_m = wind_height_m,
                  .longitude_deg = longitude_deg,
                  .utc_offset_h = utc_offset_h};
  return {name, site, date_from(first), std::move(days), rain};
}

py::dict weather_columns_of(const WeatherRecord& record) {
  py::dict table;
  const auto add = [&](const std::string& name, const auto& of_day) {
    table[py::str(name)] =
        column_of(record.size(), [&](std::size_t i) { return of_day(record.day(i)); });
  };
  table["date"] = column_of(record.size(), [&](std::size_t i) { return record.date(i); });
  add("tmin_c", [](const WeatherDay& day) { return day.tmin_c; });
  add("tmax_c", [](const WeatherDay& day) { return day.tmax_c; });
  for (const OwnColumn& own : own_columns) {
    if (own.element == nullptr) continue;
    add(own.name(), [&](const WeatherDay& day) { return day.*(own.element); });
  }
  add("filled", [](const WeatherDay& day) { return day.filled; });
  return table;
}

py::dict site_of(const WeatherRecord& record) {
  const Site& site = record.site();
  py::dict values;
  values["latitude_deg"] = site.latitude_deg;
  values["elevation_m"] = site.elevation_m;
  values["wind_height_m"] = site.wind_height_m;
  values["longitude_deg"] = site.longitude_deg;
  values["utc_offset_h"] = site.utc_offset_h;
  return values;
}

/// Rows as a garden file would have them, so that there is one reader and one set of checks.
Garden garden_from_rows(const std::vector<std::map<std::string, py::object>>& rows,
                        const Catalogue& catalogue) {
  std::vector<std::string> names;
  for (const auto& row : rows) {
    for (const auto& [name, value] : row) {
      if (std::find(names.begin(), names.end(), name) == names.end()) names.push_back(name);
    }
  }
  std::string text;
  for (const std::string& name : names) text += (text.empty() ? "" : ",") + csv_quoted(name);
  text += '\n';
  for (const auto& row : rows) {
    bool first = true;
    for (const std::string& name : names) {
      if (!std::exchange(first, false)) text += ',';
      const auto found = row.find(name);
      if (found != row.end() && !found->second.is_none()) {
        text += csv_quoted(py::str(found->second).cast<std::string>());
      }
    }
    text += '\n';
  }
  return {read_garden({.name = "rows", .bytes = text}, catalogue)};
}

Table<Planting> planting_table() {
  namespace of_planting = tables::of_planting;
  Table<Planting> table;
  table.add({of_planting::name,
             of_planting::crop,
             of_planting::pot,
             of_planting::mix,
             {"mix_l", tables::litres, 2, "mix in the pot", [](auto& p) { return p.pot.mix_l(); }},
             of_planting::plants,
             {"count", "how many such pots; answers are for one", [](auto& p) { return p.count; }},
             {"planted", "date, or month and day of every year",
              [](auto& p) { return written(p.planted); }},
             of_planting::spot,
             {"routine", "when it is watered", [](auto& p) { return p.routine.text; }}});
  return table;
}

Garden garden_in_pots(const Garden& garden, const Catalogue& catalogue,
                      const std::optional<std::vector<std::string>>& pots,
                      const std::optional<std::string>& kind) {
  if (pots.has_value() == kind.has_value()) {
    throw RequestError("expected either pots or kind");
  }
  std::vector<Pot> candidates;
  if (pots) {
    for (const std::string& name : *pots) {
      Result<Pot> pot = known_pot(name, catalogue);
      if (!pot) throw RequestError(pot.fault().text());
      candidates.push_back(*std::move(pot));
    }
  } else {
    for (const Entry<Pot>& pot : catalogue.pots.entries()) {
      if (pot.value.kind == *kind) candidates.push_back(pot.value);
    }
    if (candidates.empty()) throw RequestError("found no pots of kind " + in_quotes(*kind));
  }
  Garden result;
  for (const Planting& planting : garden.plantings) {
    for (Planting& one : in_pots(planting, candidates, catalogue.parameters)) {
      result.plantings.push_back(std::move(one));
    }
  }
  return result;
}

void add_errors(py::module_& module) {
  static PyObject* input_error = nullptr;
  py::register_exception<RequestError>(module, "RequestError", PyExc_ValueError).doc() =
      "What is asked is wrong: an option, a name, a file that does not exist.";
  input_error = PyErr_NewExceptionWithDoc(
      "wiltline.InputError",
      "A file or a record says something wrong. `problems` lists it: dictionaries of file, line, "
      "column (from 1; 0: not known), found and expected.",
      PyExc_ValueError, nullptr);
  if (input_error == nullptr) throw py::error_already_set();
  module.add_object("InputError", py::reinterpret_borrow<py::object>(input_error));
  // pybind11 says how a translator is called. NOLINTNEXTLINE(performance-unnecessary-value-param)
  py::register_exception_translator([](std::exception_ptr thrown) {
    try {
      if (thrown) std::rethrow_exception(thrown);
    } catch (const InputError& error) {
      py::list problems;
      for (const Problem& problem : error.problems()) {
        py::dict one;
        one["file"] = problem.file;
        one["line"] = problem.line;
        one["column"] = problem.column;
        one["found"] = problem.found;
        one["expected"] = problem.expected;
        problems.append(one);
      }
      const py::object value =
          py::reinterpret_borrow<py::object>(input_error)(std::string(error.what()));
      value.attr("problems") = problems;
      PyErr_SetObject(input_error, value.ptr());
    }
  });
}

void add_inputs(py::module_& module) {
  using namespace py::literals;

  py::class_<Catalogue>(module, "Catalogue",
                        "The known crops, mixes, pots and spots, and the model's numbers.")
      .def(py::init([](const std::optional<Path>& folder) {
             return read_catalogue(folder ? tables_in_folder(folder->string()).tables
                                          : builtin_tables());
           }),
           "folder"_a = py::none(),
           "The built-in tables, or those of a folder (what it does not hold is built in).")
      .def_property_readonly("crops", [](const Catalogue& c) { return c.crops.names(); })
      .def_property_readonly("mixes", [](const Catalogue& c) { return c.mixes.names(); })
      .def_property_readonly("components", [](const Catalogue& c) { return c.components.names(); })
      .def_property_readonly("pots", [](const Catalogue& c) { return c.pots.names(); })
      .def_property_readonly("spots", [](const Catalogue& c) { return c.spots.names(); })
      .def_property_readonly("walls", [](const Catalogue& c) { return c.walls.names(); });

  py::class_<WeatherRecord>(module, "Weather",
                            "A checked run of days without gaps at one site. Never changed.")
      .def_static(
          "from_arrays", weather_from_arrays, "first"_a, "tmin_c"_a, "tmax_c"_a, py::kw_only(),
          "latitude_deg"_a, "elevation_m"_a, "wind_height_m"_a = 2.0,
          "longitude_deg"_a = py::none(), "utc_offset_h"_a = py::none(), "name"_a = "weather",
          "A record of arrays, a value for each day from `first` on; NaN: not observed.\n\n"
          "tmin_c, tmax_c: °C. Further columns by keyword: dewpoint_c, vapour_pressure_kpa, "
          "rh_max_pct, rh_min_pct, rh_mean_pct, wind_m_s (at wind_height_m above ground), "
          "solar_mj_m2 (a day), sunshine_h, rain_mm. Without rain_mm rain is none. Raises "
          "InputError for values that cannot be.")
      .def("columns", weather_columns_of,
           "The days as a dictionary of arrays, as from_arrays takes them; date is datetime64[D], "
           "filled is true where temperatures were filled in.")
      .def(
          "between",
          [](const WeatherRecord& record, const py::object& from, const py::object& to) {
            return record.between(date_from(from), date_from(to));
          },
          "from_date"_a, "to_date"_a, "The days of both dates and between.")
      .def("followed_by", &WeatherRecord::followed_by, "next"_a,
           "This record and the days of `next` beyond it, such as a weather forecast.")
      .def_property_readonly("name", &WeatherRecord::name)
      .def_property_readonly("site", site_of, "Degrees, metres and hours; None: not known.")
      .def_property_readonly("rain_observed", &WeatherRecord::rain_observed)
      .def("__len__", &WeatherRecord::size);

  module.def(
      "read_weather",
      [](const Path& path, std::optional<double> latitude_deg, std::optional<double> elevation_m,
         std::optional<double> wind_height_m, std::optional<double> longitude_deg,
         std::optional<double> utc_offset_h, int fill_gaps_days) {
        return read_weather(read_file(path.string()), {.site = {.latitude_deg = latitude_deg,
                                                                .elevation_m = elevation_m,
                                                                .wind_height_m = wind_height_m,
                                                                .longitude_deg = longitude_deg,
                                                                .utc_offset_h = utc_offset_h},
                                                       .otherwise = {},
                                                       .longest_gap_filled_days = fill_gaps_days});
      },
      "path"_a, py::kw_only(), "latitude_deg"_a = py::none(), "elevation_m"_a = py::none(),
      "wind_height_m"_a = py::none(), "longitude_deg"_a = py::none(), "utc_offset_h"_a = py::none(),
      "fill_gaps_days"_a = 0,
      "Reads a weather file of any known layout. Site values given here override the file's; gaps "
      "of up to fill_gaps_days days are filled from the days around them. Raises InputError.");

  py::class_<Garden>(module, "Garden", "Plantings: pots, what grows in them, who waters them.")
      .def_static("from_rows", garden_from_rows, "rows"_a, "catalogue"_a,
                  "A garden of dictionaries with the columns of a garden file: name, crop, pot, "
                  "mix, plants, planted, spot, routine and the optional ones; None: blank.")
      .def(
          "columns",
          [](const Garden& garden) { return columns(planting_table(), garden.plantings); },
          documented("The plantings as a dictionary of columns:", planting_table().heads()).c_str())
      .def("in_pots", garden_in_pots, "catalogue"_a, py::kw_only(), "pots"_a = py::none(),
           "kind"_a = py::none(),
           "Every planting in each of these pots (names, or all of a kind) that holds water which "
           "plants can use in its mix.")
      .def("__len__", [](const Garden& garden) { return garden.plantings.size(); });

  module.def(
      "read_garden",
      [](const Path& path, const Catalogue& catalogue) {
        return Garden{read_garden(read_file(path.string()), catalogue)};
      },
      "path"_a, "catalogue"_a, "Reads a garden file. Raises InputError with all its problems.");

  py::class_<Place>(module, "Place",
                    "Where pots stand: a weather record, its reference ET and the model.")
      .def(py::init([](const WeatherRecord& weather, const Catalogue& catalogue,
                       double dew_point_offset_c, double range_coefficient,
                       bool unknown_rain_is_none) {
             return Place(weather, catalogue.parameters,
                          {.dew_point_offset_c = dew_point_offset_c,
                           .range_coefficient = range_coefficient,
                           .unknown_rain_is_none = unknown_rain_is_none});
           }),
           "weather"_a, "catalogue"_a, py::kw_only(), "dew_point_offset_c"_a = 0.0,
           "range_coefficient"_a = 0.16, "unknown_rain_is_none"_a = false,
           "dew_point_offset_c: °C below tmin at which the dew point is taken where humidity is "
           "missing (FAO-56 eq. 48); range_coefficient: of eq. 50, 0.16 inland, 0.19 on a coast.")
      .def_property_readonly("weather", [](const Place& place) { return place.record(); })
      .def_property_readonly(
          "sources", [](const Place& place) { return place.sources().lines(); },
          "How often humidity, radiation and wind were measured or estimated, in words.");
}

}  // namespace

Date date_from(const py::handle& value) {
  const auto text = py::str(value).cast<std::string>();
  if (const auto date = parse_date(text)) return *date;
  throw RequestError("found " + in_quotes(text) + "; expected a date, such as 2024-07-15");
}

Instant instant_from(const py::handle& value) {
  auto text = py::str(value).cast<std::string>();
  constexpr std::size_t with_seconds = 19;  // as datetime writes it
  if (text.size() == with_seconds && text.ends_with(":00")) text.resize(text.size() - 3);
  if (const auto instant = parse_instant(text)) return *instant;
  throw RequestError("found " + in_quotes(text) +
                     "; expected a date and hour to the minute, such as 2024-07-15T09:00");
}

std::vector<Place> places_from(const py::handle& value) {
  if (py::isinstance<Place>(value)) return {value.cast<const Place&>()};
  std::vector<Place> places;
  for (const py::handle one : value) places.push_back(one.cast<const Place&>());
  return places;
}

}  // namespace wiltline::python

PYBIND11_MODULE(wiltline, module) {
  module.doc() =
      "The water account of every pot in a container garden.\n\n"
      "    catalogue = wiltline.Catalogue()\n"
      "    garden = wiltline.read_garden('garden.csv', catalogue)\n"
      "    place = wiltline.Place(wiltline.read_weather('weather.csv'), catalogue)\n"
      "    wiltline.season(garden, place)['watered_l']\n\n"
      "Tables are dictionaries of columns: NumPy arrays (days are datetime64[D], times "
      "datetime64[m], yes and no are bool), or lists for text. What is said to be empty is NaN, "
      "NaT or None. A name with a dimension ends in its unit; litres are of one pot; hours are of "
      "the site's clock, or of the sun where it is not known. Raises InputError and RequestError, "
      "both ValueErrors.";
  wiltline::python::add_errors(module);
  wiltline::python::add_inputs(module);
  wiltline::python::add_questions(module);
}

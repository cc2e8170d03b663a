// The front door: everything that a program needs to read a garden and its weather and to ask about
// them.
//
//     const Catalogue catalogue = read_catalogue(builtin_tables());
//     const std::vector<Planting> garden = read_garden(read_file("garden.csv"), catalogue);
//     const Place place(read_weather(read_file("weather.csv")), catalogue.parameters);
//     for (const SeasonResult& pot : season(garden, place)) …
//
// One call for each question, all of a whole garden: season, compare, choose, heatwave, absence,
// forecast, plan, calibrate, remedies, capacity, run_block (a block of a sweep); what_matters says
// of some of them what to measure. Place::reference() is the reference ET by day.
//
// Units: a name with a dimension ends in it (`depletion_mm`, `leave_h`); hours are of the site's
// clock if it is known, else of the sun.
// Ownership: a Place owns its weather and model. Answers point to the plantings asked about, which
// must outlive them; temporaries do not compile. Everything else is held by value.
// Threads: nothing here has hidden state. Any function may run in several threads at once, on the
// same const arguments too; what is passed without const belongs to one thread at a time.
// Errors: InputError for what a file or a record says, RequestError for what a caller asks; each
// says what was found and what is expected. Nothing else is thrown on purpose; after an exception
// all arguments are as they were.
#pragma once

#include "wiltline/base/date.hpp"
#include "wiltline/base/errors.hpp"
#include "wiltline/base/files.hpp"
#include "wiltline/budget/place.hpp"
#include "wiltline/evapotranspiration/hourly.hpp"
#include "wiltline/garden/catalogue.hpp"
#include "wiltline/garden/pot_names.hpp"
#include "wiltline/garden/reading.hpp"
#include "wiltline/garden/root_balls.hpp"
#include "wiltline/questions/absence.hpp"
#include "wiltline/questions/calibrate.hpp"
#include "wiltline/questions/candidates.hpp"
#include "wiltline/questions/capacity.hpp"
#include "wiltline/questions/choose.hpp"
#include "wiltline/questions/compare.hpp"
#include "wiltline/questions/drawn_answers.hpp"
#include "wiltline/questions/forecast.hpp"
#include "wiltline/questions/heatwave.hpp"
#include "wiltline/questions/learned_garden.hpp"
#include "wiltline/questions/log_and_state.hpp"
#include "wiltline/questions/plan.hpp"
#include "wiltline/questions/planting_times.hpp"
#include "wiltline/questions/pot_readings.hpp"
#include "wiltline/questions/range_of_use.hpp"
#include "wiltline/questions/remedies.hpp"
#include "wiltline/questions/season.hpp"
#include "wiltline/questions/season_periods.hpp"
#include "wiltline/questions/sweep.hpp"
#include "wiltline/questions/trip_help.hpp"
#include "wiltline/questions/what_matters.hpp"
#include "wiltline/questions/without_effect.hpp"
#include "wiltline/weather/joining.hpp"
#include "wiltline/weather/reading.hpp"
#include "wiltline/weather/sense.hpp"
#include "wiltline/weather/typical.hpp"
#include "wiltline/weather/writing.hpp"

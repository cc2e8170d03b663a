"""The module `wiltline` against the program: the same questions, the same figures."""

import csv
import datetime
import io
import os
import pathlib
import subprocess

import numpy as np
import pytest

import wiltline

SOURCE = pathlib.Path(os.environ["WILTLINE_SOURCE"])
PROGRAM = os.environ["WILTLINE_PROGRAM"]
GARDEN = SOURCE / "tests/cli/data/garden.csv"
COURTYARD = SOURCE / "models/gardens/courtyard.csv"
WEATHER = SOURCE / "weather-samples/tolvenau.csv"


def program(*arguments):
    """The rows the program answers, each cell as text."""
    done = subprocess.run(
        [PROGRAM, *map(str, arguments), "--weather", WEATHER, "--format", "csv"],
        check=True, capture_output=True, text=True, encoding="utf-8")
    return list(csv.DictReader(io.StringIO(done.stdout)))


def assert_same(answer, rows, names, digits):
    """Columns of an answer and of the program's CSV, which has so many digits."""
    for name in names:
        ours = answer[name]
        assert len(ours) == len(rows) > 0, name
        for one, row in zip(ours, rows):
            told = row[name]
            if isinstance(one, np.datetime64):
                assert told == ("" if np.isnat(one) else str(one)), name
            elif one is None:
                assert told == "", name
            elif isinstance(one, (bool, np.bool_)):
                assert told == ("yes" if one else "no"), name
            elif isinstance(one, str):
                assert told == one, name
            elif np.isnan(one):
                assert told == "", name
            else:
                # Half a unit of the last digit, and the rounding of a tie.
                assert float(told) == pytest.approx(one, abs=0.5000001 * 10.0**-digits), name


@pytest.fixture(scope="module")
def catalogue():
    return wiltline.Catalogue()


@pytest.fixture(scope="module")
def weather():
    return wiltline.read_weather(WEATHER)


@pytest.fixture(scope="module")
def place(weather, catalogue):
    return wiltline.Place(weather, catalogue)


@pytest.fixture(scope="module")
def garden(catalogue):
    return wiltline.read_garden(GARDEN, catalogue)


@pytest.fixture(scope="module")
def courtyard(catalogue):
    return wiltline.read_garden(COURTYARD, catalogue)


def test_the_readme_example_runs(monkeypatch, capsys):
    readme = (SOURCE / "README.md").read_text(encoding="utf-8")
    block = readme.split("## From Python\n")[1].split("\nThe same questions")[0]
    program_text = "\n".join(line[4:] for line in block.splitlines())
    monkeypatch.chdir(SOURCE)
    exec(compile(program_text, "README.md", "exec"), {})
    name, litres = capsys.readouterr().out.rsplit(" ", 1)
    assert name == program("season", "--garden", COURTYARD)[0]["name"]
    assert float(litres) > 0.0


def test_every_function_says_what_its_columns_are():
    for name in ["et0", "season", "compare", "choose", "heatwave", "absence", "forecast", "plan",
                 "remedies", "capacity", "sweep"]:
        text = getattr(wiltline, name).__doc__
        assert "Columns:" in text or "and\n" in text, name
        assert text.count("\n    ") >= 7, name


def test_every_column_of_the_program_is_one_of_the_answer(courtyard, catalogue, weather, place):
    def told(*arguments):
        return set(program(*arguments)[0])

    garden = ["--garden", COURTYARD]
    assert told("et0", "--steps") <= set(wiltline.et0(weather))
    seasons = wiltline.season(courtyard, place, ledger=True)
    assert told("season", *garden) <= {*seasons, "year"}
    # A day of the ledger does not repeat the season's name.
    assert told("season", "--ledger", *garden) <= {*seasons["ledger"][0], "name"}
    # Why, in words, is the program's.
    assert told("compare", *garden) <= {*wiltline.compare(courtyard, place), "reason"}
    spell = wiltline.heatwave(courtyard, place)
    assert told("heatwave", *garden) <= {*spell, *spell["spell"]}
    now = ["--to", "2024-07-14", "--now", "2024-07-15T09:00"]
    known = wiltline.Place(weather.between(str(place.weather.columns()["date"][0]), "2024-07-14"),
                           catalogue)
    assert told("forecast", *garden, *now) <= set(wiltline.forecast(courtyard, known, catalogue))
    assert told("plan", *garden, *now) <= {*wiltline.plan(courtyard, known, catalogue), "note"}


def test_an_answer_without_rows_has_columns_of_the_same_kinds(garden, place):
    some = wiltline.heatwave(garden, place)
    none = wiltline.heatwave(garden, place, first_day="2022-01-10", days=3)
    assert list(none) == list(some)
    assert len(none["absent"]) == len(garden)
    for name, column in some.items():
        if name in ("spell", "absent"):
            continue
        assert len(none[name]) == 0
        assert type(none[name]) is type(column), name
        if isinstance(column, np.ndarray):
            assert none[name].dtype == column.dtype, name


def test_et0(weather):
    answer = wiltline.et0(weather)
    assert answer["date"].dtype == np.dtype("datetime64[D]")
    assert answer["et0_mm"].dtype == np.float64
    assert_same(answer, program("et0"), ["date", "et0_mm", "estimated"], 2)


def test_season(courtyard, place):
    answer = wiltline.season(courtyard, place)
    rows = program("season", "--garden", COURTYARD)
    assert_same(answer, rows, ["name", "pot"], 0)
    assert_same(answer, rows, ["watered_l", "used_l", "rain_l", "drained_l"], 2)
    assert_same(answer, rows, ["peak_use_l_day", "available_l"], 3)
    assert_same(answer, rows, ["waterings", "wilting_days", "dry_days", "settling_wilting_days"], 0)
    assert_same(answer, rows, ["first_dry", "settled", "last_day", "ended_by"], 0)
    assert answer["waterings"].dtype == np.int64


def test_season_on_threads_and_in_a_garden_of_dictionaries(courtyard, catalogue, place):
    rows = [
        {"name": 'an "odd, name', "crop": "tomato", "pot": "nursery 37 l", "mix": "vegetable mix",
         "plants": 1, "planted": datetime.date(2022, 5, 15), "spot": "patio",
         "routine": "check daily 07:00", "mulch": "yes", "saucer_l": None},
        {"name": "b", "crop": "basil", "pot": "clay 3 l", "mix": "peat 60 perlite 40", "plants": 3,
         "planted": "05-25", "spot": "balcony", "routine": "every 2 days 18:00"}]
    garden = wiltline.Garden.from_rows(rows, catalogue)
    assert garden.columns()["name"] == ['an "odd, name', "b"]
    assert garden.columns()["planted"] == ["2022-05-15", "05-25"]
    assert len(garden) == 2
    one = wiltline.season(garden, place, threads=1)
    two = wiltline.season(garden, place, threads=2)
    assert one["name"].count("b") > 1
    np.testing.assert_array_equal(one["watered_l"], two["watered_l"])


def test_ledger_closes(garden, place):
    answer = wiltline.season(garden, place, ledger=True)
    assert len(answer["ledger"]) == len(answer["name"])
    for i, ledger in enumerate(answer["ledger"]):
        assert ledger["date"][0] == answer["planted"][i]
        assert ledger["watered_l"].sum() == pytest.approx(answer["watered_l"][i], abs=1e-9)
        change = np.diff(ledger["store_l"])
        into = ledger["rain_l"] + ledger["watered_l"]
        out = ledger["transpired_l"] + ledger["evaporated_l"] + ledger["drained_l"]
        np.testing.assert_allclose((into - out)[1:], change, atol=1e-9)


def test_compare(courtyard, place):
    answer = wiltline.compare(courtyard, place)
    rows = program("compare", "--garden", COURTYARD)
    assert_same(answer, rows, ["name", "enough", "worst_planted", "first_wilting"], 0)
    assert_same(answer, rows, ["longest_safe_gap_days", "watered_l"], 2)
    # Of one place or a list of places.
    listed = wiltline.compare(courtyard, [place])
    np.testing.assert_array_equal(listed["watered_l"], answer["watered_l"])


def test_choose(garden, catalogue, place):
    candidates = garden.in_pots(catalogue, kind="nursery")
    assert len(candidates) > 2 * len(garden)
    answer = wiltline.choose(candidates, place)
    # As tests/examples/choose.cpp has it.
    first = answer["name"].index("tall tomato")
    assert answer["enough"][first]
    assert answer["pot"][first] == "nursery 30 l"
    assert len(garden.in_pots(catalogue, pots=["nursery 11 l", "fabric 10 gal"])) == 2 * len(garden)


def test_heatwave(courtyard, place):
    answer = wiltline.heatwave(courtyard, place)
    rows = program("heatwave", "--garden", COURTYARD)
    assert_same(answer, rows, ["name", "planted", "once_a_day_enough", "refill_on"], 0)
    assert_same(answer, rows, ["peak_use_l_day"], 3)
    assert_same(answer, rows, ["waterings_per_day"], 2)
    assert str(answer["spell"]["first_day"]) == rows[0]["first_day"]
    warmer = wiltline.heatwave(courtyard, place, warmer_c=3.0)
    assert warmer["spell"]["mean_tmax_c"] == pytest.approx(answer["spell"]["mean_tmax_c"] + 3.0)
    fixed = wiltline.heatwave(courtyard, place, first_day="2022-07-10", days=3)
    assert str(fixed["spell"]["first_day"]) == "2022-07-10"


def test_absence(garden, place):
    answer = wiltline.absence(garden, place, months=(6, 8))
    # As tests/examples/absence.cpp has it.
    assert answer["name"][0] == "tall tomato"
    assert answer["passed"][0] == 55
    assert answer["windows"][0] == 91
    assert len(answer["failed"][0]) == 91 - 55
    assert answer["failed"][0].dtype == np.dtype("datetime64[D]")


def test_forecast_and_plan(courtyard, catalogue, weather):
    known = weather.between(str(weather.columns()["date"][0]), datetime.date(2024, 7, 14))
    place = wiltline.Place(known, catalogue)
    asked = ["--garden", COURTYARD, "--to", "2024-07-14", "--now", "2024-07-15T09:00"]
    answer = wiltline.forecast(courtyard, place, catalogue, now="2024-07-15T09:00")
    rows = program("forecast", *asked)
    assert_same(answer, rows, ["name", "refill_p50", "dry_p90", "water_at", "dry_before_visit"], 0)
    assert_same(answer, rows, ["give_now_l", "give_at_visit_l_p90"], 2)
    assert answer["now"] == "2024-07-15T09:00"

    log = [("2024-07-14T18:30", "basil on the sill", None),
           (datetime.datetime(2024, 7, 15, 7, 0), "basil on the sill", 0.1)]
    logged = wiltline.forecast(courtyard, place, catalogue, now="2024-07-15T09:00", log=log)
    told = program("forecast", *asked, "--watered", "basil on the sill@2024-07-14T18:30")
    basil = logged["name"].index("basil on the sill")
    assert logged["depletion_l"][basil] < float(
        next(row for row in told if row["name"] == "basil on the sill")["depletion_l"])

    for name, when, litres in [("nobody", "2024-07-14T18:30", 1.0),
                               ("basil on the sill", "2024-07-15T09:01", 1.0),
                               ("basil on the sill", "2024-07-14T18:30", 0.0)]:
        with pytest.raises(wiltline.InputError, match="log:2"):
            wiltline.forecast(courtyard, place, catalogue, now="2024-07-15T09:00",
                              log=[(when, name, litres)])

    visits = wiltline.plan(courtyard, place, catalogue, now="2024-07-15T09:00", days=7)
    planned = program("plan", *asked)
    assert_same(visits, planned, ["visit", "by", "name", "lasts_to_next", "feed"], 0)
    assert_same(visits, planned, ["give_l", "give_low_l", "give_high_l"], 2)


def test_remedies(garden, catalogue, place):
    answer = wiltline.remedies(garden, place, catalogue)
    # As tests/examples/remedies.cpp has it.
    found = [i for i, name in enumerate(answer["name"])
             if name == "basil on the sill" and answer["change"][i] == "coming every day"]
    assert len(found) == 1
    assert answer["wilting_days_after"][found[0]] == 4
    assert answer["wilting_days_before"][found[0]] == 190


def test_capacity(garden, catalogue):
    answer = wiltline.capacity(garden, catalogue)
    # As tests/examples/capacity.cpp has it.
    assert answer["available_l"][0] == pytest.approx(10.70, abs=0.005)
    assert all(answer["available_low_l"] <= answer["available_high_l"])
    assert sum(answer["buy_l"][0].values()) > answer["mix_l"][0]


def test_sweep(catalogue, place):
    answer = wiltline.sweep([place], catalogue, crops=["tomato"], pots=["nursery 37 l", "clay 3 l"],
                            mixes=["potting mix"], spots=["patio"], plants=[1],
                            routine="daily 07:00", draws=2)
    # As tests/examples/sweep.cpp has it.
    first = list(answer["planted"]).index(np.datetime64("2022-05-15"))
    assert answer["pot"][first] == "nursery 37 l"
    assert answer["draw"][first] == 0
    assert answer["watered_l"][first] == pytest.approx(468.47, abs=0.005)
    assert sorted(set(answer["draw"])) == [0, 1, 2]
    assert set(answer["weather"]) == {place.weather.name}


def test_weather_from_arrays_is_the_weather_read(weather, catalogue, garden, place):
    columns = weather.columns()
    given = {name: values for name, values in columns.items() if name not in ("date", "filled")}
    again = wiltline.Weather.from_arrays(
        columns["date"][0], given.pop("tmin_c"), given.pop("tmax_c"), **weather.site, **given)
    for name, values in again.columns().items():
        np.testing.assert_array_equal(values, columns[name])
    one = wiltline.season(garden, place)["used_l"]
    other = wiltline.season(garden, wiltline.Place(again, catalogue))["used_l"]
    np.testing.assert_array_equal(one, other)


def test_what_is_unknown_is_no_number(catalogue):
    days = 30
    weather = wiltline.Weather.from_arrays("2024-06-01", np.full(days, 12.0), np.full(days, 24.0),
                                           latitude_deg=46.4, elevation_m=200.0)
    assert np.isnan(weather.columns()["rain_mm"]).all()
    assert not weather.rain_observed
    assert set(wiltline.et0(weather)["estimated"]) == {"humidity+radiation+wind"}
    assert weather.site["longitude_deg"] is None


def test_faults_are_exceptions_with_their_place(tmp_path, catalogue, garden, place):
    bad = tmp_path / "garden.csv"
    bad.write_text("name,crop,pot,mix,plants,planted,spot,routine\n"
                   "a,tomatto,nursery 37 l,vegetable mix,1,05-15,patio,daily 07:00\n")
    with pytest.raises(wiltline.InputError) as caught:
        wiltline.read_garden(bad, catalogue)
    problem = caught.value.problems[0]
    assert problem["line"] == 2
    assert "tomatto" in problem["found"]
    assert isinstance(caught.value, ValueError)
    with pytest.raises(wiltline.RequestError):
        wiltline.read_weather(tmp_path / "nothing.csv")
    with pytest.raises(wiltline.RequestError, match="growth"):
        wiltline.season(garden, place, growth="moons")
    with pytest.raises(wiltline.RequestError, match="share|0 to 1"):
        wiltline.absence(garden, place, share=2.0)
    with pytest.raises(wiltline.RequestError, match="another number of days"):
        wiltline.Weather.from_arrays("2024-06-01", [1.0, 2.0], [3.0], latitude_deg=46.4,
                                     elevation_m=200.0)
    with pytest.raises(wiltline.RequestError, match="rain_in"):
        wiltline.Weather.from_arrays("2024-06-01", [1.0], [3.0], latitude_deg=46.4,
                                     elevation_m=200.0, rain_in=[0.0])
    with pytest.raises(wiltline.InputError):
        wiltline.Weather.from_arrays("2024-06-01", [9.0], [3.0], latitude_deg=46.4,
                                     elevation_m=200.0)
    with pytest.raises(TypeError):
        wiltline.season(garden)

#!/usr/bin/env python3
"""Write the invented daily weather that the examples run on.

    python3 generate.py             write the four CSV files beside this script
    python3 generate.py --summary   print their statistics as a Markdown table

No place, day or number here was ever observed. Each place is a handful of
yearly cycles (class Place) and a seed; a day is drawn from them in four steps:

  rain         a two-state Markov chain says wet or dry, so that rain and
               drought come in runs; a Weibull draw says how much
  sunshine     a share of the day's length, lower when wet; solar radiation
               follows from it and from the radiation above the atmosphere
  temperature  yearly cycle + an anomaly that remembers yesterday (AR(1)) +
               heat waves; cloud narrows the range between night and day
  dew point    somewhat below the night's minimum; every humidity column is
               computed from it, so that all of them describe the same air

Chance comes from random.Random.random() alone, whose sequence Python keeps from
version to version, so that the files can be made again. The seeds were picked so
that the four summers of a place differ from each other.
Equation numbers are those of FAO Irrigation and Drainage Paper 56.
"""

import argparse
import datetime
import math
import random
from dataclasses import dataclass
from pathlib import Path
from statistics import NormalDist, fmean

FIRST_YEAR, LAST_YEAR = 2021, 2024
YEARS = range(FIRST_YEAR, LAST_YEAR + 1)
MIDSUMMER = 200  # day of the year on which every cycle turns, about 19 July


@dataclass(frozen=True)
class Cycle:
    """A quantity over the year: mean + swing in midsummer, mean - swing in midwinter."""

    mean: float
    swing: float = 0.0

    def at(self, day_of_year):
        return self.mean + self.swing * math.cos(2 * math.pi * (day_of_year - MIDSUMMER) / 365.25)


@dataclass(frozen=True)
class Place:
    name: str
    file: str
    climate: str
    seed: int
    columns: tuple
    # site
    latitude_deg: float
    longitude_deg: float
    utc_offset_h: int
    elevation_m: int
    wind_height_m: int
    # temperature
    temperature_c: Cycle  # daily mean
    anomaly_c: Cycle  # standard deviation about it
    range_c: Cycle  # tmax - tmin of a cloudless day
    wet_cooling_c: Cycle  # by how much a wet day is colder
    # rain and sun
    wet_after_dry: Cycle  # probability
    wet_after_wet: Cycle  # probability
    rain_mm: Cycle  # mean of a wet day
    rain_shape: float  # of the Weibull distribution; smaller = more cloudbursts
    dry_sunshine: Cycle  # typical share of the day's length
    wet_sunshine: Cycle
    # air
    dew_depression_c: Cycle  # typical tmin - dew point of a dry day
    wind_m_s: Cycle
    # events from May to September, one count for each year
    heat_waves: tuple
    dry_spells: tuple
    heat_wave_c: float = 6.0  # typical excess at its height


@dataclass(frozen=True)
class Day:
    date: datetime.date
    tmin_c: float
    tmax_c: float
    dewpoint_c: float
    wind_m_s: float
    sunshine_h: float
    solar_mj_m2: float
    rain_mm: float


METRIC = ("tmin_c", "tmax_c", "rh_max_pct", "rh_min_pct", "wind_m_s", "solar_mj_m2", "rain_mm")

PLACES = (
    Place(
        name="Tolvenau", file="tolvenau.csv", climate="temperate continental", seed=1248,
        columns=METRIC,
        latitude_deg=46.4, longitude_deg=16.8, utc_offset_h=1, elevation_m=210, wind_height_m=2,
        temperature_c=Cycle(10.7, 10.9), anomaly_c=Cycle(3.4, -0.7), range_c=Cycle(12.2, 2.6),
        wet_cooling_c=Cycle(0.6, 0.9),
        wet_after_dry=Cycle(0.265, 0.035), wet_after_wet=Cycle(0.50, -0.04),
        rain_mm=Cycle(7.8, 2.4), rain_shape=0.80,
        dry_sunshine=Cycle(0.56, 0.18), wet_sunshine=Cycle(0.24, 0.12),
        dew_depression_c=Cycle(1.6, 0.5), wind_m_s=Cycle(2.0, -0.3),
        heat_waves=(1, 3, 1, 2), dry_spells=(0, 2, 1, 1),
    ),
    Place(
        name="Port Okaree", file="port-okaree.csv", climate="hot-humid subtropical", seed=192,
        columns=METRIC,
        latitude_deg=30.2, longitude_deg=-88.6, utc_offset_h=-6, elevation_m=6, wind_height_m=2,
        temperature_c=Cycle(20.6, 8.2), anomaly_c=Cycle(2.5, -1.5), range_c=Cycle(11.4, -0.2),
        wet_cooling_c=Cycle(0.3, 0.4),
        wet_after_dry=Cycle(0.26, 0.11), wet_after_wet=Cycle(0.46, 0.12),
        rain_mm=Cycle(12.0, 1.0), rain_shape=0.72,
        dry_sunshine=Cycle(0.66, 0.04), wet_sunshine=Cycle(0.36, 0.12),
        dew_depression_c=Cycle(1.2, -0.3), wind_m_s=Cycle(2.2, -0.4),
        heat_waves=(1, 0, 2, 1), dry_spells=(0, 0, 0, 0), heat_wave_c=2.2,
    ),
    Place(
        name="Zarquil Flats", file="zarquil-flats.csv", climate="hot and dry", seed=138,
        columns=("tmin_f", "tmax_f", "dewpoint_f", "wind_mph", "solar_mj_m2", "rain_in"),
        latitude_deg=34.1, longitude_deg=-113.2, utc_offset_h=-7, elevation_m=540, wind_height_m=2,
        temperature_c=Cycle(19.8, 10.3), anomaly_c=Cycle(2.7, -0.6), range_c=Cycle(16.0, 2.0),
        wet_cooling_c=Cycle(1.8, 0.4),
        wet_after_dry=Cycle(0.055, -0.045), wet_after_wet=Cycle(0.28, -0.18),
        rain_mm=Cycle(4.5, -1.0), rain_shape=0.85,
        dry_sunshine=Cycle(0.86, 0.06), wet_sunshine=Cycle(0.35, 0.15),
        dew_depression_c=Cycle(9.8, 6.4), wind_m_s=Cycle(2.1, 0.3),
        heat_waves=(2, 1, 3, 2), dry_spells=(0, 0, 0, 0), heat_wave_c=3.5,
    ),
    Place(
        name="Skerrowick", file="skerrowick.csv", climate="cool maritime", seed=2,
        columns=("tmin_c", "tmax_c", "rh_mean_pct", "wind_m_s", "sunshine_h", "rain_mm"),
        latitude_deg=55.3, longitude_deg=-5.9, utc_offset_h=0, elevation_m=35, wind_height_m=10,
        temperature_c=Cycle(10.3, 5.3), anomaly_c=Cycle(2.0, -0.3), range_c=Cycle(7.6, 2.0),
        wet_cooling_c=Cycle(0.1, 0.6),
        wet_after_dry=Cycle(0.38, -0.06), wet_after_wet=Cycle(0.68, -0.06),
        rain_mm=Cycle(4.8, -0.3), rain_shape=0.85,
        dry_sunshine=Cycle(0.42, 0.10), wet_sunshine=Cycle(0.22, 0.08),
        dew_depression_c=Cycle(1.3, -0.2), wind_m_s=Cycle(5.0, -0.6),
        heat_waves=(0, 1, 0, 1), dry_spells=(0, 1, 1, 0), heat_wave_c=4.5,
    ),
)


# --- physics -----------------------------------------------------------------


def saturation_vapour_pressure_kpa(temperature_c):
    return 0.6108 * math.exp(17.27 * temperature_c / (temperature_c + 237.3))  # eq. 11


def sun(latitude_deg, day_of_year):
    """Radiation above the atmosphere, MJ m-2 d-1, and the day's length, h."""
    latitude = math.radians(latitude_deg)
    angle = 2 * math.pi * day_of_year / 365
    distance = 1 + 0.033 * math.cos(angle)  # eq. 23
    declination = 0.409 * math.sin(angle - 1.39)  # eq. 24
    sunset = math.acos(-math.tan(latitude) * math.tan(declination))  # eq. 25
    radiation = 24 * 60 / math.pi * 0.0820 * distance * (  # eq. 21
        sunset * math.sin(latitude) * math.sin(declination)
        + math.cos(latitude) * math.cos(declination) * math.sin(sunset)
    )
    return radiation, 24 / math.pi * sunset  # eq. 34


def solar_mj_m2(place, radiation, sunshine_share):
    """An overcast day lets 0.12 of the radiation through, a cloudless one 0.75 + 2e-5 z (eq. 37)."""
    cloudless = 0.75 + 2e-5 * place.elevation_m
    return radiation * (0.12 + (cloudless - 0.12) * sunshine_share)


# --- chance ------------------------------------------------------------------


class Chance:
    """Draws from one seeded sequence of uniform numbers."""

    def __init__(self, seed):
        self._uniform = random.Random(seed).random

    def happens(self, probability):
        return self._uniform() < probability

    def between(self, low, high):
        return low + (high - low) * self._uniform()

    def normal(self):
        return NormalDist().inv_cdf(self.between(1e-9, 1 - 1e-9))

    def weibull(self, mean, shape):
        return mean / math.gamma(1 + 1 / shape) * (-math.log(1 - self._uniform())) ** (1 / shape)


class Persistent:
    """Standard normal noise, each value correlated with the one before: AR(1)."""

    def __init__(self, chance, correlation):
        self._chance, self._correlation = chance, correlation
        self._value = chance.normal()

    def next(self):
        fresh = math.sqrt(1 - self._correlation**2) * self._chance.normal()
        self._value = self._correlation * self._value + fresh
        return self._value


def shifted_share(share, shift):
    """A share between 0 and 1 moved up or down on the logistic scale, where it cannot leave them."""
    return 1 / (1 + math.exp(-(math.log(share / (1 - share)) + shift)))


def spread_out(chance, count, first, last):
    """`count` dates between two dates, one in each equal slice, so that events seldom merge."""
    slice_days = (last - first).days / count if count else 0
    return [first + datetime.timedelta(int(chance.between(i, i + 1) * slice_days)) for i in range(count)]


def draw_heat_waves(place, chance):
    """Date -> excess over the season, degC: five to nine days, building up and then breaking."""
    excess = {}
    for year, count in zip(YEARS, place.heat_waves):
        for start in spread_out(chance, count, datetime.date(year, 6, 15), datetime.date(year, 8, 20)):
            height = place.heat_wave_c * chance.between(0.85, 1.25)
            for day in range(int(chance.between(5, 10))):
                date = start + datetime.timedelta(day)
                excess[date] = height * min(1.0, 0.55 + 0.2 * day)
    return excess


def draw_dry_spells(place, chance):
    """The dates on which it cannot rain: spells of 14 to 21 days, and luck may lengthen them."""
    dates = set()
    for year, count in zip(YEARS, place.dry_spells):
        for start in spread_out(chance, count, datetime.date(year, 5, 5), datetime.date(year, 8, 25)):
            dates.update(start + datetime.timedelta(day) for day in range(int(chance.between(14, 22))))
    return dates


# --- weather -----------------------------------------------------------------


def generate(place):
    """Every day of the place's record, in order."""
    chance = Chance(place.seed)
    heat = draw_heat_waves(place, chance)
    drought = draw_dry_spells(place, chance)
    warmth = Persistent(chance, 0.71)
    clearness = Persistent(chance, 0.35)
    dryness = Persistent(chance, 0.60)
    windiness = Persistent(chance, 0.45)

    days = []
    wet = False
    date = datetime.date(FIRST_YEAR, 1, 1)
    while date.year <= LAST_YEAR:
        season = date.timetuple().tm_yday
        hot = heat.get(date, 0.0)

        probability = place.wet_after_wet if wet else place.wet_after_dry
        wet = chance.happens(probability.at(season)) and not hot and date not in drought
        rain = 0.2 + chance.weibull(place.rain_mm.at(season) - 0.2, place.rain_shape) if wet else 0.0

        radiation, day_length_h = sun(place.latitude_deg, season)
        typical_sunshine = place.wet_sunshine if wet else place.dry_sunshine
        brighter = 0.9 * clearness.next() + (0.8 if hot else 0.0) - 0.03 * min(rain, 30.0)
        sunshine_share = shifted_share(typical_sunshine.at(season), brighter)
        sunshine_share = max(0.0, 1.08 * sunshine_share - 0.08)  # some days see no sun at all

        anomaly = place.anomaly_c.at(season) * warmth.next()
        mean = place.temperature_c.at(season) - (place.wet_cooling_c.at(season) if wet else 0.0)
        mean += hot + 0.35 * anomaly if hot else anomaly
        spread = max(2.0, place.range_c.at(season) * (0.45 + 0.55 * sunshine_share))

        depression = place.dew_depression_c.at(season) * (0.3 if wet else 1.0)
        depression *= math.exp(0.32 * dryness.next() - 0.05)
        tmin = mean - 0.5 * spread

        wind = place.wind_m_s.at(season) * (1.15 if wet else 1.0) * (0.8 if hot else 1.0)
        wind *= math.exp(0.32 * windiness.next() - 0.05)

        days.append(Day(
            date=date, tmin_c=round(tmin, 1), tmax_c=round(tmin + spread, 1),
            dewpoint_c=round(tmin - depression, 1), wind_m_s=max(0.3, wind),
            sunshine_h=sunshine_share * day_length_h,
            solar_mj_m2=solar_mj_m2(place, radiation, sunshine_share), rain_mm=round(rain, 1),
        ))
        date += datetime.timedelta(1)
    return days


# --- output ------------------------------------------------------------------


def relative_humidity_pct(day, saturation_kpa):
    return min(100.0, 100 * saturation_vapour_pressure_kpa(day.dewpoint_c) / saturation_kpa)  # eq. 10


def mean_saturation_kpa(day):
    low, high = map(saturation_vapour_pressure_kpa, (day.tmin_c, day.tmax_c))
    return (low + high) / 2  # eq. 12


def fahrenheit(celsius):
    return celsius * 1.8 + 32


# column -> digits after the point, value of a day
COLUMNS = {
    "tmin_c": (1, lambda day: day.tmin_c),
    "tmax_c": (1, lambda day: day.tmax_c),
    "tmin_f": (1, lambda day: fahrenheit(day.tmin_c)),
    "tmax_f": (1, lambda day: fahrenheit(day.tmax_c)),
    "dewpoint_f": (1, lambda day: fahrenheit(day.dewpoint_c)),
    "rh_max_pct": (0, lambda day: relative_humidity_pct(day, saturation_vapour_pressure_kpa(day.tmin_c))),
    "rh_min_pct": (0, lambda day: relative_humidity_pct(day, saturation_vapour_pressure_kpa(day.tmax_c))),
    "rh_mean_pct": (0, lambda day: relative_humidity_pct(day, mean_saturation_kpa(day))),  # eq. 19
    "wind_m_s": (1, lambda day: day.wind_m_s),
    "wind_mph": (1, lambda day: day.wind_m_s / 0.44704),
    "sunshine_h": (1, lambda day: day.sunshine_h),
    "solar_mj_m2": (1, lambda day: day.solar_mj_m2),
    "rain_mm": (1, lambda day: day.rain_mm),
    "rain_in": (2, lambda day: day.rain_mm / 25.4),
}


def cell(column, day):
    digits, value = COLUMNS[column]
    return f"{round(value(day), digits) + 0.0:.{digits}f}"  # + 0.0 turns -0.0 into 0.0


def csv_text(place, days):
    lines = [
        f"# {place.name}: invented weather, {place.climate}.",
        "# Made by generate.py; describes no real place and contains no measurement.",
        f"# latitude_deg = {place.latitude_deg}",
        f"# elevation_m = {place.elevation_m}",
        f"# wind_height_m = {place.wind_height_m}",
        f"# longitude_deg = {place.longitude_deg}",
        f"# utc_offset_h = {place.utc_offset_h}",
        ",".join(("date", *place.columns)),
    ]
    lines += [",".join((str(day.date), *(cell(c, day) for c in place.columns))) for day in days]
    return "\n".join(lines) + "\n"


def longest_dry_run(days):
    longest = run = 0
    for day in days:
        run = run + 1 if day.rain_mm < 0.2 else 0
        longest = max(longest, run)
    return longest


def summary_rows(place, days):
    july = [day for day in days if day.date.month == 7]
    july_range = f"{fmean(d.tmin_c for d in july):.1f} / {fmean(d.tmax_c for d in july):.1f}"
    for year in YEARS:
        season = [d for d in days if d.date.year == year and 5 <= d.date.month <= 9]
        hottest = max(season, key=lambda day: day.tmax_c)
        yield (
            place.name if year == FIRST_YEAR else "", july_range if year == FIRST_YEAR else "", str(year),
            f"{hottest.tmax_c:.1f} ({hottest.date:%d %b})", f"{sum(d.rain_mm for d in season):.0f}",
            str(longest_dry_run(season)), str(sum(d.tmax_c > 32 for d in season)),
        )


def print_summary():
    print("| place | July mean tmin / tmax, °C | year | hottest day, °C | rain May–Sep, mm "
          "| longest dry run May–Sep, days | days above 32 °C May–Sep |")
    print("|---|---|---|---|---|---|---|")
    for place in PLACES:
        for row in summary_rows(place, generate(place)):
            print("|", " | ".join(row), "|")


def main():
    parser = argparse.ArgumentParser(description="Write the invented weather of the examples.")
    parser.add_argument("--summary", action="store_true", help="print statistics, write nothing")
    if parser.parse_args().summary:
        print_summary()
        return
    for place in PLACES:
        path = Path(__file__).parent / place.file
        path.write_text(csv_text(place, generate(place)), encoding="utf-8", newline="\n")


if __name__ == "__main__":
    main()

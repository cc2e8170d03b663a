#!/usr/bin/env python3
"""Writes parts of the invented records in the layouts that other people's files have.

    python3 make.py

service.csv: a year of Zarquil Flats as a climatology network's daily summary in °F and inches.
logger-hours.csv: July 2022 of Tolvenau as the hours of a logger: semicolons, decimal commas, mixed units, marks.
Nothing here was measured. Standard library only.
"""

import csv
import math
from pathlib import Path

HERE = Path(__file__).parent


def days(name):
    with open(HERE.parent / name, encoding="utf-8", newline="") as file:
        yield from csv.DictReader(line for line in file if not line.startswith("#"))


def service():
    yield '"STATION","DATE","LATITUDE","LONGITUDE","ELEVATION","NAME","AWND","PRCP","SNOW","TMAX","TMIN"'
    for day in days("zarquil-flats.csv"):
        if not day["date"].startswith("2022-"):
            continue
        low, high = (round(float(day[name])) for name in ("tmin_f", "tmax_f"))
        yield (f'"XX000000001","{day["date"]}","34.1","-113.2","540","ZARQUIL FLATS (INVENTED)",'
               f'"{day["wind_mph"]}","{day["rain_in"]}","","{high}","{low}"')


def sun_shares():
    """By the hour of its clock, of a July day at 46.4 degrees north and 16.8 east with the clock two hours ahead of UTC:
    as the sine of the sun's height, a little less beside the horizon."""
    latitude, declination = math.radians(46.4), math.radians(21.2)
    ahead_h = 2 - 16.8 / 15 + 0.1  # the last for the season
    heights = [math.sin(latitude) * math.sin(declination) + math.cos(latitude) * math.cos(declination)
               * math.cos(math.pi / 12 * (hour + 0.5 - ahead_h - 12)) for hour in range(24)]
    shares = [max(0.0, height) ** 1.15 for height in heights]
    return [share / sum(shares) for share in shares]


def logger():
    yield "# latitude_deg = 46.4"
    yield "# elevation_m = 210"
    yield "# wind_height_m = 2"
    yield "# longitude_deg = 16.8"
    yield "# utc_offset_h = 2"
    yield "Logged at;Air;Moisture;Breeze;Sun;Rain gauge;Cell"
    comma = lambda number, digits: f"{number:.{digits}f}".replace(".", ",")
    saturated = lambda c: 0.6108 * math.exp(17.27 * c / (c + 237.3))
    month = [day for day in days("tolvenau.csv") if day["date"].startswith("2022-07-")]
    shares = sun_shares()
    for day in month:
        low, high = float(day["tmin_c"]), float(day["tmax_c"])
        vapour = (saturated(low) * float(day["rh_max_pct"]) + saturated(high) * float(day["rh_min_pct"])) / 200
        for hour in range(24):
            air = (low + high) / 2 - (high - low) / 2 * math.cos(2 * math.pi * (hour - 5) / 24 * (1 if hour < 5 else 0.9))
            air = low if hour == 5 else high if hour == 16 else min(high, max(low, air))
            moisture = min(100.0, 100 * vapour / saturated(air))
            breeze = 3.6 * float(day["wind_m_s"]) * (0.6 if hour < 7 or hour > 20 else 1.25)
            sun = float(day["solar_mj_m2"]) * shares[hour] * 1e6 / 3600
            rain = float(day["rain_mm"]) if hour == 18 else 0.0
            date = day["date"].split("-")
            yield (f"{date[2]}.{date[1]}.{date[0]} {hour + 1:02}:00;{comma(air * 1.8 + 32, 1)};{moisture:.0f};"
                   f"{comma(breeze, 1)};{'dark' if sun == 0 else comma(sun, 0)};"
                   f"{comma(rain, 1)};3,1")


for name, lines in (("service.csv", service()), ("logger-hours.csv", logger())):
    (HERE / name).write_text("\n".join(lines) + "\n", encoding="utf-8")

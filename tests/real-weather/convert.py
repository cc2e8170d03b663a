#!/usr/bin/env python3
"""Make seattle.csv and new-york.csv from the data folder of the npm package vega-datasets 3.2.1.

    npm pack vega-datasets@3.2.1 && tar -xzf vega-datasets-3.2.1.tgz
    python3 convert.py package/data

Every value is copied as the text it was; only the columns are renamed and put in our order. Nothing is repaired:
rows that look odd are listed on stderr and written like all others; a missing value or a gap in the days stops.
Standard library only.
"""

import csv
import datetime
import sys
from pathlib import Path

PACKAGE = "vega-datasets 3.2.1"
COLUMNS = {  # ours: theirs
    "date": "date",
    "tmin_c": "temp_min",
    "tmax_c": "temp_max",
    "wind_m_s": "wind",
    "rain_mm": "precipitation",
}
PLACES = (
    {"name": "Seattle", "source": "seattle-weather.csv", "target": "seattle.csv",
     "latitude_deg": "47.45", "elevation_m": "113", "wind_height_m": "10"},
    {"name": "New York", "source": "weather.csv", "target": "new-york.csv",
     "latitude_deg": "40.78", "elevation_m": "10", "wind_height_m": "10"},
)


def read_rows(place, data_folder):
    """The place's rows, our column names, the values as written."""
    with open(data_folder / place["source"], encoding="utf-8", newline="") as file:
        for row in csv.DictReader(file):
            if row.get("location", place["name"]) == place["name"]:
                yield {ours: row[theirs] for ours, theirs in COLUMNS.items()}


def check(place, rows):
    """Stop at what makes the record unusable, list what is merely odd."""
    yesterday = None
    for row in rows:
        where = f"{place['target']}: {row['date']}"
        if not all(row.values()):
            sys.exit(f"{where}: a value is missing")
        date = datetime.date.fromisoformat(row["date"])
        if yesterday and date - yesterday != datetime.timedelta(1):
            sys.exit(f"{where}: does not follow {yesterday}")
        yesterday = date

        tmin, tmax, wind, rain = (float(row[column]) for column in list(COLUMNS)[1:])
        odd = {
            "tmin above tmax": tmin > tmax,
            "range under 1 degC": 0 <= tmax - tmin < 1,
            "wind 0 or less": wind <= 0,
            "rain below 0": rain < 0,
            "outside -40 to 50 degC": tmin < -40 or tmax > 50,
        }
        for what in (text for text, found in odd.items() if found):
            print(f"{where}: {what}: {','.join(row.values())}", file=sys.stderr)


def csv_text(place, rows):
    lines = [
        f"# {place['name']}, daily weather, {rows[0]['date']} to {rows[-1]['date']}.",
        "# Source: observations of the US government (NOAA National Climatic Data Center), a work in the public domain,",
        f"# as carried in the npm package {PACKAGE}, file data/{place['source']}; values unchanged, columns renamed by convert.py.",
        "# The package's code is under the BSD-3-Clause licence, which it says does not extend to the data; see SOURCE.md.",
        "# The file names neither the station nor the height of the wind sensor: the site below, an airport's with",
        "# wind at 10 m, is assumed. Wind is taken to be in m/s (SOURCE.md says why).",
        *(f"# {key} = {place[key]}" for key in ("latitude_deg", "elevation_m", "wind_height_m")),
        ",".join(COLUMNS),
        *(",".join(row.values()) for row in rows),
    ]
    return "\n".join(lines) + "\n"


def main():
    if len(sys.argv) != 2:
        sys.exit(f"usage: {Path(sys.argv[0]).name} DATA_FOLDER")
    for place in PLACES:
        rows = list(read_rows(place, Path(sys.argv[1])))
        check(place, rows)
        target = Path(__file__).parent / place["target"]
        target.write_text(csv_text(place, rows), encoding="utf-8", newline="\n")


if __name__ == "__main__":
    main()

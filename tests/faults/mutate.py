"""Spoils inputs at random and holds each answer to what mutate.sh says. Stops at nothing; the end is a summary."""

import csv
import io
import json
import math
import os
import random
import re
import shutil
import subprocess
import sys
import tempfile

NASTY = ["", " ", "0", "-0", "-1", "1", "0.1", "1e-300", "1e308", "-1e308", "1e999", "nan", "inf", "0x10", "1,5", "9999",
         "100", "1e5", "x", "=1+1", "\"", "'", "é", "\u202e", "yes", "no", "all", "2024-02-30", "2022-06-01", "06-01",
         "12-31", "24:00", "00:00", "as-needed", "daily 07:00", "a@b", "a" * 300]
ROUTINES = ["as-needed", "daily 07:00 19:00", "every 60 days 07:00", "check daily 07:00", "check top mon fri 18:30 soak",
            "daily 07:00 give 0.001 l", "as-needed give 0.01 l", "daily 07:00 away 07-01/07-20", "as-needed away 06-10/06-01",
            "daily 00:00 23:59 give 1e308 l", "daily 07:00 away 2022-06-01/2022-08-01 soak"]
MIXES = ["sand 100", "potting mix", "peat 60 perlite 40", "coir mix", "perlite 100", "peat 1 perlite 99", "peat 100.1"]
TEXT_COLUMNS = {"name", "pot", "mix", "crop", "spot", "weather", "wall", "kind", "source", "use"}


def read(path):
    with open(path, encoding="utf-8", newline="") as file:
        return file.read()


def rows_of(text):
    """Comment lines, and the header and rows as lists of cells."""
    lines = text.split("\n")
    comments = [line for line in lines if line.startswith("#")]
    table = list(csv.reader(line for line in lines if line and not line.startswith("#")))
    return comments, table


def text_of(comments, table):
    out = io.StringIO()
    csv.writer(out, lineterminator="\n").writerows(table)
    return "\n".join(comments) + ("\n" if comments else "") + out.getvalue()


def spoil_number(random_, cell):
    try:
        value = float(cell)
    except ValueError:
        return random_.choice(NASTY)
    return random_.choice([f"{value * 10:g}", f"{value / 10:g}", f"{-value:g}", f"{value + 0.1:g}", f"{value * 1.8 + 32:g}",
                           f"{value * random_.uniform(0.3, 3):.4g}", random_.choice(NASTY)])


def spoil_table(random_, text):
    comments, table = rows_of(text)
    if len(table) < 2:
        return text
    width = len(table[0])
    row = random_.randrange(1, len(table))
    column = random_.randrange(width)
    what = random_.choice(["cell"] * 6 + ["number"] * 6 + ["swap", "column", "delete", "twice", "move", "drop", "double",
                                                          "rename", "short", "long", "comment", "nasty comment"])
    if what == "cell" and column < len(table[row]):
        pool = ROUTINES if table[0][column] == "routine" else MIXES if table[0][column] == "mix" else NASTY
        table[row][column] = random_.choice(pool if random_.random() < 0.7 else NASTY)
    elif what == "number" and column < len(table[row]):
        table[row][column] = spoil_number(random_, table[row][column])
    elif what == "swap":
        other = random_.randrange(width)
        for line in table[1:]:
            if max(column, other) < len(line):
                line[column], line[other] = line[other], line[column]
    elif what == "column":  # one unit for another, all along
        factor = random_.choice([0.001, 0.1, 10.0, 3.6, 1.8, -1.0])
        for line in table[1:]:
            try:
                line[column] = f"{float(line[column]) * factor:g}"
            except (ValueError, IndexError):
                pass
    elif what == "delete":
        del table[row]
    elif what == "twice":
        table.insert(row, list(table[row]))
    elif what == "move":
        table.insert(random_.randrange(1, len(table)), table.pop(row))
    elif what == "drop":
        for line in table:
            del line[column:column + 1]
    elif what == "double":
        for line in table:
            line.insert(column, line[column] if column < len(line) else "")
    elif what == "rename":
        table[0][column] = random_.choice(["", "notes", table[0][column] + "x", table[0][column].upper(), "tmin_f", "rain_in",
                                           "volume_l", "saucer_l", "ends", "pruned", "mulch", "vapour_pressure_kpa",
                                           "dewpoint_c", "sunshine_h", "wind_km_h", "height_cm", "threshold_fraction", "sun_until_h"])
    elif what == "short":
        del table[row][-1:]
    elif what == "long":
        table[row].append(random_.choice(NASTY))
    elif comments:
        i = random_.randrange(len(comments))
        key = comments[i].split("=")[0]
        comments[i] = key + "= " + (random_.choice(NASTY) if what == "nasty comment" else str(random_.uniform(-200, 200)))
    return text_of(comments, table)


def spoil_bytes(random_, text):
    data = bytearray(text.encode("utf-8"))
    if not data:
        return bytes(data)
    at = random_.randrange(len(data))
    what = random_.choice(["insert", "change", "cut", "end", "crlf", "bom", "empty"])
    if what == "insert":
        data[at:at] = random_.choice([b"\0", b"\r", b"\"", b",", b"\n", b"\xff", b"#", b"\x1b[2J"])
    elif what == "change":
        data[at] = random_.randrange(256)
    elif what == "cut":
        del data[at:at + random_.randrange(1, 200)]
    elif what == "end":
        del data[at:]
    elif what == "crlf":
        data = bytearray(bytes(data).replace(b"\n", b"\r\n"))
    elif what == "bom":
        data[0:0] = b"\xef\xbb\xbf"
    else:
        data = bytearray()
    return bytes(data)


def options_for(random_, command, crops, pots, spots):
    """More options of a command, some of them wrong."""
    pick = random_.choice
    either = {
        "season": [["--ledger"], ["--remedies"], ["--growth", pick(["days", "degree-days", "x"])],
                   ["--away", pick(["07-01/07-10", "06-10/06-01", "2022-06-05/2022-06-09", "12-20/01-05", "x"])],
                   ["--uncertain", pick(["10", "3", "0"])]],
        "compare": [["--routine", pick(ROUTINES)], ["--uncertain", "10"], ["--growth", "degree-days"]],
        "heatwave": [["--days", pick(["1", "5", "0", "400"])], ["--warmer", pick(["0", "3", "10", "-1", "nan"])],
                     ["--full-grown"], ["--at-least", pick(["25", "95f", "80"])], ["--by", pick(["et0", "tmax", "x"])],
                     ["--uncertain", "10"]],
        "absence": [["--days", pick(["1", "2.5", "2d2h", "0", "30", "x"])], ["--months", pick(["7", "jul-aug", "13"])],
                    ["--line", pick(["stressed", "wilting", "dry", "x"])], ["--no-rain"], ["--share", pick(["0.8", "0", "2"])]],
        "forecast": [["--now", pick(["2022-07-11T09:00", "2022-07-11", "2030-01-01T00:00", "2022-07-05T18:00"])],
                     ["--alarm"], ["--days", pick(["1", "14", "60", "61"])], ["--members", pick(["5", "0"])],
                     ["--uncertain", "5"], ["--watered", pick(["all", "tall tomato", "a@b", "tall tomato@2022-07-10T08:00"])],
                     ["--weight", pick(["tall tomato=12", "x=1", "tall tomato=1e9"])],
                     ["--top", pick(["tall tomato=dry", "tall tomato=wet"])], ["--log", "log.csv"], ["--state", "state.csv"],
                     ["--weighings", "weighings.csv"], ["--seen", "seen.csv"],
                     ["--forecast", "next.csv"]],
        "et0": [["--steps"], ["--coastal"], ["--dew-offset", pick(["2", "-1", "11"])]],
        "sweep": [["--draws", pick(["0", "1", "x"])], ["--routine", pick(ROUTINES)], ["--part", pick(["1/2", "3/2"])],
                  ["--mixes", pick(MIXES)], ["--plants", pick(["usual", "1,2", "0"])]],
        "capacity": [["--mix", pick(MIXES)], ["--crop", pick(crops)]],
        "list": [],
    }[command]
    shared = [["--units", pick(["us", "metric", "x"])], ["--fill-gaps", pick(["1", "31", "32"])],
              ["--from", pick(["2022-05-01", "2022-13-01"])], ["--latitude", pick(["46", "-46", "91", "89.9"])],
              ["--longitude", pick(["16", "-170"])], ["--utc-offset", pick(["1", "-11"])], ["--wind-height", pick(["2", "10", "0"])],
              ["--output", pick(["out", "garden.csv", "weather.csv", "folder", "/dev/full"])], ["--site", "site.ini"]]
    if command in ("capacity", "list"):
        shared = shared[:1]
    if command == "sweep":
        shared = shared[1:]
    words = []
    for one in random_.sample(either, k=random_.choice([0, 0, 0, 1, 1, 2]) if len(either) > 1 else 0):
        words += one
    for one in random_.sample(shared, k=random_.choice([0, 0, 0, 0, 1, 1, 2]) if len(shared) > 1 else random_.randint(0, 1)):
        words += one
    return words


def base_command(random_, command, crops, pots, spots):
    pick = random_.choice
    garden = ["--garden", "garden.csv"]
    weather = ["--weather", "weather.csv"]
    own = ["--crop", pick(crops), "--pots", ",".join(random_.sample(pots, 2))]
    if command in ("season", "forecast"):
        return [command] + garden + weather
    if command == "et0":
        return [command] + weather
    if command == "sweep":
        return [command, "--weather-dir", "records", "--crops", pick(crops), "--pots", pick(pots), "--spots", pick(spots)]
    if command == "capacity":
        return [command, "--pot", pick(pots)]
    if command == "list":
        return [command, pick(["crops", "pots", "mixes", "spots", "walls", "x"])]
    return [command] + (garden if random_.random() < 0.5 else own) + weather


def no_constant(text):
    raise ValueError(f"{text} in JSON")


def check_csv(out, problems):
    table = list(csv.reader(io.StringIO(out)))
    if not table:
        problems.append("empty CSV")
        return []
    header = table[0]
    for line in table[1:]:
        if line and line[0].startswith("#"):
            continue  # a part's seal
        if len(line) != len(header):
            problems.append(f"a row of {len(line)} cells under {len(header)}")
            return []
        for name, cell in zip(header, line):
            if name not in TEXT_COLUMNS and re.fullmatch(r"[+-]?(nan|inf(inity)?)", cell.strip(), re.IGNORECASE):
                problems.append(f"{cell} in {name}")
    return [dict(zip(header, line)) for line in table[1:] if len(line) == len(header)]


def check_ledger(rows, exact, problems):
    before = {}
    for row in rows:
        key = (row.get("name"), row.get("weather"), row.get("planted"))
        store = float(row["store_l"])
        flows = [float(row[name]) for name in ("rain_l", "watered_l", "drained_l", "transpired_l", "evaporated_l")]
        rain, watered, drained, transpired, evaporated = flows
        last = before.get(key)
        before[key] = (row["date"], store)
        if last is None or next_day(last[0]) != row["date"]:
            continue
        left = rain + watered - drained - transpired - evaporated
        allowed = 1e-9 * (1 + sum(map(abs, flows)) + abs(store)) if exact else 0.0004
        if abs(left - (store - last[1])) > allowed:
            problems.append(f"{key} {row['date']}: in - out {left:.6f}, change of store {store - last[1]:.6f}")


def next_day(text):
    import datetime
    return (datetime.date.fromisoformat(text) + datetime.timedelta(days=1)).isoformat()


class Cases:
    def __init__(self, program, root, folder):
        self.program, self.root, self.folder = program, root, folder
        sample = read(os.path.join(root, "weather-samples/tolvenau.csv"))
        comments, table = rows_of(sample)
        date = table[0].index("date")
        days = [row for row in table[1:] if "2021-04-01" <= row[date] <= "2022-07-10"]
        days_to_come = [row for row in table[1:] if "2022-07-11" <= row[date] <= "2022-07-16"]
        self.files = {
            "weather.csv": text_of(comments, [table[0]] + days),
            "next.csv": text_of(comments, [table[0]] + days_to_come),
            "site.ini": "latitude_deg = 46.4\nelevation_m = 210\nwind_height_m = 2\n",
            "garden.csv": read(os.path.join(root, "tests/cli/data/garden.csv")),
            "log.csv": "when,name,given_l,drained_l\n2022-07-05 18:30,tall tomato,,\n2022-07-08 07:15,basil on the sill,1.5,0.2\n",
            "weighings.csv": "name,when,weight_kg,watering\ntall tomato,2022-07-05 18:00,21.2,before\n"
                             "tall tomato,2022-07-07 18:00,23.5,after\ntall tomato,2022-07-10 19:00,20.4,\n",
            "seen.csv": "name,when,top_dry,wilting\nbasil on the sill,2022-07-09 15:00,yes,no\n",
        }
        # The plain columns of other stations: each of the other ways to give humidity and sun.
        head, rows = ["date", "tmin_c", "tmax_c", "dewpoint_c", "vapour_pressure_kpa", "rh_mean_pct", "sunshine_h", "wind_km_h",
                      "rain_in"], []
        for i, row in enumerate(days):
            tmin, tmax = float(row[table[0].index("tmin_c")]), float(row[table[0].index("tmax_c")])
            dew = tmin - 1
            vapour = 0.6108 * math.exp(17.27 * dew / (dew + 237.3))
            mean = 100 * vapour / (0.6108 * math.exp(17.27 * (tmin + tmax) / 2 / ((tmin + tmax) / 2 + 237.3)))
            rows.append([row[date], row[table[0].index("tmin_c")], row[table[0].index("tmax_c")], f"{dew:.1f}", f"{vapour:.3f}",
                         f"{min(mean, 100):.0f}", f"{i % 8}", f"{5 + i % 9}", f"{(i % 11 == 0) * 0.3:.2f}"])
        self.other_weather = text_of(comments, [head] + rows)
        self.tables = {name: read(os.path.join(root, "models", name)) for name in
                       ("crops.csv", "mix-components.csv", "mixes.csv", "pots.csv", "spots.csv", "walls.csv", "parameters.csv")}
        self.crops = [row[0] for row in rows_of(self.tables["crops.csv"])[1][1:]]
        self.pots = [row[0] for row in rows_of(self.tables["pots.csv"])[1][1:]]
        self.spots = [row[0] for row in rows_of(self.tables["spots.csv"])[1][1:]]
        self.lay_out({}, None)
        self.run(["forecast", "--garden", "garden.csv", "--weather", "weather.csv", "--weighings", "weighings.csv",
                  "--now", "2022-07-10T20:00", "--save-state", "state.csv"])
        self.files["state.csv"] = read(os.path.join(folder, "state.csv"))

    def lay_out(self, spoilt, table):
        for entry in os.listdir(self.folder):
            path = os.path.join(self.folder, entry)
            shutil.rmtree(path) if os.path.isdir(path) else os.remove(path)
        for name in ("records", "folder", "models"):
            os.mkdir(os.path.join(self.folder, name))
        for name, text in {**self.files, **spoilt}.items():
            data = text if isinstance(text, bytes) else text.encode("utf-8", "surrogatepass")
            with open(os.path.join(self.folder, name), "wb") as file:
                file.write(data)
            if name == "weather.csv":
                with open(os.path.join(self.folder, "records", name), "wb") as file:
                    file.write(data)
        if table:
            with open(os.path.join(self.folder, "models", table[0]), "wb") as file:
                file.write(table[1] if isinstance(table[1], bytes) else table[1].encode("utf-8", "surrogatepass"))

    def run(self, words):
        return subprocess.run([self.program] + words, cwd=self.folder, capture_output=True, timeout=20, stdin=subprocess.DEVNULL)

    def case(self, number, seed):
        """Builds and runs one case. Returns its words and what is wrong with its answer."""
        random_ = random.Random(f"{seed}/{number}")
        command = random_.choice(["season"] * 4 + ["forecast"] * 3 + ["et0"] * 2 + ["compare", "heatwave", "absence", "sweep",
                                                                                   "capacity", "list"])
        words = base_command(random_, command, self.crops, self.pots, self.spots)
        words += options_for(random_, command, self.crops, self.pots, self.spots)
        form = random_.choice(["csv"] * 8 + ["json"] * 5 + ["table"] * 5 + ["x"] if command != "sweep" else ["csv"])
        if command != "sweep":
            words += ["--format", form]
        spoilt, table = {}, None
        if random_.random() < 0.3:
            spoilt["weather.csv"] = self.other_weather
        kinds = {"season": ["weather.csv", "garden.csv", "site.ini"],
                 "forecast": ["weather.csv", "garden.csv", "next.csv", "log.csv", "state.csv", "weighings.csv",
                              "seen.csv"],
                 "compare": ["weather.csv", "garden.csv"], "heatwave": ["weather.csv", "garden.csv"],
                 "absence": ["weather.csv", "garden.csv"], "et0": ["weather.csv", "site.ini"], "sweep": ["weather.csv"],
                 "capacity": [], "list": []}[command]
        for _ in range(random_.choice([0, 1, 1, 1, 2, 3])):
            if kinds and random_.random() < 0.75:
                name = random_.choice(kinds)
                text = spoilt.get(name, self.files[name])
                if isinstance(text, bytes):
                    continue
                as_table = name.endswith(".csv") and random_.random() < 0.9
                spoilt[name] = spoil_table(random_, text) if as_table else spoil_bytes(random_, text)
            elif table is None and command != "et0":
                name = random_.choice(sorted(self.tables))
                text = self.tables[name]
                table = (name, spoil_table(random_, text) if random_.random() < 0.9 else spoil_bytes(random_, text))
                words += ["--models", "models"]
        self.lay_out(spoilt, table)
        read_from = {word for before, word in zip(words, words[1:]) if before != "--output"}
        inputs = {name: self.bytes_of(name) for name in self.files if name in read_from}
        try:
            done = self.run(words)
        except subprocess.TimeoutExpired:
            return words, ["not done after 20 s"]
        problems = self.check(words, form, done)
        for name, before in inputs.items():
            if self.bytes_of(name) != before:
                problems.append(f"{name} was changed")
        return words, problems, done.returncode

    def bytes_of(self, name):
        with open(os.path.join(self.folder, name), "rb") as file:
            return file.read()

    def check(self, words, form, done):
        problems = []
        err = done.stderr.decode("utf-8", "replace")
        allowed = (0, 1, 2, 3, 10) if "/dev/full" in words or "folder" in words else (0, 2, 3, 10)
        if done.returncode not in allowed:
            problems.append(f"exit code {done.returncode}: {err[:200]}")
        if done.returncode in (2, 3):
            lines = err.splitlines()
            if done.stdout:
                problems.append("refused, and something on standard output")
            if not lines or len(lines) > 40:
                problems.append(f"refused in {len(lines)} lines")
            if os.path.exists(os.path.join(self.folder, "out")):
                problems.append("refused, and a file was written")
        if done.returncode not in (0, 10):
            return problems
        out = done.stdout.decode("utf-8", "replace")
        written = os.path.join(self.folder, "out")
        if os.path.isfile(written):
            out = self.bytes_of("out").decode("utf-8", "replace")
        elif "--output" in words or not out:
            if "--output" not in words:
                problems.append("answered with nothing")
            return problems
        rows = []
        try:
            if form == "csv":
                rows = check_csv(out, problems)
            elif form == "json":
                rows = json.loads(out, parse_constant=no_constant)["rows"]
        except ValueError as error:
            problems.append(f"{form} does not parse: {error}")
        if "--ledger" in words and rows and not problems:
            check_ledger(rows, form == "json", problems)
        return problems


def main():
    program, root, cases, seed = sys.argv[1], sys.argv[2], int(sys.argv[3]), int(sys.argv[4])
    with tempfile.TemporaryDirectory() as folder:
        made = Cases(program, root, folder)
        failed, codes = 0, {}
        for number in range(1, cases + 1):
            words, problems, *code = made.case(number, seed)
            codes[code[0] if code else "late"] = codes.get(code[0] if code else "late", 0) + 1
            if not problems:
                continue
            failed += 1
            print(f"FAILED case {number} of seed {seed}: {' '.join(words)}")
            for problem in problems[:3]:
                print(f"  {problem}")
            kept = os.environ.get("WILTLINE_KEEP_FAILED")
            if kept:
                shutil.copytree(folder, os.path.join(kept, f"case-{seed}-{number}"), dirs_exist_ok=True)
        shown = ", ".join(f"{count} x {code}" for code, count in sorted(codes.items(), key=str))
        print(f"{cases} tried (exit codes: {shown}), {failed} failed")
        if 0 not in codes or codes[0] < cases // 10:
            print("too few were answered for the checks of answers to mean anything")
            failed += 1
        sys.exit(1 if failed else 0)


main()

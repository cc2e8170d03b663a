// The one reader of CSV: what it takes, what it refuses, and where it says the trouble is.
#include <doctest/doctest.h>

#include <algorithm>
#include <bit>
#include <cmath>
#include <cstdint>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "support/near.hpp"
#include "support/random.hpp"
#include "support/refusal.hpp"
#include "wiltline/base/csv.hpp"
#include "wiltline/base/units.hpp"

namespace wiltline::test {
namespace {

using Cells = std::vector<std::string>;

CsvTable table(std::string bytes) {
  return CsvTable({"t.csv", std::move(bytes)});
}

std::string refused(std::string bytes) {
  return refusal([&] { (void)table(std::move(bytes)); });
}

Cells row(const CsvTable& table, std::size_t index) {
  Cells cells;
  for (std::size_t i = 0; i < table.header().size(); ++i) {
    cells.emplace_back(table.cell(index, i));
  }
  return cells;
}

Cells header(const CsvTable& table) {
  return {table.header().begin(), table.header().end()};
}

std::string repeated(const std::string& text, int times) {
  std::string result;
  for (int i = 0; i < times; ++i) result += text;
  return result;
}

}  // namespace

TEST_CASE("csv: a plain table") {
  const CsvTable t = table("date,tmin_c,tmax_c\n2024-05-01,8,21\n2024-05-02,9,22.5\n");
  CHECK(t.file() == "t.csv");
  CHECK(header(t) == Cells{"date", "tmin_c", "tmax_c"});
  REQUIRE(t.rows() == 2);
  CHECK(row(t, 0) == Cells{"2024-05-01", "8", "21"});
  CHECK(row(t, 1) == Cells{"2024-05-02", "9", "22.5"});
  CHECK(t.line(0) == 2);
  CHECK(t.line(1) == 3);
  CHECK(t.comments().empty());
  CHECK(t.column("tmax_c") == 2);
  CHECK_FALSE(t.column("tmax_f"));
  CHECK_FALSE(t.column("TMAX_C"));
}

TEST_CASE("csv: line ends LF and CRLF, a byte order mark, a last line without an end") {
  const Cells first{"1", "2"};
  const Cells second{"3", "4"};
  for (const char* bytes : {"a,b\n1,2\n3,4\n", "a,b\n1,2\n3,4", "a,b\r\n1,2\r\n3,4\r\n",
                            "a,b\r\n1,2\r\n3,4", "a,b\r\n1,2\n3,4\r\n",
                            "\xEF\xBB\xBF"
                            "a,b\n1,2\n3,4\n",
                            "\xEF\xBB\xBF"
                            "a,b\r\n1,2\r\n3,4"}) {
    CAPTURE(bytes);
    const CsvTable t = table(bytes);
    CHECK(header(t) == Cells{"a", "b"});
    REQUIRE(t.rows() == 2);
    CHECK(row(t, 0) == first);
    CHECK(row(t, 1) == second);
    CHECK(t.line(1) == 3);
  }
}

TEST_CASE("csv: comments and empty lines are skipped, and still counted") {
  const CsvTable t = table(
      "# latitude_deg = 44.2\n\n  #   two  \na,b\n#between, rows\n1,2\n \t \n\r\n3,4\n#\n# end");
  CHECK(header(t) == Cells{"a", "b"});
  REQUIRE(t.rows() == 2);
  CHECK(t.line(0) == 6);
  CHECK(t.line(1) == 9);
  REQUIRE(t.comments().size() == 5);
  CHECK(t.comments()[0].text == "latitude_deg = 44.2");
  CHECK(t.comments()[0].line == 1);
  CHECK(t.comments()[1].text == "two");
  CHECK(t.comments()[1].line == 3);
  CHECK(t.comments()[2].text == "between, rows");
  CHECK(t.comments()[3].text.empty());
  CHECK(t.comments()[4].text == "end");
  CHECK(t.comments()[4].line == 11);
}

TEST_CASE("csv: a quoted # is a cell, not a comment") {
  const CsvTable t = table("a,b\n\"#1\",2\n");
  REQUIRE(t.rows() == 1);
  CHECK(row(t, 0) == Cells{"#1", "2"});
}

TEST_CASE("csv: quotes keep commas, spaces and doubled quotes (RFC 4180, 2.5 to 2.7)") {
  const CsvTable t = table(
      "name,\"mix, by volume\"\n"
      "\"pot, big\",2\n"
      "\"say \"\"water\"\"\",\"\"\"\"\n"
      "  \" padded \"  ,\"\"\n");
  CHECK(header(t) == Cells{"name", "mix, by volume"});
  REQUIRE(t.rows() == 3);
  CHECK(row(t, 0) == Cells{"pot, big", "2"});
  CHECK(row(t, 1) == Cells{"say \"water\"", "\""});
  CHECK(row(t, 2) == Cells{" padded ", ""});
}

TEST_CASE("csv: blanks around cells are trimmed, a blank cell is empty") {
  const CsvTable t = table(" a ,\tb,c\n 1 , two words ,\n,,\n");
  CHECK(header(t) == Cells{"a", "b", "c"});
  REQUIRE(t.rows() == 2);
  CHECK(row(t, 0) == Cells{"1", "two words", ""});
  CHECK(row(t, 1) == Cells{"", "", ""});
}

TEST_CASE("csv: an unclosed quote") {
  CHECK(refused("a,b\n1,\"2\n3,4\n") ==
        "t.csv:2:3: found a quote that is not closed on its line; expected a closing quote");
  CHECK(refused("a,b\n\"1\",\"2\"\"\n") ==
        "t.csv:2:5: found a quote that is not closed on its line; expected a closing quote");
  CHECK(refused("a,b\n1,12\" pot\n") ==
        "t.csv:2:3: found a quote that is not closed on its line; expected a closing quote");
  // A quote does not reach over the end of a line, so the row below is not swallowed.
  CHECK(refused("a,b\n\"1\n2\",3\n") ==
        "t.csv:2:1: found a quote that is not closed on its line; expected a closing quote\n"
        "t.csv:3:1: found a quote that is not closed on its line; expected a closing quote");
}

TEST_CASE("csv: an unclosed quote in the header is one problem") {
  CHECK(refused("a,\"b\n1,1\n2,2\n") ==
        "t.csv:1:3: found a quote that is not closed on its line; expected a closing quote");
}

TEST_CASE("csv: text after a closing quote") {
  CHECK(refused("a,b\n1,\"2\"x\n") ==
        "t.csv:2:3: found text after a closing quote; expected a comma after a closing quote");
  CHECK(refused("a,b\n\"1\" x,2\n") ==
        "t.csv:2:1: found text after a closing quote; expected a comma after a closing quote");
  CHECK(refused("a,\"b\"x\n1,2\n") ==
        "t.csv:1:3: found text after a closing quote; expected a comma after a closing quote");
}

TEST_CASE("csv: text after a closing quote, though a quote ends the cell") {
  const std::string expected =
      "t.csv:2:1: found text after a closing quote; expected a comma after a closing quote";
  CHECK(refused("a,b\n\"1\"x\"3\",2\n") == expected);
  CHECK(refused("a,b\n\"1\" \"3\",2\n") == expected);
  CHECK(refused("a,b\n\"1\"x\"3,4\",2\n") == expected);
  CHECK(refused("a,b\n\"\"x\"\",2\n") == expected);
}

TEST_CASE("csv: a quote inside a cell does not hide a comma") {
  // RFC 4180, 2.5: quotes may not appear inside a cell that is not enclosed in quotes. Inch marks
  // do. Three cells under two names must not become two.
  CHECK(refused("a,b\n5\" pot, 6\" deep,x\n") != "nothing refused");
}

TEST_CASE("csv: a lone carriage return") {
  CHECK(refused("a,b\r1,2\r3,4\r") ==
        "t.csv:1:4: found a carriage return inside a line; expected lines that end in LF or CRLF");
  CHECK(refused("a,b\n1,2\r3,4\n") ==
        "t.csv:2:4: found a carriage return inside a line; expected lines that end in LF or CRLF");
  CHECK(refused("a,b\r\r\n1,2\r\r\n") ==
        "t.csv:1:4: found a carriage return inside a line; expected lines that end in LF or CRLF");
  CHECK(refused("# note\rmore\na,b\n1,2\n") ==
        "t.csv:1:7: found a carriage return inside a line; expected lines that end in LF or CRLF");
}

TEST_CASE("csv: bytes that are no UTF-8 text") {
  CHECK(refused(std::string("a,b\n1,\0\n", 8)) ==
        "t.csv:2:3: found a NUL byte; expected UTF-8 text");
  CHECK(refused(std::string("\xFF\xFE"
                            "a\0,\0b\0\n\0",
                            10)) == "t.csv:1:1: found UTF-16 text; expected UTF-8 text");
  CHECK(refused(std::string("\xFE\xFF\0a\0,\0b\0\n", 10)) ==
        "t.csv:1:1: found UTF-16 text; expected UTF-8 text");
  CHECK(refused(std::string("a\0,\0b\0\n\0", 8)) ==
        "t.csv:1:2: found a NUL byte; expected UTF-8 text");
}

TEST_CASE("csv: lines up to 1 MiB") {
  const std::string longest(std::size_t{1} << 20, 'x');
  const CsvTable t = table("a\n" + longest + "\n");
  REQUIRE(t.rows() == 1);
  CHECK(t.cell(0, 0).size() == longest.size());

  const std::string message = "found a line of more than 1 MiB; expected shorter lines";
  CHECK(refused("a\n" + longest + "x\n") == "t.csv:2: " + message);
  CHECK(refused("a\n1\n\n" + longest + "x") == "t.csv:4: " + message);
  CHECK(refused(longest + "x,b\n1,2\n") == "t.csv:1: " + message);
  CHECK(refused("#" + longest + "\na\n1\n") == "t.csv:1: " + message);
  CHECK(refused("a\n\"" + longest + "\"\n") == "t.csv:2: " + message);
}

TEST_CASE("csv: up to 1000 columns") {
  std::string names = "c0";
  std::string values = "0";
  for (int i = 1; i < 1000; ++i) {
    names += ",c" + std::to_string(i);
    values += "," + std::to_string(i);
  }
  const CsvTable t = table(names + "\n" + values + "\n");
  REQUIRE(t.header().size() == 1000);
  CHECK(t.cell(0, 999) == "999");
  CHECK(t.column("c999") == 999);

  CHECK(refused(names + ",c1000\n" + values + ",1000\n") ==
        "t.csv:1: found more than 1000 cells; expected fewer");
  CHECK(refused("a,b\n1,2\n" + std::string(5000, ',') + "\n") ==
        "t.csv:3: found more than 1000 cells; expected fewer");
}

TEST_CASE("csv: a file without header or rows") {
  const std::string none =
      "t.csv: found no header row; expected a header row and at least one row below it";
  CHECK(refused("") == none);
  CHECK(refused("\xEF\xBB\xBF") == none);
  CHECK(refused("\n\r\n  \n") == none);
  CHECK(refused("# only\n# comments\n") == none);
  const std::string only =
      "found a header row only; expected at least one row below the "
      "header";
  CHECK(refused("a,b\n") == "t.csv:1: " + only);
  CHECK(refused("# note\na,b") == "t.csv:2: " + only);
  CHECK(refused("a,b\n# 1,2\n\n") == "t.csv:1: " + only);
}

TEST_CASE("csv: column names must be there, and each once") {
  CHECK(refused("a,,c\n1,2,3\n") == "t.csv:1:3: found a column without a name; expected a name");
  CHECK(refused("a,b,\n1,2,3\n") == "t.csv:1:5: found a column without a name; expected a name");
  CHECK(refused("a,\"\"\n1,2\n") == "t.csv:1:4: found a column without a name; expected a name");
  CHECK(refused("a,b,a\n1,2,3\n") ==
        "t.csv:1:5: found column \"a\" a second time; expected every column once");
  CHECK(refused("# top\na, a ,,\"a\"\n1,2,3,4\n") ==
        "t.csv:2:4: found column \"a\" a second time; expected every column once\n"
        "t.csv:2:7: found a column without a name; expected a name\n"
        "t.csv:2:9: found column \"a\" a second time; expected every column once");
}

TEST_CASE("csv: rows too short or too long") {
  CHECK(refused("a,b,c\n1,2,3\n1,2\n1\n1,2,3,4\n\"x,y\",2,3,4,5\n1,2,\n") ==
        "t.csv:3:4: found 2 cells; expected 3, as in the header\n"
        "t.csv:4:2: found 1 cell; expected 3, as in the header\n"
        "t.csv:5:7: found 4 cells; expected 3, as in the header\n"
        "t.csv:6:11: found 5 cells; expected 3, as in the header");
  CHECK(refused("a\n1,\n") == "t.csv:2:3: found 2 cells; expected 1, as in the header");
  CHECK(refused("a,b\r\n1\r\n") == "t.csv:2:2: found 1 cell; expected 2, as in the header");
}

TEST_CASE("csv: the first twenty problems are shown, in file order") {
  const std::string text = refused("a,b\n" + repeated("1\n", 50));
  std::string expected;
  for (int line = 2; line <= 21; ++line) {
    if (!expected.empty()) expected += '\n';
    expected += "t.csv:" + std::to_string(line) + ":2: found 1 cell; expected 2, as in the header";
  }
  CHECK(text == expected);
}

TEST_CASE("csv: several kinds of problem in one file") {
  CHECK(refused("a,b\n1\n\"2,3\n4,\"5\"6\n7,8\n9,10,11\n") ==
        "t.csv:2:2: found 1 cell; expected 2, as in the header\n"
        "t.csv:3:1: found a quote that is not closed on its line; expected a closing quote\n"
        "t.csv:4:3: found text after a closing quote; expected a comma after a closing quote\n"
        "t.csv:6:6: found 3 cells; expected 2, as in the header");
}

TEST_CASE("csv: columns of messages count bytes from 1, at the first character of the cell") {
  const CsvTable t = table("\xEF\xBB\xBFname,b\nGrün,  x\n\"q\",\"y\"\n,\t\n");
  const auto place = [&](std::size_t r, std::size_t c) {
    return t.problem_at(r, c, "f", "e").text();
  };
  CHECK(place(0, 0) == "t.csv:2:1: found f; expected e");
  CHECK(place(0, 1) == "t.csv:2:9: found f; expected e");  // ü is two bytes
  CHECK(place(1, 0) == "t.csv:3:2: found f; expected e");  // inside the quotes
  CHECK(place(1, 1) == "t.csv:3:6: found f; expected e");
  CHECK(place(2, 0) == "t.csv:4:1: found f; expected e");
  CHECK(t.problem_in_header(0, "f", "e").text() == "t.csv:1:1: found f; expected e");
  CHECK(t.problem_in_header(1, "f", "e").text() == "t.csv:1:6: found f; expected e");
}

TEST_CASE("csv: a table that was moved still owns what its cells show") {
  // Short enough to live inside a std::string, which is where a move would leave them behind.
  CsvTable first = table("a,b\n1,\"2\"\n");
  const std::vector<std::string> before = row(first, 0);
  const char* const bytes = first.cell(0, 0).data();
  CsvTable second = std::move(first);
  CHECK(row(second, 0) == before);
  CHECK(second.cell(0, 0).data() == bytes);
  CHECK(second.file() == "t.csv");

  std::vector<CsvTable> tables;
  for (int i = 0; i < 20; ++i) tables.push_back(table("a\n" + std::to_string(i) + "\n"));
  for (int i = 0; i < 20; ++i) {
    CHECK(tables[static_cast<std::size_t>(i)].cell(0, 0) == std::to_string(i));
  }
  tables[0] = std::move(second);
  CHECK(row(tables[0], 0) == before);
  CHECK(tables[0].problem_at(0, 1, "f", "e").text() == "t.csv:2:4: found f; expected e");
}

TEST_CASE("csv: unknown columns are refused, with the nearest known one; notes is always allowed") {
  const CsvTable t = table("date,tmaxc,colour,notes\n1,2,3,4\n");
  ProblemList problems;
  t.refuse_unknown_columns(std::vector<std::string>{"date", "tmin_c", "tmax_c"}, problems);
  CHECK(refusal([&] { problems.throw_if_any(); }) ==
        "t.csv:1:6: found unknown column \"tmaxc\"; expected a known column; nearest: tmax_c\n"
        "t.csv:1:12: found unknown column \"colour\"; expected a known column");
}

namespace {

/// The one value of a column with one row, and what was wrong with it.
struct Reading {
  std::optional<double> value;
  std::string problems;
};

Reading read_one(const std::string& bytes, std::string_view stem, std::span<const UnitOption> units,
                 double low = -1e9, double high = 1e9) {
  const CsvTable t = table(bytes);
  ProblemList problems;
  const NumberColumn column(t, stem, units, Need::nothing, problems);
  const auto value = column.read(0, problems, {low, high, "something else"});
  return {value, refusal([&] { problems.throw_if_any(); })};
}

std::string cell_of(const std::string& name, const std::string& value) {
  return "x," + name + "\n," + value + "\n";
}

}  // namespace

TEST_CASE("number column: metric units pass unchanged, to the bit") {
  using Units = std::span<const UnitOption>;
  const std::vector<std::pair<std::string, Units>> columns{
      {"_c", unit_options::temperature}, {"_mm", unit_options::depth_mm},
      {"_cm", unit_options::length_cm},  {"_m", unit_options::length_m},
      {"_l", unit_options::volume},      {"_kg", unit_options::mass},
      {"_m_s", unit_options::wind},      {"", unit_options::none}};
  for (const auto& column : columns) {
    const std::string name = "v" + column.first;
    CAPTURE(name);
    CHECK(read_one(cell_of(name, "0.1"), "v", column.second).value == 0.1);
    CHECK(read_one(cell_of(name, "-17.3"), "v", column.second).value == -17.3);
  }
}

TEST_CASE("number column: conversions by the exact definitions (NIST SP 811, appendix B)") {
  const auto read = [](const std::string& name, const std::string& value,
                       std::span<const UnitOption> units) {
    const Reading reading = read_one(cell_of(name, value), "v", units);
    CHECK(reading.problems == "nothing refused");
    REQUIRE(reading.value);
    return *reading.value;
  };
  CHECK(read("v_in", "1", unit_options::depth_mm) == 25.4);
  CHECK(read("v_in", "0.5", unit_options::depth_mm) == 12.7);
  CHECK(read("v_in", "1", unit_options::length_cm) == 2.54);
  CHECK(read("v_in", "10", unit_options::length_cm) == 25.4);
  CHECK(read("v_ft", "1", unit_options::length_m) == 0.3048);
  CHECK(read("v_gal", "1", unit_options::volume) == 3.785411784);
  CHECK(read("v_gal", "1000", unit_options::volume) == 3785.411784);
  CHECK(read("v_lb", "1", unit_options::mass) == 0.45359237);
  CHECK(read("v_mph", "1", unit_options::wind) == 0.44704);
  CHECK(read("v_mph", "100", unit_options::wind) == 44.704);
  CHECK(near(read("v_km_h", "36", unit_options::wind), 10.0, 1e-14));
  CHECK(near(read("v_km_h", "1", unit_options::wind), 1.0 / 3.6, 1e-16));

  // Fahrenheit: every whole degree Celsius comes out exactly, everything else to the last bit or
  // so.
  for (int celsius = -60; celsius <= 60; celsius += 5) {
    CAPTURE(celsius);
    CHECK(read("v_f", std::to_string(celsius / 5 * 9 + 32), unit_options::temperature) == celsius);
  }
  for (int tenths = -760; tenths <= 1400; ++tenths) {
    const double fahrenheit = tenths / 10.0;
    CAPTURE(fahrenheit);
    const double expected = (tenths - 320) / 18.0;
    REQUIRE(near(read("v_f", std::to_string(tenths) + "e-1", unit_options::temperature), expected,
                 3e-14));
  }
  CHECK(units::celsius_from_fahrenheit(212.0) == 100.0);
  CHECK(units::celsius_from_fahrenheit(-40.0) == -40.0);
  CHECK(units::fahrenheit_from_celsius(100.0) == 212.0);
}

TEST_CASE("number column: blank is unknown, and never a problem") {
  for (const char* value : {"", "  ", "\"\""}) {
    const Reading reading = read_one(cell_of("rain_mm", value), "rain", unit_options::depth_mm);
    CHECK_FALSE(reading.value);
    CHECK(reading.problems == "nothing refused");
  }
  const Reading zero = read_one(cell_of("rain_mm", "0"), "rain", unit_options::depth_mm);
  CHECK(zero.value == 0.0);
}

TEST_CASE("number column: what is not a number is a problem, and counts as blank") {
  const auto read = [](const std::string& value) {
    return read_one(cell_of("rain_mm", value), "rain", unit_options::depth_mm);
  };
  CHECK(read("trace").problems ==
        "t.csv:2:2: found \"trace\" in rain_mm; expected a number, or nothing if unknown");
  CHECK_FALSE(read("trace").value);
  for (const char* value : {"-", ".", "1e", "28C", "nan", "inf", "0x1A", "+5", "1e999", "\"1,5\"",
                            "\" 5\"", "T", "M", "--"}) {
    CAPTURE(value);
    CHECK_FALSE(read(value).value);
    CHECK(read(value).problems.find("in rain_mm; expected a number, or nothing if unknown") !=
          std::string::npos);
  }
}

TEST_CASE("number column: out of range is a problem, and counts as blank") {
  const auto read = [](const std::string& value) {
    return read_one(cell_of("tmax_f", value), "tmax", unit_options::temperature, -60.0, 60.0);
  };
  // The range is in our unit, the message shows what was written.
  CHECK(read("140").value == 60.0);
  CHECK(read("-76").value == -60.0);
  CHECK(read("141").problems ==
        "t.csv:2:2: found 141 in tmax_f; expected something else (-76 to 140 as tmax_f)");
  CHECK_FALSE(read("141").value);
  CHECK(read("-77").problems ==
        "t.csv:2:2: found -77 in tmax_f; expected something else (-76 to 140 as tmax_f)");
  CHECK_FALSE(read("-77").value);
}

TEST_CASE("number column: one unit of a quantity, and one only") {
  const CsvTable t = table("date,tmax_f,tmax_c\nx,70,21\n");
  ProblemList problems;
  const NumberColumn column(t, "tmax", unit_options::temperature, Need::column, problems);
  CHECK(refusal([&] { problems.throw_if_any(); }) ==
        "t.csv:1:6: found both tmax_c and tmax_f; expected one of them");

  const CsvTable winds = table("wind_mph,wind_km_h,wind_m_s\n1,2,3\n");
  ProblemList wind_problems;
  const NumberColumn wind(winds, "wind", unit_options::wind, Need::nothing, wind_problems);
  CHECK(refusal([&] { wind_problems.throw_if_any(); }) ==
        "t.csv:1:10: found both wind_m_s and wind_km_h; expected one of them");
}

TEST_CASE("number column: missing, if required, is a problem; if not, every cell is blank") {
  const CsvTable t = table("# note\ndate,b\nx,70\n");
  ProblemList problems;
  const NumberColumn required(t, "tmax", unit_options::temperature, Need::column, problems);
  CHECK_FALSE(required.present());
  CHECK(refusal([&] { problems.throw_if_any(); }) ==
        "t.csv:2:1: found no column tmax_c or tmax_f; expected that column");

  ProblemList none;
  const NumberColumn optional(t, "tmax", unit_options::temperature, Need::nothing, none);
  CHECK_FALSE(optional.present());
  CHECK_FALSE(optional.read(0, none, {0.0, 1.0, "x"}));
  CHECK(none.empty());

  const NumberColumn present(t, "b", unit_options::none, Need::column, none);
  REQUIRE(present.present());
  CHECK(present.name() == "b");
  CHECK(present.column() == 1);
  CHECK(present.read(0, none, {0.0, 100.0, "x"}) == 70.0);
}

TEST_CASE("number column: every name under which it may stand") {
  std::vector<std::string> names{"date"};
  add_names(names, "wind", unit_options::wind);
  add_names(names, "mulch", unit_options::none);
  CHECK(names == std::vector<std::string>{"date", "wind_m_s", "wind_km_h", "wind_mph", "mulch"});
}

TEST_CASE("csv: a header separated by tabs gets one clear line") {
  CHECK(refused("a\tb\n1\t2\n") ==
        "t.csv:1:1: found a header separated by tabs; expected commas or semicolons between the "
        "columns");
}

TEST_CASE("csv: semicolons, as a spreadsheet saves that writes a comma in numbers") {
  const CsvTable t = table(
      "\xEF\xBB\xBF\"# height = 2, say\";;\r\n# more;;\r\n\"name\";\"a_cm\";b\r\n"
      "\"pot, \"\"big\"\"\";1,5;2.5\r\n;;\r\nx;\"0,25\";\r\ny;1.000,5;1,000,5\r\n");
  CHECK(t.semicolons());
  REQUIRE(t.comments().size() == 2);
  CHECK(t.comments()[0].text == "height = 2, say");
  CHECK(t.comments()[1].text == "more");
  CHECK(header(t) == Cells{"name", "a_cm", "b"});
  REQUIRE(t.rows() == 3);
  CHECK(row(t, 0) == Cells{"pot, \"big\"", "1,5", "2.5"});
  CHECK(t.line(1) == 6);
  ProblemList problems;
  const NumberColumn a(t, "a", unit_options::length_cm, Need::column, problems);
  const NumberColumn b(t, "b", unit_options::none, Need::column, problems);
  CHECK(a.read(0, problems, {0.0, 9.0, "x"}) == 1.5);
  CHECK(b.read(0, problems, {0.0, 9.0, "x"}) == 2.5);
  CHECK(a.read(1, problems, {0.0, 9.0, "x"}) == 0.25);
  CHECK_FALSE(b.read(1, problems, {0.0, 9.0, "x"}).has_value());
  CHECK(problems.empty());
  // What could be a thousand is no number.
  CHECK_FALSE(a.read(2, problems, {0.0, 9.0, "x"}).has_value());
  CHECK_FALSE(b.read(2, problems, {0.0, 9.0, "x"}).has_value());
  CHECK(refusal([&] { problems.throw_if_any(); }) ==
        "t.csv:7:3: found \"1.000,5\" in a_cm; expected a number, or nothing if unknown\n"
        "t.csv:7:11: found \"1,000,5\" in b; expected a number, or nothing if unknown");
}

TEST_CASE("csv: a comma between cells is none in numbers") {
  const CsvTable t = table("a;c,b\n\"1,5\",2\n");
  CHECK_FALSE(t.semicolons());
  CHECK(header(t) == Cells{"a;c", "b"});
  const CsvTable quoted = table("a,b\n\"1,5\",2\n,\n");
  CHECK(quoted.rows() == 2);  // blank cells may be meant
  ProblemList problems;
  const NumberColumn a(quoted, "a", unit_options::none, Need::value, problems);
  CHECK_FALSE(a.read(0, problems, {0.0, 9.0, "x"}).has_value());
  CHECK_FALSE(problems.empty());
}

namespace {

/// A file of random lines and, by the rules alone, what a table must make of it.
struct RandomFile {
  std::string bytes;
  std::vector<Cells> rows;
  std::vector<std::size_t> lines;        // of the rows
  std::vector<std::size_t> wrong_lines;  // that have too few or too many cells
};

std::string without_blanks(const std::string& text) {
  const std::size_t begin = text.find_first_not_of(" \t");
  if (begin == std::string::npos) return "";
  return text.substr(begin, text.find_last_not_of(" \t") - begin + 1);
}

RandomFile random_file(Random& random) {
  RandomFile file;
  const std::size_t columns = 1 + random.below(9);
  const char separator = columns > 1 && random.chance(0.5) ? ';' : ',';
  const bool faults = random.chance(0.2);
  const bool quotes = random.chance(0.3);
  const double long_cells = random.chance(0.2) ? 0.2 : 0.0;
  const std::string_view letters = "0123456789.-x \t#:\xC3\xA4";
  for (std::size_t i = 0; i < columns; ++i) {
    file.bytes += (i > 0 ? std::string(1, separator) : "") + 'c' + std::to_string(i);
  }
  file.bytes += '\n';
  const std::size_t lines = 1 + random.below(30);
  for (std::size_t line = 2; line < 2 + lines; ++line) {
    const bool last = line == 1 + lines;
    std::string text;
    Cells cells;
    const std::size_t count = faults && random.chance(0.3) ? 1 + random.below(11) : columns;
    for (std::size_t i = 0; i < count; ++i) {
      std::string cell;
      const std::size_t size = random.chance(long_cells) ? random.below(200) : random.below(12);
      for (std::size_t k = 0; k < size; ++k) cell += letters[random.below(letters.size())];
      if (i == 0 && last) cell = "a row";  // there must be one
      if (i > 0) text += separator;
      if (quotes && random.chance(0.2)) {
        cells.push_back(cell + separator);
        text += " \"" + cells.back() + "\"\t";
      } else {
        cells.push_back(without_blanks(cell));
        text += cell;
      }
    }
    if (random.chance(0.1) && !last) text = random.chance(0.5) ? "# a comment, with; all" : " \t";
    const std::string content = without_blanks(text);
    const bool filled_up = separator == ';' && content.find_first_not_of(",;") == std::string::npos;
    if (!content.empty() && !filled_up && content.front() != '#') {
      if (count == columns) {
        file.rows.push_back(cells);
        file.lines.push_back(line);
      } else {
        file.wrong_lines.push_back(line);
      }
    }
    file.bytes += text + (random.chance(0.3) ? "\r" : "") + '\n';
  }
  if (random.chance(0.3)) file.bytes.resize(file.bytes.find_last_not_of("\r\n") + 1);
  return file;
}

}  // namespace

TEST_CASE("csv: lines of any text are split by the rules, whichever way is taken") {
  Random random(1234);
  int whole = 0;
  for (int i = 0; i < 4000; ++i) {
    const RandomFile file = random_file(random);
    CAPTURE(file.bytes);
    if (file.wrong_lines.empty()) {
      const CsvTable t = table(file.bytes);
      REQUIRE(t.rows() == file.rows.size());
      for (std::size_t k = 0; k < t.rows(); ++k) {
        REQUIRE(row(t, k) == file.rows[k]);
        REQUIRE(t.line(k) == file.lines[k]);
      }
      ++whole;
      continue;
    }
    const std::string message = refused(file.bytes);
    std::size_t at = 0;
    for (std::size_t k = 0; k < std::min<std::size_t>(file.wrong_lines.size(), 20); ++k) {
      REQUIRE(message.compare(at, 6, "t.csv:") == 0);
      REQUIRE(std::stoul(message.substr(at + 6)) == file.wrong_lines[k]);
      at = message.find('\n', at) + 1;
    }
  }
  CHECK(whole > 2000);
}

TEST_CASE("csv: columns read together say and give what each gives alone") {
  Random random(99);
  const std::vector<std::string> cells{"",     "0",   "-0",  "12.5", "-40",       "40.01",
                                       "1e1",  "x",   "1,5", "-",    "12.345678", ".5",
                                       "-.5",  "5.",  "+3",  "0.1",  "9999.9",    "-0.00001",
                                       "0x1A", "nan", "inf", "1 2",  "-5.",       "00012.5"};
  for (int i = 0; i < 2000; ++i) {
    const char separator = random.chance(0.5) ? ';' : ',';
    std::string bytes = std::string("note") + separator + "a_c" + separator + "b_f\n";
    for (int k = 0; k < 4; ++k) {
      bytes += std::string("n") + separator;
      for (const char end : {separator, '\n'}) {
        const std::string& cell = cells[random.below(cells.size())];
        bytes += (separator == ',' && cell == "1,5" ? "\"1,5\"" : cell) + end;
      }
    }
    CAPTURE(bytes);
    const CsvTable t = table(bytes);
    ProblemList alone;
    ProblemList together;
    const NumberColumn a(t, "a", unit_options::temperature, Need::value, alone);
    const NumberColumn b(t, "b", unit_options::temperature, Need::nothing, alone);
    NumberColumns both(t);
    both.add(a, {-40.0, 40.0, "-40 to 40"});
    both.add(b, {-40.0, 40.0, "-40 to 40"});
    for (std::size_t k = 0; k < t.rows(); ++k) {
      const std::span<const double> numbers = both.read(k, together);
      REQUIRE(numbers.size() == 2);
      const auto same = [](double number, const std::optional<double>& expected) {
        return expected
                   ? std::bit_cast<std::uint64_t>(number) == std::bit_cast<std::uint64_t>(*expected)
                   : std::isnan(number);
      };
      REQUIRE(same(numbers[0], a.read(k, alone, {-40.0, 40.0, "-40 to 40"})));
      REQUIRE(same(numbers[1], b.read(k, alone, {-40.0, 40.0, "-40 to 40"})));
    }
    REQUIRE(refusal([&] { together.throw_if_any(); }) == refusal([&] { alone.throw_if_any(); }));
  }
}

TEST_CASE("csv: cells are quoted only where they must be") {
  CHECK(csv_text("by the door") == "by the door");
  CHECK(csv_text("by, the door") == "\"by, the door\"");
  CHECK(csv_text("by, the door", ';') == "by, the door");
  CHECK(csv_text("by; the door", ';') == "\"by; the door\"");
  CHECK(csv_text("#1") == "\"#1\"");
  CHECK(csv_text(" a") == "\" a\"");
}

}  // namespace wiltline::test

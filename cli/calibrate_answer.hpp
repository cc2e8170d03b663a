// The answer of calibrate: its columns and its words.
#pragma once

#include <string>
#include <vector>

#include "report.hpp"
#include "wiltline/questions/calibrate.hpp"

namespace wiltline::cli {

/// A row of the answer: one number of one planting.
struct CalibrationRow {
  const PotCalibration* pot = nullptr;
  const Estimate* estimate = nullptr;
};
[[nodiscard]] std::vector<CalibrationRow> calibration_rows(const CalibrationResult& result);

[[nodiscard]] Table<CalibrationRow> calibration_table();

/// For people: what each pot turned out to do, the numbers, what does not fit, and what to measure
/// next.
[[nodiscard]] std::string calibration_text(const CalibrationResult& result, const Report& report,
                                           bool us);

/// Heading, sentence and pictures of a page: weights beside the account, and what was learned.
void add_calibration_pictures(const CalibrationResult& result, bool us, Report& report);

/// What is to be said of pots of which little is known, and of readings that do not fit.
void add_calibration_notes(const CalibrationResult& result, Report& report);

}  // namespace wiltline::cli

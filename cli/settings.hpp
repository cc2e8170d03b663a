// What a settings file says beside what is typed.
#pragma once

#include <string>

#include "command.hpp"

namespace wiltline::cli {

inline constexpr const char* settings_name = "wiltline.ini";

/// Adds to the options typed those of wiltline.ini in the garden's folder, or in the working
/// directory where no garden is typed: each that the command has, that was not typed and that goes
/// with what was (a site with its weather, a garden where no single pot is asked about). Paths are
/// seen from the file's folder. Nothing with --no-settings or without such a file. Throws
/// InputError for a word that is no setting, one without a value, or one that stands twice.
[[nodiscard]] SettingsUse take_settings(const po::options_description& options,
                                        po::variables_map& values);

}  // namespace wiltline::cli

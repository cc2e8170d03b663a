// wiltline capacity: what a pot of a mix holds, and what to buy to fill it.

#include "wiltline/questions/capacity.hpp"

#include <fmt/format.h>

#include "command.hpp"
#include "delivery.hpp"
#include "described.hpp"
#include "garden_options.hpp"
#include "name_lists.hpp"
#include "page/page.hpp"
#include "planting_options.hpp"
#include "refuse.hpp"
#include "shopping_answer.hpp"
#include "wiltline/base/units.hpp"
#include "wiltline/garden/pot_names.hpp"
#include "wiltline/tables/capacity_columns.hpp"
#include "words.hpp"

namespace wiltline::cli {
namespace {

/// When half of the available water has gone: common advice for pots (University of Illinois
/// Extension), and FAO-56's value for many crops.
constexpr double usual_depletion_fraction = 0.5;
constexpr double largest_cm = 1000.0;

/// A length given as --NAME-cm or --NAME-in.
std::optional<double> length_option_cm(const Arguments& arguments, const std::string& name,
                                       double low_cm) {
  const std::string metric = name + "-cm";
  const std::string us = name + "-in";
  const auto cm = arguments.number(metric.c_str(), low_cm, largest_cm);
  const auto inches =
      arguments.number(us.c_str(), low_cm / units::cm_per_inch, largest_cm / units::cm_per_inch);
  if (cm && inches) {
    refuse("found both --{} and --{}; expected one of them", metric, us);
  }
  return inches ? std::optional(*inches * units::cm_per_inch) : cm;
}

Pot shape_from_options(const Arguments& arguments) {
  constexpr double smallest_cm = 0.5;
  const auto get = [&](const char* name) { return length_option_cm(arguments, name, smallest_cm); };
  const auto top_d = get("top-diameter");
  const auto bottom_d = get("bottom-diameter");
  const auto top_l = get("top-length");
  const auto top_w = get("top-width");
  const auto bottom_l = get("bottom-length");
  const auto bottom_w = get("bottom-width");
  const auto height = get("height");
  const bool round = top_d && bottom_d && height && !top_l && !top_w && !bottom_l && !bottom_w;
  const bool box = top_l && top_w && bottom_l && bottom_w && height && !top_d && !bottom_d;
  if (!round && !box) {
    refuse(
        "no complete shape; expected --pot NAME, or the height and both diameters, or lengths and "
        "widths");
  }
  PotShape shape = round ? PotShape::round(*top_d, *bottom_d, *height)
                         : PotShape::rectangular(*top_l, *top_w, *bottom_l, *bottom_w, *height);
  const std::string name =
      round ? fmt::format("round {:.3g}/{:.3g} x {:.3g} cm", *top_d, *bottom_d, *height)
            : fmt::format("box {:.3g}x{:.3g}/{:.3g}x{:.3g} x {:.3g} cm", *top_l, *top_w, *bottom_l,
                          *bottom_w, *height);
  return {.name = name, .kind = "given", .shape = shape, .wall = {}};
}

bool any_dimension(const Arguments& arguments) {
  for (const char* name : {"top-diameter", "bottom-diameter", "top-length", "top-width",
                           "bottom-length", "bottom-width", "height"}) {
    if (arguments.flag((std::string(name) + "-cm").c_str()) ||
        arguments.flag((std::string(name) + "-in").c_str())) {
      return true;
    }
  }
  return false;
}

Pot choose_pot(const Arguments& arguments, const Catalogue& catalogue) {
  const auto name = arguments.text("pot");
  if (name && any_dimension(arguments)) {
    refuse("found both --pot and a dimension; expected one of them");
  }
  Pot pot = [&] {
    if (!name) return shape_from_options(arguments);
    return accepted("pot", known_pot(*name, catalogue));
  }();
  if (const auto headspace = length_option_cm(arguments, "headspace", 0.0))
    pot.headspace_cm = *headspace;
  if (const auto standing = length_option_cm(arguments, "standing-water", 0.0))
    pot.drain_level_cm = *standing;
  if (pot.mix_depth_cm() <= 0.0 || pot.drain_level_cm >= pot.mix_depth_cm()) {
    refuse(
        "found {:.4g} cm height, {:.4g} cm headspace, {:.4g} cm standing water; expected room for "
        "mix",
        pot.shape.height_cm(), pot.headspace_cm, pot.drain_level_cm);
  }
  return pot;
}

double depletion_fraction(const Arguments& arguments, const Catalogue& catalogue) {
  const auto name = arguments.text("crop");
  if (!name) return usual_depletion_fraction;
  return known("crop", "crop", *name, catalogue.crops).depletion_fraction.value;
}

Table<CapacityResult> capacity_table() {
  Table<CapacityResult> table;
  table.add(tables::capacity_columns);
  return table;
}

/// A shape given by its dimensions, in the units of the reader.
std::string shape_text(const PotShape& shape, bool us) {
  const auto length = [us](double cm) {
    return fmt::format("{:.3g}", in_units(Quantity::length_cm, cm, us));
  };
  const std::string_view unit = unit_text(Quantity::length_cm, us);
  if (shape.is_round()) {
    return fmt::format("round pot, {} {} across at the rim, {} at the floor, {} high",
                       length(shape.top_length_cm()), unit, length(shape.bottom_length_cm()),
                       length(shape.height_cm()));
  }
  return fmt::format("box, {} by {} {} at the rim, {} by {} at the floor, {} high",
                     length(shape.top_length_cm()), length(shape.top_width_cm()), unit,
                     length(shape.bottom_length_cm()), length(shape.bottom_width_cm()),
                     length(shape.height_cm()));
}

/// `shape`: in words, where the pot has no name.
std::string table_text(const CapacityResult& result, const std::string& shape,
                       const std::vector<std::string>& notes, bool us) {
  const HeldWater& water = result.water;
  const auto volume_beside = [us](double value, double high) {
    return in_units(Quantity::litres, high, us) < 0.995
               ? volume_text_beside(value, high, us)
               : fmt::format("{:.1f} {}", in_units(Quantity::litres, value, us),
                             unit_text(Quantity::litres, us));
  };
  const auto volume = [&](double value) { return volume_beside(value, value); };
  const auto cm = [us](double value) {
    return fmt::format("{:.1f} {}", in_units(Quantity::length_cm, value, us),
                       unit_text(Quantity::length_cm, us));
  };
  std::string out =
      fmt::format("{} filled with {}\n\n", shape.empty() ? printable(result.pot) : shape,
                  printable(result.mix));
  const auto line = [&](std::string_view what, const std::string& value, std::string_view remark) {
    out += fmt::format("  {:<34} {:>9}   {}", what, value, remark);
    out.erase(out.find_last_not_of(' ') + 1);
    out += '\n';
  };
  line("mix", volume(water.mix_l), fmt::format("{} deep", cm(result.height_cm)));
  line("water after a good watering", volume(water.refilled_l), "once it has drained");
  line("of it plants can use", volume(water.available_l()),
       fmt::format("{} to {}, as such materials differ",
                   volume_beside(result.available_l.low, result.available_l.high),
                   volume(result.available_l.high)));
  line("of it before growth slows", volume(result.readily_available_l),
       fmt::format("{:.0f} % of that: water again before it is gone",
                   100.0 * result.readily_available_fraction));
  line("air when just drained", fmt::format("{:.0f} %", 100.0 * water.capacity.air_m3_m3),
       fmt::format("beside {:.0f} % of water (container capacity)",
                   100.0 * water.capacity.capacity_m3_m3));
  line("wet layer at the bottom", cm(result.wet_layer_cm),
       "under a tenth of it is air: few roots there");
  out += "\nTo fill it once, measured loose before mixing:\n";
  for (const ComponentLitres& part : result.buy) {
    out += fmt::format("  {:<34} {:>9}\n", printable(part.component), volume(part.litres));
  }
  out +=
      "Firm potting takes 15 to 20 % more. Starter feed is measured by volume of mix: follow its "
      "label.\n"
      "Dry peat and perlite are dusty: damp them first, wear a mask, wash your hands after.\n";
  out += wrapped(heavy_pots_text(us), 78, 2) + '\n';
  for (const std::string& caution : result.cautions) {
    out += wrapped("Caution: " + caution + ".", 78, 2) + '\n';
  }
  for (const std::string& note : notes) out += wrapped(printable(note), 78, 2) + '\n';
  return out;
}

void run_capacity(const Arguments& arguments) {
  if (arguments.flag("garden")) {
    for (const char* other : {"pot", "mix", "crop"}) refuse_together(arguments, "garden", other);
    if (any_dimension(arguments)) {
      refuse("found both --garden and a dimension; expected one of them");
    }
    return answer_shopping(arguments);
  }
  if (arguments.flag("bag")) {
    refuse("found --bag for one pot; expected it with --garden FILE");
  }
  const Presentation how = presentation(arguments);
  Output output = open_output(arguments);
  Report report("capacity", inputs_of(arguments));
  const Catalogue catalogue = load_catalogue(arguments, report.notes);
  const Pot pot = choose_pot(arguments, catalogue);
  const auto mix_text = arguments.text("mix");
  if (!mix_text) refuse("no mix; expected --mix NAME or --mix \"peat 60 perlite 40\"");
  const RangedOf<Mix> mixes{accepted("mix", catalogue.mix(*mix_text)),
                            *catalogue.mix(*mix_text, CurveChoice::low),
                            *catalogue.mix(*mix_text, CurveChoice::high)};

  const CapacityResult result =
      pot_capacity(pot, mixes, depletion_fraction(arguments, catalogue), catalogue.parameters);
  const std::vector<std::string> table_notes = report.notes;
  report.fill(capacity_table(), {result});
  report.extra.emplace_back("buy_l", std::vector<std::pair<std::string, double>>{});
  for (const ComponentLitres& part : result.buy) {
    report.extra.back().second.emplace_back(part.component, part.litres);
  }
  report.extra.push_back({"wet_layer", {{"height_cm", result.wet_layer_cm}}});
  for (const std::string& caution : result.cautions) report.notes.push_back("caution: " + caution);
  report.caution =
      "These are estimates: mixes of one name differ, so weigh a pot dry and drained to know.";
  if (how.page) {
    report.title = "What the pot holds";
    report.answer =
        fmt::format("{} filled with {}: about {} of water for the plant.", printable(result.pot),
                    printable(result.mix), volume_text(result.water.available_l(), how.us_units));
    add_amounts(report, {"Mix and water", "What a pot holds, by kind."}, Quantity::litres,
                how.us_units);
  }
  const std::string shape = arguments.text("pot") ? "" : shape_text(pot.shape, how.us_units);
  deliver(report, how, output,
          [&] { return table_text(result, shape, table_notes, how.us_units); });
}

}  // namespace

Command capacity_command() {
  return described("capacity", run_capacity, sections_of(capacity_table(), shopping_table()));
}

}  // namespace wiltline::cli

#include "heatwave_answer.hpp"

#include <fmt/format.h>

#include <cmath>

#include "wiltline/base/numbers.hpp"
#include "wiltline/tables/heatwave_columns.hpp"
#include "words.hpp"

namespace wiltline::cli {
namespace {

std::string spell_text(const HeatwaveAnswer& answer, const SpellRequest& request, double warmer_c,
                       bool us) {
  const HotSpell& spell = answer.spell;
  const std::string_view degree = unit_text(Quantity::temperature_c, us);
  const auto temperature = [us](double value) {
    return in_units(Quantity::temperature_c, value, us);
  };
  std::string what;
  if (request.first_day) {
    what = days_in_words(spell.days);
  } else if (request.at_least_c) {
    what = fmt::format("The longest run of days at {:.1f} {} or above, {}",
                       temperature(*request.at_least_c), degree, days_in_words(spell.days));
  } else {
    what = fmt::format("The hottest {} by {}", days_in_words(spell.days),
                       request.by == Heat::tmax ? "temperature" : "thirst of the air (ET0)");
  }
  const std::string told = fmt::format(
      "{}: {} to {}, on average {:.1f} {} at the warmest hour and {:.{}f} {} of reference "
      "evapotranspiration (ET0) a day{}",
      what, full_date_in_words(spell.first), full_date_in_words(spell.last()),
      temperature(spell.mean_tmax_c), degree,
      in_units(Quantity::water_depth_mm, spell.mean_et0_mm, us), us ? 2 : 1,
      unit_text(Quantity::water_depth_mm, us),
      warmer_c > 0.0
          ? fmt::format(", {} {} warmer than measured", degrees_warmer(warmer_c, us), degree)
          : "");
  return paragraph(told + ".");
}

std::string visits_text(const VisitedSpell& visited) {
  if (!visited.enough()) return "no";
  return visited.stressed_days > 0 ? "with stress" : "yes";
}

std::string answer_text(const HeatwaveAnswer& answer, const SpellRequest& request,
                        const Differences& differ, double warmer_c, bool us) {
  std::string out = spell_text(answer, request, warmer_c, us) + '\n';
  using enum Side;
  using H = const HeatwavePot&;
  out += text_table(
      shown_choice_columns<HeatwavePot>(
          differ,
          {{"thirstiest\nday", right, [us](H pot) { return use_text(pot.peak_use_l_day, us); }},
           {"waterings\na day to\navoid stress", right,
            [](H pot) { return fmt::format("{:.1f}", pot.waterings_per_day); }},
           {"watered at\n07:00, wants\nwater by", left,
            [](H pot) {
              return std::string(pot.refill_at_h ? part_of_day(*pot.refill_at_h) : "next day");
            }},
           {"is 07:00\nenough", left, [](H pot) { return visits_text(pot.once_a_day); }},
           {"are 07:00\nand 19:00", left, [](H pot) { return visits_text(pot.twice_a_day); }}}),
      answer.result.pots);
  out += '\n';

  const auto tell = [&](std::string_view what, const auto& belongs) {
    const std::vector<std::string> names = names_where(
        answer.result.pots, belongs, [&](H pot) { return choice_text(*pot.planting, differ); });
    const bool all = names.size() > 1 && names.size() == answer.result.pots.size();
    out += paragraph_of(what, all ? std::vector<std::string>{"all of them"} : names);
  };
  const auto tell_enough = [&](const std::string& what, const auto& visits) {
    for (const bool stressed : {false, true}) {
      tell(what + (stressed ? ", but growth slows" : ""), [&](const HeatwavePot& pot) {
        const VisitedSpell* const spell = visits(pot);
        return spell != nullptr && (spell->stressed_days > 0) == stressed;
      });
    }
  };
  tell_enough("Once a day is enough", [](const HeatwavePot& pot) {
    return pot.once_a_day.enough() ? &pot.once_a_day : nullptr;
  });
  tell_enough("Twice a day is needed, and enough", [](const HeatwavePot& pot) {
    return !pot.once_a_day.enough() && pot.twice_a_day.enough() ? &pot.twice_a_day : nullptr;
  });
  tell("Twice a day is not enough", [](const auto& pot) { return !pot.twice_a_day.enough(); });
  return out;
}

}  // namespace

std::string degrees_warmer(double warmer_c, bool us) {
  return shortest(std::round(10.0 * (us ? warmer_c * 1.8 : warmer_c)) / 10.0);
}

Table<HeatwaveRow> heatwave_table(bool weather, bool spreads) {
  namespace of_planting = tables::of_planting;
  Table<HeatwaveRow> table;
  table.add({{"name", "planting, or crop", [](auto& row) { return row.planting().name; }}});
  table.add({of_planting::pot}, &HeatwaveRow::planting);
  table.add(tables::spell_columns, &HeatwaveRow::spell);
  table.add(tables::heatwave_columns, &HeatwaveRow::pot);
  table.section("Appended, with weather where several are given");
  table.add({of_planting::crop, of_planting::plants, of_planting::mix, of_planting::wall,
             of_planting::spot},
            &HeatwaveRow::planting);
  table.add(tables::heatwave_more_columns, &HeatwaveRow::pot);
  if (weather) {
    table.add(tables::weather_columns, [](const HeatwaveRow& row) { return row.answer->record; });
  }
  table.section("Appended by --uncertain");
  if (spreads) table.add(tables::heatwave_spread_columns, &HeatwaveRow::spread);
  return table;
}

std::string heatwave_text(const std::vector<HeatwaveAnswer>& answers, const SpellRequest& request,
                          const std::string& common, const Differences& differ, double warmer_c,
                          const Report& report, bool us) {
  std::string out;
  if (!common.empty()) out += common + '\n';
  for (const HeatwaveAnswer& answer : answers) {
    if (answers.size() > 1) {
      out += fmt::format("{}{}\n", out.empty() ? "" : "\n", printable(answer.record->name()));
    }
    out += answer_text(answer, request, differ, warmer_c, us);
  }
  out += '\n';
  out += paragraph(
      "No rain is taken to fall; each pot is full as the hot days begin and watered until it "
      "drains. Enough: leaves do not wilt (droop by day). With stress: they do not, but growth "
      "slows. To avoid stress the pot is watered the moment the plant starts to run short.");
  out += paragraph(
      "Amounts are for one pot. The weather is that of a grass field; beside a wall or on paving "
      "it can be well above it.");
  out += paragraph(two_figures_text());
  return out + notes_text(report);
}

}  // namespace wiltline::cli

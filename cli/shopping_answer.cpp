#include "shopping_answer.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <iterator>

#include "delivery.hpp"
#include "garden_options.hpp"
#include "in_order.hpp"
#include "page/page.hpp"
#include "shared_options.hpp"
#include "wiltline/base/text.hpp"
#include "wiltline/questions/capacity.hpp"
#include "words.hpp"

namespace wiltline::cli {
namespace {

using enum Quantity;
using R = const ShoppingRow&;

constexpr Column<ShoppingRow> columns[]{
    {"item",
     "component (to mix yourself), mix (the same, bought ready), feed (the mix that starter feed "
     "is "
     "measured by) or pot",
     [](R r) { return r.item; }},
    {"name", "of the component, mix or planting", [](R r) { return r.name; }},
    {"litres", litres, 2, "for the whole garden, components loose; of a pot the mix in one",
     [](R r) { return r.litres; }},
    {"bags", "bags of the size asked for that hold so much", [](R r) { return r.bags(); }},
    {"pot", "pot",
     [](R r) { return r.planting ? std::optional(r.planting->pot.name) : std::nullopt; }},
    {"mix", "its mix",
     [](R r) { return r.planting ? std::optional(r.planting->mix.name) : std::nullopt; }},
    {"count", "such pots",
     [](R r) { return r.planting ? std::optional(r.planting->count) : std::nullopt; }},
    {"wet_kg", mass_kg, 1,
     "one just watered, without plants; with the empty pot where the garden has its tare_kg",
     [](R r) { return r.wet_kg; }},
};

std::vector<ShoppingRow> rows_of(const Shopping& all, const std::vector<Planting>& plantings,
                                 std::optional<double> bag_l) {
  std::vector<ShoppingRow> rows;
  for (const ComponentLitres& part : all.components) {
    rows.push_back({"component", part.component, part.litres, bag_l});
  }
  for (const ComponentLitres& mix : all.mixes) {
    rows.push_back({"mix", mix.component, mix.litres, bag_l});
  }
  rows.push_back({"feed", "starter feed", all.mix_l});
  for (std::size_t i = 0; i < plantings.size(); ++i) {
    rows.push_back(
        {"pot", plantings[i].name, all.pots[i].water.mix_l, {}, &plantings[i], all.wet_kg[i]});
  }
  return rows;
}

std::string litres_text(double value, bool us) {
  return fmt::format("{:.{}f} {}", in_units(litres, value, us), us ? 1 : 0, unit_text(litres, us));
}

std::string table_text(const std::vector<ShoppingRow>& rows, const Report& report, bool us) {
  using enum Side;
  const auto is = [](std::string_view item) { return [item](R row) { return row.item == item; }; };
  const auto only = [&](std::string_view item) {
    std::vector<ShoppingRow> some;
    std::ranges::copy_if(rows, std::back_inserter(some), is(item));
    return some;
  };
  std::string out;
  const auto list = [&](const char* heading, std::string_view item) {
    std::vector<TextColumn<ShoppingRow>> shown{
        {heading, left, [](R r) { return printable(r.name); }},
        {std::string(unit_text(litres, us)), right,
         [us](R r) { return fmt::format("{:.{}f}", in_units(litres, r.litres, us), us ? 1 : 0); }}};
    if (rows.front().bag_l) {
      shown.push_back({"bags", right, [](R r) { return fmt::format("{}", r.bags().value_or(0)); }});
    }
    out += text_table(shown, only(item)) + '\n';
  };
  list("components, loose", "component");
  list("or ready mixed", "mix");
  const std::vector<TextColumn<ShoppingRow>> pots{
      {"planting", left, [](R r) { return shown_name(*r.planting); }},
      {"pot", left, [](R r) { return printable(r.planting->pot.name); }},
      {"mix", left, [](R r) { return printable(r.planting->mix.name); }},
      {fmt::format("mix\n{}", unit_text(litres, us)), right,
       [us](R r) { return fmt::format("{:.1f}", in_units(litres, r.litres, us)); }},
      {fmt::format("wet\n{}", unit_text(mass_kg, us)), right,
       [us](R r) { return fmt::format("{:.0f}", in_units(mass_kg, r.wet_kg.value_or(0.0), us)); }}};
  out += text_table(pots, only("pot")) + '\n';
  out += paragraph(fmt::format(
      "Bags and litres are for all pots, counted. Firm potting takes 15 to 20 % more. Starter feed "
      "is measured by the volume of mix, {} in all: follow its label.",
      litres_text(std::ranges::find_if(rows, is("feed"))->litres, us)));
  out += paragraph(
      "Wet is one pot just watered, without plants and, unless the garden has its tare_kg, without "
      "the empty pot. " +
      heavy_pots_text(us));
  out += paragraph(
      "Dry peat and perlite are dusty: damp them first, wear a mask, wash your hands after.");
  return out + notes_text(report);
}

}  // namespace

std::optional<int> ShoppingRow::bags() const {
  if (!bag_l) return std::nullopt;
  constexpr double rounding = 1e-9;  // a bag that is full but for it will do
  return static_cast<int>(std::ceil(litres / *bag_l - rounding));
}

Table<ShoppingRow> shopping_table() {
  Table<ShoppingRow> table("Columns with --garden");
  table.add(columns);
  return table;
}

void answer_shopping(const Arguments& arguments) {
  const Presentation how = presentation(arguments);
  const std::optional<double> bag_l = volume_option_l(
      arguments, "bag", 0.1, 10000.0, "the litres in a bag, as 50l, 1.5cuft or 16qt");
  Output output = open_output(arguments);
  Report report("capacity", inputs_of(arguments));
  const Catalogue catalogue = load_catalogue(arguments, report.notes);
  const Garden garden = load_garden(arguments, catalogue);
  const Shopping all = shopping(garden.plantings, catalogue);
  const std::vector<ShoppingRow> rows = rows_of(all, garden.plantings, bag_l);
  std::vector<std::pair<std::string, std::vector<std::string>>> cautions;  // each, and whose
  for (std::size_t i = 0; i < all.pots.size(); ++i) {
    for (const std::string& caution : all.pots[i].cautions) {
      entry(cautions, caution).push_back(garden.plantings[i].name);
    }
  }
  for (const auto& [caution, names] : cautions) {
    report.notes.push_back(fmt::format("caution for {}: {}", fmt::join(names, ", "), caution));
  }
  report.caution =
      "These are estimates: mixes of one name differ, so buy a bag to spare, or weigh a pot dry "
      "and "
      "drained to know.";
  report.fill(shopping_table(), rows);
  report.key_columns = 2;
  if (how.page) {
    report.title = "What fills the pots";
    add_ranges(report,
               {"What to buy or to mix, and what each pot takes", "Loose volume, largest first."},
               {.label = {"item", "name"}, .value = "litres", .words = {{"; bags: ", "bags"}}},
               how.us_units);
  }
  deliver(report, how, output, [&] { return table_text(rows, report, how.us_units); });
}

}  // namespace wiltline::cli

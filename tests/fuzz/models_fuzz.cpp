// A model table: the first byte says which, the rest takes its place among the built-in ones.
#include "fuzz.hpp"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  using namespace wiltline;
  if (size == 0) return 0;
  auto tables = builtin_tables();
  const auto& names = model_table_names();
  const std::string& name = names[data[0] % names.size()];
  tables[name] = {name, fuzz::text_of(data + 1, size - 1)};
  fuzz::refused([&] {
    const Catalogue catalogue = read_catalogue(tables);
    for (const std::string& mix : catalogue.mixes.names()) (void)catalogue.mix(mix);
  });
  return 0;
}

// A site file.
#include "fuzz.hpp"
#include "wiltline/weather/site.hpp"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  using namespace wiltline;
  fuzz::refused([&] { (void)read_site({"site.ini", fuzz::text_of(data, size)}); });
  return 0;
}

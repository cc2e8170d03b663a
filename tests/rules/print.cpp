// Prints the rules of thumb and the measured cases with the model's answers.
#include <cstdio>
#include <string>

#include "table.hpp"

int main() {
  using namespace wiltline::test;
  const std::string reference = std::string(WILTLINE_TEST_DATA) + "/reference/";
  for (const char* name : {"rules-of-thumb.csv", "measured-cases.csv"}) {
    std::printf("%s\n\n%s\n", name, table_text(judge_table(reference + name)).c_str());
  }
}

// Small text tools: how names are compared, suggested and quoted.
#include <doctest/doctest.h>

#include <string>
#include <string_view>
#include <vector>

#include "wiltline/base/text.hpp"

namespace wiltline::test {
namespace {

using Words = std::vector<std::string_view>;

/// True if every byte of a text belongs to a complete UTF-8 sequence (RFC 3629; lead and
/// continuation bytes only, which is what a cut can break).
bool whole_utf8(std::string_view text) {
  std::size_t at = 0;
  while (at < text.size()) {
    const auto lead = static_cast<unsigned char>(text[at]);
    const std::size_t length = lead < 0x80    ? 1
                               : lead >= 0xF0 ? 4
                               : lead >= 0xE0 ? 3
                               : lead >= 0xC0 ? 2
                                              : 0;
    if (length == 0 || at + length > text.size()) return false;
    for (std::size_t i = 1; i < length; ++i) {
      if ((static_cast<unsigned char>(text[at + i]) & 0xC0U) != 0x80U) return false;
    }
    at += length;
  }
  return true;
}

}  // namespace

TEST_CASE("text: trimming takes spaces and tabs off both ends, nothing else") {
  CHECK(trim("  \t peat moss\t ") == "peat moss");
  CHECK(trim("peat") == "peat");
  CHECK(trim(" \t ").empty());
  CHECK(trim("").empty());
  CHECK(trim("\npeat\n") == "\npeat\n");
}

TEST_CASE("text: words are split at runs of spaces and tabs") {
  CHECK(words("daily 07:00") == Words{"daily", "07:00"});
  CHECK(words("  daily\t\t07:00   19:00 ") == Words{"daily", "07:00", "19:00"});
  CHECK(words("one") == Words{"one"});
  CHECK(words("").empty());
  CHECK(words(" \t ").empty());
  CHECK(words("a-b,c_d") == Words{"a-b,c_d"});
}

TEST_CASE("text: the parts between separators, blanks taken off, empty ones too") {
  CHECK(parts_between("kale 2 + beet 4", '+') == Words{"kale 2", "beet 4"});
  CHECK(parts_between(" one\t", ';') == Words{"one"});
  CHECK(parts_between("a;; b;", ';') == Words{"a", "", "b", ""});
  CHECK(parts_between("", ';') == Words{""});
}

TEST_CASE("text: names are compared without case, and with one kind of gap") {
  CHECK(folded("Cherry Tomato") == "cherry tomato");
  CHECK(folded("cherry-tomato") == "cherry tomato");
  CHECK(folded("CHERRY__tomato") == "cherry tomato");
  CHECK(folded("  cherry \t-_ tomato  ") == "cherry tomato");
  CHECK(folded("-tomato-") == "tomato");
  CHECK(folded("").empty());
  CHECK(folded(" - _ ").empty());
  CHECK(folded("cherrytomato") != folded("cherry tomato"));
  CHECK(folded("Çilek ÄÖ") == "Çilek ÄÖ");  // ASCII only: other letters stay as they are
  CHECK(folded("AZaz09") == "azaz09");
}

TEST_CASE("text: an unknown name is answered with the nearest known one") {
  const std::vector<std::string> known{"tomato",     "tomato dwarf", "pepper",
                                       "hot pepper", "pea",          "beet"};
  CHECK(nearest_name("tomatoe", known) == "tomato");  // one letter too many
  CHECK(nearest_name("tmato", known) == "tomato");    // one missing
  CHECK(nearest_name("tomsto", known) == "tomato");   // one wrong
  CHECK(nearest_name("Hot-Peper", known) == "hot pepper");
  CHECK(nearest_name("tomato", known) == "tomato");
  CHECK(nearest_name("peppr", known) == "pepper");
  CHECK_FALSE(nearest_name("bean", known));  // two from pea and from beet, of four letters
  CHECK_FALSE(nearest_name("beam", known));
  CHECK_FALSE(nearest_name("courgette", known));
  const std::vector<std::string> garden{"basil on the sill", "tall tomato", "dwarf tomato",
                                        "thyme"};
  CHECK(nearest_name("basill", garden) == "basil on the sill");  // some of its words
  CHECK(nearest_name("on the sil", garden) == "basil on the sill");
  CHECK(nearest_name("tal tomato", garden) == "tall tomato");
  CHECK_FALSE(nearest_name("tomatoe", garden));  // of two
  CHECK_FALSE(nearest_name("sil", garden));      // three letters are like too much
  CHECK_FALSE(nearest_name("tomato", std::vector<std::string>{}));
}

TEST_CASE("text: a suggestion is at most a third of the name away") {
  // Three of nine letters wrong is a slip, four are another word.
  CHECK(nearest_name("abcdefxyz", std::vector<std::string>{"abcdefghi"}) == "abcdefghi");
  CHECK_FALSE(nearest_name("abcdewxyz", std::vector<std::string>{"abcdefghi"}));
  // Of two equally near the first in the table is named.
  CHECK(nearest_name("cat", std::vector<std::string>{"bat", "rat"}) == "bat");
  // A name nobody can have mistyped is not searched for.
  const std::string endless(101, 'a');
  CHECK_FALSE(nearest_name(endless, std::vector<std::string>{endless}));
  const std::string longest(100, 'a');
  CHECK(nearest_name(longest, std::vector<std::string>{longest}) == longest);
}

TEST_CASE("text: the tail of a message about an unknown name") {
  const std::vector<std::string> known{"patio", "balcony"};
  CHECK(nearest_hint("patoi", std::vector<std::string>{"patio2"}).empty());
  CHECK(nearest_hint("patioo", known) == "; nearest: patio");
  CHECK(nearest_hint("roof", known).empty());
}

TEST_CASE("text: characters are taken one by one, and bytes that are no UTF-8 alone") {
  const auto is = [](std::string_view text, std::optional<char32_t> code, std::size_t bytes) {
    const Character first = first_character(text);
    return first.code == code && first.bytes == bytes;
  };
  CHECK(is("ab", U'a', 1));
  CHECK(is("\x7f", 0x7f, 1));
  CHECK(is("\xc2\x80", 0x80, 2));
  CHECK(is("\xdf\xbf", 0x7ff, 2));
  CHECK(is("\xe0\xa0\x80", 0x800, 3));
  CHECK(is("\xed\x9f\xbf", 0xd7ff, 3));
  CHECK(is("\xef\xbf\xbf", 0xffff, 3));
  CHECK(is("\xf0\x90\x80\x80", 0x10000, 4));
  CHECK(is("\xf4\x8f\xbf\xbf", 0x10ffff, 4));
  for (const char* bad : {"\x80", "\xbf", "\xc0\x80", "\xc1\xbf", "\xc2", "\xc2 ", "\xe0\x9f\xbf",
                          "\xe2\x80", "\xe2\x80 ", "\xed\xa0\x80", "\xf0\x8f\xbf\xbf",
                          "\xf4\x90\x80\x80", "\xf5\x80\x80\x80", "\xff"}) {
    CHECK(is(bad, std::nullopt, 1));
  }
}

TEST_CASE("text: what a terminal acts on, or that turns or hides its neighbours, is a control") {
  const std::u32string_view controls =
      U"\t\n\u001b\u001f\u007f\u0080\u009b\u009f\u061c\u200b\u200e\u200f\u2028\u2029"
      U"\u202a\u202b\u202c\u202d\u202e\u2060\u2066\u2067\u2068\u2069\ufeff";
  for (const char32_t code : controls) {
    INFO(static_cast<unsigned>(code));
    CHECK(is_control(code));
  }
  for (const char32_t code : std::u32string_view(U" ~\u00a0éא\u200c\u200d…€🌱")) {
    INFO(static_cast<unsigned>(code));
    CHECK_FALSE(is_control(code));
  }
  CHECK(without_control_characters("a\u202eb\u2066c\u009bd") == "a?b?c?d");
  CHECK(without_control_characters("a\x9b"
                                   "31m\xff\xe2\x80") == "a?31m???");
  CHECK(without_control_characters("می\u200cخواهم 🌱") == "می\u200cخواهم 🌱");
}

TEST_CASE("text: a long text loses its middle") {
  CHECK(shortened("basil", 5) == "basil");
  CHECK(shortened("basils", 5) == "ba…ls");
  CHECK(shortened("éàüöñø", 5) == "éà…ñø");
  CHECK(shortened("\xff\xff\xff\xff\xff\xff", 4) == "\xff\xff…\xff");
  CHECK(width_of("می\u200cخ") == 3);
  const std::string path(10000, 'x');
  CHECK(width_of(shortened(path, 60)) == 60);
}

TEST_CASE("text: values are shown in quotes, bounded, without control characters") {
  CHECK(in_quotes("") == "\"\"");
  CHECK(in_quotes("28C") == "\"28C\"");
  CHECK(in_quotes("28 °C") == "\"28 °C\"");
  CHECK(in_quotes("a\tb\x1b[31mc\x7f") == "\"a?b?[31mc?\"");
  CHECK(in_quotes(std::string_view("a\0b", 3)) == "\"a?b\"");
  CHECK(in_quotes(std::string(60, 'x')) == '"' + std::string(60, 'x') + '"');
  CHECK(in_quotes(std::string(61, 'x')) == '"' + std::string(60, 'x') + "…\"");
  CHECK(in_quotes(std::string(1 << 20, 'x')).size() < 70);
}

TEST_CASE("text: a long value is not cut in the middle of a character") {
  for (std::size_t before = 55; before <= 61; ++before) {
    CAPTURE(before);
    CHECK(whole_utf8(in_quotes(std::string(before, 'x') + "é°€🌱" + std::string(20, 'y'))));
  }
}

TEST_CASE("text: the beginning of one name is meant for it, of several for none") {
  const std::vector<std::string> names{"latitude_deg", "longitude_deg", "elevation_m"};
  CHECK(nearest_name("lat", names) == "latitude_deg");
  CHECK(nearest_name("latitude", names) == "latitude_deg");
  CHECK_FALSE(nearest_name("la", names).has_value());  // too short to mean anything
  const std::vector<std::string> twins{"fabric 30 l", "fabric 36 l"};
  CHECK_FALSE(nearest_name("fabric", twins).has_value());
}

}  // namespace wiltline::test

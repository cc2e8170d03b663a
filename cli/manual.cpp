#include "manual.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cctype>

#include "version.hpp"
#include "words.hpp"

namespace wiltline::cli {
namespace {

/// Text for a manual page: no character of it is taken for an instruction.
std::string plain(std::string_view text) {
  std::string out;
  for (const char c : text) {
    if (c == '\\') {
      out += "\\e";
    } else if (c == '-') {
      out += "\\-";
    } else if ((c == '.' || c == '\'') && (out.empty() || out.back() == '\n')) {
      out += "\\&";
      out += c;
    } else {
      out += c;
    }
  }
  return out;
}

std::string upper(std::string_view text) {
  std::string out(text);
  std::ranges::transform(out, out.begin(),
                         [](unsigned char c) { return static_cast<char>(std::toupper(c)); });
  return out;
}

std::string title(std::string_view name) {
  return fmt::format(".TH {} 1 \"\" \"wiltline {}\" \"Water account of pots\"\n",
                     upper(plain(name)), version);
}

/// Lines as they stand where they are indented, paragraphs otherwise.
std::string paragraphs(std::string_view text) {
  std::string out;
  bool as_it_stands = false;
  for (const std::string& line : lines_of(text)) {
    if (line.starts_with(' ') != as_it_stands) {
      as_it_stands = !as_it_stands;
      out += as_it_stands ? ".nf\n" : ".fi\n";
    }
    out += line.empty() ? ".PP\n" : plain(line) + '\n';
  }
  return as_it_stands ? out + ".fi\n" : out;
}

std::string exit_codes() {
  return ".SH EXIT STATUS\n0 answered; 1 could not write; 2 something typed on the command line is "
         "wrong; 3 something in a file is wrong; 10 with \\-\\-alarm, a pot goes dry before its "
         "next "
         "visit.\n";
}

}  // namespace

std::string manual_page(const std::vector<Command>& commands) {
  std::string out =
      title("wiltline") +
      ".SH NAME\nwiltline \\- the water account of every pot in a container garden\n"
      ".SH SYNOPSIS\n.B wiltline\n.I COMMAND\n[options]\n.SH DESCRIPTION\n"
      "Which pot goes dry, when, and what would have prevented it. Each command has a "
      "page of its own.\n.SH COMMANDS\n";
  for (const Command& command : commands) {
    out += fmt::format(".TP\n.BR wiltline\\-{} (1)\n{}\n", plain(command.name),
                       plain(command.purpose));
  }
  return out + exit_codes() +
         ".SH CAUTION\nAnswers are estimates: check the mix by hand, follow product labels, local "
         "water rules and local extension advice.\n";
}

std::string manual_page(const Command& command) {
  const std::string name = fmt::format("wiltline-{}", command.name);
  std::string out = title(name);
  out += fmt::format(".SH NAME\n{} \\- {}\n.SH SYNOPSIS\n.B wiltline {}\n{}\n.SH DESCRIPTION\n{}",
                     plain(name), plain(command.purpose), plain(command.name), plain(command.usage),
                     paragraphs(command.explanation));
  out += ".SH OPTIONS\n";
  for (const po::options_description& group : command.option_groups) {
    for (const auto& option : group.options()) {
      const std::string value =
          option->semantic()->max_tokens() > 0 ? option->semantic()->name() : std::string{};
      out += fmt::format(".TP\n.B {} {}\n{}\n", plain("--" + option->long_name()), plain(value),
                         plain(option->description()));
    }
  }
  for (const auto& [heading, columns] : command.columns) {
    out += fmt::format(".SH {}\n", upper(plain(heading)));
    for (const ColumnHead& column : columns) {
      out += fmt::format(".TP\n.B {}\n{}\n", plain(column.name), plain(column.meaning));
    }
  }
  out += ".SH EXAMPLES\n";
  for (const Example& example : command.examples) {
    out += fmt::format("{}:\n.PP\n.nf\n.RS\n{}\n.RE\n.fi\n.PP\n", plain(example.what),
                       plain(example.line));
  }
  return out + exit_codes() + ".SH SEE ALSO\n.BR wiltline (1)\n";
}

}  // namespace wiltline::cli

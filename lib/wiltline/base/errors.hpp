// What can be wrong with what people give: one line each, with the place it was found.
#pragma once

#include <cstddef>
#include <exception>
#include <stdexcept>
#include <string>
#include <string_view>
#include <vector>

namespace wiltline {

/// What the program in front of the library has to say to a problem, in words of its own: the
/// library knows none of its options.
struct Advice {
  enum class Kind {
    none,
    show_names,       // of what stands in column `about`
    fill_gap,         // of `about` days
    fill_longer_gap,  // than is filled now
    fill_rain,
    grow_as_saved,
    name_layout,       // of a weather file
    name_date_order,   // of a weather file
    table_of_columns,  // of a weather file
    give_site_value,   // `about`
  };
  Kind kind = Kind::none;
  std::string about{};
  std::string after{};  // the rest of what is said, such as "; nearest: X"
};

/// One thing wrong in a file. `line` and `column` count from 1 (column in bytes); 0 = not known.
struct Problem {
  std::string file;
  std::size_t line = 0;
  std::size_t column = 0;
  std::string found;
  std::string expected;
  Advice advice{};

  /// `file:line:column: found …; expected …`, then `advised`: the advice in a program's words.
  [[nodiscard]] std::string text(std::string_view advised = {}) const;
};

/// A file's content is wrong. Holds every problem found, in file order.
class InputError : public std::exception {
 public:
  explicit InputError(std::vector<Problem> problems);
  [[nodiscard]] const std::vector<Problem>& problems() const noexcept { return problems_; }
  /// All problems, one a line.
  [[nodiscard]] const char* what() const noexcept override { return text_.c_str(); }

 private:
  std::vector<Problem> problems_;
  std::string text_;
};

/// A request is wrong: an option, a name, a path that does not exist.
class RequestError : public std::runtime_error {
 public:
  using std::runtime_error::runtime_error;
};

/// Something could not be written.
class WriteError : public std::runtime_error {
 public:
  using std::runtime_error::runtime_error;
};

/// Collects the problems of one file, up to a limit, so that one run shows them all.
class ProblemList {
 public:
  static constexpr std::size_t most_shown = 20;

  void add(Problem problem);
  [[nodiscard]] bool empty() const noexcept { return problems_.empty(); }
  /// True once nothing more would be shown: the reader may stop.
  [[nodiscard]] bool full() const noexcept { return problems_.size() >= most_shown; }
  /// Throws InputError, in file order, if anything was added.
  void throw_if_any() const;

 private:
  std::vector<Problem> problems_;
};

}  // namespace wiltline

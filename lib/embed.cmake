# Turns files into a C++ source that holds their bytes, so that the program needs no folder of data
# beside it. Every file becomes one raw string literal.
#
# wiltline_embed(OUTPUT <source> FUNCTION <name> FILES <file>...)
#   defines std::map<std::string, FileBytes> wiltline::<name>(), keyed by file name.
function(wiltline_embed)
  cmake_parse_arguments(ARG "" "OUTPUT;FUNCTION;HEADER" "FILES" ${ARGN})
  set(text "// Generated from the files named below; edit those.\n#include \"${ARG_HEADER}\"\n\n")
  string(APPEND text "namespace wiltline {\n\nstd::map<std::string, FileBytes> ${ARG_FUNCTION}() {\n")
  string(APPEND text "  return {\n")
  foreach(file IN LISTS ARG_FILES)
    get_filename_component(file "${file}" ABSOLUTE)
    get_filename_component(name "${file}" NAME)
    file(RELATIVE_PATH shown "${PROJECT_SOURCE_DIR}" "${file}")
    if(shown MATCHES "^\\.\\.")
      set(shown "${name}")  # of the system, wherever it keeps it
    endif()
    file(READ "${file}" bytes)
    string(APPEND text "      {\"${name}\", {\"built-in ${shown}\", R\"embedded(${bytes})embedded\"}},\n")
    set_property(DIRECTORY APPEND PROPERTY CMAKE_CONFIGURE_DEPENDS "${file}")
  endforeach()
  string(APPEND text "  };\n}\n\n}  // namespace wiltline\n")
  file(CONFIGURE OUTPUT "${ARG_OUTPUT}" CONTENT "${text}" @ONLY)
endfunction()

# Installs the build tree into a scratch folder, moves it, and builds and runs a consumer against it.
#   cmake -D BUILD=… -D SOURCE=… -D SCRATCH=… -D CXX=… [-D CXX_FLAGS=…] [-D CONFIG=…] -P run.cmake
cmake_minimum_required(VERSION 3.25)

foreach(variable BUILD SOURCE SCRATCH CXX)
  if(NOT ${variable})
    message(FATAL_ERROR "run.cmake needs -D ${variable}=…")
  endif()
endforeach()
if(NOT CONFIG)
  set(CONFIG Release)
endif()
file(REMOVE_RECURSE "${SCRATCH}")
file(MAKE_DIRECTORY "${SCRATCH}")

# Runs a command; its output is shown only if it fails.
function(run)
  execute_process(COMMAND ${ARGV} RESULT_VARIABLE result OUTPUT_VARIABLE output ERROR_VARIABLE output)
  if(NOT result EQUAL 0)
    list(JOIN ARGV " " line)
    message(FATAL_ERROR "${line}\nended with ${result}:\n${output}")
  endif()
  set(run_output "${output}" PARENT_SCOPE)
endfunction()

function(require_equal what found expected)
  if(NOT found STREQUAL expected)
    message(FATAL_ERROR "${what}: found \"${found}\"; expected \"${expected}\"")
  endif()
endfunction()

run(${CMAKE_COMMAND} --install "${BUILD}" --config "${CONFIG}" --prefix "${SCRATCH}/first")
# What is installed must work wherever it is put.
set(prefix "${SCRATCH}/moved")
file(RENAME "${SCRATCH}/first" "${prefix}")

# The installed CMake files and headers name no folder of the machine that built them.
file(GLOB_RECURSE texts "${prefix}/*.cmake" "${prefix}/*.hpp" "${prefix}/*.csv")
list(LENGTH texts count)
if(count LESS 40)
  message(FATAL_ERROR "only ${count} headers, tables and CMake files were installed")
endif()
foreach(file IN LISTS texts)
  file(READ "${file}" text)
  foreach(folder "${SOURCE}" "${BUILD}" "${SCRATCH}")
    string(FIND "${text}" "${folder}" at)
    if(NOT at EQUAL -1)
      message(FATAL_ERROR "${file} names the folder ${folder}")
    endif()
  endforeach()
endforeach()

# Every header of the library is there, in its room, but for those of its own sources alone.
file(GLOB_RECURSE headers RELATIVE "${SOURCE}/lib" "${SOURCE}/lib/wiltline/*.hpp")
list(REMOVE_ITEM headers wiltline/base/least_squares.hpp wiltline/questions/pot_account.hpp)
file(GLOB_RECURSE installed RELATIVE "${prefix}/include" "${prefix}/include/*.hpp")
require_equal("installed headers" "${installed}" "${headers}")

# The program answers, and the tables are beside it for whoever wants to change them.
run("${prefix}/bin/wiltline" --version)
string(STRIP "${run_output}" own_version)
file(GLOB tables RELATIVE "${SOURCE}/models" "${SOURCE}/models/*.csv")
file(GLOB installed_tables RELATIVE "${prefix}/share/wiltline/models" "${prefix}/share/wiltline/models/*.csv")
require_equal("installed model tables" "${installed_tables}" "${tables}")
run("${prefix}/bin/wiltline" list pots --models "${prefix}/share/wiltline/models")

# Manual pages and completion were made from the program's own tables.
foreach(file share/man/man1/wiltline.1.gz share/man/man1/wiltline-season.1.gz
    share/bash-completion/completions/wiltline share/zsh/vendor-completions/_wiltline
    share/fish/vendor_completions.d/wiltline.fish)
  if(NOT EXISTS "${prefix}/${file}")
    message(FATAL_ERROR "${file} was not installed")
  endif()
endforeach()

# By pkg-config, where there is one.
find_program(pkg_config pkg-config)
if(pkg_config)
  set(ENV{PKG_CONFIG_PATH} "${prefix}/lib/pkgconfig:${prefix}/lib64/pkgconfig")
  run(${pkg_config} --static --cflags --libs wiltline)
  string(STRIP "${run_output}" flags)
  separate_arguments(flags)
  separate_arguments(own_flags UNIX_COMMAND "${CXX_FLAGS}")
  run(${CXX} -std=c++20 ${own_flags} "${CMAKE_CURRENT_LIST_DIR}/main.cpp"
    -o "${SCRATCH}/by-pkg-config" ${flags})
  run(${CMAKE_COMMAND} -E env "LD_LIBRARY_PATH=${prefix}/lib" "${SCRATCH}/by-pkg-config")
  string(STRIP "${run_output}" output)
  require_equal("the answer of a program by pkg-config" "${output}" "et0 3.9 mm, pot 11.0 L of mix")
endif()

run(${CMAKE_COMMAND} -S "${CMAKE_CURRENT_LIST_DIR}" -B "${SCRATCH}/consumer"
  "-DCMAKE_PREFIX_PATH=${prefix}" "-DCMAKE_CXX_COMPILER=${CXX}" "-DCMAKE_CXX_FLAGS=${CXX_FLAGS}"
  "-DCMAKE_BUILD_TYPE=${CONFIG}")
run(${CMAKE_COMMAND} --build "${SCRATCH}/consumer" --config "${CONFIG}")
find_program(consumer consumer REQUIRED NO_DEFAULT_PATH
  PATHS "${SCRATCH}/consumer" "${SCRATCH}/consumer/${CONFIG}")
run("${consumer}")
string(STRIP "${run_output}" output)
require_equal("the consumer's answer" "${output}" "et0 3.9 mm, pot 11.0 L of mix")
file(REMOVE_RECURSE "${SCRATCH}")
message(STATUS "${own_version} installed, found and used: ${output}")

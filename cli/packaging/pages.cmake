# Manual pages and completion scripts, printed by the program itself from its option tables.
#   cmake -D PROGRAM=… -D TO=folder -P pages.cmake
cmake_minimum_required(VERSION 3.25)

function(ask file)
  execute_process(COMMAND "${PROGRAM}" ${ARGN} OUTPUT_FILE "${TO}/${file}" COMMAND_ERROR_IS_FATAL ANY)
endfunction()

file(REMOVE_RECURSE "${TO}")
file(MAKE_DIRECTORY "${TO}/man")
execute_process(COMMAND "${PROGRAM}" --complete "" OUTPUT_VARIABLE words COMMAND_ERROR_IS_FATAL ANY)
string(REGEX MATCHALL "[^\n]+" commands "${words}")
list(FILTER commands EXCLUDE REGEX "^-")
ask(man/wiltline.1 --manual)
foreach(command IN LISTS commands)
  ask(man/wiltline-${command}.1 ${command} --manual)
endforeach()
file(GLOB pages "${TO}/man/*.1")
execute_process(COMMAND gzip -9n ${pages} COMMAND_ERROR_IS_FATAL ANY)
ask(wiltline.bash --completion bash)
ask(_wiltline --completion zsh)
ask(wiltline.fish --completion fish)

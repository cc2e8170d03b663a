# bash completion for wiltline
_wiltline() {
  local IFS=$'\n' word
  COMPREPLY=()
  for word in $("${COMP_WORDS[0]}" --complete "${COMP_WORDS[@]:1:COMP_CWORD}" 2>/dev/null); do
    COMPREPLY+=("$(printf '%q' "$word")")
  done
}
complete -o default -F _wiltline wiltline

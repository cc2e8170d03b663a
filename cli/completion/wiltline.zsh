#compdef wiltline
_wiltline() {
  local -a found
  found=("${(@f)$("${words[1]}" --complete "${(@)words[2,CURRENT]}" 2>/dev/null)}")
  if [[ -n "${found[1]}" ]]; then compadd -U -- "${found[@]}"; else _files; fi
}
_wiltline "$@"

# fish completion for wiltline
function __wiltline
  set -l words (commandline -opc) (commandline -ct)
  $words[1] --complete $words[2..-1] 2>/dev/null
end
complete -c wiltline -a '(__wiltline)'

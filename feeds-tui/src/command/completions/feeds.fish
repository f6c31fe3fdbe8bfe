# Completion of feeds for fish.
function __feeds_completions
    set -l line (commandline -opc)
    set -l typed (commandline -ct | string trim --chars "'\"" | string unescape)
    feeds completions --word (count $line) -- $line "$typed" 2>/dev/null
end
complete -c feeds -f -a '(__feeds_completions)'

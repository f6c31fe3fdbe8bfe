#compdef feeds
# Completion of feeds for zsh: a folder of fpath holds this file as _feeds.
_feeds() {
    local -a line found folders
    local lines
    line=("${(@Q)words[1,CURRENT]}")
    lines="$(feeds completions --word $((CURRENT - 1)) -- "${line[@]}" 2>/dev/null)"
    [[ -n $lines ]] || return 1
    found=("${(@f)lines}")
    folders=("${(@M)found:#*/}")
    found=("${(@)found:#*/}")
    compadd -S '' -a folders
    compadd -a found
}
if [[ ${zsh_eval_context[-1]} == loadautofunc ]]; then
    _feeds "$@"
else
    compdef _feeds feeds
fi

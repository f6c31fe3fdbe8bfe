# Completion of feeds for bash: source this file.
_feeds() {
    local at line last quote= joined= words=()
    for ((at = 0; at <= COMP_CWORD; at++)); do
        line=${COMP_WORDS[at]}
        # Bash takes --option=value for three words.
        if ((at > 1)) && [[ $line == = || ${COMP_WORDS[at - 1]} == = ]]; then
            last=$((${#words[@]} - 1))
            words[last]=${words[last]}$line
            joined=yes
        else
            words+=("$line")
            joined=
        fi
    done
    last=$((${#words[@]} - 1))
    case ${words[last]} in
        [\'\"]*)
            quote=${words[last]:0:1}
            words[last]=${words[last]:1}
            ;;
    esac
    words[last]=${words[last]//\\/}
    COMPREPLY=()
    while IFS= read -r line; do
        [[ $joined ]] && line=${line#*=}
        [[ $quote ]] || printf -v line %q "$line"
        COMPREPLY+=("$line")
    done < <(feeds completions --word "$last" -- "${words[@]}" 2>/dev/null)
    if ((${#COMPREPLY[@]} == 1)) && [[ ${COMPREPLY[0]} == *[=/] ]]; then
        compopt -o nospace 2>/dev/null
    fi
}
complete -F _feeds feeds

#compdef minim
# Completion of minim for zsh: source <(minim completion zsh), after compinit.

_minim() {
	local line text
	local -a texts shown folders
	for line in "${(@f)$("${words[1]}" complete -- "${(@)words[2,CURRENT]}" 2>/dev/null)}"; do
		text="${line%%$'\t'*}"
		[[ -n "$text" ]] || continue
		if [[ "$text" == */ ]]; then
			folders+=("$text")
			continue
		fi
		texts+=("$text")
		if [[ "$line" == *$'\t'* ]]; then
			shown+=("$text  (${line#*$'\t'})")
		else
			shown+=("$text")
		fi
	done
	(( ${#folders} )) && compadd -S '' -a folders
	(( ${#texts} )) && compadd -l -d shown -a texts
	(( ${#folders} + ${#texts} ))
}

compdef _minim minim

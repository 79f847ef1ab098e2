# Completion of minim for bash: source <(minim completion bash)

_minim() {
	local line
	COMPREPLY=()
	while IFS= read -r line; do
		COMPREPLY+=("${line%%$'\t'*}")
	done < <("$1" complete -- "${COMP_WORDS[@]:1:COMP_CWORD}" 2>/dev/null)
	# Names with spaces need the quotes that bash gives to file names; what
	# follows a folder or an equals sign belongs to the same word.
	case "${COMPREPLY[0]}" in
	*/ | --*=) compopt -o filenames -o nospace 2>/dev/null ;;
	*[\ /]*) compopt -o filenames 2>/dev/null ;;
	esac
	return 0
}

complete -F _minim minim

# Completion of minim for fish: minim completion fish | source

function __minim_complete
    set --local words (commandline --tokenize --cut-at-cursor --current-process)
    $words[1] complete -- $words[2..-1] (commandline --current-token --cut-at-cursor | string collect --allow-empty) 2>/dev/null
end

complete --command minim --no-files --arguments '(__minim_complete)'

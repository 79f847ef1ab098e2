package main

import (
	"embed"
	"fmt"
	"strings"

	"minim/pantry"
)

// shellScripts are what each shell reads: it hands the words of the command line
// to minim complete and shows what comes back.
//
//go:embed completion
var shellScripts embed.FS

// shells are the shells for which there is a script.
var shells = []struct{ name, file string }{
	{"bash", "minim.bash"}, {"zsh", "minim.zsh"}, {"fish", "minim.fish"}, {"powershell", "minim.ps1"},
}

func shellNames() []string {
	var all []string
	for _, one := range shells {
		all = append(all, one.name)
	}
	return all
}

func completionCommand() command {
	return command{
		name:     "completion",
		synopsis: "completion SHELL",
		summary:  "let the tab key finish commands, bottles, files",
		about: `Prints a script for bash, zsh, fish or powershell; with it the tab key finishes
commands, flags, ingredients and files. Where to put it, once or in the file
that the shell reads when it starts:
  bash        source <(minim completion bash)
  zsh         source <(minim completion zsh), after compinit
  fish        minim completion fish | source
  PowerShell  minim completion powershell | Out-String | Invoke-Expression`,
		example: `minim completion bash`,
		bare:    true,
		flags:   func(*flags) {},
		run: func(f *flags, s streams) error {
			if len(f.args) != 1 {
				return fmt.Errorf("%d shells named; expected one of %s", len(f.args), strings.Join(shellNames(), ", "))
			}
			for _, one := range shells {
				if one.name != f.args[0] {
					continue
				}
				script, err := shellScripts.ReadFile("completion/" + one.file)
				if err != nil {
					panic("minim: no script for " + one.name)
				}
				if _, err := s.out.Write(script); err != nil {
					return &writeError{err}
				}
				return nil
			}
			return fmt.Errorf("no script for %q; expected one of %s; nearest: %s", f.args[0], strings.Join(shellNames(), ", "),
				strings.Join(pantry.Nearest(f.args[0], shellNames(), 1), ""))
		},
	}
}

package main

import (
	"os"
	"path/filepath"
	"slices"
	"strings"

	"minim/pantry"
	"minim/profile"
	"minim/solver"
)

// value is what the value of a flag or an argument could become. The word that
// the help has for it decides: FILE, NAMES, METHOD. Nothing is offered for a
// word that is not known here, such as the unit of a number.
func (l *commandLine) value(g flagFacts, word string) []candidate {
	if g.name == "units" {
		return starting(word, plain(unitWords()))
	}
	if listed := choicesIn(g.usage); listed != nil {
		return starting(word, plain(listed))
	}
	switch strings.Trim(g.value, `"`) {
	case "FILE", "A", "B", "C", "DRINK":
		return files(word, false, l.endings(g)...)
	case "FOLDER":
		return files(word, true)
	case "NAMES":
		if g.name == "keep" {
			return lastOf(word, ",", l.pours)
		}
		// Where the ingredients are chosen too, a category stands for all of it.
		if _, chosen := l.given["at-most"]; chosen && (g.name == "from" || g.name == "must") {
			return lastOf(word, ",", l.kinds(l.shelf().Categories()))
		}
		return lastOf(word, ",", l.ingredients)
	case "KINDS":
		more := slices.Concat(l.shelf().Categories(), pantry.AllergenNames(), []string{solver.AnimalProducts, solver.OutOfStock})
		return lastOf(word, ",", l.kinds(more))
	case "TASTE":
		return lastOf(word, ",", tastes)
	case "READINGS":
		// Of a new delivery, the ingredient comes first.
		return l.pours(word, nil)
	case "A=B":
		if !strings.Contains(word, "=") {
			return l.pours(word, nil)
		}
		return lastOf(word, "=", l.ingredients)
	case "PROPERTIES":
		return lastOf(word, ",", properties)
	case "INGREDIENT":
		return l.ingredients(word, nil)
	case "PROPERTY":
		return properties(word, nil)
	case "METHOD":
		return starting(word, plain(profile.MethodNames()))
	case "CATEGORY":
		return starting(word, plain(l.shelf().Categories()))
	case "ALLERGEN":
		return starting(word, plain(pantry.AllergenNames()))
	case "SHELL":
		return starting(word, plain(shellNames()))
	case "SCHEMA":
		return starting(word, schemaCandidates())
	}
	return nil
}

// endings are those of the files that a command or a flag reads; none: all files,
// as of those that are written.
func (l *commandLine) endings(g flagFacts) []string {
	switch {
	case slices.Contains([]string{"pantry", "lots", "lot"}, g.name):
		return []string{".csv"}
	case g.name == "for":
		return []string{".yaml", ".yml"}
	case g.name != "" || l.command == nil:
		return nil
	case strings.HasPrefix(l.command.name, "pantry "):
		return []string{".csv"}
	case l.command.name == "import":
		return []string{".json"}
	}
	return []string{".yaml", ".yml"}
}

// pours are those of the drink whose file stands on the line and begin with the
// word; ingredients of the shelf where no drink can be read yet.
func (l *commandLine) pours(word string, taken []string) []candidate {
	var all []candidate
	for _, name := range l.files {
		content, err := os.ReadFile(name)
		if err != nil {
			continue
		}
		spec, err := pantry.ReadSpec(strings.NewReader(string(content)), name)
		if err != nil {
			continue
		}
		for _, p := range spec.Pours() {
			if !slices.Contains(taken, pantry.Fold(p.Name)) {
				all = append(all, candidate{text: p.Name})
			}
		}
	}
	if len(all) == 0 {
		return l.ingredients(word, taken)
	}
	return starting(word, all)
}

func plain(words []string) []candidate {
	var all []candidate
	for _, w := range words {
		all = append(all, candidate{text: w})
	}
	return all
}

// shelf is the built-in pantry with the files of --pantry over it, those left
// out that cannot be read: somebody is still typing.
func (l *commandLine) shelf() *pantry.Shelf {
	shelf := pantry.Embedded()
	for _, name := range l.given["pantry"] {
		content, err := os.ReadFile(name)
		if err != nil {
			continue
		}
		if over, err := shelf.Overlay(strings.NewReader(string(content)), name); err == nil {
			shelf = over
		}
	}
	return shelf
}

// lastOf completes the last of several names in one word, of which those before
// it are taken.
func lastOf(word, separator string, of func(word string, taken []string) []candidate) []candidate {
	at := strings.LastIndex(word, separator) + len(separator)
	if at < len(separator) {
		at = 0
	}
	for at < len(word) && word[at] == ' ' {
		at++
	}
	var taken []string
	for _, name := range strings.Split(word[:at], separator) {
		taken = append(taken, pantry.Fold(strings.TrimSpace(name)))
	}
	return after(word[:at], of(word[at:], taken))
}

// properties are those whose names begin with the word.
func properties(word string, taken []string) []candidate {
	return starting(word, plain(slices.DeleteFunc(profile.PropertyNames(), func(name string) bool { return slices.Contains(taken, name) })))
}

// tastes are the words for a nudge that begin with the word.
func tastes(word string, taken []string) []candidate {
	return starting(word, plain(slices.DeleteFunc(nudgeWords(), func(name string) bool { return slices.Contains(taken, name) })))
}

// kinds are ingredients as ingredients has them, and the names for several of
// them at once.
func (l *commandLine) kinds(several []string) func(word string, taken []string) []candidate {
	return func(word string, taken []string) []candidate {
		free := slices.DeleteFunc(slices.Clone(several), func(name string) bool { return slices.Contains(taken, pantry.Fold(name)) })
		return append(starting(word, plain(free)), l.ingredients(word, taken)...)
	}
}

// ingredients are those whose name or, once something is written, one of whose
// other names begins with the word. The word stays as it was written, since
// shells compare capitals and the shelf does not.
func (l *commandLine) ingredients(word string, taken []string) []candidate {
	var all []candidate
	for _, i := range l.shelf().All() {
		if slices.Contains(taken, pantry.Fold(i.Name)) {
			continue
		}
		all = append(all, candidate{i.Name, describe(i.Category, i.Figures[pantry.StrengthPercent].Value)})
		for _, alias := range i.Aliases {
			if word != "" && pantry.Fold(alias) != pantry.Fold(i.Name) {
				all = append(all, candidate{alias, i.Name})
			}
		}
	}
	found := starting(word, all)
	for n := range found {
		found[n].text = word + found[n].text[len(word):]
	}
	return found
}

// files are the files, of the endings where any are given, and the folders whose
// names begin with the word; folders end in a slash. Hidden ones are left out unless the word begins with their dot.
func files(word string, foldersOnly bool, endings ...string) []candidate {
	folder, beginning := filepath.Split(word)
	read := folder
	if home, err := os.UserHomeDir(); err == nil && strings.HasPrefix(folder, "~/") {
		read = home + folder[1:]
	}
	if read == "" {
		read = "."
	}
	entries, err := os.ReadDir(read)
	if err != nil {
		return nil
	}
	var all []candidate
	for _, e := range entries {
		name := e.Name()
		if !strings.HasPrefix(name, beginning) || strings.HasPrefix(name, ".") && beginning == "" || strings.ContainsAny(name, "\t\n") {
			continue
		}
		info, err := os.Stat(filepath.Join(read, name))
		switch {
		case err == nil && info.IsDir():
			all = append(all, candidate{text: folder + name + "/"})
		case !foldersOnly && (len(endings) == 0 || slices.Contains(endings, strings.ToLower(filepath.Ext(name)))):
			all = append(all, candidate{text: folder + name})
		}
	}
	return all
}

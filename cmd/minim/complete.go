package main

import (
	"fmt"
	"io"
	"regexp"
	"slices"
	"strings"
	"unicode"
)

func completeCommand() command {
	return command{
		name:     "complete",
		synopsis: "complete -- WORD...",
		summary:  "what could stand at the end of a command line",
		about: `Lists what could stand in the place of the last of the words, one a line, with
what it is after a tab: commands, flags, the values of a flag, ingredients
(those of the --pantry files on the line too, also within a list with commas)
and files. The scripts of minim completion ask this; nothing else needs to.`,
		example: `minim complete -- design --from "dry gin, lime"`,
		bare:    true,
		flags: func(f *flags) {
			f.set.BoolVar(&f.newWord, "new", false, "the cursor stands after a space: complete a word that has not begun")
		},
		run: func(f *flags, s streams) error {
			words := f.args
			if f.newWord || len(words) == 0 {
				words = append(words, "")
			}
			var b strings.Builder
			for _, c := range candidates(words) {
				b.WriteString(c.text)
				if c.about != "" {
					b.WriteString("\t" + c.about)
				}
				b.WriteString("\n")
			}
			if _, err := io.WriteString(s.out, b.String()); err != nil {
				return &writeError{err}
			}
			return nil
		},
	}
}

// candidate is a word that could stand on the command line, and what it is.
type candidate struct{ text, about string }

// candidates are what could stand in the place of the last of the words that
// follow minim. Words may still be in the quotes that a shell takes off.
func candidates(words []string) []candidate {
	words = joined(words)
	for i := range words {
		words[i] = unquoted(words[i])
	}
	earlier, last := words[:len(words)-1], words[len(words)-1]
	asksHelp := len(earlier) > 0 && earlier[0] == "help"
	if asksHelp {
		earlier = earlier[1:]
	}
	among := commands()
	var c *command
	for len(earlier) > 0 && (c == nil || len(c.commands) > 0) {
		n := slices.Index(names(among), earlier[0])
		if n < 0 {
			return nil
		}
		c, earlier = &among[n], earlier[1:]
		among = c.commands
	}
	switch {
	case c == nil || len(c.commands) > 0:
		all := commandCandidates(among)
		if c == nil && asksHelp {
			all = append(all, topicCandidates()...)
		} else if c == nil {
			all = append(all, candidate{"help", helpSummary})
		}
		return starting(last, all)
	case asksHelp:
		return nil
	}
	return newLine(c, earlier).complete(last)
}

func commandCandidates(among []command) []candidate {
	var all []candidate
	for n, name := range names(among) {
		all = append(all, candidate{name, among[n].summary})
	}
	return all
}

// commandLine is a command and what was written after it so far.
type commandLine struct {
	command *command
	flags   []flagFacts
	given   map[string][]string
	// files are the words that are no flags and no values of them.
	files []string
	// open is the flag whose value comes next, nil for none.
	open *flagFacts
}

func newLine(c *command, words []string) *commandLine {
	l := &commandLine{command: c, flags: newFlags(c).facts(), given: map[string][]string{}}
	for _, word := range words {
		switch name, value, assigned := strings.Cut(strings.TrimPrefix(word, "--"), "="); {
		case l.open != nil:
			l.given[l.open.name] = append(l.given[l.open.name], word)
			l.open = nil
		case strings.HasPrefix(word, "--"):
			l.given[name] = append(l.given[name], value)
			if g := l.flag(name); g != nil && g.value != "" && !assigned {
				l.open = g
			}
		default:
			l.files = append(l.files, word)
		}
	}
	return l
}

func (l *commandLine) flag(name string) *flagFacts {
	n := slices.IndexFunc(l.flags, func(g flagFacts) bool { return g.name == name })
	if n < 0 {
		return nil
	}
	return &l.flags[n]
}

// complete is what the word could become.
func (l *commandLine) complete(word string) []candidate {
	if l.open != nil {
		return l.value(*l.open, word)
	}
	if name, value, ok := strings.Cut(word, "="); ok && strings.HasPrefix(name, "--") {
		g := l.flag(strings.TrimPrefix(name, "--"))
		if g == nil {
			return nil
		}
		return after(name+"=", l.value(*g, value))
	}
	if strings.HasPrefix(word, "-") {
		var all []candidate
		for _, g := range append(slices.Clone(l.flags), flagFacts{name: "help", usage: "what the command takes, with an example"}) {
			if _, given := l.given[g.name]; !given || g.repeatable {
				all = append(all, candidate{"--" + g.name, g.usage})
			}
		}
		return starting(word, all)
	}
	kinds := argumentKinds(l.command.synopsis)
	if len(kinds) == 0 {
		return nil
	}
	return l.value(flagFacts{value: kinds[min(len(l.files), len(kinds)-1)]}, word)
}

// argumentKinds are the words for a command's arguments; the last one stands
// for those after it where it ends in dots.
func argumentKinds(synopsis string) []string {
	var kinds []string
	for _, word := range strings.Fields(synopsis) {
		if name := strings.Trim(word, "[]."); name != "" && strings.ToUpper(name) == name && unicode.IsUpper([]rune(name)[0]) {
			kinds = append(kinds, name)
		}
	}
	if len(kinds) > 0 && !strings.Contains(synopsis, "...") {
		kinds = append(kinds, "")
	}
	return kinds
}

// listInUsage finds the words that a flag takes in what is said of it: "the ice
// METHOD: build, stir or none; unsaid, …".
var listInUsage = regexp.MustCompile(`: ((?:[a-z-]+, )*[a-z-]+ or [a-z-]+)(?:;|$)`)

// choicesIn are the words that the text of a flag lists.
func choicesIn(usage string) []string {
	found := listInUsage.FindStringSubmatch(usage)
	if found == nil {
		return nil
	}
	return strings.Split(strings.ReplaceAll(found[1], " or ", ", "), ", ")
}

// starting are the candidates that begin with the word, in either case.
func starting(word string, all []candidate) []candidate {
	var some []candidate
	for _, c := range all {
		if len(c.text) >= len(word) && strings.EqualFold(c.text[:len(word)], word) {
			some = append(some, c)
		}
	}
	return some
}

// after puts a beginning before each candidate.
func after(beginning string, all []candidate) []candidate {
	for i := range all {
		all[i].text = beginning + all[i].text
	}
	return all
}

// joined makes one word again of a flag, an equals sign and a value that a
// shell has taken apart. The shell completes the value alone, so that this
// stays a word of its own where it is the last.
func joined(words []string) []string {
	var out []string
	for n := 0; n < len(words); n++ {
		assigned := words[n] == "=" && len(out) > 0 && strings.HasPrefix(out[len(out)-1], "--")
		switch {
		case assigned && n == len(words)-1:
			out = append(out, "")
		case assigned:
		default:
			out = append(out, words[n])
		}
	}
	return out
}

// shellSpecial are the characters before which a shell takes a backslash off.
const shellSpecial = ` '"(),;&!$`

// unquoted takes off the quotes around a word, of which the last may not have
// been written yet, and the backslashes before what a shell treats specially.
func unquoted(word string) string {
	if word != "" && (word[0] == '"' || word[0] == '\'') {
		quote := word[:1]
		return strings.TrimSuffix(word[1:], quote)
	}
	var b strings.Builder
	for i := 0; i < len(word); i++ {
		if word[i] == '\\' && i+1 < len(word) && strings.IndexByte(shellSpecial, word[i+1]) >= 0 {
			continue
		}
		b.WriteByte(word[i])
	}
	return b.String()
}

// describe is what stands beside an ingredient in a list.
func describe(category string, strength float64) string {
	if strength > 0 {
		return fmt.Sprintf("%s, %s %% vol", category, trimmed(strength, 1))
	}
	return category
}

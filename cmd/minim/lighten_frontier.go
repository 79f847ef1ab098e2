package main

import (
	"fmt"
	"io"
	"slices"
	"strings"

	"minim/pantry"
	"minim/profile"
	"minim/solver"
)

// printFrontier writes a frontier as the flags ask for it; a picture is written
// first, so that nothing is printed where that fails.
func (f *flags) printFrontier(frontier *solver.Frontier, s streams) error {
	if name := f.svg; name != "" {
		if err := writeFile(name, frontierPicture(frontier).write); err != nil {
			return err
		}
	}
	var err error
	if f.json {
		err = writeFrontierJSON(s.out, frontier)
	} else {
		err = writeFrontier(s.out, frontier, f)
	}
	if err != nil {
		return &writeError{err}
	}
	var told []string
	broken := false
	for _, p := range frontier.Points {
		broken = broken || len(p.Broken) > 0
		for _, note := range p.Notes {
			if !slices.Contains(told, note) {
				told = append(told, note)
				fmt.Fprintln(s.err, wrap("note: "+note, lineWidth))
			}
		}
	}
	if broken {
		return errLimitBroke
	}
	return nil
}

// again is the command that prints one of the drinks in full: the one that was
// typed, without a picture.
func (f *flags) again(at string) string {
	var typed []string
	for i := 0; i < len(f.typed); i++ {
		switch word := f.typed[i]; {
		case word == "--svg":
			i++
		case !strings.HasPrefix(word, "--svg="):
			typed = append(typed, word)
		}
	}
	repeated := *f
	repeated.typed = typed
	return repeated.invocation("--at", at)
}

// writeFrontier prints what each strength costs, and what is poured at it.
func writeFrontier(w io.Writer, f *solver.Frontier, asked *flags) error {
	var b strings.Builder
	name := f.Original.Spec.Name
	if name == "" {
		name = "A drink"
	}
	first, last := f.Points[0], f.Points[len(f.Points)-1]
	b.WriteString(wrap(fmt.Sprintf("%s, from %s %% vol to %s", name, fixed(first.Profile[profile.Strength].Value, 1),
		fixed(last.Profile[profile.Strength].Value, 1)), lineWidth) + "\n\n")
	var rows [][]string
	for i, p := range f.Points {
		word := profile.Noticed(p.LeastJND)
		if i == f.Knee {
			word += ", the knee"
		}
		if len(p.Broken) > 0 {
			word = "out of reach"
		}
		rows = append(rows, []string{
			fixed(p.Most, 1), fixed(p.Profile[profile.Strength].Value, 1), fixed(p.Profile[profile.Ethanol].Value, 1), fixed(p.LeastJND, 1), word,
		})
	}
	if err := writeTable(&b, []tableColumn{
		{heading: "at most, %", right: true},
		{heading: "% vol", right: true},
		{heading: "ethanol, g", right: true},
		{heading: "off, JND", right: true},
		{heading: "a taster"},
	}, rows); err != nil {
		return err
	}
	if err := writeFrontierPours(&b, f, asked.liquidUnit(f.Original.Spec)); err != nil {
		return err
	}
	for _, sentence := range frontierSentences(f) {
		b.WriteString("\n" + wrap(sentence, lineWidth) + "\n")
	}
	at := f.Points[max(f.Knee, 1)]
	b.WriteString("\nAny of them in full, such as this one:\n" + asked.again(fixed(at.Most, 1)+"%"))
	_, err := io.WriteString(w, trimLines(b.String()))
	return err
}

// frontierColumns is how many drinks stand side by side in 80 columns.
const frontierColumns = 7

// writeFrontierPours prints the pours that change, a column a drink.
func writeFrontierPours(b *strings.Builder, f *solver.Frontier, unit liquidUnit) error {
	names, cells := frontierPours(f, unit)
	for from := 0; from < len(f.Points); from += frontierColumns {
		to := min(from+frontierColumns, len(f.Points))
		columns := []tableColumn{{heading: unit.heading() + " at % vol"}}
		for _, p := range f.Points[from:to] {
			columns = append(columns, tableColumn{heading: fixed(p.Most, 1), right: true})
		}
		var rows [][]string
		for n, name := range names {
			rows = append(rows, append([]string{cutName(longestPourName, name)}, cells[n][from:to]...))
		}
		b.WriteString("\n")
		if err := writeTable(b, columns, rows); err != nil {
			return err
		}
	}
	return nil
}

// longestPourName is what a name may take beside the columns of a frontier.
const longestPourName = 28

// frontierPours lists the pours that differ between points, with a cell for each
// point, aligned on the point; empty where there is none.
func frontierPours(f *solver.Frontier, unit liquidUnit) (names []string, cells [][]string) {
	type key struct {
		ingredient *pantry.Ingredient
		stage      solver.Stage
	}
	var keys []key
	for _, p := range f.Points {
		for i := range p.Pours {
			if k := (key{p.Pours[i].Ingredient, p.Pours[i].Stage}); !slices.Contains(keys, k) {
				keys = append(keys, k)
			}
		}
	}
	for _, k := range keys {
		row := make([]string, len(f.Points))
		name := ""
		differs := false
		for n, p := range f.Points {
			for i := range p.Pours {
				poured := &p.Pours[i]
				if (key{poured.Ingredient, poured.Stage}) != k {
					continue
				}
				name, row[n] = poured.Name, unit.number(poured.Base)
				switch {
				case poured.Ingredient.Solid && poured.Amount.Unit != pantry.Pieces:
					name, row[n] = poured.Name+", g", trimmed(poured.Base, 2)
				case counted(poured.Amount.Unit):
					name, row[n] = poured.Name+", "+unitWord(poured.Amount.Unit), trimmed(poured.Amount.Value, 2)
				}
			}
			differs = differs || row[n] != row[0]
		}
		if differs {
			if !unit.isOunce() {
				alignPoints(row)
			}
			for n := range row {
				if strings.TrimSpace(row[n]) == "" {
					row[n] = ""
				}
			}
			names, cells = append(names, name), append(cells, row)
		}
	}
	return names, cells
}

// unitWord is the word for several of a unit.
func unitWord(u pantry.Unit) string {
	_, word, _ := strings.Cut(pantry.Amount{Value: 2, Unit: u}.String(), " ")
	return word
}

// frontierSentences say what is compared, and name the knee.
func frontierSentences(f *solver.Frontier) []string {
	out := []string{"Off is the least that can be missed in volume, sugar, acid, salt, bitterness and umami together, strength left out; what goes with the alcohol comes on top."}
	if k := f.Knee; k >= 0 {
		at, next := f.Points[k], f.Points[k+1]
		out = append(out, fmt.Sprintf("The knee is at %s %% vol: down to there the drink can keep within %s JND of itself; the next step, to %s %% vol, costs %s JND more.",
			fixed(at.Most, 1), fixed(at.LeastJND, 1), fixed(next.Most, 1), fixed(next.LeastJND-at.LeastJND, 1)))
	} else {
		out = append(out, "There is no knee on the way: no step further down costs noticeably more than the one before it.")
	}
	for _, p := range f.Points {
		if !p.Proven {
			out = append(out, fmt.Sprintf("At %s %% vol the search was cut short: a closer drink is not ruled out there, and where a weaker one came closer it stands in its place.", fixed(p.Most, 1)))
		}
	}
	return out
}

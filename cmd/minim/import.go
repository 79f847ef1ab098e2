package main

import (
	"fmt"
	"io"
	"strings"

	"minim/pantry"
)

var importCommand = command{
	name:     "import",
	synopsis: "import FILE",
	summary:  "a recipe of the web (JSON-LD) as a spec",
	about: `Reads a Recipe of schema.org, as web pages carry it in JSON-LD, and prints it as
a spec. A line such as "45 ml dry gin" becomes a pour; lines without an amount
are listed with their place and left out. The steps say whether it is shaken,
stirred, built or blended, what goes on top and how it is finished, where their
words do. Check the spec before you pour from it.`,
	example: `minim import examples/harbour-wall.json --out harbour-wall.yaml`,
	schema:  "import",
	flags:   func(f *flags) { f.outFlag("write into `FILE` instead of printing" + replacesFile) },
	run:     importRecipe,
}

func importRecipe(f *flags, s streams) error {
	if len(f.args) != 1 {
		return fmt.Errorf("%d files named; expected one, or - for standard input", len(f.args))
	}
	shelf, err := f.shelf(s)
	if err != nil {
		return err
	}
	in, err := open(f.args[0], s)
	if err != nil {
		return err
	}
	defer in.Close()
	reading, err := pantry.ReadRecipe(in, f.args[0], shelf)
	if err != nil {
		return err
	}
	var text strings.Builder
	if err := reading.Spec.Write(&text); err != nil {
		return fmt.Errorf("%s: %w", f.args[0], err)
	}
	if err := f.writeImported(text.String(), reading, s); err != nil {
		return err
	}
	for _, one := range reading.Unread {
		fmt.Fprintf(s.err, "left out: %v\n", one)
	}
	for _, note := range reading.Notes {
		fmt.Fprintln(s.err, wrap("note: "+note, lineWidth))
	}
	return nil
}

// writeImported puts the spec where the flags ask for it.
func (f *flags) writeImported(text string, reading *pantry.RecipeReading, s streams) error {
	if f.out != "" {
		if err := f.notOverRead(f.out, f.args...); err != nil {
			return err
		}
		err := writeFile(f.out, func(w io.Writer) error {
			_, err := io.WriteString(w, text)
			return err
		})
		if err != nil {
			return err
		}
	}
	var err error
	switch {
	case f.json:
		err = writeValue(s.out, importedJSON(text, reading, f.out))
	case f.out != "":
		_, err = fmt.Fprintln(s.out, wrap(strings.TrimSpace(countOf(len(reading.Spec.Pours()), "pour")+" written to "+f.out), lineWidth))
	default:
		_, err = io.WriteString(s.out, text)
	}
	if err != nil {
		return &writeError{err}
	}
	return nil
}

// jsonImported is what was made of a recipe.
type jsonImported struct {
	File   string       `json:"file,omitempty"`
	Spec   string       `json:"spec"`
	Unread []jsonUnread `json:"unread"`
	Notes  []string     `json:"notes"`
}

// jsonUnread is a line that became no pour.
type jsonUnread struct {
	Line    int    `json:"line"`
	Column  int    `json:"column"`
	Message string `json:"message"`
	Hint    string `json:"hint"`
}

func importedJSON(text string, reading *pantry.RecipeReading, file string) jsonImported {
	out := jsonImported{File: file, Spec: text, Unread: []jsonUnread{}, Notes: append([]string{}, reading.Notes...)}
	for _, one := range reading.Unread {
		out.Unread = append(out.Unread, jsonUnread{one.Place.Line, one.Place.Column, one.Message, one.Hint})
	}
	return out
}

package main

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"
	"unicode"

	"minim/pantry"
	"minim/solver"
)

var compareCommand = command{
	name:     "compare",
	synopsis: "compare A B [C...]",
	summary:  "drinks side by side, or a folder of them",
	about: `Sets two drinks or more side by side: each property in its unit, then how far
each drink is from the first in JND, the smallest difference that a taster can
tell. Of a folder it lists every spec in it, a line a drink, and names the
drinks that are nearest to one another. Open pours are solved first, as design
does. With --svg it also draws them: two drinks or more, each property on its
own JND scale; a folder, strength against acid, with a disc the larger the
sweeter.`,
	example: `minim compare examples/morning-tide.yaml examples/slack-water.yaml`,
	schema:  "compare",
	flags:   func(f *flags) { f.set.StringVar(&f.svg, "svg", "", "also draw the picture into `FILE`, as SVG") },
	run:     compare,
}

// compared is the drinks of a comparison as the reader knows them.
type compared struct {
	*solver.Comparison
	// names tell the drinks apart, files are where they were read, solved says
	// whether pours were open.
	names, files []string
	solved       []bool
	// menu says that folders were named: a list rather than columns.
	menu bool
	// unit is what volumes are printed in.
	unit liquidUnit
	// skipped are the files of a folder that are no drink, and why.
	skipped []skippedFile
}

// skippedFile is a file of a folder that is no drink.
type skippedFile struct {
	name string
	why  error
}

func compare(f *flags, s streams) error {
	c, err := f.readCompared(s)
	if err != nil {
		return err
	}
	if err := f.checkPicture(c.files...); err != nil {
		return err
	}
	for _, one := range c.skipped {
		fmt.Fprintf(s.err, "%v\n", one.why)
	}
	if len(c.Drinks) == 0 {
		return fmt.Errorf("no drink in %s; expected specs, files that end in .yaml", list(f.args))
	}
	var out bytes.Buffer
	if f.json {
		err = writeComparedJSON(&out, c)
	} else {
		err = writeCompared(&out, c)
	}
	if err != nil {
		return err
	}
	if f.svg != "" {
		if err := writeFile(f.svg, c.picture().write); err != nil {
			return err
		}
		if !f.json {
			fmt.Fprintf(&out, "\nDrawn in %s.\n", f.svg)
		}
	}
	if _, err := s.out.Write(out.Bytes()); err != nil {
		return &writeError{err}
	}
	return c.remark(s.err)
}

// remark prints what should be known of each drink of a few; of a list that
// would be too much, and profile prints it. A broken limit is always named.
func (c *compared) remark(w io.Writer) error {
	broken := false
	for n, a := range c.Drinks {
		for _, b := range a.Broken {
			broken = true
			fmt.Fprintln(w, wrap(fmt.Sprintf("note: %s breaks its limit %q: it comes to %s %s", c.names[n], b.Written, fixed(b.Got, 2), b.Unit), lineWidth))
		}
		if c.menu {
			continue
		}
		for _, note := range a.Notes {
			fmt.Fprintln(w, wrap("note: "+c.names[n]+": "+note, lineWidth))
		}
	}
	if broken {
		return errLimitBroke
	}
	return nil
}

// readCompared reads what was named: files, of which each must be a drink, and
// folders, of which at least one file must be.
func (f *flags) readCompared(s streams) (*compared, error) {
	switch {
	case len(f.args) == 0:
		return nil, errors.New("nothing to compare; expected two files or more, or a folder of specs")
	case len(f.args) == 1 && isFile(f.args[0]):
		return nil, fmt.Errorf("only %s to compare; expected two files or more, or a folder of specs", f.args[0])
	}
	shelf, err := f.shelf(s)
	if err != nil {
		return nil, err
	}
	unit, err := parseLiquidUnit(f.units)
	if err != nil {
		return nil, err
	}
	c := &compared{unit: unit}
	var drinks []*solver.Answer
	for _, name := range f.args {
		files, folder := []string{name}, isFolder(name)
		if folder {
			c.menu = true
			if files, err = specsIn(name); err != nil {
				return nil, err
			}
		}
		if found := len(drinks) + len(files); found > mostCompared {
			return nil, fmt.Errorf("%s: %d drinks to compare; expected at most %d: name some of them", name, found, mostCompared)
		}
		for _, file := range files {
			a, solved, err := f.finish(file, folder, shelf, s)
			switch {
			case err != nil && folder:
				c.skipped = append(c.skipped, skippedFile{file, err})
				continue
			case err != nil:
				return nil, err
			}
			drinks = append(drinks, a)
			c.files = append(c.files, file)
			c.solved = append(c.solved, solved)
		}
	}
	c.Comparison = solver.Compare(drinks)
	c.names = drinkNames(drinks, c.files)
	return c, nil
}

func isFile(name string) bool {
	info, err := os.Stat(name)
	return name == "-" || err == nil && !info.IsDir()
}

func isFolder(name string) bool {
	info, err := os.Stat(name)
	return name != "-" && err == nil && info.IsDir()
}

// mostCompared are the drinks of one comparison; their distances are one number
// for each two of them.
const mostCompared = 200

// specsIn are the files of a folder whose names end in .yaml, in the order of
// their names.
func specsIn(folder string) ([]string, error) {
	entries, err := os.ReadDir(folder)
	if err != nil {
		return nil, readError(folder, err)
	}
	var files []string
	for _, e := range entries {
		if strings.EqualFold(filepath.Ext(e.Name()), ".yaml") {
			files = append(files, filepath.Join(folder, e.Name()))
		}
	}
	if len(files) > mostCompared {
		return nil, fmt.Errorf("%s: %d drinks; expected at most %d: name some of them, or split the folder", folder, len(files), mostCompared)
	}
	return files, nil
}

// finish reads one drink and solves what is open in it. A prep in a folder is no
// drink; one that was named by itself is taken for one.
func (f *flags) finish(file string, inFolder bool, shelf *pantry.Shelf, s streams) (*solver.Answer, bool, error) {
	q, err := f.question(file, shelf, s)
	if err != nil {
		return nil, false, err
	}
	if inFolder && q.Spec.Makes != nil {
		return nil, false, fmt.Errorf("%s: a prep, which makes an ingredient; left out", file)
	}
	a, solved, err := solver.Finish(q)
	if err != nil {
		return nil, false, named(q.Spec, err)
	}
	return a, solved, nil
}

// drinkNames are the names of the drinks. Those that are called the same go by
// their files and, where even these are the same, by numbers.
func drinkNames(drinks []*solver.Answer, files []string) []string {
	names, called, read := make([]string, len(drinks)), map[string]int{}, map[string]int{}
	for n, a := range drinks {
		names[n] = a.Spec.Name
		if names[n] == "" {
			names[n] = strings.TrimSuffix(filepath.Base(files[n]), filepath.Ext(files[n]))
		}
		called[names[n]]++
		read[files[n]]++
	}
	times := map[string]int{}
	for n, name := range names {
		times[files[n]]++
		switch {
		case called[name] > 1 && read[files[n]] > 1:
			names[n] = fmt.Sprintf("%s no. %d", name, times[files[n]])
		case called[name] > 1:
			names[n] = files[n]
		}
		names[n] = strings.Map(func(r rune) rune {
			if unicode.IsControl(r) {
				return -1
			}
			return r
		}, names[n])
	}
	return names
}

// shortNames cuts names to so many characters, and numbers those that would
// then be the same.
func shortNames(names []string, most int) []string {
	short, seen := make([]string, len(names)), map[string]bool{}
	for n, name := range names {
		short[n] = shortened(name, most)
		for i := 2; seen[short[n]]; i++ {
			number := fmt.Sprintf(" %d", i)
			short[n] = shortened(name, most-len(number)) + number
		}
		seen[short[n]] = true
	}
	return short
}

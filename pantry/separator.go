package pantry

import (
	"bytes"
	"encoding/csv"
	"strings"
)

// separators are what may stand between the cells of a table.
const separators = ",;\t"

// table is the text of a CSV file with the reader of its cells.
type table struct {
	lines []string
	csv   *csv.Reader
	// named is the line that names the separator, as spreadsheets write it first;
	// empty: there is none.
	named string
}

// newTable finds the separator of a file: the one that a first line such as
// sep=; names, which is no row, else the one that stands most often in the first
// line with text.
func newTable(data []byte) table {
	t := table{lines: strings.Split(string(data), "\n")}
	comma := ','
	first, rest, _ := bytes.Cut(data, []byte("\n"))
	if named, ok := separatorNamed(string(first)); ok {
		comma, t.named = named, string(first)
		// An empty line is passed over, and those below keep their numbers.
		data = append([]byte("\n"), rest...)
	} else {
		comma = separatorOf(t.lines)
	}
	t.csv = csv.NewReader(bytes.NewReader(data))
	t.csv.FieldsPerRecord = -1
	t.csv.Comma = comma
	return t
}

// separatorNamed reads a line such as sep=; with or without quotation marks.
func separatorNamed(line string) (rune, bool) {
	text := strings.Trim(strings.TrimRight(line, "\r"), `"`)
	if len(text) != len("sep=;") || !strings.EqualFold(text[:len("sep=")], "sep=") || !strings.Contains(separators, text[len("sep="):]) {
		return 0, false
	}
	return rune(text[len("sep=")]), true
}

// separatorOf returns the character that parts the headings in the first line
// with text: the one of separators of which there are most, a comma before the
// others.
func separatorOf(lines []string) rune {
	comma := ','
	for _, line := range lines {
		if strings.TrimSpace(line) == "" {
			continue
		}
		for _, s := range separators {
			if strings.Count(line, string(s)) > strings.Count(line, string(comma)) {
				comma = s
			}
		}
		break
	}
	return comma
}

package profile

import (
	"encoding/csv"
	"fmt"
	"maps"
	"math"
	"os"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// publishedRow is one published value and where it stands.
type publishedRow struct {
	line                       int
	subject, inputs            string
	expected, tolerance        float64
	unit, source, confidence   string
	disagreesBy                float64
	disagrees                  string
	computedHere, missByAmount float64
}

// publishedInputs are the named inputs of a row. Every one must be read.
type publishedInputs struct {
	words map[string]string
	read  map[string]bool
}

func (in *publishedInputs) word(name string) string {
	word, ok := in.words[name]
	if !ok {
		panic(fmt.Sprintf("no input %q", name))
	}
	in.read[name] = true
	return word
}

func (in *publishedInputs) number(name string) float64 {
	number, err := strconv.ParseFloat(in.word(name), 64)
	if err != nil {
		panic(fmt.Sprintf("input %q: %v", name, err))
	}
	return number
}

// publishedSubject computes what a row expects.
type publishedSubject func(in *publishedInputs) float64

// publishedSubjects has one entry for each subject in testdata/published.csv.
var publishedSubjects = func() map[string]publishedSubject {
	all := map[string]publishedSubject{}
	for _, part := range []map[string]publishedSubject{
		alcoholometrySubjects, gaugingSubjects, solutionSubjects, heatSubjects, iceSubjects, tasteSubjects, amountSubjects,
		bubbleSubjects, textureSubjects, doseSubjects, acidSubjects,
	} {
		for name, subject := range part {
			if _, twice := all[name]; twice {
				panic("two functions for " + name)
			}
			all[name] = subject
		}
	}
	return all
}()

// rounding is the slack for tolerances of 0 and for decimal fractions that are
// not exact in binary, relative to the expected value.
const rounding = 1e-12

// TestPublishedValues compares the package with values printed elsewhere. A
// row with an entry under disagrees, "at most X: reason", must be off by more
// than its tolerance and by no more than X.
func TestPublishedValues(t *testing.T) {
	rows := readPublished(t, "testdata/published.csv")
	const atLeast = 120
	if len(rows) < atLeast {
		t.Errorf("%d rows, want %d or more", len(rows), atLeast)
	}
	bySubject := map[string][]publishedRow{}
	for _, row := range rows {
		compute, ok := publishedSubjects[row.subject]
		if !ok {
			t.Errorf("published.csv:%d: no function for %q", row.line, row.subject)
			continue
		}
		row.computedHere = computePublished(t, &row, compute)
		row.missByAmount = math.Abs(row.computedHere - row.expected)
		slack := rounding * math.Abs(row.expected)
		switch {
		case math.IsNaN(row.computedHere):
			t.Errorf("published.csv:%d: %s of %s is not a number", row.line, row.subject, row.inputs)
		case row.disagrees == "" && row.missByAmount > row.tolerance+slack:
			t.Errorf("published.csv:%d: %s of %s: got %.6g, want %g ± %g %s (%s)",
				row.line, row.subject, row.inputs, row.computedHere, row.expected, row.tolerance, row.unit, row.source)
		case row.disagrees != "" && row.missByAmount <= row.tolerance:
			t.Errorf("published.csv:%d: %s of %s: %.6g agrees now with %g ± %g, yet is marked %q",
				row.line, row.subject, row.inputs, row.computedHere, row.expected, row.tolerance, row.disagrees)
		case row.disagrees != "" && row.missByAmount > row.disagreesBy+slack:
			t.Errorf("published.csv:%d: %s of %s: got %.6g, want %g, off by %.4g; marked %q",
				row.line, row.subject, row.inputs, row.computedHere, row.expected, row.missByAmount, row.disagrees)
		}
		bySubject[row.subject] = append(bySubject[row.subject], row)
	}
	for subject := range publishedSubjects {
		if len(bySubject[subject]) == 0 {
			t.Errorf("no rows for %q", subject)
		}
	}
	t.Log(publishedTable(bySubject))
}

// computePublished calls compute for the row and checks that it read each input.
func computePublished(t *testing.T, row *publishedRow, compute publishedSubject) float64 {
	t.Helper()
	in := publishedInputs{words: map[string]string{}, read: map[string]bool{}}
	if row.inputs != "" {
		for pair := range strings.SplitSeq(row.inputs, ";") {
			name, value, ok := strings.Cut(pair, "=")
			if !ok {
				t.Fatalf("published.csv:%d: input %q; want name=value", row.line, pair)
			}
			in.words[name] = value
		}
	}
	defer func() {
		if fault := recover(); fault != nil {
			t.Fatalf("published.csv:%d: %s of %s: %v", row.line, row.subject, row.inputs, fault)
		}
	}()
	result := compute(&in)
	for name := range in.words {
		if !in.read[name] {
			t.Errorf("published.csv:%d: %s does not read its input %q", row.line, row.subject, name)
		}
	}
	return result
}

func readPublished(t *testing.T, name string) []publishedRow {
	t.Helper()
	file, err := os.Open(name)
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	reader := csv.NewReader(file)
	heading, err := reader.Read()
	if err != nil {
		t.Fatal(err)
	}
	want := []string{"subject", "inputs", "expected", "unit", "tolerance", "source", "confidence", "disagrees"}
	if !slices.Equal(heading, want) {
		t.Fatalf("%s: heading %q, want %q", name, heading, want)
	}
	var rows []publishedRow
	records, err := reader.ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	for i, r := range records {
		row := publishedRow{
			line: i + 2, subject: r[0], inputs: r[1], unit: r[3], source: r[5], confidence: r[6], disagrees: r[7],
		}
		row.expected = mustParse(t, name, row.line, r[2])
		row.tolerance = mustParse(t, name, row.line, r[4])
		if row.disagrees != "" {
			bound, reason, ok := strings.Cut(strings.TrimPrefix(row.disagrees, "at most "), ": ")
			if !ok || reason == "" {
				t.Fatalf("%s:%d: disagrees %q; want \"at most X: reason\"", name, row.line, row.disagrees)
			}
			row.disagreesBy = mustParse(t, name, row.line, bound)
		}
		if row.source == "" || !slices.Contains([]string{"seen", "memory", "computed", "estimate"}, row.confidence) {
			t.Errorf("%s:%d: source %q, confidence %q", name, row.line, row.source, row.confidence)
		}
		rows = append(rows, row)
	}
	return rows
}

func mustParse(t *testing.T, name string, line int, text string) float64 {
	t.Helper()
	number, err := strconv.ParseFloat(text, 64)
	if err != nil || math.IsNaN(number) || math.IsInf(number, 0) {
		t.Fatalf("%s:%d: %q; want a number", name, line, text)
	}
	return number
}

// publishedTable lists rows and worst errors per subject.
func publishedTable(bySubject map[string][]publishedRow) string {
	var b strings.Builder
	fmt.Fprintf(&b, "\n| %-41s | rows | seen | worst error | of tolerance | unit          | disagree | worst disagreement |\n", "subject")
	fmt.Fprintf(&b, "| %s | ---: | ---: | ---: | ---: | --- | ---: | ---: |\n", strings.Repeat("-", 41))
	var total, seen, disagree int
	for _, subject := range slices.Sorted(maps.Keys(bySubject)) {
		rows := bySubject[subject]
		var seenHere, disagreeHere int
		var worst, part, worstDisagreement float64
		for _, row := range rows {
			if row.confidence == "seen" {
				seenHere++
			}
			if row.disagrees != "" {
				disagreeHere++
				worstDisagreement = max(worstDisagreement, row.missByAmount)
				continue
			}
			worst = max(worst, row.missByAmount)
			if row.tolerance > 0 {
				part = max(part, row.missByAmount/row.tolerance)
			}
		}
		fmt.Fprintf(&b, "| %-41s | %4d | %4d | %11.2g | %9.0f %%  | %-13s | %8d | %18.2g |\n",
			subject, len(rows), seenHere, worst, 100*part, rows[0].unit, disagreeHere, worstDisagreement)
		total, seen, disagree = total+len(rows), seen+seenHere, disagree+disagreeHere
	}
	fmt.Fprintf(&b, "| %-41s | %4d | %4d | %11s | %12s | %-13s | %8d | %18s |\n", "all", total, seen, "", "", "", disagree, "")
	return b.String()
}

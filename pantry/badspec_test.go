package pantry

import (
	"bytes"
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"testing/iotest"
)

// Each file in testdata/badspecs is one kind of mistake; beside it stands what a
// bartender is told.
func TestMistakesInSpecsAreExplained(t *testing.T) {
	files, err := filepath.Glob("testdata/badspecs/*.yaml")
	if err != nil || len(files) < 100 {
		t.Fatalf("%d broken specs, %v; expected the folder of them", len(files), err)
	}
	for _, file := range files {
		t.Run(strings.TrimSuffix(filepath.Base(file), ".yaml"), func(t *testing.T) {
			text, err := os.ReadFile(file)
			if err != nil {
				t.Fatal(err)
			}
			want, err := os.ReadFile(strings.TrimSuffix(file, ".yaml") + ".txt")
			if err != nil {
				t.Fatal(err)
			}
			spec, err := ReadSpec(bytes.NewReader(text), filepath.Base(file))
			var wrong InputErrors
			if spec != nil || !errors.As(err, &wrong) {
				t.Fatalf("read %v, %v; expected InputErrors alone", spec, err)
			}
			if got := err.Error() + "\n"; got != string(want) {
				t.Errorf("got:\n%s\nwant:\n%s", got, want)
			}
			for _, line := range strings.Split(err.Error(), "\n") {
				if strings.HasSuffix(line, ".") || strings.Contains(line, "libyaml") || strings.Contains(line, "*yaml") {
					t.Errorf("not a line for people: %s", line)
				}
			}
			checkPlaces(t, wrong, len(strings.Split(string(text), "\n")))
		})
	}
}

// checkPlaces demands that errors stand in the order of the file and inside it.
func checkPlaces(t *testing.T, wrong InputErrors, lines int) {
	t.Helper()
	last := Place{}
	for _, e := range wrong {
		p := e.Place
		if p.Line < last.Line || p.Line == last.Line && p.Column < last.Column {
			t.Errorf("%v comes after %v", p, last)
		}
		if p.Line > lines || p.Line < 0 || p.Column < 0 {
			t.Errorf("%v is outside the file", p)
		}
		last = p
	}
}

func TestSpecLargerThanAMegabyteIsRefused(t *testing.T) {
	text := "mix:\n  dry gin: 30 ml\n" + strings.Repeat("# a long story\n", 1<<17)
	_, err := ReadSpec(strings.NewReader(text), "long.yaml")
	if err == nil || !strings.Contains(err.Error(), "more than one megabyte") {
		t.Errorf("%v; expected a word about its size", err)
	}
}

func TestHostileSpecsEnd(t *testing.T) {
	const size = largestSpec - 100
	for name, text := range map[string]string{
		"brackets":   strings.Repeat("[", size),
		"braces":     strings.Repeat("{a: ", size/4),
		"dashes":     strings.Repeat("- ", size/2),
		"questions":  strings.Repeat("? ", size/2),
		"names":      strings.Repeat("a:\n", size/3),
		"long line":  "mix: {" + strings.Repeat("a: 1, ", size/6) + "}",
		"one number": "mix:\n  gin: " + strings.Repeat("9", size) + " ml",
		"one name":   "mix:\n  '" + strings.Repeat("g", size-20) + "': 1 ml",
		"quotes":     strings.Repeat("\"", size),
		"hashes":     strings.Repeat("a #a:\n", size/6),
		"deep lines": deepLines(1000),
	} {
		_, err := ReadSpec(strings.NewReader(text), "hostile.yaml")
		if err == nil {
			t.Errorf("%s: read without complaint", name)
		} else if len(err.Error()) > 20_000 {
			t.Errorf("%s: %d bytes of complaint", name, len(err.Error()))
		}
	}
}

func deepLines(depth int) string {
	var b strings.Builder
	for i := range depth {
		b.WriteString(strings.Repeat(" ", i) + "a:\n")
	}
	return b.String()
}

func TestReaderThatFailsIsNamed(t *testing.T) {
	broken := errors.New("the stick was pulled out")
	_, err := ReadSpec(iotest.ErrReader(broken), "ask.yaml")
	if !errors.Is(err, broken) || !strings.HasPrefix(err.Error(), "ask.yaml: ") {
		t.Errorf("%v; expected the reader's error with the file's name", err)
	}
}

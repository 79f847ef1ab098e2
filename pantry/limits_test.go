package pantry

import (
	"errors"
	"fmt"
	"strings"
	"testing"
)

// What is one more than a file may have is refused where it stands; what is just
// as much is read.
func TestFilesHoldAsMuchAsTheyMay(t *testing.T) {
	rows := func(count int) string {
		var b strings.Builder
		b.WriteString("name\n")
		for n := range count {
			fmt.Fprintf(&b, "n%d\n", n)
		}
		return b.String()
	}
	lots := func(count int) string {
		return "date,ingredient,brix\n" + strings.Repeat("2026-11-20,lemon juice,8.5\n", count)
	}
	pours := func(count int) string {
		var b strings.Builder
		b.WriteString("mix:\n")
		for n := range count {
			fmt.Fprintf(&b, "  n%d: 1 ml\n", n)
		}
		return b.String()
	}
	overlay := func(text string) error {
		_, err := (&Shelf{}).Overlay(strings.NewReader(text), "file")
		return err
	}
	cleaned := func(text string) error {
		_, err := Clean(strings.NewReader(text), "file", &Shelf{})
		return err
	}
	measured := func(text string) error {
		_, err := ReadLots(strings.NewReader(text), "file")
		return err
	}
	spec := func(text string) error {
		_, err := ReadSpec(strings.NewReader(text), "file")
		return err
	}
	for _, c := range []struct {
		about  string
		read   func(string) error
		text   string
		place  Place
		refuse bool
	}{
		{"rows", overlay, rows(mostRows), Place{}, false},
		{"one row more", overlay, rows(mostRows + 1), Place{"file", mostRows + 2, 1}, true},
		{"rows to be cleaned", cleaned, rows(mostRows), Place{}, false},
		{"one row more to be cleaned", cleaned, rows(mostRows + 1), Place{"file", mostRows + 2, 1}, true},
		{"lots", measured, lots(mostRows), Place{}, false},
		{"one lot more", measured, lots(mostRows + 1), Place{"file", mostRows + 2, 1}, true},
		{"empty columns", overlay, "name" + strings.Repeat(",", mostHeadings-1) + "\nx\n", Place{}, false},
		{"one column more", overlay, "name" + strings.Repeat(",", mostHeadings) + "\nx\n", Place{"file", 1, len("name") + mostHeadings + 1}, true},
		{"empty lines", overlay, "name\nx\n" + strings.Repeat("\n", mostLines-2), Place{}, false},
		{"one line more", overlay, "name\nx\n" + strings.Repeat("\n", mostLines-1), Place{File: "file"}, true},
		{"a line too long", overlay, "name\n" + strings.Repeat("x", longestLine+1) + "\n", Place{File: "file", Line: 2}, true},
		{"pours", spec, pours(mostPours), Place{}, false},
		{"one pour more", spec, pours(mostPours + 1), Place{"file", mostPours + 2, 3}, true},
	} {
		err := c.read(c.text)
		if !c.refuse {
			if err != nil {
				t.Errorf("%s: %v", c.about, err)
			}
			continue
		}
		var wrong InputErrors
		if !errors.As(err, &wrong) || wrong[0].Place != c.place {
			t.Errorf("%s: %.200v, expected a refusal at %v", c.about, err, c.place)
		}
	}
}

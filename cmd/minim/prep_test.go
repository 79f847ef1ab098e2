package main

import (
	"path/filepath"
	"testing"
)

// The bar's own preps, by themselves and solved for their drinks, fit a terminal.
func TestPrepsFitTheTerminal(t *testing.T) {
	folder := filepath.Join(examples(t), "preps")
	t.Chdir(folder)
	for _, args := range [][]string{
		{"profile", "hibiscus-syrup.yaml"},
		{"profile", "acid-blend.yaml"},
		{"profile", "hibiscus-cordial.yaml"},
		{"design", "ebb-tide.yaml"},
		{"design", "neap-tide.yaml"},
		{"prep", "tide-base.yaml", "--for", "ebb-tide.yaml", "--for", "neap-tide.yaml"},
	} {
		for _, form := range [][]string{nil, {"--units", "oz"}} {
			code, out, errs := minim(t, "", append(args, form...)...)
			if code != exitAnswered {
				t.Errorf("minim %q: exit code %d\n%s", args, code, errs)
			}
			fits(t, out, args)
			if errs != "" {
				fits(t, errs, args)
			}
		}
	}
}

// A drink whose preps are written out says the same twice, and its base, filled in,
// stands for the open one.
func TestSolvedPrepPrintsTheSameBytes(t *testing.T) {
	t.Chdir(filepath.Join(examples(t), "preps"))
	for _, args := range [][]string{{"design", "ebb-tide.yaml", "--json"}, {"prep", "tide-base.yaml", "--for", "neap-tide.yaml", "--json"}} {
		_, first, _ := minim(t, "", args...)
		if _, second, _ := minim(t, "", args...); first != second {
			t.Errorf("minim %q prints\n%s\nand then\n%s", args, first, second)
		}
	}
}

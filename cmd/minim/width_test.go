package main

import (
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"unicode/utf8"

	"minim/pantry"
)

// terminal is the width of a terminal, in characters.
const terminal = 80

// What is printed fits a terminal of 80 columns and leaves no spaces at the
// ends of its lines.
func TestAnswersFitTheTerminal(t *testing.T) {
	house := filepath.Join(examples(t), "weir-lantern.csv")
	for _, question := range questions(t) {
		for _, form := range [][]string{nil, {"--units", "oz"}, {"--units", "imp-oz"}, {"--units", "cl"}, {"--spec"}} {
			args := append(append([]string{"design", "--pantry", house}, question...), form...)
			code, out, errs := minim(t, "", args...)
			if code != exitAnswered && code != exitLimitBroke {
				t.Fatalf("minim %q: exit code %d\n%s", args, code, errs)
			}
			fits(t, out, args)
			if len(form) == 0 || form[0] != "--spec" {
				continue
			}
			code, out, errs = minim(t, out, "profile", "--pantry", house, "-")
			if code != exitAnswered && code != exitLimitBroke {
				t.Fatalf("minim profile of what %q prints: exit code %d\n%s", args, code, errs)
			}
			fits(t, out, append([]string{"profile of"}, args...))
		}
	}
}

func TestChangesFitTheTerminal(t *testing.T) {
	house := filepath.Join(examples(t), "weir-lantern.csv")
	file := func(name string) string { return filepath.Join(examples(t), name) }
	for _, question := range [][]string{
		{"rebalance", file("morning-tide.yaml"), "--swap", "fino sherry=dry vermouth", "--swap", "honey syrup=rich syrup"},
		{"rebalance", file("lock-keeper.yaml"), "--swap", "egg white="},
		{"rebalance", file("high-water.yaml"), "--swap", "dry gin=soda water"},
		{"nudge", file("morning-tide.yaml"), "--more", "sour", "--less", "sweet=2", "--jug", "500ml"},
		{"nudge", file("lock-keeper.yaml"), "--more", "savoury", "--jug", "2L"},
		{"lighten", file("high-water.yaml"), "--abv", "0"},
		{"reach", file("low-tide-garden.yaml"), "--of", "salt"},
		{"compare", file("weir-light.yaml"), file("lock-keeper.yaml"), file("high-water.yaml"), file("morning-tide.yaml")},
		{"compare", examples(t)},
	} {
		for _, units := range []string{"ml", "cl", "oz", "imp-oz"} {
			args := append(slices.Clone(question), "--pantry", house, "--units", units)
			code, out, errs := minim(t, "", args...)
			if code != exitAnswered && code != exitLimitBroke {
				t.Fatalf("minim %q: exit code %d\n%s", args, code, errs)
			}
			fits(t, out, args)
		}
	}
}

func TestThePantryFitsTheTerminal(t *testing.T) {
	_, out, _ := minim(t, "", "pantry", "list")
	fits(t, out, []string{"pantry list"})
	for _, i := range pantry.Embedded().All() {
		_, out, _ := minim(t, "", "pantry", "show", i.ID)
		fits(t, out, []string{"pantry show", i.Name})
	}
}

func TestHelpFitsTheTerminal(t *testing.T) {
	_, overview, _ := minim(t, "", "help")
	fits(t, overview, []string{"help"})
	for _, group := range [][]string{{"pantry"}, {"pantry", "measure"}} {
		_, out, _ := minim(t, "", append([]string{"help"}, group...)...)
		fits(t, out, group)
	}
	for _, c := range leaves(commands()) {
		_, out, _ := helpOf(t, &c)
		// An example is one line to be copied, however long.
		fits(t, strings.Replace(out, "  "+c.example, "", 1), []string{"help", c.name})
	}
}

func fits(t *testing.T, out string, args []string) {
	t.Helper()
	if out == "" || !strings.HasSuffix(out, "\n") {
		t.Errorf("%q: the output is empty or does not end its last line:\n%s", args, out)
	}
	for i, line := range strings.Split(out, "\n") {
		if n := utf8.RuneCountInString(line); n > terminal {
			t.Errorf("%q: line %d has %d characters:\n%s", args, i+1, n, line)
		}
		if strings.TrimRight(line, " \t\r") != line {
			t.Errorf("%q: line %d ends in spaces:\n%q", args, i+1, line)
		}
	}
}

package main

import (
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"minim/profile"
)

// completed are the words that minim complete offers, without what they are.
func completed(t *testing.T, args ...string) []string {
	t.Helper()
	code, out, errs := minim(t, "", append([]string{"complete", "--"}, args...)...)
	if code != exitAnswered || errs != "" {
		t.Fatalf("complete %q: exit code %d\n%s", args, code, errs)
	}
	var all []string
	for _, line := range strings.Split(strings.TrimSuffix(out, "\n"), "\n") {
		text, _, _ := strings.Cut(line, "\t")
		if text != "" {
			all = append(all, text)
		}
	}
	return all
}

// Of every command of the table its name and its flags are offered, so that a
// new one is too.
func TestEveryCommandAndFlagIsCompleted(t *testing.T) {
	for _, c := range commands() {
		if got := completed(t, c.name[:1]); !slices.Contains(got, c.name) {
			t.Errorf("%q is not offered %s: %q", c.name[:1], c.name, got)
		}
	}
	for _, c := range leaves(commands()) {
		path := strings.Fields(c.name)
		if got := completed(t, path...); !slices.Contains(got, path[len(path)-1]) {
			t.Errorf("%s is not offered", c.name)
		}
		got := completed(t, append(path, "--")...)
		for _, g := range newFlags(&c).facts() {
			if !slices.Contains(got, "--"+g.name) {
				t.Errorf("%s is not offered --%s", c.name, g.name)
			}
			if g.value != "FILE" {
				continue
			}
			beginning, whole := "complete_t", "complete_test.go"
			if slices.Contains([]string{"pantry", "lots", "lot"}, g.name) {
				beginning, whole = "../../examples/weir-lantern-", "../../examples/weir-lantern-prices.csv"
			}
			if files := completed(t, append(path, "--"+g.name, beginning)...); !slices.Contains(files, whole) {
				t.Errorf("%s --%s is not offered a file: %q", c.name, g.name, files)
			}
		}
	}
}

func TestValuesAreCompleted(t *testing.T) {
	folder := withExamples(t)
	t.Chdir(folder)
	if err := os.Mkdir("drinks of June", 0o755); err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		name  string
		words []string
		// some must be offered, none must not.
		some, none []string
	}{
		{"ice methods", []string{"design", "--ice", ""}, profile.MethodNames(), nil},
		{"a property", []string{"reach", "x.yaml", "--of", "ac"}, []string{"acid"}, []string{"abv"}},
		{"units", []string{"profile", "--units", ""}, unitWords(), nil},
		{"an ingredient", []string{"pantry", "show", "lime j"}, []string{"lime juice"}, []string{"lemon juice"}},
		{"capitals as they were written", []string{"pantry", "show", "LIME J"}, []string{"LIME Juice"}, nil},
		{"a list", []string{"design", "--from", "dry gin, lime j"}, []string{"dry gin, lime juice"}, nil},
		{"a list without spaces", []string{"design", "--from", "dry gin,lime j"}, []string{"dry gin,lime juice"}, nil},
		{"no ingredient twice", []string{"design", "--from", "lime juice, lime"}, nil, []string{"lime juice, lime juice"}},
		{"an open quote", []string{"design", "--from", `"dry gin, lime j`}, []string{"dry gin, lime juice"}, nil},
		{"backslashes", []string{"design", "--from", `lime\ j`}, []string{"lime juice"}, nil},
		{"an equals sign", []string{"design", "--from=lime j"}, []string{"--from=lime juice"}, nil},
		{"a word that a shell took apart", []string{"design", "--ice", "=", "sh"}, []string{"shake"}, nil},
		{"only its equals sign", []string{"design", "--ice", "="}, []string{"shake", "stir"}, nil},
		{"a swap", []string{"rebalance", "x.yaml", "--swap", "lemon juice=lime j"}, []string{"lemon juice=lime juice"}, nil},
		{"properties", []string{"rebalance", "x.yaml", "--ignore", "acid,sa"}, []string{"acid,salt"}, nil},
		{"what comes in", []string{"rebalance", "x.yaml", "--add", "lime j"}, []string{"lime juice"}, nil},
		{"a bottle of the house", []string{"design", "--pantry", "examples/weir-lantern.csv", "--from", "bay"}, []string{"bay leaf gin"}, nil},
		{"a pantry that is not there", []string{"design", "--pantry", "lost.csv", "--from", "lime j"}, []string{"lime juice"}, nil},
		{"what there should be more of", []string{"nudge", "x.yaml", "--more", "so"}, []string{"sour"}, []string{"sweet"}},
		{"what there should be less of", []string{"nudge", "x.yaml", "--less", "sour,sw"}, []string{"sour,sweet", "sour,sweetness"}, nil},
		{"a kind to choose from", []string{"design", "--at-most", "4", "--from", "lime juice,spir"}, []string{"lime juice,spirit"}, nil},
		{"no kind without a choice", []string{"design", "--from", "spir"}, nil, []string{"spirit"}},
		{"an ingredient to choose", []string{"design", "--at-most", "4", "--must", "lime j"}, []string{"lime juice"}, nil},
		{"an ingredient not to choose", []string{"design", "--none-of", "lime j"}, []string{"lime juice"}, nil},
		{"a category not to choose", []string{"design", "--none-of", "milk,jui"}, []string{"milk,juice"}, nil},
		{"an allergen not to choose", []string{"design", "--none-of", "mil"}, []string{"milk"}, nil},
		{"other words for what not to choose", []string{"design", "--none-of", "out"}, []string{"out of stock"}, nil},
		{"the drinks of a prep", []string{"prep", "x.yaml", "--for", "drinks"}, []string{"drinks of June/"}, nil},
		{"ways of diluting", []string{"batch", "x.yaml", "--dilute", ""}, []string{"none", "full", "fridge"}, nil},
		{"where fresh things go", []string{"batch", "x.yaml", "--fresh", ""}, []string{"out", "in"}, nil},
		{"forms of a drink", []string{"export", "x.yaml", "--as", ""}, []string{"text", "markdown", "csv", "recipe"}, nil},
		{"how well figures are known", []string{"pantry", "list", "--confidence", ""}, []string{"seen", "computed", "memory", "estimate"}, nil},
		{"a new delivery", []string{"rebalance", "x.yaml", "--measure", "lime j"}, []string{"lime juice"}, nil},
		{"a category", []string{"pantry", "list", "--category", "j"}, []string{"juice"}, nil},
		{"an allergen", []string{"pantry", "list", "--without-allergen", "m"}, []string{"milk"}, nil},
		{"a list in the help", []string{"pantry", "list", "--confidence", "m"}, nil, []string{"estimate"}},
		{"files", []string{"design", "examples/weir-l"}, []string{"examples/weir-light.yaml"}, []string{"examples/morning-tide.yaml"}},
		{"tables for the pantry", []string{"design", "--pantry", "examples/"}, []string{"examples/weir-lantern.csv", "examples/preps/"}, []string{"examples/weir-light.yaml", "examples/harbour-wall.json"}},
		{"tables of measurements", []string{"design", "--lots", "examples/"}, []string{"examples/weir-lantern.csv"}, []string{"examples/weir-light.yaml"}},
		{"recipes to import", []string{"import", "examples/"}, []string{"examples/harbour-wall.json", "examples/preps/"}, []string{"examples/weir-lantern.csv", "examples/weir-light.yaml"}},
		{"tables to check", []string{"pantry", "check", "examples/"}, []string{"examples/weir-lantern.csv"}, []string{"examples/weir-light.yaml"}},
		{"specs", []string{"profile", "examples/"}, []string{"examples/weir-light.yaml", "examples/preps/"}, []string{"examples/weir-lantern.csv"}},
		{"any file to write", []string{"export", "x.yaml", "--out", "examples/"}, []string{"examples/harbour-wall.json", "examples/weir-light.yaml"}, nil},
		{"pours to keep", []string{"rebalance", "examples/morning-tide.yaml", "--keep", ""}, []string{"fino sherry", "green tea"}, []string{"Dry gin 40 %", "dry gin"}},
		{"a second pour to keep", []string{"nudge", "examples/morning-tide.yaml", "--keep", "green tea,"}, []string{"green tea,saline"}, []string{"green tea,green tea"}},
		{"what goes", []string{"rebalance", "examples/morning-tide.yaml", "--swap", "l"}, []string{"lemon juice"}, []string{"lime juice"}},
		{"what comes for it", []string{"rebalance", "examples/morning-tide.yaml", "--swap", "lemon juice=lime j"}, []string{"lemon juice=lime juice"}, nil},
		{"a delivery of a pour", []string{"rebalance", "examples/morning-tide.yaml", "--measure", "l"}, []string{"lemon juice"}, []string{"lime juice"}},
		{"a folder", []string{"compare", "exam"}, []string{"examples/"}, nil},
		{"a folder with spaces", []string{"compare", "dr"}, []string{"drinks of June/"}, nil},
		{"the second of many", []string{"compare", "a.yaml", "b.yaml", "exam"}, []string{"examples/"}, nil},
		{"no second file", []string{"design", "a.yaml", "exam"}, nil, []string{"examples/"}},
		{"folders alone", []string{"man", "exam"}, []string{"examples/"}, nil},
		{"a topic", []string{"help", "j"}, []string{"jnd"}, nil},
		{"help of a command", []string{"help", "pantry", "s"}, []string{"show"}, []string{"list"}},
		{"a shell", []string{"completion", ""}, shellNames(), nil},
		{"a schema", []string{"schema", "pantry-s"}, []string{"pantry-show"}, nil},
		{"a number", []string{"design", "--abv", ""}, nil, []string{"examples/"}},
		{"no flag twice", []string{"design", "--json", "--j"}, nil, []string{"--json"}},
		{"a flag that may be repeated", []string{"design", "--pantry", "x.csv", "--pan"}, []string{"--pantry"}, nil},
		{"no such command", []string{"desing", ""}, nil, []string{"design"}},
	} {
		got := completed(t, c.words...)
		for _, want := range c.some {
			if !slices.Contains(got, want) {
				t.Errorf("%s: %q is not among %q", c.name, want, got)
			}
		}
		for _, unwanted := range c.none {
			if slices.Contains(got, unwanted) {
				t.Errorf("%s: %q is among %q", c.name, unwanted, got)
			}
		}
	}
}

// The word for a value decides, whatever the flag is called.
func TestWordsForValuesDecide(t *testing.T) {
	for _, c := range []struct{ value, usage, word, want string }{
		{`"A=B"`, "", "lemon juice=lime j", "lemon juice=lime juice"},
		{"PROPERTIES", "", "acid, sal", "acid, salt"},
		{"PROPERTIES", "", "acid,ac", ""},
		{"WAY", "the WAY of diluting: none, full or fridge", "fr", "fridge"},
		{"WAY", "the WAY of diluting", "fr", ""},
	} {
		got := ""
		for _, one := range (&commandLine{}).value(flagFacts{value: c.value, usage: c.usage}, c.word) {
			got += one.text
		}
		if got != c.want {
			t.Errorf("%s of %q is offered %q, want %q", c.value, c.word, got, c.want)
		}
	}
}

// In real shells, each asked in its own way what it would put in.
func TestShellsComplete(t *testing.T) {
	folder := withExamples(t)
	for _, c := range []struct {
		shell  []string
		script string
	}{
		{[]string{"bash", "--norc", "-c"}, `source <(minim completion bash)
ask() { COMP_WORDS=("$@"); COMP_CWORD=$(($# - 1)); _minim minim "${COMP_WORDS[COMP_CWORD]}" "${COMP_WORDS[COMP_CWORD-1]}"; printf '%s\n' "${COMPREPLY[@]}"; }
complete -p minim
`},
		{[]string{"zsh", "-f", "-c"}, `compdef() { : }
compadd() { while [[ $# -gt 2 ]]; do [[ $1 == -a ]] && break; shift; done; print -l -- "${(@P)2}" }
source <(minim completion zsh)
ask() { words=("$@"); CURRENT=$#; _minim }
`},
		{[]string{"fish", "--no-config", "-c"}, `minim completion fish | source
function ask
    complete --do-complete (string join -- ' ' $argv) | string replace --regex '\t.*' ''
end
`},
	} {
		t.Run(c.shell[0], func(t *testing.T) {
			if _, err := exec.LookPath(c.shell[0]); err != nil {
				t.Skipf("no %s here", c.shell[0])
			}
			for _, q := range []struct{ ask, want string }{
				{`ask minim des`, "design\n"},
				{`ask minim pantry sh`, "show\n"},
				{`ask minim design --ice sh`, "shake\n"},
				{`ask minim design --from '"dry gin, lime j'`, "dry gin, lime juice\n"},
				{`ask minim design --pantry examples/weir-lantern.csv --from bay`, "bay leaf gin\n"},
				{`ask minim design examples/weir-li`, "examples/weir-light.yaml\n"},
				{`ask minim design exam`, "examples/\n"},
				{`ask minim pantry show 'lime\ j'`, "lime juice\n"},
			} {
				command := exec.Command(c.shell[0], append(c.shell[1:], c.script+q.ask)...)
				command.Dir = folder
				out, err := command.CombinedOutput()
				got := strings.TrimPrefix(string(out), "complete -F _minim minim\n")
				if got != q.want {
					t.Errorf("%s gives %q, want %q (%v)", q.ask, got, q.want, err)
				}
			}
		})
	}
}

// No script is broken where its shell is not: each names what it calls.
func TestEveryShellHasItsScript(t *testing.T) {
	for _, one := range shells {
		code, out, errs := minim(t, "", "completion", one.name)
		if code != exitAnswered || errs != "" || !strings.Contains(out, " complete ") {
			t.Errorf("completion %s: exit code %d\n%s%s", one.name, code, out, errs)
		}
	}
	files, err := filepath.Glob("completion/*")
	if err != nil || len(files) != len(shells) {
		t.Errorf("%d scripts of %d shells: %v", len(files), len(shells), err)
	}
	for _, w := range []wrongInput{
		{"no shell", []string{"completion"}, "", []string{"0 shells", "bash"}},
		{"another shell", []string{"completion", "bsh"}, "", []string{"bsh", "nearest: bash"}},
		{"no schema", []string{"schema", "desing"}, "", []string{"desing", "nearest: design"}},
		{"a word after version", []string{"version", "now"}, "", []string{"now", "expected nothing"}},
	} {
		w.check(t, "")
	}
}

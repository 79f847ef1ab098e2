package main

import (
	"encoding/json"
	"errors"
	"go/parser"
	"go/token"
	"io"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

// room says what a package of the house, and the tests of it, may not import.
// Entries ending in / stand for all packages below.
var rooms = map[string][]string{
	"minim/profile": {
		"os", "minim/pantry", "minim/solver", "minim/solver/leastsquares", "minim/cmd/", "gonum.org/",
		"github.com/spf13/pflag", "github.com/olekukonko/", "go.yaml.in/", "html/template", "text/template",
	},
	"minim/pantry": {
		"minim/solver", "minim/solver/leastsquares", "minim/cmd/", "gonum.org/", "github.com/spf13/pflag", "github.com/olekukonko/",
	},
	"minim/solver/leastsquares": {
		"os", "minim/profile", "minim/pantry", "minim/solver", "minim/cmd/", "go.yaml.in/", "github.com/spf13/pflag", "github.com/olekukonko/",
	},
	"minim/solver": {
		"os", "minim/cmd/", "go.yaml.in/", "github.com/spf13/pflag", "github.com/olekukonko/", "html/template", "text/template",
	},
	"minim/cmd/minim": {"gonum.org/", "minim/solver/leastsquares", "go.yaml.in/"},
}

// listed is what `go list -json` says of a package.
type listed struct {
	ImportPath string
	Dir        string
	Imports    []string
	GoFiles    []string
}

func packages(t *testing.T) []listed {
	t.Helper()
	command := exec.Command("go", "list", "-json=ImportPath,Dir,Imports,GoFiles", "minim/...")
	out, err := command.Output()
	if err != nil {
		t.Fatal(err)
	}
	var all []listed
	for decoder := json.NewDecoder(strings.NewReader(string(out))); ; {
		var one listed
		if err := decoder.Decode(&one); errors.Is(err, io.EOF) {
			return all
		} else if err != nil {
			t.Fatal(err)
		}
		all = append(all, one)
	}
}

func forbidden(imported string, rules []string) bool {
	return slices.ContainsFunc(rules, func(rule string) bool {
		return imported == rule || strings.HasSuffix(rule, "/") && strings.HasPrefix(imported, rule)
	})
}

func TestNoRoomImportsWhatItMustNotKnow(t *testing.T) {
	seen := 0
	for _, p := range packages(t) {
		rules, ok := rooms[p.ImportPath]
		if !ok {
			t.Errorf("%s is no room of the house", p.ImportPath)
			continue
		}
		seen++
		for _, i := range p.Imports {
			if forbidden(i, rules) {
				t.Errorf("%s imports %s", p.ImportPath, i)
			}
		}
	}
	if seen != len(rooms) {
		t.Errorf("%d rooms found, expected %d", seen, len(rooms))
	}
}

// A library with one user can be swapped in one file.
func TestEachLibraryHasOneUser(t *testing.T) {
	users := map[string]string{
		"github.com/spf13/pflag": "flags.go", "github.com/olekukonko/tablewriter": "table.go", "html/template": "card.go",
	}
	for _, p := range packages(t) {
		for _, file := range p.GoFiles {
			imports := importsOf(t, filepath.Join(p.Dir, file))
			for library, user := range users {
				if slices.Contains(imports, library) && (p.ImportPath != "minim/cmd/minim" || file != user) {
					t.Errorf("%s/%s imports %s; only cmd/minim/%s may", p.ImportPath, file, library, user)
				}
			}
		}
	}
}

func TestForbiddenImportsAreFound(t *testing.T) {
	for imported, want := range map[string]bool{
		"os": true, "gonum.org/v1/gonum/mat": true, "minim/cmd/minim": true, "math": false, "ostrich": false,
	} {
		if got := forbidden(imported, rooms["minim/profile"]); got != want {
			t.Errorf("forbidden(%q) = %v, want %v", imported, got, want)
		}
	}
}

func importsOf(t *testing.T, file string) []string {
	t.Helper()
	parsed, err := parser.ParseFile(token.NewFileSet(), file, nil, parser.ImportsOnly)
	if err != nil {
		t.Fatal(err)
	}
	var paths []string
	for _, i := range parsed.Imports {
		paths = append(paths, strings.Trim(i.Path.Value, `"`))
	}
	return paths
}

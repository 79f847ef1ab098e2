package main

import (
	"bytes"
	"encoding/binary"
	"errors"
	"flag"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"unicode/utf16"

	"github.com/rogpeppe/go-internal/testscript"
)

var update = flag.Bool("update", false, "write what the scripts print into their golden files")

// programs are what the tests start as processes of their own.
var programs = map[string]func(){"minim": main, "minim-stalls": stall}

func TestMain(m *testing.M) { testscript.Main(m, programs) }

// foreign is a reader elsewhere: a locale in which some characters are twice as
// wide, another decimal mark, no colours.
var foreign = []string{"LANG=ja_JP.UTF-8", "LC_ALL=ja_JP.UTF-8", "LC_NUMERIC=de_DE.UTF-8", "RUNEWIDTH_EASTASIAN=1", "NO_COLOR=1"}

func TestScripts(t *testing.T) {
	runScripts(t, nil, *update)
}

func TestScriptsElsewhere(t *testing.T) {
	runScripts(t, foreign, false)
}

func runScripts(t *testing.T, environment []string, update bool) {
	t.Helper()
	testscript.Run(t, testscript.Params{
		Dir:                 "testdata/script",
		RequireExplicitExec: true,
		RequireUniqueNames:  true,
		UpdateScripts:       update,
		Setup: func(e *testscript.Env) error {
			e.Vars = append(e.Vars, "EXAMPLES="+examples(t))
			e.Vars = append(e.Vars, environment...)
			return nil
		},
		Cmds: map[string]func(*testscript.TestScript, bool, []string){"exits": exits, "dressed": dressed},
	})
}

// exits runs a command and demands its exit code: exits 2 minim design ask.yaml.
// A ! before a command would take any failure for the one that is meant.
func exits(s *testscript.TestScript, negated bool, args []string) {
	if negated || len(args) < 2 {
		s.Fatalf("usage: exits CODE COMMAND [ARGUMENT...]")
	}
	want, err := strconv.Atoi(args[0])
	if err != nil {
		s.Fatalf("%q is no exit code", args[0])
	}
	got := 0
	if err := s.Exec(args[1], args[2:]...); err != nil {
		var failed *exec.ExitError
		if !errors.As(err, &failed) {
			s.Fatalf("%s did not run: %v", args[1], err)
		}
		got = failed.ExitCode()
	}
	if got != want {
		s.Fatalf("exit code %d, want %d", got, want)
	}
}

// dressed writes a text file as another program would save it: dressed utf-16le
// sour.yaml little.yaml.
func dressed(s *testscript.TestScript, negated bool, args []string) {
	if negated || len(args) != 3 {
		s.Fatalf("usage: dressed HOW FILE NEW")
	}
	text := s.ReadFile(args[1])
	units := func(order binary.ByteOrder, text string) string {
		out := make([]byte, 2)
		for _, unit := range append([]uint16{0xFEFF}, utf16.Encode([]rune(text))...) {
			order.PutUint16(out[len(out)-2:], unit)
			out = append(out, 0, 0)
		}
		return string(out[:len(out)-2])
	}
	switch args[0] {
	case "mark":
		text = "\uFEFF" + text
	case "windows":
		text = "\uFEFF" + strings.ReplaceAll(text, "\n", "\r\n")
	case "utf-16le":
		text = units(binary.LittleEndian, strings.ReplaceAll(text, "\n", "\r\n"))
	case "utf-16be":
		text = units(binary.BigEndian, text)
	case "utf-16le-half":
		text = strings.TrimSuffix(units(binary.LittleEndian, text), "\x00")
	case "utf-16le-bare":
		text = units(binary.LittleEndian, text)[2:]
	default:
		s.Fatalf("%q is no dress", args[0])
	}
	s.Check(os.WriteFile(s.MkAbs(args[2]), []byte(text), 0o644))
}

func examples(t *testing.T) string {
	t.Helper()
	path, err := filepath.Abs(filepath.Join("..", "..", "examples"))
	if err != nil {
		t.Fatal(err)
	}
	return path
}

// minim runs the program within the test.
func minim(t *testing.T, input string, args ...string) (code int, out, errs string) {
	t.Helper()
	var stdout, stderr bytes.Buffer
	code = run(args, strings.NewReader(input), &stdout, &stderr)
	return code, stdout.String(), stderr.String()
}

// The same question gives the same bytes: again, and to a reader elsewhere.
func TestSameQuestionGivesTheSameBytes(t *testing.T) {
	house := filepath.Join(examples(t), "weir-lantern.csv")
	for _, question := range questions(t) {
		for _, form := range [][]string{nil, {"--json"}} {
			args := append(append([]string{"design", "--pantry", house}, question...), form...)
			first := process(t, nil, args...)
			if first == "" {
				t.Errorf("%q prints nothing", args)
			}
			if again := process(t, nil, args...); again != first {
				t.Errorf("%q printed twice:\n%s\n%s", args, first, again)
			}
			if elsewhere := process(t, foreign, args...); elsewhere != first {
				t.Errorf("%q printed elsewhere:\n%s\n%s", args, first, elsewhere)
			}
		}
	}
}

// process runs the program as a process of its own, whose libraries read the
// environment when they start, and returns both streams.
func process(t *testing.T, environment []string, args ...string) string {
	t.Helper()
	command := exec.Command("minim", args...)
	command.Env = append(os.Environ(), environment...)
	out, err := command.CombinedOutput()
	var failed *exec.ExitError
	if err != nil && !(errors.As(err, &failed) && failed.ExitCode() == exitLimitBroke) {
		t.Fatalf("minim %q: %v\n%s", args, err, out)
	}
	return string(out)
}

// questions are what bars ask: every example, and drinks from flags alone that
// are shaken, stirred, built, topped, salty, out of reach, and held by limits.
func questions(t *testing.T) [][]string {
	t.Helper()
	files, err := filepath.Glob(filepath.Join(examples(t), "*.yaml"))
	if err != nil || len(files) < 3 {
		t.Fatalf("%d examples found, expected three or more: %v", len(files), err)
	}
	var all [][]string
	for _, file := range files {
		all = append(all, []string{file})
	}
	return append(all,
		[]string{"--abv", "18", "--sugar", "80", "--acid", "8", "--volume", "120ml", "--from", "dry gin, lime juice, rich syrup"},
		[]string{"--abv", "28..30", "--volume", "90ml", "--ice", "stir", "--from", "dry gin, dry vermouth, orange bitters"},
		[]string{"--abv", "32", "--sugar", "30", "--volume", "80ml", "--ice", "build", "--from", "bourbon, sugar, aromatic bitters"},
		[]string{"--abv", "9", "--acid", "6", "--sugar", "at most 50 g/L", "--volume", "200ml", "--from", "dry gin, lime juice, rich syrup, soda water"},
		[]string{"--abv", "18", "--sugar", "60", "--acid", "7", "--salt", "1", "--volume", "120ml", "--from", "tequila, lime juice, orange liqueur, salt"},
		[]string{"--abv", "24", "--bitter", "30..60", "--volume", "100ml", "--name", "Long name of a drink on the menu", "--from", "dry gin, red bitter aperitif, sweet white vermouth"},
		[]string{"--abv", "28", "--acid", "8", "--volume", "120ml", "--from", "lime juice, lager"},
		[]string{"--abv", "at least 28 %", "--acid", "8", "--volume", "120ml", "--glass", "125ml", "--ice", "none", "--from", "lime juice, lager"},
		[]string{"--abv", "16", "--sugar", "70", "--volume", "120ml", "--measure", "5ml", "--glass", "125ml", "--from", "espresso, vodka, coffee liqueur"},
	)
}

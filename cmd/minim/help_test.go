package main

import (
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
)

// Every example in a help text can be copied into a shell, in the folder of the
// project.
func TestExamplesOfTheHelpRunAsPrinted(t *testing.T) {
	root, err := filepath.Abs(filepath.Join("..", ".."))
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range commands() {
		if !strings.HasPrefix(c.example, "minim "+c.name+" ") {
			t.Errorf("the example of %s is %q", c.name, c.example)
		}
		shell := exec.Command("sh", "-c", c.example)
		shell.Dir = root
		if out, err := shell.CombinedOutput(); err != nil {
			t.Errorf("%s: %v\n%s", c.example, err, out)
		}
		if _, help, _ := minim(t, "", "help", c.name); !strings.Contains(help, "\n  "+c.example+"\n") {
			t.Errorf("the help of %s does not print its example on a line of its own", c.name)
		}
	}
}

func TestEveryCommandExplainsItself(t *testing.T) {
	_, overview, _ := minim(t, "", "help")
	for _, c := range commands() {
		if !strings.Contains(overview, c.synopsis) || !strings.Contains(overview, c.summary) {
			t.Errorf("the overview leaves out %s", c.name)
		}
		code, help, errs := minim(t, "", "help", c.name)
		if code != exitAnswered || errs != "" {
			t.Errorf("help %s: exit code %d\n%s", c.name, code, errs)
		}
		for _, flag := range []string{"--json", "--units", "--pantry"} {
			if !strings.Contains(help, flag) {
				t.Errorf("help %s leaves out %s", c.name, flag)
			}
		}
		for _, asked := range [][]string{{c.name, "--help"}, {c.name, "-h"}} {
			if code, out, _ := minim(t, "", asked...); code != exitAnswered || out != help {
				t.Errorf("%q: exit code %d, and not the text of help %s:\n%s", asked, code, c.name, out)
			}
		}
	}
}

package main

import (
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
)

// withExamples is a folder of its own with the examples in it, as in the folder
// of the project, where what is written does no harm.
func withExamples(t *testing.T) string {
	t.Helper()
	folder := t.TempDir()
	if err := os.CopyFS(filepath.Join(folder, "examples"), os.DirFS(examples(t))); err != nil {
		t.Fatal(err)
	}
	return folder
}

// leaves are the commands that do something, at whatever depth.
func leaves(all []command) []command {
	var found []command
	for _, c := range all {
		if len(c.commands) == 0 {
			found = append(found, c)
		}
		found = append(found, leaves(c.commands)...)
	}
	return found
}

// helpOf asks for the help of a command of one word or more.
func helpOf(t *testing.T, c *command) (code int, out, errs string) {
	t.Helper()
	return minim(t, "", append([]string{"help"}, strings.Fields(c.name)...)...)
}

// Every example in a help text can be copied into a shell, in the folder of the
// project.
func TestExamplesOfTheHelpRunAsPrinted(t *testing.T) {
	root := withExamples(t)
	for _, c := range leaves(commands()) {
		if c.example != "minim "+c.name && !strings.HasPrefix(c.example, "minim "+c.name+" ") {
			t.Errorf("the example of %s is %q", c.name, c.example)
		}
		shell := exec.Command("sh", "-c", c.example)
		shell.Dir = root
		if out, err := shell.CombinedOutput(); err != nil {
			t.Errorf("%s: %v\n%s", c.example, err, out)
		}
		if _, help, _ := helpOf(t, &c); !strings.Contains(help, "\n  "+c.example+"\n") {
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
	}
	for _, c := range leaves(commands()) {
		code, help, errs := helpOf(t, &c)
		if code != exitAnswered || errs != "" {
			t.Errorf("help %s: exit code %d\n%s", c.name, code, errs)
		}
		for _, flag := range []string{"--json", "--units", "--pantry", "--lots"} {
			if !c.bare && !strings.Contains(help, flag) {
				t.Errorf("help %s leaves out %s", c.name, flag)
			}
		}
		for _, asked := range [][]string{append(strings.Fields(c.name), "--help"), append(strings.Fields(c.name), "-h")} {
			if code, out, _ := minim(t, "", asked...); code != exitAnswered || out != help {
				t.Errorf("%q: exit code %d, and not the text of help %s:\n%s", asked, code, c.name, out)
			}
		}
	}
}

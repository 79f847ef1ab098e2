package main

import (
	"os/exec"
	"runtime/debug"
	"strings"
	"testing"
)

// Every command, flag and topic has its page, and each page is what a
// typesetter takes without a warning: mandoc's lint and groff's, where they are.
func TestEveryCommandHasAManPage(t *testing.T) {
	folder := t.TempDir()
	if code, _, errs := minim(t, "", "man", folder); code != exitAnswered {
		t.Fatalf("exit code %d\n%s", code, errs)
	}
	pages := map[string]string{}
	for _, p := range manPages(build{Version: "v0.0.0", RevisionTime: "2026-11-25T17:00:00Z"}) {
		if _, twice := pages[p.file]; twice {
			t.Errorf("two pages are called %s", p.file)
		}
		pages[p.file] = string(p.text)
	}
	for _, c := range leaves(commands()) {
		page := pages[pageName(c.name)+".1"]
		for _, g := range newFlags(&c).facts() {
			if !strings.Contains(page, roff("--"+g.name)) {
				t.Errorf("the page of %s leaves out --%s", c.name, g.name)
			}
		}
		if !strings.Contains(page, roff(c.example)) || !strings.Contains(page, roff(c.synopsis)) {
			t.Errorf("%s is not in the manual with its example", c.name)
		}
	}
	for _, name := range topicNames() {
		if pages["minim-help-"+name+".1"] == "" {
			t.Errorf("the topic %s has no page", name)
		}
	}
	for _, check := range [][]string{{"mandoc", "-Tlint", "-Wwarning"}, {"groff", "-man", "-ww", "-z", "-Tutf8"}} {
		if _, err := exec.LookPath(check[0]); err != nil {
			t.Logf("no %s here: the pages were not checked with it", check[0])
			continue
		}
		for file, page := range pages {
			command := exec.Command(check[0], check[1:]...)
			command.Stdin = strings.NewReader(page)
			if out, err := command.CombinedOutput(); err != nil || len(out) > 0 {
				t.Errorf("%s of %s: %v\n%s", check[0], file, err, out)
			}
		}
	}
}

// What mandoc shows is what the help says, letters beyond ASCII and hyphens too.
func TestAManPageReadsLikeTheHelp(t *testing.T) {
	if _, err := exec.LookPath("mandoc"); err != nil {
		t.Skip("no mandoc here")
	}
	_, help, _ := minim(t, "", "help", "units")
	command := exec.Command("mandoc", "-Tutf8", "-Owidth=200")
	command.Stdin = strings.NewReader(string(topicPage(topics()[0], build{}).text))
	out, err := command.Output()
	if err != nil {
		t.Fatal(err)
	}
	shown := strings.Join(strings.Fields(string(out)), " ")
	if want := strings.Join(strings.Fields(help), " "); !strings.Contains(shown, want) {
		t.Errorf("the page shows\n%s\nand the help\n%s", out, help)
	}
}

func TestManRefusesWhatIsNoFolder(t *testing.T) {
	for _, w := range []wrongInput{
		{"a file", []string{"man", "man_test.go"}, "man_test.go", []string{"not a folder"}},
		{"nothing", []string{"man", "lost"}, "lost", []string{"no such file"}},
		{"two", []string{"man", ".", "."}, "", []string{"2 folders"}},
	} {
		w.check(t, "")
	}
}

// What the Go tool writes into a program comes out as it is (runtime/debug).
func TestTheVersionIsThatOfTheBuild(t *testing.T) {
	info := &debug.BuildInfo{Main: debug.Module{Version: "v1.2.3"}, Settings: []debug.BuildSetting{
		{Key: "vcs.revision", Value: "abc"}, {Key: "vcs.time", Value: "2026-11-25T17:00:00Z"}, {Key: "vcs.modified", Value: "true"},
	}}
	b := buildOf(info)
	want := build{Version: "v1.2.3", Revision: "abc", RevisionTime: "2026-11-25T17:00:00Z", Modified: true, Go: b.Go, System: b.System, Architecture: b.Architecture}
	if b != want || !strings.HasPrefix(b.Go, "go1.") {
		t.Errorf("%+v, want %+v", b, want)
	}
	text := b.text()
	for _, part := range []string{"minim v1.2.3\n", "revision abc of 2026-11-25T17:00:00Z, with changes since\n", "built with go1."} {
		if !strings.Contains(text, part) {
			t.Errorf("no %q in\n%s", part, text)
		}
	}
	if unknown := buildOf(nil); unknown.Version != "unknown" || strings.Contains(unknown.text(), "revision") {
		t.Errorf("%+v", unknown)
	}
}

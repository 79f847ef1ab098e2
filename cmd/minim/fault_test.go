package main

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"strings"
	"testing"
	"time"
)

// fault is something that goes wrong around the program, or that is different
// elsewhere, and what must come of it. DEVELOPERS.md lists them.
type fault struct {
	tried, comes string
	// check runs in a folder of its own with the examples and sour.yaml in it.
	check func(t *testing.T)
}

const sour = "drink: Harbour Sour\nmix:\n  dry gin: 45 ml\n  lemon juice: 20 ml\n  simple syrup: 15 ml\nice: shake\n"

// outcome is how a process ended and what it said.
type outcome struct {
	code      int
	out, errs string
}

// started runs the program as a process of its own.
func started(t *testing.T, prepare func(*exec.Cmd), args ...string) outcome {
	t.Helper()
	return startedAs(t, "minim", prepare, args...)
}

// startedAs runs one of the programs of TestMain as a process of its own.
func startedAs(t *testing.T, name string, prepare func(*exec.Cmd), args ...string) outcome {
	t.Helper()
	var out, errs bytes.Buffer
	command := exec.Command(name, args...)
	command.Stdout, command.Stderr = &out, &errs
	if prepare != nil {
		prepare(command)
	}
	err := command.Run()
	var failed *exec.ExitError
	if err != nil && !errors.As(err, &failed) {
		t.Fatalf("%s %q: %v", name, args, err)
	}
	return outcome{command.ProcessState.ExitCode(), out.String(), errs.String()}
}

// ends demands an exit code and words on standard error, and that nothing of
// the program's own making shows.
func (o outcome) ends(t *testing.T, code int, says ...string) {
	t.Helper()
	if o.code != code {
		t.Errorf("exit code %d, want %d\n%s", o.code, code, o.errs)
	}
	if code != exitAnswered && o.out != "" {
		t.Errorf("standard output is not empty:\n%s", o.out)
	}
	for _, s := range says {
		if !strings.Contains(o.errs, s) {
			t.Errorf("no %q in\n%s", s, o.errs)
		}
	}
	for _, s := range []string{"goroutine", "panic", "\x1b"} {
		if strings.Contains(o.out+o.errs, s) {
			t.Errorf("%q in\n%s%s", s, o.out, o.errs)
		}
	}
}

// same demands that the sour in another dress gives the same profile.
func same(t *testing.T, prepare func(*exec.Cmd), args ...string) {
	t.Helper()
	plain := started(t, nil, "profile", "sour.yaml")
	plain.ends(t, exitAnswered)
	if len(args) == 0 {
		args = []string{"profile", "sour.yaml"}
	}
	other := started(t, prepare, args...)
	other.ends(t, exitAnswered)
	if other.out != plain.out {
		t.Errorf("minim %q prints\n%s\nand not\n%s", args, other.out, plain.out)
	}
}

func withEnvironment(pairs ...string) func(*exec.Cmd) {
	return func(c *exec.Cmd) { c.Env = append(os.Environ(), pairs...) }
}

func written(t *testing.T, name, content string) {
	t.Helper()
	if err := os.WriteFile(name, []byte(content), 0o644); err != nil {
		t.Fatal(err)
	}
}

// holds demands that a file is as it was and that nothing was left beside it.
func holds(t *testing.T, name, content string) {
	t.Helper()
	if got, err := os.ReadFile(name); err != nil || string(got) != content {
		t.Errorf("%s holds %d bytes, want %d: %v", name, len(got), len(content), err)
	}
}

func onLinux(t *testing.T) {
	t.Helper()
	if runtime.GOOS != "linux" {
		t.Skip("only Linux has such a file")
	}
}

// faults are all that is tried.
func faults() []fault {
	return []fault{
		{"a pipe whose reader is gone", "exit code 3 and nothing said, no signal, no panic", func(t *testing.T) {
			for _, args := range [][]string{{"profile", "sour.yaml"}, {"pantry", "list"}, {"help", "units"}, {"man"}, {"schema", "design"}, {"version"}, {"completion", "bash"}, {"complete", "--", ""}} {
				reader, writer, err := os.Pipe()
				if err != nil {
					t.Fatal(err)
				}
				reader.Close()
				o := started(t, func(c *exec.Cmd) { c.Stdout = writer }, args...)
				o.ends(t, exitNotWritten)
				if o.errs != "" {
					t.Errorf("minim %q says\n%s", args, o.errs)
				}
				writer.Close()
			}
		}},
		{"a full disk under standard output", "exit code 3", func(t *testing.T) {
			onLinux(t)
			for _, args := range [][]string{{"profile", "sour.yaml"}, {"schema"}, {"man"}, {"version", "--json"}} {
				full, err := os.OpenFile("/dev/full", os.O_WRONLY, 0)
				if err != nil {
					t.Fatal(err)
				}
				started(t, func(c *exec.Cmd) { c.Stdout = full }, args...).ends(t, exitNotWritten, "could not be written")
				full.Close()
			}
		}},
		{"a folder that nobody can write into", "exit code 3", func(t *testing.T) {
			onLinux(t)
			started(t, nil, "pantry", "export", "--out", "/proc/x.csv").ends(t, exitNotWritten, "/proc/x.csv")
			started(t, nil, "man", "/proc").ends(t, exitNotWritten, "could not be written")
		}},
		{"a device in the place of the file to write", "exit code 3", func(t *testing.T) {
			onLinux(t)
			started(t, nil, "pantry", "export", "--out", "/dev/full").ends(t, exitNotWritten, "/dev/full")
		}},
		{"killed at any moment of writing a file, twenty times", "the old file or the new one, whole", func(t *testing.T) {
			started(t, nil, "pantry", "export", "--out", "whole.csv").ends(t, exitAnswered)
			whole, err := os.ReadFile("whole.csv")
			if err != nil {
				t.Fatal(err)
			}
			for n := range 20 {
				written(t, "old.csv", "old")
				command := exec.Command("minim", "pantry", "export", "--out", "old.csv")
				if err := command.Start(); err != nil {
					t.Fatal(err)
				}
				time.Sleep(time.Duration(n) * 5 * time.Millisecond)
				// It may have ended before.
				_ = command.Process.Kill()
				_ = command.Wait()
				if got, err := os.ReadFile("old.csv"); err != nil || string(got) != "old" && !bytes.Equal(got, whole) {
					t.Errorf("after %d ms old.csv holds %d bytes, %v", 5*n, len(got), err)
				}
			}
		}},
		{"a file that may grow no further (ulimit -f)", "not answered, the old file intact", func(t *testing.T) {
			onLinux(t)
			written(t, "old.csv", "old")
			o := started(t, func(c *exec.Cmd) {
				*c = *exec.Command("sh", "-c", "ulimit -f 1; exec minim pantry export --out old.csv")
				c.Stdout, c.Stderr = &bytes.Buffer{}, &bytes.Buffer{}
			})
			if o.code == exitAnswered {
				t.Errorf("exit code %d", o.code)
			}
			holds(t, "old.csv", "old")
		}},
		{"killed while it writes a file", "the old file intact", func(t *testing.T) {
			written(t, "old.csv", "old")
			command := exec.Command("minim-stalls", "old.csv")
			said, err := command.StdoutPipe()
			if err != nil {
				t.Fatal(err)
			}
			if err := command.Start(); err != nil {
				t.Fatal(err)
			}
			said.Read(make([]byte, 4))
			if err := command.Process.Kill(); err != nil {
				t.Fatal(err)
			}
			if err := command.Wait(); err == nil {
				t.Error("it was not killed")
			}
			holds(t, "old.csv", "old")
		}},
		{"the file to write is the file being read", "exit code 2, the file intact", func(t *testing.T) {
			written(t, "house.csv", "name,category\nHouse syrup,syrup\n")
			started(t, nil, "pantry", "import", "house.csv", "--out", "house.csv").ends(t, exitBadInput, "being read")
			holds(t, "house.csv", "name,category\nHouse syrup,syrup\n")
		}},
		{"a photograph, zero bytes, half a letter", "exit code 2", func(t *testing.T) {
			for _, content := range []string{"\x89PNG\r\n\x1a\n\x00\x00\x00\rIHDR", "mix:\n  dry gin\x00: 45 ml\n", "mix:\n  dry gin\xc3: 45 ml\n", "\xff\xfem\x00i\x00x\x00"} {
				written(t, "bad.yaml", content)
				started(t, nil, "profile", "bad.yaml").ends(t, exitBadInput, "bad.yaml")
				written(t, "bad.csv", "name,category\n"+content)
				started(t, nil, "profile", "sour.yaml", "--pantry", "bad.csv").ends(t, exitBadInput, "bad.csv")
			}
		}},
		{"a folder, a queue or a device in the place of a file", "exit code 2, at once", func(t *testing.T) {
			for _, name := range []string{".", os.DevNull} {
				started(t, nil, "profile", name).ends(t, exitBadInput, name, "not a file")
				started(t, nil, "profile", "sour.yaml", "--pantry", name).ends(t, exitBadInput, name, "not a file")
			}
			if exec.Command("mkfifo", "queue").Run() == nil {
				started(t, nil, "profile", "queue").ends(t, exitBadInput, "queue", "not a file")
			}
		}},
		{"a link to a file, and one that leads round in a circle", "read and written through; exit code 2", func(t *testing.T) {
			if err := os.Symlink("sour.yaml", "link.yaml"); err != nil {
				t.Skip(err)
			}
			same(t, nil, "profile", "link.yaml")
			if err := os.Symlink("round.yaml", "round.yaml"); err != nil {
				t.Fatal(err)
			}
			started(t, nil, "profile", "round.yaml").ends(t, exitBadInput, "round.yaml")
			written(t, "real.csv", "old")
			if err := os.Symlink("real.csv", "link.csv"); err != nil {
				t.Fatal(err)
			}
			started(t, nil, "pantry", "export", "--out", "link.csv").ends(t, exitAnswered)
			if info, err := os.Lstat("link.csv"); err != nil || info.Mode()&os.ModeSymlink == 0 {
				t.Errorf("the link is gone: %v", err)
			}
		}},
		{"a file that may not be read", "exit code 2", func(t *testing.T) {
			written(t, "secret.yaml", sour)
			if err := os.Chmod("secret.yaml", 0); err != nil {
				t.Fatal(err)
			}
			var without func(*exec.Cmd)
			if _, err := os.ReadFile("secret.yaml"); err == nil {
				// This user may read everything: the program is started without that right.
				without = func(c *exec.Cmd) {
					out, errs := c.Stdout, c.Stderr
					*c = *exec.Command("setpriv", append([]string{"--bounding-set", "-dac_override,-dac_read_search"}, c.Args...)...)
					c.Stdout, c.Stderr = out, errs
				}
			}
			started(t, without, "profile", "secret.yaml").ends(t, exitBadInput, "secret.yaml", "permission denied")
		}},
		{"a file that breaks off while it is read", "exit code 2", func(t *testing.T) {
			onLinux(t)
			started(t, nil, "profile", "/proc/self/mem").ends(t, exitBadInput, "/proc/self/mem")
		}},
		{"standard input that is closed", "exit code 2", func(t *testing.T) {
			o := started(t, func(c *exec.Cmd) {
				out, errs := c.Stdout, c.Stderr
				*c = *exec.Command("sh", "-c", "exec minim profile - <&-")
				c.Stdout, c.Stderr = out, errs
			})
			o.ends(t, exitBadInput)
		}},
		{"a terminal of 20 columns, of none, and no terminal type", "the same bytes", func(t *testing.T) {
			same(t, withEnvironment("COLUMNS=20", "LINES=5"))
			same(t, withEnvironment("COLUMNS=0", "TERM=dumb"))
			same(t, withEnvironment("TERM="))
		}},
		{"NO_COLOR, and colours asked for", "the same bytes, never a colour", func(t *testing.T) {
			same(t, withEnvironment("NO_COLOR=1"))
			same(t, withEnvironment("CLICOLOR_FORCE=1", "FORCE_COLOR=1", "TERM=xterm-256color"))
		}},
		{"the locales of Japan and Germany", "the same bytes", func(t *testing.T) { same(t, withEnvironment(foreign...)) }},
		{"no environment and no home", "the same bytes", func(t *testing.T) {
			minim, err := exec.LookPath("minim")
			if err != nil {
				t.Fatal(err)
			}
			same(t, func(c *exec.Cmd) { c.Path, c.Env = minim, []string{"HOME=/nowhere"} })
		}},
		{"line ends of Windows, and a byte order mark", "the same bytes", func(t *testing.T) {
			windows := func(text string) string { return "\ufeff" + strings.ReplaceAll(text, "\n", "\r\n") }
			written(t, "windows.yaml", windows(sour))
			same(t, nil, "profile", "windows.yaml")
			house := "name,category,abv_percent,density_g_per_ml\nHouse gin,spirit,40,0.948\n"
			written(t, "house.csv", house)
			written(t, "windows.csv", windows(house))
			unix := started(t, nil, "pantry", "show", "house gin", "--pantry", "house.csv")
			unix.ends(t, exitAnswered)
			if o := started(t, nil, "pantry", "show", "house gin", "--pantry", "windows.csv"); o.out != unix.out {
				t.Errorf("%s\nand not\n%s", o.out, unix.out)
			}
		}},
		{"names in other letters", "found and printed as they are written", func(t *testing.T) {
			for _, name := range []string{"Crème de pêche", "ゆず酒", "sok z żurawiny", "Ø-gin"} {
				written(t, "house.csv", "name,category,abv_percent,density_g_per_ml\n"+name+",liqueur,20,1.05\n")
				written(t, "drink.yaml", "drink: Tide № 5 ≈ "+name+"\nmix:\n  "+name+": 30 ml\n")
				o := started(t, nil, "profile", "drink.yaml", "--pantry", "house.csv")
				o.ends(t, exitAnswered)
				if strings.Count(o.out, name) < 2 {
					t.Errorf("%q is not printed as it is written:\n%s", name, o.out)
				}
			}
		}},
		{"a decimal comma", "exit code 2, with the number as it should be", func(t *testing.T) {
			written(t, "comma.yaml", "mix:\n  dry gin: 22,5 ml\n")
			started(t, nil, "profile", "comma.yaml").ends(t, exitBadInput, "comma.yaml:2:", "22.5")
			started(t, nil, "design", "--abv", "16,5", "--from", "gin, water").ends(t, exitBadInput, "--abv", "16.5")
		}},
	}
}

func TestFaultsComeToWhatTheyShould(t *testing.T) {
	for _, f := range faults() {
		t.Run(f.tried, func(t *testing.T) {
			t.Chdir(withExamples(t))
			written(t, "sour.yaml", sour)
			f.check(t)
		})
	}
}

func TestFaultsAreThoseOfTheDocumentation(t *testing.T) {
	text, err := os.ReadFile(filepath.Join("..", "..", "DEVELOPERS.md"))
	if err != nil {
		t.Fatal(err)
	}
	table := "| tried | comes of it |\n| --- | --- |\n"
	for _, f := range faults() {
		table += fmt.Sprintf("| %s | %s |\n", f.tried, f.comes)
	}
	if !strings.Contains(string(text), table+"\n") {
		t.Errorf("DEVELOPERS.md has another table than\n%s", table)
	}
}

// stall begins to write a file, says so, and goes no further.
func stall() {
	err := writeFile(os.Args[1], func(w io.Writer) error {
		if _, err := io.WriteString(w, "half of what was to be written"); err != nil {
			return err
		}
		fmt.Println("half")
		time.Sleep(time.Minute)
		return nil
	})
	fmt.Fprintln(os.Stderr, err)
	os.Exit(exitNotWritten)
}

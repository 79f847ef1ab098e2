package main

import (
	"context"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"
)

// built is the program as the README builds it.
func built(t testing.TB) string {
	t.Helper()
	program := filepath.Join(t.TempDir(), "minim")
	if out, err := exec.Command("go", "build", "-o", program, ".").CombinedOutput(); err != nil {
		t.Fatalf("%v\n%s", err, out)
	}
	return program
}

func init() { programs["minim-measured"] = measure }

// measure runs a program and says on the last line of standard error how long
// the processor worked for it, in nanoseconds, and how much of it was resident
// at the peak, in kilobytes. It is a process of its own and a small one: Linux
// counts for a new process the peak of the one that started it too.
func measure() {
	hung, cancel := context.WithTimeout(context.Background(), time.Minute)
	defer cancel()
	command := exec.CommandContext(hung, os.Args[1], os.Args[2:]...)
	command.Stdout, command.Stderr = os.Stdout, os.Stderr
	if err := command.Run(); command.ProcessState == nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(-1)
	}
	state := command.ProcessState
	fmt.Fprintf(os.Stderr, "\n%d %d", state.UserTime()+state.SystemTime(), state.SysUsage().(*syscall.Rusage).Maxrss)
	os.Exit(state.ExitCode())
}

// measured runs a program as measure does, and returns its exit code, what it
// said, the processor's time and the megabytes at the peak.
func measured(t *testing.T, program string, arguments ...string) (code int, said string, took time.Duration, megabytes int64) {
	t.Helper()
	o := startedAs(t, "minim-measured", nil, append([]string{program}, arguments...)...)
	at := strings.LastIndex(o.errs, "\n")
	var kilobytes int64
	if at < 0 {
		t.Fatalf("%q: %s", arguments, o.errs)
	}
	if _, err := fmt.Sscanf(o.errs[at+1:], "%d %d", &took, &kilobytes); err != nil {
		t.Fatalf("%q: %v in\n%s", arguments, err, o.errs)
	}
	return o.code, o.out + o.errs[:at], took, kilobytes >> 10
}

// asked is what the memory and the start of the program are measured on.
var asked = map[string][]string{
	"an example": {"design", "../../examples/weir-light.yaml", "--pantry", "../../examples/weir-lantern.csv"},
	"a choice from the whole pantry": {
		"design", "--at-most", "5", "--volume", "150", "--abv", "14", "--sugar", "70", "--acid", "7", "--salt", "0.5", "--bitter", "10", "--umami", "0.1",
	},
	"the whole pantry": {"pantry", "list"},
}

func TestMemoryOfTheProgramStaysBelow64Megabytes(t *testing.T) {
	program := built(t)
	for name, arguments := range asked {
		code, said, _, peak := measured(t, program, arguments...)
		if code != exitAnswered {
			t.Fatalf("%s: exit code %d\n%s", name, code, said)
		}
		t.Logf("%s: %d MB", name, peak)
		if peak >= 64 {
			t.Errorf("%s: %d MB at its peak, expected less than 64", name, peak)
		}
	}
}

// The program from its start to its answer on an example.
func BenchmarkCold(b *testing.B) {
	program := built(b)
	for b.Loop() {
		if err := exec.Command(program, asked["an example"]...).Run(); err != nil {
			b.Fatal(err)
		}
	}
}

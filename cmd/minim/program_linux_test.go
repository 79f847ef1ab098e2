package main

import (
	"os/exec"
	"path/filepath"
	"syscall"
	"testing"
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
		c := exec.Command(program, arguments...)
		if out, err := c.CombinedOutput(); err != nil {
			t.Fatalf("%s: %v\n%s", name, err, out)
		}
		// Linux counts the resident set in kilobytes.
		peak := c.ProcessState.SysUsage().(*syscall.Rusage).Maxrss >> 10
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

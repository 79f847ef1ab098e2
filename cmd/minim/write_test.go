package main

import (
	"bytes"
	"errors"
	"io"
	"os"
	"strings"
	"syscall"
	"testing"
)

// fullDisk takes some bytes and then no more.
type fullDisk struct{ room int }

func (d *fullDisk) Write(b []byte) (int, error) {
	if len(b) <= d.room {
		d.room -= len(b)
		return len(b), nil
	}
	n := d.room
	d.room = 0
	return n, errors.New("no space left")
}

// printing are the command lines that print something when all is well.
var printing = [][]string{
	{"help"},
	{"help", "design"},
	{"design", "--help"},
	{"design", "--abv", "18", "--volume", "90", "--from", "dry gin, lime juice"},
	{"design", "--abv", "18", "--volume", "90", "--from", "dry gin, lime juice", "--json"},
	{"design", "--abv", "18", "--volume", "90", "--from", "dry gin, lime juice", "--spec"},
	{"profile", "-"},
	{"profile", "-", "--json"},
	{"profile", "-", "--units", "oz"},
	{"card", "-"},
	{"card", "-", "--json"},
}

const martini = "drink: Martini\nmix:\n  dry gin: 60 ml\n  dry vermouth: 10 ml\nice: stir\n"

// brokenLimit cannot be answered within its limit: failing to print it is still
// the failure that counts.
const brokenLimit = "mix:\n  dry gin: 40 ml\n  lime juice: 20..30 ml\ntarget:\n  volume: 70 ml\n  abv: at least 60 %\n"

func TestAnswersThatCannotBeWrittenAreAFailure(t *testing.T) {
	for _, args := range printing {
		for _, room := range []int{0, 1, 40} {
			notWritten(t, args, martini, &fullDisk{room})
		}
	}
	notWritten(t, []string{"design", "-"}, brokenLimit, &fullDisk{})
	notWritten(t, []string{"design", "-", "--json"}, brokenLimit, &fullDisk{})
}

// Whoever closes the pipe, as head does after its lines, has read enough: the
// exit code says that not all was written, and nothing else is said of it.
func TestAClosedPipeIsAFailureWithoutAWord(t *testing.T) {
	for _, args := range printing {
		var errs bytes.Buffer
		code := run(args, strings.NewReader(martini), closedPipe{}, &errs)
		if code != exitNotWritten || strings.Contains(errs.String(), "minim: ") {
			t.Errorf("minim %q: exit code %d, want %d\n%s", args, code, exitNotWritten, &errs)
		}
	}
}

// closedPipe fails as a pipe does whose reader is gone.
type closedPipe struct{}

func (closedPipe) Write([]byte) (int, error) {
	return 0, &os.PathError{Op: "write", Path: "/dev/stdout", Err: syscall.EPIPE}
}

func notWritten(t *testing.T, args []string, input string, to io.Writer) {
	t.Helper()
	var errs bytes.Buffer
	if code := run(args, strings.NewReader(input), to, &errs); code != exitNotWritten {
		t.Errorf("minim %q: exit code %d, want %d\n%s", args, code, exitNotWritten, &errs)
	}
	if !strings.Contains(errs.String(), "could not be written") {
		t.Errorf("minim %q: %s", args, &errs)
	}
}

// Remarks that nobody can read are no reason to fail.
func TestAnAnswerDoesNotNeedStandardError(t *testing.T) {
	var out bytes.Buffer
	code := run([]string{"profile", "-"}, strings.NewReader(martini), &out, &fullDisk{})
	if code != exitAnswered || out.Len() == 0 {
		t.Errorf("exit code %d, %d bytes", code, out.Len())
	}
}

// What cannot be read is bad input, whatever the reason.
func TestStandardInputThatBreaksOffIsBadInput(t *testing.T) {
	var out, errs bytes.Buffer
	broken := io.MultiReader(strings.NewReader(martini), failingReader{})
	if code := run([]string{"profile", "-"}, broken, &out, &errs); code != exitBadInput || out.Len() > 0 || errs.Len() == 0 {
		t.Errorf("exit code %d, standard output %q, standard error %q", code, &out, &errs)
	}
}

type failingReader struct{}

func (failingReader) Read([]byte) (int, error) { return 0, errors.New("input/output error") }

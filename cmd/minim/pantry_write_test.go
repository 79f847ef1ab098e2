package main

import (
	"errors"
	"io"
	"os"
	"path/filepath"
	"testing"
)

// A file is there in full, old or new, whatever happens while it is written.
func TestAFileThatCannotBeWrittenStaysAsItWas(t *testing.T) {
	folder := t.TempDir()
	name := filepath.Join(folder, "lots.csv")
	if err := os.WriteFile(name, []byte("old"), 0o640); err != nil {
		t.Fatal(err)
	}
	wrong := errors.New("what was to be written is wrong")
	if err := writeFile(name, func(w io.Writer) error { io.WriteString(w, "half"); return wrong }); !errors.Is(err, wrong) {
		t.Errorf("%v, want what was wrong", err)
	}
	if text, err := os.ReadFile(name); err != nil || string(text) != "old" {
		t.Errorf("it holds %q, %v", text, err)
	}
	if err := writeFile(name, func(w io.Writer) error { _, err := io.WriteString(w, "new"); return err }); err != nil {
		t.Fatal(err)
	}
	if text, err := os.ReadFile(name); err != nil || string(text) != "new" {
		t.Errorf("it holds %q, %v", text, err)
	}
	if info, err := os.Stat(name); err != nil || info.Mode().Perm() != 0o640 {
		t.Errorf("its permissions are %v, %v", info.Mode(), err)
	}
	left, err := os.ReadDir(folder)
	if err != nil || len(left) != 1 {
		t.Errorf("the folder holds %v, %v", left, err)
	}
}

// A link to a file stays a link.
func TestALinkIsWrittenThrough(t *testing.T) {
	folder := t.TempDir()
	name, link := filepath.Join(folder, "lots.csv"), filepath.Join(folder, "link.csv")
	if err := os.WriteFile(name, []byte("old"), 0o644); err != nil {
		t.Fatal(err)
	}
	if err := os.Symlink(name, link); err != nil {
		t.Skip(err)
	}
	if err := writeFile(link, func(w io.Writer) error { _, err := io.WriteString(w, "new"); return err }); err != nil {
		t.Fatal(err)
	}
	if text, err := os.ReadFile(name); err != nil || string(text) != "new" {
		t.Errorf("the file holds %q, %v", text, err)
	}
	if info, err := os.Lstat(link); err != nil || info.Mode()&os.ModeSymlink == 0 {
		t.Errorf("the link is %v, %v", info.Mode(), err)
	}
}

func TestWhereNobodyCanWriteIsAFailureToWrite(t *testing.T) {
	var notWritten *writeError
	for _, name := range []string{filepath.Join(t.TempDir(), "lost", "x.csv"), t.TempDir()} {
		if err := writeFile(name, func(io.Writer) error { return nil }); !errors.As(err, &notWritten) {
			t.Errorf("%s: %v", name, err)
		}
	}
}

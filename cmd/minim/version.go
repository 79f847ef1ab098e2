package main

import (
	"fmt"
	"io"
	"runtime"
	"runtime/debug"
)

var versionCommand = command{
	name:     "version",
	synopsis: "version",
	summary:  "which build of minim this is",
	about: `Prints the version, the revision that it was built from, and the version of Go
that built it: what to write beside a number that surprises you.`,
	example: `minim version`,
	bare:    true,
	schema:  "version",
	flags:   func(f *flags) { f.set.BoolVar(&f.json, "json", false, "print it as JSON") },
	run: func(f *flags, s streams) error {
		if len(f.args) > 0 {
			return fmt.Errorf("%q; expected nothing after version", f.args[0])
		}
		info, _ := debug.ReadBuildInfo()
		b := buildOf(info)
		if f.json {
			return writeValue(s.out, b)
		}
		if _, err := io.WriteString(s.out, b.text()); err != nil {
			return &writeError{err}
		}
		return nil
	},
}

// build is what the program knows of how it was built. What is not known is
// empty.
type build struct {
	Version      string `json:"version"`
	Revision     string `json:"revision"`
	RevisionTime string `json:"revision_time"`
	Modified     bool   `json:"modified"`
	Go           string `json:"go"`
	System       string `json:"system"`
	Architecture string `json:"architecture"`
}

// buildOf reads what the Go tool wrote into the program; info may be nil.
func buildOf(info *debug.BuildInfo) build {
	b := build{Version: "unknown", Go: runtime.Version(), System: runtime.GOOS, Architecture: runtime.GOARCH}
	if info == nil {
		return b
	}
	if info.Main.Version != "" {
		b.Version = info.Main.Version
	}
	for _, s := range info.Settings {
		switch s.Key {
		case "vcs.revision":
			b.Revision = s.Value
		case "vcs.time":
			b.RevisionTime = s.Value
		case "vcs.modified":
			b.Modified = s.Value == "true"
		}
	}
	return b
}

func (b build) text() string {
	text := fmt.Sprintf("minim %s\n", b.Version)
	if b.Revision != "" {
		text += fmt.Sprintf("revision %s of %s", b.Revision, b.RevisionTime)
		if b.Modified {
			text += ", with changes since"
		}
		text += "\n"
	}
	return text + fmt.Sprintf("built with %s for %s on %s\n", b.Go, b.System, b.Architecture)
}

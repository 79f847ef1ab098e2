package main

import (
	"io"
	"path/filepath"
	"strings"
	"testing"
)

// The page of one drink, from its file to the HTML.
func BenchmarkCard(b *testing.B) {
	folder := filepath.Join("..", "..", "examples")
	args := []string{"card", filepath.Join(folder, "high-water.yaml"), "--pantry", filepath.Join(folder, "weir-lantern.csv")}
	b.ReportAllocs()
	for b.Loop() {
		if code := run(args, strings.NewReader(""), io.Discard, io.Discard); code != exitAnswered {
			b.Fatalf("minim %q: exit code %d", args, code)
		}
	}
}

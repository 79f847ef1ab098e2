package main

import (
	"archive/zip"
	"bytes"
	"compress/gzip"
	"image"
	"image/jpeg"
	"image/png"
	"math/rand/v2"
	"strings"
	"testing"
	"unicode"
)

// Files that are no text, by the words that name them.
func binaryFiles(t *testing.T) map[string][]byte {
	t.Helper()
	made := func(write func(*bytes.Buffer) error) []byte {
		var b bytes.Buffer
		if err := write(&b); err != nil {
			t.Fatal(err)
		}
		return b.Bytes()
	}
	packed := func(name, content string) []byte {
		return made(func(b *bytes.Buffer) error {
			z := zip.NewWriter(b)
			w, err := z.CreateHeader(&zip.FileHeader{Name: name, Method: zip.Store})
			if err != nil {
				return err
			}
			if _, err := w.Write([]byte(content)); err != nil {
				return err
			}
			return z.Close()
		})
	}
	picture := image.NewGray(image.Rect(0, 0, 40, 40))
	random := rand.New(rand.NewPCG(1, 2))
	noise := make([]byte, 4096)
	for n := range noise {
		noise[n] = byte(random.UintN(256))
	}
	photograph := made(func(b *bytes.Buffer) error { return jpeg.Encode(b, picture, nil) })
	return map[string][]byte{
		"spreadsheet file;":      packed("xl/workbook.xml", strings.Repeat("<c/>", 100)),
		"word processor's file;": packed("word/document.xml", "<p/>"),
		"packed file;":           packed("sour.yaml", sour),
		"a packed file;": made(func(b *bytes.Buffer) error {
			g := gzip.NewWriter(b)
			if _, err := g.Write([]byte(sour)); err != nil {
				return err
			}
			return g.Close()
		}),
		"a PDF file;":                   []byte("%PDF-1.7\n%\xE2\xE3\xCF\xD3\n1 0 obj\n<< /Type /Catalog >>\nendobj\n"),
		"a picture (PNG);":              made(func(b *bytes.Buffer) error { return png.Encode(b, picture) }),
		"a picture (JPEG);":             photograph,
		"picture (JPEG);":               append(photograph, make([]byte, 2<<20)...),
		"an office file of the old":     append([]byte("\xD0\xCF\x11\xE0\xA1\xB1\x1A\xE1"), make([]byte, 600)...),
		"a file that is no text;":       make([]byte, 300),
		"file that is no text;":         noise,
		"a file that is no text; exp":   noise[:700],
		"spreadsheet file; expected":    packed("mimetype", "application/vnd.oasis.opendocument.spreadsheet"),
		"a picture or a film; expected": []byte("\x00\x00\x00\x18ftypheic\x00\x00\x00\x00mif1heic"),
	}
}

// Every command that reads a file says in words what a file is that is no text
// and what to do, and shows none of its bytes.
func TestFilesThatAreNoTextAreNamedByEveryCommand(t *testing.T) {
	for words, content := range binaryFiles(t) {
		for _, line := range linesOfAnyFile {
			filesBeside(t, string(content))
			code, out, errs := minim(t, "", line.args...)
			said := strings.Join(strings.Fields(out+errs), " ")
			if code != exitBadInput || !strings.Contains(said, "any.yaml: ") || !strings.Contains(said, words) || !strings.Contains(said, "hint: ") {
				t.Errorf("minim %q: exit code %d; expected %q and a hint\n%s", line.args, code, words, said)
			}
			if at := strings.IndexFunc(said, func(r rune) bool { return r == unicode.ReplacementChar || !unicode.IsPrint(r) }); at >= 0 {
				t.Errorf("minim %q, %s: prints %q", line.args, words, said[at:])
			}
		}
	}
}

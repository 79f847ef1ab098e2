package pantry

import (
	"bytes"
	"unicode/utf8"
)

// packedAs are beginnings of files that are no text, and the words for them.
// Sources: RFC 1952 of gzip, ISO/IEC 15948 of PNG; the others from memory.
var packedAs = []struct{ beginning, words string }{
	{"\xD0\xCF\x11\xE0\xA1\xB1\x1A\xE1", "an office file of the old kind"},
	{"{\\rtf", "a word processor's file"},
	{"%PDF", "a PDF file"},
	{"\x89PNG", "a picture (PNG)"},
	{"\xFF\xD8\xFF", "a picture (JPEG)"},
	{"GIF8", "a picture (GIF)"},
	{"\x1F\x8B", packedFile},
}

const packedFile = "a packed file"

// binaryBeginning is how many bytes at the beginning of a file tell whether it
// is text, and mostControls how many of them may be control characters, one in
// twenty: in random bytes one in nine is.
const (
	binaryBeginning = 512
	mostControls    = 20
)

// notText says of a file that is no text what it is and what was expected; hint
// says how to get that. Nil: perhaps text.
func notText(data []byte, expected, hint string) *mistake {
	words := wordsForBinary(data)
	switch words {
	case "":
		return nil
	case packedFile:
		hint = "unpack it, and give the file that is in it"
	}
	return &mistake{message: words + "; expected " + expected, hint: hint}
}

func wordsForBinary(data []byte) string {
	if bytes.HasPrefix(data, []byte("PK\x03\x04")) {
		switch {
		case bytes.Contains(data, []byte("xl/")), bytes.Contains(data, []byte("opendocument.spreadsheet")):
			return "a spreadsheet file"
		case bytes.Contains(data, []byte("word/")), bytes.Contains(data, []byte("opendocument.text")):
			return "a word processor's file"
		}
		return packedFile
	}
	for _, one := range packedAs {
		if bytes.HasPrefix(data, []byte(one.beginning)) {
			return one.words
		}
	}
	if len(data) > 12 && (string(data[4:8]) == "ftyp" || string(data[8:12]) == "WEBP") {
		return "a picture or a film"
	}
	beginning := data[:min(len(data), binaryBeginning)]
	marked := bytes.HasPrefix(data, []byte{0xFF, 0xFE}) || bytes.HasPrefix(data, []byte{0xFE, 0xFF})
	text := utf8.Valid(data) && bytes.IndexByte(beginning, 0) < 0
	if text || marked || looksLikeUTF16(data) {
		return ""
	}
	controls := 0
	for _, b := range beginning {
		if b < ' ' && b != '\t' && b != '\n' && b != '\f' && b != '\r' {
			controls++
		}
	}
	if controls*mostControls > len(beginning) {
		return "a file that is no text"
	}
	return ""
}

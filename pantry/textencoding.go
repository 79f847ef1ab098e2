package pantry

import (
	"bytes"
	"encoding/binary"
	"unicode/utf16"
	"unicode/utf8"
)

// utf8Mark is the byte order mark of a file in UTF-8.
const utf8Mark = "\uFEFF"

// decoded returns the bytes of a text file as UTF-8 without a byte order mark.
// A file in UTF-16 is one that begins with the mark of it, FF FE or FE FF; units
// that are no letter, and half a unit at the end, are refused, and so is a file
// without a mark that looks like UTF-16. Source: RFC 2781, section 4.
func decoded(data []byte) ([]byte, *mistake) {
	var order binary.ByteOrder
	switch {
	case bytes.HasPrefix(data, []byte{0xFF, 0xFE}):
		order = binary.LittleEndian
	case bytes.HasPrefix(data, []byte{0xFE, 0xFF}):
		order = binary.BigEndian
	case looksLikeUTF16(data):
		return nil, &mistake{message: "UTF-16 without its mark; expected UTF-8", hint: saveAsUTF8}
	default:
		return bytes.TrimPrefix(data, []byte(utf8Mark)), nil
	}
	data = data[2:]
	if len(data)%2 != 0 {
		return nil, &mistake{message: "UTF-16 that ends in half a letter; expected the rest of the file, or UTF-8", hint: saveAsUTF8}
	}
	out := make([]byte, 0, len(data)/2)
	for ; len(data) > 0; data = data[2:] {
		r := rune(order.Uint16(data))
		if utf16.IsSurrogate(r) {
			low := rune(0)
			if len(data) >= 4 {
				low = rune(order.Uint16(data[2:]))
			}
			if r = utf16.DecodeRune(r, low); r == utf8.RuneError {
				return nil, &mistake{message: "UTF-16 with half of a pair in it; expected plain text", hint: saveAsUTF8}
			}
			data = data[2:]
		}
		out = utf8.AppendRune(out, r)
	}
	return out, nil
}

// saveAsUTF8 is what to do about a file in another encoding.
const saveAsUTF8 = "save the file as text in UTF-8; in a Windows shell, write it with --out FILE instead of >"

// looksLikeUTF16 tells whether every other byte of the beginning is zero, as in
// UTF-16 of a western language.
func looksLikeUTF16(data []byte) bool {
	if len(data) < 4 {
		return false
	}
	zeros := [2]int{}
	beginning := data[:min(len(data), 64)&^1]
	for n, b := range beginning {
		if b == 0 {
			zeros[n%2]++
		}
	}
	half := len(beginning) / 2
	return zeros[0] == half && zeros[1] == 0 || zeros[1] == half && zeros[0] == 0
}

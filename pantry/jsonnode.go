package pantry

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"strings"
	"unicode/utf8"
)

// Limits of a JSON file that is read.
const (
	largestJSON = 1 << 20
	deepestJSON = 32
)

// jsonNode is a value of a JSON file.
type jsonNode struct {
	// value is a string, json.Number, bool or nil; of a list or an object it is nil.
	value any
	// fields are those of an object; nil for anything else.
	fields map[string]*jsonNode
	// items are those of a list, which has list set.
	items []*jsonNode
	list  bool
	// offset is the byte at which it begins.
	offset int64
}

// field returns the value of a key; nil: there is none.
func (n *jsonNode) field(key string) *jsonNode {
	if n == nil {
		return nil
	}
	return n.fields[key]
}

// text returns a string value, cleaned of control characters and doubled spaces;
// empty for anything else.
func (n *jsonNode) text() string {
	if n == nil {
		return ""
	}
	s, _ := n.value.(string)
	return cleanText(s)
}

// each returns the items of a list, or the value alone.
func (n *jsonNode) each() []*jsonNode {
	switch {
	case n == nil:
		return nil
	case n.list:
		return n.items
	default:
		return []*jsonNode{n}
	}
}

// jsonReader turns a JSON file into nodes.
type jsonReader struct {
	file    string
	data    []byte
	lines   []string
	decoder *json.Decoder
}

// readJSON reads all of r strictly: UTF-8, at most a megabyte and 32 levels, no
// key twice, nothing after the end. What is wrong with the file is InputErrors.
func readJSON(r io.Reader, file string) (*jsonNode, *jsonReader, error) {
	data, err := io.ReadAll(io.LimitReader(r, largestJSON+1))
	if err != nil {
		return nil, nil, fmt.Errorf("%s: %w", file, err)
	}
	wrong := notText(data, "a recipe in JSON", "write each line into a spec, such as `dry gin: 60 ml` under `mix:`")
	if wrong == nil && len(data) <= largestJSON {
		if data, wrong = decoded(data); wrong == nil {
			wrong = notRecipe(string(data))
		}
	}
	if wrong != nil {
		return nil, nil, InputErrors{{Place: Place{File: file}, Message: wrong.message, Hint: wrong.hint}}
	}
	in := &jsonReader{file: file, data: data}
	switch {
	case len(data) > largestJSON:
		return nil, nil, InputErrors{{Place: Place{File: file}, Message: "more than one megabyte; expected a recipe, which is a page of text"}}
	case !utf8.Valid(data):
		return nil, nil, InputErrors{{Place: Place{File: file}, Message: "bytes that are not UTF-8; expected JSON", Hint: "save the file as text in UTF-8"}}
	case len(bytes.TrimSpace(data)) == 0:
		return nil, nil, InputErrors{{Place: Place{File: file}, Message: "an empty file; expected JSON with a Recipe in it"}}
	}
	in.lines = strings.Split(string(data), "\n")
	if first := bytes.TrimSpace(data)[0]; first != '{' && first != '[' {
		return nil, nil, InputErrors{in.inputError(Place{File: file, Line: 1, Column: 1}, "no recipe in JSON, which begins with { or [; expected that of a web page, or of `minim export --as recipe`",
			"plain text is not read: write each line into a spec, such as `dry gin: 60 ml` under `mix:`")}
	}
	in.decoder = json.NewDecoder(bytes.NewReader(data))
	in.decoder.UseNumber()
	root, err := in.node(0)
	if err != nil {
		return nil, nil, err
	}
	if _, err := in.decoder.Token(); !errors.Is(err, io.EOF) {
		return nil, nil, in.wrongAt(in.decoder.InputOffset(), "more text after the end of the JSON; expected one value", "")
	}
	return root, in, nil
}

// node reads the next value.
func (in *jsonReader) node(depth int) (*jsonNode, error) {
	if depth > deepestJSON {
		return nil, in.wrongAt(in.decoder.InputOffset(), fmt.Sprintf("more than %d levels of brackets; expected a recipe", deepestJSON), "")
	}
	token, err := in.token()
	if err != nil {
		return nil, err
	}
	n := &jsonNode{offset: in.start(token)}
	delimiter, ok := token.(json.Delim)
	if !ok {
		n.value = token
		return n, nil
	}
	if n.list = delimiter == '['; !n.list {
		n.fields = map[string]*jsonNode{}
	}
	for in.decoder.More() {
		name := ""
		if !n.list {
			key, err := in.token()
			if err != nil {
				return nil, err
			}
			name, _ = key.(string)
			if n.fields[name] != nil {
				return nil, in.wrongAt(in.start(key), fmt.Sprintf("%q for the second time; expected it once", clip(name)), "")
			}
		}
		item, err := in.node(depth + 1)
		if err != nil {
			return nil, err
		}
		if n.list {
			n.items = append(n.items, item)
		} else {
			n.fields[name] = item
		}
	}
	_, err = in.token()
	return n, err
}

// token reads one token; what is no JSON is InputErrors with its place.
func (in *jsonReader) token() (json.Token, error) {
	token, err := in.decoder.Token()
	if err == nil {
		return token, nil
	}
	at, message := in.decoder.InputOffset(), "the file ends in the middle; expected the rest of the JSON"
	var syntax *json.SyntaxError
	if errors.As(err, &syntax) {
		at = max(0, syntax.Offset-1)
		for int(at) < len(in.data)-1 && strings.IndexByte(" \t\r\n", in.data[at]) >= 0 {
			at++
		}
		if int(at) < len(in.data)-1 {
			message = "no JSON from here on: " + strings.TrimPrefix(syntax.Error(), "json: ")
		}
	}
	return nil, in.wrongAt(at, message, "a recipe in JSON-LD begins with {\"@context\": \"https://schema.org\", \"@type\": \"Recipe\"")
}

// start is where the token that was just read begins: that of a string or a
// number is found from its end.
func (in *jsonReader) start(token json.Token) int64 {
	end := in.decoder.InputOffset()
	at := end - 1
	switch token.(type) {
	case string:
		for at > 0 {
			at--
			if in.data[at] == '"' && !escaped(in.data, at) {
				return at
			}
		}
	case json.Number:
		for at > 0 && strings.IndexByte("+-.eE0123456789", in.data[at-1]) >= 0 {
			at--
		}
	case bool, nil:
		for at > 0 && 'a' <= in.data[at-1] && in.data[at-1] <= 'z' {
			at--
		}
	}
	return at
}

// escaped tells whether an odd number of backslashes stands before a character.
func escaped(data []byte, at int64) bool {
	count := 0
	for at > 0 && data[at-1] == '\\' {
		at--
		count++
	}
	return count%2 == 1
}

func (in *jsonReader) placeAt(offset int64) Place {
	before := in.data[:min(max(offset, 0), int64(len(in.data)))]
	line := bytes.Count(before, []byte("\n"))
	column := utf8.RuneCount(before[bytes.LastIndexByte(before, '\n')+1:])
	return Place{File: in.file, Line: line + 1, Column: column + 1}
}

func (in *jsonReader) wrongAt(offset int64, message, hint string) error {
	return InputErrors{in.inputError(in.placeAt(offset), message, hint)}
}

// placeOf is where a value begins.
func (in *jsonReader) placeOf(n *jsonNode) Place { return in.placeAt(n.offset) }

func (in *jsonReader) inputError(p Place, message, hint string) *InputError {
	return &InputError{Place: p, Message: message, Text: lineOf(in.lines, p.Line), Hint: hint}
}

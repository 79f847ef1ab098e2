package pantry

import (
	"errors"
	"fmt"
	"regexp"
	"strings"
	"unicode/utf8"

	"go.yaml.in/yaml/v4"
)

// syntaxWords turns what the parser says into what a person can act on.
var syntaxWords = []struct {
	said, message, hint string
	// atContext places the error where the construct began.
	atContext bool
}{
	{said: "found unexpected end of stream", message: "a quotation mark that is never closed", hint: "close it, or take it away", atContext: true},
	{said: "did not find expected ',' or ']'", message: "a [ that is never closed", hint: "close it with ], or put the text in quotes", atContext: true},
	{said: "did not find expected ',' or '}'", message: "a { that is never closed", hint: "close it with }, or put the text in quotes", atContext: true},
	{said: "did not find expected comment or line break", message: "text that starts with > or |, which YAML keeps for long text", hint: "put the text in quotes"},
	{said: "found unknown escape character", message: "a backslash with an unknown letter after it in double quotes", hint: "use single quotes"},
	{said: "found incompatible YAML document", message: "a %YAML line of another version", hint: "delete the line"},
	{said: "exceeded max depth", message: "brackets within brackets without end; expected a spec"},
	{said: "did not find expected key", message: "the line does not fit the lines above it; expected `name: value`", hint: "lines of one section start in the same column"},
	{said: "could not find expected ':'", message: "a line without a colon; expected `name: value`", hint: "write `name: value`, with a space after the colon"},
	{said: "did not find expected '-' indicator", message: "the line does not fit the list above it; expected a line starting with -"},
	{said: "block sequence entries are not allowed", message: "a list begins on the line of its name; expected each - on a line of its own"},
}

var unknownAnchor = regexp.MustCompile(`unknown anchor '(.*)' referenced`)

// noteSyntax records that the text is not YAML, unless a mistake that explains
// it is on record already.
func (s *yamlSource) noteSyntax(err error) {
	if len(s.problems) > 0 {
		return
	}
	var one *yaml.LoadError
	var several *yaml.LoadErrors
	switch {
	case errors.As(err, &several) && len(several.Errors) > 0:
		one = several.Errors[0]
	case errors.As(err, &one):
	default:
		s.note(0, 0, "not YAML: "+err.Error(), "")
		return
	}
	line, column := one.Mark.Line, s.column(one.Mark.Line, one.Mark.Column)
	if found := unknownAnchor.FindStringSubmatch(one.Message); found != nil {
		s.note(line, column, fmt.Sprintf("%q starts with *, which YAML keeps for references; expected plain text", "*"+found[1]), "put the text in quotes")
		return
	}
	if strings.Contains(one.Message, "mapping values are not allowed") {
		s.noteStrayColon(line, column)
		return
	}
	before := strings.TrimRight(beforeColumn(lineOf(s.lines, line), column), " ")
	if strings.Contains(one.Message, "did not find expected key") && strings.HasSuffix(strings.ReplaceAll(before, `"`, `'`), `'`) {
		s.note(line, column, "text after the closing quotation mark; expected the end of the line", "put all of the text in the quotes")
		return
	}
	if strings.Contains(one.Message, "cannot start any token") {
		first, _ := utf8.DecodeRuneInString(fromColumn(lineOf(s.lines, line), column))
		if first == '>' {
			s.note(line, column, "a limit in signs; expected words", "write at least 9 %")
			return
		}
		s.note(line, column, fmt.Sprintf("text that starts with %q, which YAML keeps for itself; expected plain text", first), "put the text in quotes")
		return
	}
	for _, w := range syntaxWords {
		if strings.Contains(one.Message, w.said) {
			if w.atContext && one.ContextMark.Line > 0 {
				line, column = one.ContextMark.Line, s.column(one.ContextMark.Line, one.ContextMark.Column)
			}
			s.note(line, column, w.message, w.hint)
			return
		}
	}
	s.note(line, column, "not YAML: "+one.Message, "")
}

// noteStrayColon records a colon where none can be: a second one in its line,
// or one after a line that has none.
func (s *yamlSource) noteStrayColon(line, column int) {
	if strings.Contains(beforeColumn(lineOf(s.lines, line), column), ": ") {
		s.note(line, column, "a second colon in the line; expected one `name: value`", "put text that contains a colon in quotes")
		return
	}
	for above := line - 1; above > 0; above-- {
		whole := lineOf(s.lines, above)
		if comment, _ := scanLine(whole, 0); comment >= 0 {
			whole = whole[:comment]
		}
		text := strings.TrimSpace(whole)
		indent := len(whole) - len(strings.TrimLeft(whole, " "))
		name, value, colon := strings.Cut(text, ":")
		switch {
		case text == "":
			continue
		case !colon:
			s.note(above, indent+1, fmt.Sprintf("%q has no colon; expected `name: value`", clip(text)), "write the name, a colon, a space and the amount")
			return
		case value != "" && !strings.HasPrefix(value, " "):
			s.note(above, indent+utf8.RuneCountInString(name)+2, fmt.Sprintf("%q has no space after the colon; expected `name: value`", clip(text)), fmt.Sprintf("write %s: %s", clip(name), clip(value)))
			return
		}
		break
	}
	indent := len(lineOf(s.lines, line)) - len(strings.TrimLeft(lineOf(s.lines, line), " "))
	s.note(line, indent+1, "the line is indented further than the one above it, which already has a value; expected `name: value`", "lines of one section start in the same column")
}

// beforeColumn returns the line up to a column that counts characters from 1.
func beforeColumn(line string, column int) string {
	return strings.TrimSuffix(line, fromColumn(line, column))
}

// fromColumn returns the line from a column that counts characters from 1.
func fromColumn(line string, column int) string {
	for ; column > 1 && line != ""; column-- {
		_, size := utf8.DecodeRuneInString(line)
		line = line[size:]
	}
	return line
}

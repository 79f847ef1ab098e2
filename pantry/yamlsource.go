package pantry

import (
	"fmt"
	"io"
	"regexp"
	"strings"
	"unicode/utf8"
)

// largestSpec is the most bytes that a spec may have.
const largestSpec = 1 << 20

// yamlSource is the text of a spec before it is parsed, with what can only be
// seen in the text: YAML drops comments, and so whatever a stray # cuts off.
type yamlSource struct {
	file string
	// lines are the person's own.
	lines []string
	// parsed is lines after the repairs that let reading go on beyond a mistake
	// already noted.
	parsed []string
	// quoted remembers by line the column at which a repair put text in quotes,
	// and how many characters that added.
	quoted   map[int]repair
	problems InputErrors
}

type repair struct{ column, added int }

// readYAMLSource reads all of r. What is wrong with the file as a whole is an
// InputErrors; a failing reader gives its own error.
func readYAMLSource(r io.Reader, file string) (*yamlSource, error) {
	data, err := io.ReadAll(io.LimitReader(r, largestSpec+1))
	if err != nil {
		return nil, fmt.Errorf("%s: %w", file, err)
	}
	s := &yamlSource{file: file, quoted: map[int]repair{}}
	wrong := notText(data, "a spec, which is plain text with lines such as `drink: name`",
		"write the spec with a text editor; a table of ingredients is saved as CSV UTF-8 (comma separated), and given with --pantry")
	if wrong == nil && len(data) <= largestSpec {
		data, wrong = decoded(data)
	}
	if wrong != nil {
		s.note(0, 0, wrong.message, wrong.hint)
		return nil, s.problems
	}
	text := strings.ReplaceAll(strings.ReplaceAll(string(data), "\r\n", "\n"), "\r", "\n")
	s.lines = strings.Split(text, "\n")
	switch {
	case len(data) > largestSpec:
		s.note(0, 0, "more than one megabyte; expected a spec, which is a page of text", "")
	case strings.TrimSpace(text) == "":
		s.note(0, 0, "an empty file; expected a spec, with pours under mix or top", "a shell empties the file after > before it is read: write with --out FILE, or > to another name")
	default:
		if wrong := notSpec(text); wrong != nil {
			s.note(0, 0, wrong.message, wrong.hint)
			break
		}
		s.findControls()
	}
	if len(s.problems) > 0 {
		return nil, s.problems
	}
	s.parsed = append([]string(nil), s.lines...)
	s.lint()
	return s, nil
}

// note records what is wrong at a line and column; 0 is the file, or the line,
// as a whole.
func (s *yamlSource) note(line, column int, message, hint string) {
	if len(s.problems) >= mostProblems {
		return
	}
	s.problems = append(s.problems, s.inputError(Place{s.file, line, column}, message, hint))
}

// inputError shows the line at p; what is missing at the end of the file is
// shown at the end of its last line.
func (s *yamlSource) inputError(p Place, message, hint string) *InputError {
	if p.Line > len(s.lines) {
		p.Line = len(s.lines)
		p.Column = utf8.RuneCountInString(lineOf(s.lines, p.Line)) + 1
	}
	return &InputError{Place: p, Message: message, Text: lineOf(s.lines, p.Line), Hint: hint}
}

// lineOf returns the line that counts from 1, empty where there is none.
func lineOf(lines []string, line int) string {
	if line < 1 || line > len(lines) {
		return ""
	}
	return lines[line-1]
}

// findControls notes the first character that no spec can contain.
func (s *yamlSource) findControls() {
	for i, line := range s.lines {
		for at, r := range line {
			var message, hint string
			switch {
			case r == utf8.RuneError && !strings.HasPrefix(line[at:], "\uFFFD"):
				message, hint = "bytes that are not UTF-8; expected plain text", "save the file as text in UTF-8"
			case r == 0:
				message, hint = "a NUL character; expected plain text", "this looks like a file of another kind"
			case r != '\t' && (isControl(r) || r == '\u2028' || r == '\u2029'):
				message, hint = fmt.Sprintf("a control character (U+%04X); expected plain text", r), "delete it; it often comes along when text is pasted"
			default:
				continue
			}
			s.note(i+1, utf8.RuneCountInString(line[:at])+1, message, hint)
			return
		}
	}
}

var (
	bareComparison = regexp.MustCompile(`^(\s*(?:-\s+)?[^\s#:'"][^:#]*:\s+)(>\s*=?\s*[-+.\d].*)$`)
	freeTextLine   = regexp.MustCompile(`^\s*(?:-\s|drink\s*:|like\s*:|finish\s*:)`)
)

// lint notes the mistakes that are plain in the text and lost or misread in the
// parsed file: tabs, text cut short by a #, a bare > or >=.
func (s *yamlSource) lint() {
	open := byte(0)
	for i, line := range s.lines {
		opened := open
		var comment int
		comment, open = scanLine(line, open)
		content := line
		if comment >= 0 {
			content = line[:comment]
		}
		if opened != 0 || strings.TrimSpace(content) == "" {
			continue
		}
		indent := line[:len(line)-len(strings.TrimLeft(line, " \t"))]
		if tab := strings.IndexByte(indent, '\t'); tab >= 0 {
			s.note(i+1, tab+1, "a tab at the start of the line; expected spaces", "indent with two spaces")
			s.parsed[i] = strings.ReplaceAll(indent, "\t", "  ") + line[len(indent):]
			continue
		}
		if comment >= 0 && cutShort(content, line[comment:]) {
			s.noteCutShort(i, content, line, comment)
			continue
		}
		if found := bareComparison.FindStringSubmatch(content); found != nil {
			s.parsed[i] = found[1] + "'" + strings.ReplaceAll(strings.TrimRight(found[2], " "), "'", "''") + "'"
		}
	}
}

// cutShort tells whether a comment is more likely the end of a text: there is no
// space after its #, and it follows free text or a name whose colon it holds.
func cutShort(content, comment string) bool {
	if strings.TrimSpace(content) == "-" {
		return false
	}
	glued := len(comment) > 1 && comment[1] != ' ' && comment[1] != '\t' && comment[1] != '#'
	if freeTextLine.MatchString(content) || strings.Count(content, "{") > strings.Count(content, "}") {
		return glued
	}
	endsText := strings.ContainsAny(content, ":{}[],") || strings.HasPrefix(content, "---") || strings.HasPrefix(content, "...")
	return glued && !endsText && strings.Contains(comment, ":")
}

func (s *yamlSource) noteCutShort(i int, content, line string, comment int) {
	column := utf8.RuneCountInString(line[:comment]) + 1
	name := strings.TrimLeft(line, " ")
	hint := "a # after a space starts a comment; put the text in quotes, or a space after the # too"
	if colon := strings.Index(line[comment:], ":"); colon >= 0 && !strings.Contains(content, ":") {
		indent := line[:len(line)-len(name)]
		name = strings.TrimSpace(line[len(indent) : comment+colon])
		hint = fmt.Sprintf("a # after a space starts a comment; put the name in quotes: %q", clip(name))
		key := "'" + strings.ReplaceAll(name, "'", "''") + "'"
		s.parsed[i] = indent + key + line[comment+colon:]
		added := utf8.RuneCountInString(key) - utf8.RuneCountInString(strings.TrimLeft(line[:comment+colon], " "))
		s.quoted[i+1] = repair{column: len(indent) + 1, added: added}
	}
	s.note(i+1, column, fmt.Sprintf("text cut short by #: only %q is read; expected a name without # or in quotes", clip(lastText(content))), hint)
}

// lastText is what is left of the text that a # cut short.
func lastText(content string) string {
	content = strings.TrimSpace(content)
	if at := strings.LastIndex(content, ": "); at >= 0 {
		content = content[at+2:]
	}
	return strings.TrimSpace(strings.TrimLeft(strings.TrimPrefix(content, "- "), "{ "))
}

// scanLine finds where a comment starts in a line, -1 where there is none.
// quote is the quotation mark still open from the line before, 0 for none; the
// one still open after this line is returned.
func scanLine(line string, quote byte) (comment int, open byte) {
	atStart := true
	for i := 0; i < len(line); i++ {
		c := line[i]
		switch {
		case quote == '"' && c == '\\':
			i++
		case quote != 0 && c == quote:
			if quote == '\'' && i+1 < len(line) && line[i+1] == '\'' {
				i++
				continue
			}
			quote, atStart = 0, false
		case quote != 0:
		case atStart && (c == '"' || c == '\''):
			quote = c
		case c == '#' && (i == 0 || line[i-1] == ' ' || line[i-1] == '\t'):
			return i, 0
		case c == ' ' || c == '\t':
		case c == '[' || c == '{' || c == ',':
			atStart = true
		case (c == ':' || c == '-' || c == '?') && (i+1 == len(line) || line[i+1] == ' ' || line[i+1] == '\t'):
			atStart = true
		default:
			atStart = false
		}
	}
	return -1, quote
}

// column undoes the shift that a repair of the line caused.
func (s *yamlSource) column(line, column int) int {
	if r, ok := s.quoted[line]; ok && column > r.column {
		return column - r.added
	}
	return column
}

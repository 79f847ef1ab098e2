package pantry

import (
	"fmt"
	"io"
	"slices"
	"strings"
	"unicode/utf8"

	"go.yaml.in/yaml/v4"

	"minim/profile"
)

// ReadSpec reads a spec. It accepts a mapping of at most one megabyte of UTF-8,
// with or without a byte order mark, with the line ends of any system, and
// refuses everything in YAML that a person would not expect: anchors, aliases,
// tags, merge keys, names given twice, values left empty.
//
// What is wrong is an InputErrors with all mistakes in the order of the file;
// where r cannot be read, it is the error of r.
func ReadSpec(r io.Reader, file string) (*Spec, error) {
	source, err := readYAMLSource(r, file)
	if err != nil {
		return nil, err
	}
	reader := &specReader{
		source:  source,
		refused: map[*yaml.Node]bool{},
		spec:    &Spec{File: file, Measure: DefaultMeasure, lines: source.lines},
	}
	if root := source.parseYAML(); root != nil {
		reader.readRoot(root)
	}
	if len(source.problems) > 0 {
		sortByPlace(source.problems)
		return nil, source.problems
	}
	return reader.spec, nil
}

func sortByPlace(problems InputErrors) {
	slices.SortStableFunc(problems, func(a, b *InputError) int {
		if a.Place.Line != b.Place.Line {
			return a.Place.Line - b.Place.Line
		}
		return a.Place.Column - b.Place.Column
	})
}

// specReader turns the node tree into a spec.
type specReader struct {
	source  *yamlSource
	refused map[*yaml.Node]bool
	spec    *Spec
	// ratios wait until all pours are known.
	ratios []*yaml.Node
	// tooDeep stops the reading of a file that is no spec at all.
	tooDeep bool
}

// mostProblems bounds what is collected about a hostile file.
const mostProblems = 100

// refuse notes what is wrong at a node and marks the node, so that nothing more
// is said about it.
func (r *specReader) refuse(n *yaml.Node, wrong *mistake) {
	r.refused[n] = true
	if len(r.source.problems) >= mostProblems {
		return
	}
	r.source.problems = append(r.source.problems, r.source.inputError(r.placeOf(n, wrong.part), wrong.message, wrong.hint))
}

// placeOf returns where a node stands, or where in its line the part does.
func (r *specReader) placeOf(n *yaml.Node, part string) Place {
	p := Place{r.source.file, n.Line, r.source.column(n.Line, n.Column)}
	if part == "" || part == n.Value {
		return p
	}
	line := fromColumn(lineOf(r.source.lines, p.Line), p.Column)
	if at := strings.Index(line, part); at > 0 {
		p.Column += utf8.RuneCountInString(line[:at])
	}
	return p
}

// specSections are the names at the top level of a spec, in the order in which
// they are written.
var specSections = []struct {
	name string
	read func(*specReader, *yaml.Node)
}{
	{"drink", func(r *specReader, n *yaml.Node) { r.spec.Name = r.text(n, "the drink's name") }},
	{"glass", (*specReader).readGlass},
	{"mix", func(r *specReader, n *yaml.Node) { r.spec.Mix = r.readPours(n, "mix") }},
	{"steps", (*specReader).readSteps},
	{"makes", (*specReader).readMakes},
	{"measure", (*specReader).readMeasure},
	{"ice", (*specReader).readIce},
	{"top", func(r *specReader, n *yaml.Node) { r.spec.Top = r.readPours(n, "top") }},
	{"choose", (*specReader).readChoose},
	{"finish", (*specReader).readFinish},
	{"like", func(r *specReader, n *yaml.Node) { r.spec.Like = r.text(n, "the file of another spec") }},
	{"target", (*specReader).readTargets},
	{"ratio", func(r *specReader, n *yaml.Node) { r.ratios = r.ratioNodes(n) }},
	{"reference", (*specReader).readReference},
}

func (r *specReader) readRoot(root *yaml.Node) {
	r.refuseNodes(root, 1)
	if r.refused[root] || r.tooDeep {
		return
	}
	if root.Kind != yaml.MappingNode {
		r.refuse(root, &mistake{
			message: "a spec is made of lines such as `drink: name`; found " + kindWords(root),
			hint:    "start with `drink: name` and `mix:`",
		})
		return
	}
	poured, misspelt := false, false
	for key, value := range pairs(root) {
		poured = poured || key.Value == "mix" || key.Value == "top" || key.Value == "choose"
		if r.refused[key] {
			continue
		}
		section := slices.IndexFunc(specSections, func(s struct {
			name string
			read func(*specReader, *yaml.Node)
		},
		) bool {
			return s.name == key.Value
		})
		switch {
		case section < 0:
			misspelt = true
			r.refuse(key, unknownSection(key.Value))
		case !r.refused[value]:
			specSections[section].read(r, value)
		}
	}
	for _, n := range r.ratios {
		r.readRatio(n)
	}
	r.checkPrep(root)
	if !poured && !misspelt {
		r.source.note(0, 0, "no pours; expected at least one under mix or top", "write `mix:` and under it `dry gin: 30 ml`")
	}
}

// pairs goes through a mapping in the order of the file.
func pairs(n *yaml.Node) func(yield func(key, value *yaml.Node) bool) {
	return func(yield func(key, value *yaml.Node) bool) {
		for i := 0; i+1 < len(n.Content); i += 2 {
			if !yield(n.Content[i], n.Content[i+1]) {
				return
			}
		}
	}
}

func unknownSection(name string) *mistake {
	names := make([]string, len(specSections))
	for i, s := range specSections {
		names[i] = s.name
	}
	wrong := &mistake{message: fmt.Sprintf("no section %q in a spec; expected one of %s", clip(name), strings.Join(names, ", "))}
	if _, is := profile.PropertyNamed(name); is {
		wrong.hint = fmt.Sprintf("%s is a property; write it under target, two spaces in", name)
		return wrong
	}
	if near := lookalike(name, names); name == "name" || name == "title" {
		wrong.hint = "what a drink is called stands after drink"
	} else if near != "" {
		wrong.hint = "nearest: " + near
	} else {
		wrong.hint = "an ingredient stands under mix or top, two spaces in"
	}
	return wrong
}

// lookalike returns the word in among that is a slip of the keyboard away from
// word, empty where none is: a third of its letters may differ.
func lookalike(word string, among []string) string {
	if utf8.RuneCountInString(word) > longestText {
		return ""
	}
	near := Nearest(word, among, 1)
	if len(near) == 0 {
		return ""
	}
	folded := []rune(Fold(word))
	if editDistance(folded, []rune(Fold(near[0]))) > max(1, (len(folded)+1)/3) {
		return ""
	}
	return near[0]
}

// kindWords says what a node is, for messages.
func kindWords(n *yaml.Node) string {
	switch n.Kind {
	case yaml.MappingNode:
		return "lines of `name: value`"
	case yaml.SequenceNode:
		return "a list"
	default:
		return fmt.Sprintf("%q", clip(n.Value))
	}
}

// text reads a piece of text; what says in a message what it should be.
func (r *specReader) text(n *yaml.Node, what string) string {
	if n.Kind != yaml.ScalarNode {
		r.refuse(n, &mistake{message: fmt.Sprintf("%s; expected %s", kindWords(n), what), hint: "put text that contains a colon or starts with a bracket in quotes"})
		return ""
	}
	return strings.TrimSpace(n.Value)
}

// scalar reads a value and gives it to parse.
func scalar[T any](r *specReader, n *yaml.Node, what string, parse func(string) (T, *mistake)) (T, bool) {
	var none T
	if n.Kind != yaml.ScalarNode {
		r.refuse(n, &mistake{message: fmt.Sprintf("%s; expected %s", kindWords(n), what)})
		return none, false
	}
	value, wrong := parse(strings.TrimSpace(n.Value))
	if wrong != nil {
		r.refuse(n, wrong)
		return none, false
	}
	return value, true
}

func (r *specReader) readGlass(n *yaml.Node) {
	r.spec.Glass, _ = scalar(r, n, "a volume such as 240 ml", parseVolume)
}

func (r *specReader) readMeasure(n *yaml.Node) {
	measure, ok := scalar(r, n, "the smallest step of a liquid, such as 2.5 ml", parseMeasure)
	if ok {
		r.spec.Measure, r.spec.MeasureStated = measure, true
	}
}

func (r *specReader) readFinish(n *yaml.Node) {
	if n.Kind != yaml.SequenceNode {
		if text := r.text(n, "text, or a list with a - before each item"); text != "" {
			r.spec.Finish = []string{text}
		}
		return
	}
	for _, item := range n.Content {
		if r.refused[item] {
			continue
		}
		if text := r.text(item, "text such as lemon peel"); text != "" {
			r.spec.Finish = append(r.spec.Finish, text)
		}
	}
	if len(n.Content) == 0 {
		r.refuse(n, &mistake{message: "an empty list; expected text", hint: "write a value, or delete the line"})
	}
}

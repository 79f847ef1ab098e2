package pantry

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"strings"
	"unicode/utf8"

	"go.yaml.in/yaml/v4"
)

// deepestNode is how deep lists and mappings may stand in one another: a spec
// needs the file, a section, a list in it and a mapping in that.
const deepestNode = 6

// longestText is the most characters of a name or of any other text.
const longestText = 200

// parseYAML returns the root of the one document in s, nil where the text
// cannot be parsed; what is wrong stands in s.
func (s *yamlSource) parseYAML() *yaml.Node {
	loader, err := yaml.NewLoader(bytes.NewReader([]byte(strings.Join(s.parsed, "\n") + "\n")))
	if err != nil {
		panic("pantry: yaml loader without options: " + err.Error())
	}
	var document, second yaml.Node
	switch err := loader.Load(&document); {
	case errors.Is(err, io.EOF):
		s.note(0, 0, "nothing but comments; expected a spec, with pours under mix or top", "")
		return nil
	case err != nil:
		s.noteSyntax(err)
		return nil
	}
	switch err := loader.Load(&second); {
	case errors.Is(err, io.EOF):
	case err != nil:
		s.noteSyntax(err)
		return nil
	default:
		s.note(second.Line, second.Column, "a second document begins after ---; expected one spec in a file", "put it in a file of its own")
		return nil
	}
	if len(document.Content) == 0 {
		return nil
	}
	return document.Content[0]
}

// refuseNodes notes everything that YAML allows and a spec does not, and marks
// the nodes that are at fault, so that nothing is said of them twice.
func (r *specReader) refuseNodes(n *yaml.Node, depth int) {
	switch {
	case depth > deepestNode:
		r.tooDeep = true
		r.refuse(n, &mistake{message: "lists or mappings nested too deeply; expected a spec"})
		return
	case n.Kind == yaml.AliasNode:
		r.refuse(n, &mistake{
			message: fmt.Sprintf("%q refers to another place; expected the value itself", "*"+clip(n.Value)),
			hint:    "write the value out, or put the text in quotes",
		})
		return
	case n.Anchor != "":
		r.refuse(n, &mistake{
			message: fmt.Sprintf("%q names an anchor; expected a value", "&"+clip(n.Anchor)),
			hint:    "take it away, or put the text in quotes",
		})
		return
	case n.Style&yaml.TaggedStyle != 0 || strings.HasPrefix(n.Tag, "!") && !strings.HasPrefix(n.Tag, "!!"):
		r.refuse(n, &mistake{
			message: fmt.Sprintf("%q is a tag; expected a value", clip(strings.TrimPrefix(n.Tag, "tag:yaml.org,2002:"))),
			hint:    "take it away, or put the text in quotes",
		})
		return
	}
	switch n.Kind {
	case yaml.MappingNode:
		r.refuseMapping(n, depth)
	case yaml.SequenceNode:
		for _, item := range n.Content {
			if isNull(item) {
				r.refuse(item, &mistake{message: "an item with nothing in it; expected a value", hint: "write a value, or delete the line"})
				continue
			}
			r.refuseNodes(item, depth+1)
		}
	case yaml.ScalarNode:
		r.refuseScalar(n)
	}
}

func (r *specReader) refuseMapping(n *yaml.Node, depth int) {
	first := map[string]*yaml.Node{}
	for i := 0; i+1 < len(n.Content); i += 2 {
		key, value := n.Content[i], n.Content[i+1]
		if key.Kind != yaml.ScalarNode && key.Kind != yaml.AliasNode {
			r.refuse(key, &mistake{message: "a list or mapping where a name belongs; expected `name: value`"})
			continue
		}
		if key.Tag == "!!merge" {
			r.refuse(key, &mistake{message: "\"<<\" takes in another mapping; expected a name", hint: "write the lines out"})
			continue
		}
		if isNull(key) {
			r.refuse(key, &mistake{message: fmt.Sprintf("%q where a name belongs; expected `name: value`", key.Value), hint: "put the name in quotes, if it is one"})
			continue
		}
		r.refuseNodes(key, depth+1)
		if r.refused[key] {
			continue
		}
		if before, twice := first[key.Value]; twice {
			r.refuseTwice(key, before)
			continue
		}
		first[key.Value] = key
		if isNull(value) {
			r.refuse(value, r.emptyMistake(key.Value, value))
			continue
		}
		r.refuseNodes(value, depth+1)
	}
}

// refuseTwice notes that the same name stands twice in a mapping.
func (r *specReader) refuseTwice(key, before *yaml.Node) {
	r.refuse(key, &mistake{
		message: fmt.Sprintf("%q stands here and in line %d; expected it once", clip(key.Value), before.Line),
		hint:    "delete one of them, or put the two together",
	})
}

func (r *specReader) emptyMistake(key string, value *yaml.Node) *mistake {
	if value.Value != "" {
		return &mistake{message: fmt.Sprintf("%q after %q means nothing at all; expected a value", value.Value, clip(key)), hint: "put the text in quotes, if it is one"}
	}
	wrong := &mistake{message: fmt.Sprintf("nothing after %q; expected a value", clip(key)), hint: "write a value, or delete the line"}
	if number, _ := splitNumber(key); number != "" && value.Column > 1 {
		wrong.hint = "write decimals with a point: in braces a comma starts the next name"
	}
	return wrong
}

func (r *specReader) refuseScalar(n *yaml.Node) {
	switch {
	case n.Style&(yaml.LiteralStyle|yaml.FoldedStyle) != 0:
		r.refuse(n, &mistake{message: "a block of text after > or |; expected text on one line", hint: "write it after the colon, in quotes if need be"})
	case strings.ContainsFunc(n.Value, isControl) || strings.ContainsAny(n.Value, "\u2028\u2029"):
		r.refuse(n, &mistake{message: "text with a control character or a line break in it; expected text on one line"})
	case utf8.RuneCountInString(n.Value) > longestText:
		r.refuse(n, &mistake{message: fmt.Sprintf("a text of %d characters; expected at most %d", utf8.RuneCountInString(n.Value), longestText)})
	case strings.TrimSpace(n.Value) == "":
		r.refuse(n, &mistake{message: "empty quotes; expected text", hint: "write a value, or delete the line"})
	}
}

// isNull tells whether a node is YAML's word for nothing, or nothing at all.
func isNull(n *yaml.Node) bool {
	return n.Kind == yaml.ScalarNode && n.Tag == "!!null" && n.Style&yaml.TaggedStyle == 0
}

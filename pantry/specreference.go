package pantry

import (
	"fmt"
	"strings"

	"go.yaml.in/yaml/v4"
)

// Reference is the approved drink that a spec came from and the profile that is
// now wanted of it: the original's own after a swap or a new lot, one moved on
// purpose after tasting. Later changes are judged against it, so that small ones
// that nobody tastes cannot add up.
type Reference struct {
	// Mix and Top are the original's pours, all of them Fixed.
	Mix, Top []Pour
	// Target is the profile now wanted, in the order of the file.
	Target []Target
	Place  Place
}

// Pours returns mix and top, in the order of building.
func (r *Reference) Pours() []Pour {
	return append(append([]Pour(nil), r.Mix...), r.Top...)
}

const referenceExpected = "the original's pours under mix and top, and its profile under target"

// readReference reads the mapping under reference.
func (r *specReader) readReference(n *yaml.Node) {
	if n.Kind != yaml.MappingNode || len(n.Content) == 0 {
		r.refuse(n, &mistake{message: fmt.Sprintf("%s under reference; expected %s", kindWords(n), referenceExpected)})
		return
	}
	inner := &specReader{source: r.source, refused: r.refused, spec: &Spec{File: r.spec.File}}
	good := true
	for key, value := range pairs(n) {
		switch {
		case r.refused[key] || r.refused[value]:
			good = false
		case key.Value == "mix":
			inner.spec.Mix = inner.readPours(value, "mix")
		case key.Value == "top":
			inner.spec.Top = inner.readPours(value, "top")
		case key.Value == "target":
			inner.readTargets(value)
		default:
			good = false
			wrong := &mistake{message: fmt.Sprintf("no line %q in a reference; expected mix, top or target", clip(key.Value))}
			if near := lookalike(key.Value, []string{"mix", "top", "target"}); near != "" {
				wrong.hint = "nearest: " + near
			}
			r.refuse(key, wrong)
		}
	}
	if !good {
		return
	}
	reference := &Reference{Mix: inner.spec.Mix, Top: inner.spec.Top, Target: inner.spec.Target, Place: r.placeOf(n, "")}
	for _, p := range reference.Pours() {
		if p.Kind != Fixed {
			r.refuse(n, &mistake{message: p.Name + " is open in the reference; expected an amount such as 30 ml"})
			return
		}
	}
	if len(reference.Pours()) == 0 {
		r.refuse(n, &mistake{message: "a reference without pours; expected " + referenceExpected})
		return
	}
	r.spec.Reference = reference
}

// yaml writes the reference as readReference reads it.
func (r *Reference) yaml() string {
	var inner Spec
	inner.Mix, inner.Top, inner.Target = r.Mix, r.Top, r.Target
	return "reference:\n" + indent(string(inner.yaml()))
}

// indent moves every line two spaces in.
func indent(text string) string {
	var b strings.Builder
	for line := range strings.Lines(text) {
		b.WriteString("  " + line)
	}
	return b.String()
}

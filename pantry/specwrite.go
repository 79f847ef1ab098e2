package pantry

import (
	"bytes"
	"fmt"
	"io"
	"regexp"
	"strings"

	"minim/profile"
)

// Write writes the spec as YAML that ReadSpec reads back to the same spec,
// places aside, with the sections in their usual order and pours, targets and
// ratios in their own. A spec that no file could hold (no pours, a fixed pour of
// nothing, a number that is not finite, a name with a line break in it) is an
// error, and nothing is written.
func (s *Spec) Write(w io.Writer) error {
	text := s.yaml()
	back, err := ReadSpec(bytes.NewReader(text), "spec")
	if err != nil {
		return fmt.Errorf("a spec that cannot be written: %w", err)
	}
	if !bytes.Equal(back.yaml(), text) {
		return fmt.Errorf("a spec that would not read back the same; expected names without spaces around them or line breaks in them")
	}
	_, err = w.Write(text)
	return err
}

func (s *Spec) yaml() []byte {
	var b bytes.Buffer
	line := func(name, value string) {
		if value != "" {
			fmt.Fprintf(&b, "%s: %s\n", name, value)
		}
	}
	line("drink", yamlText(s.Name))
	if s.Glass != 0 {
		line("glass", Amount{float64(s.Glass), Millilitres}.String())
	}
	writePours(&b, "mix", s.Mix)
	writeSteps(&b, s.Steps)
	writeMakes(&b, s.Makes)
	if s.MeasureStated {
		line("measure", s.Measure.String())
	}
	if s.IceStated || s.Ice != (profile.Ice{}) {
		line("ice", iceText(s.Ice))
	}
	writePours(&b, "top", s.Top)
	if s.Choose != nil {
		b.WriteString(s.Choose.yaml())
	}
	if len(s.Finish) > 0 {
		b.WriteString("finish:\n")
		for _, text := range s.Finish {
			fmt.Fprintf(&b, "  - %s\n", yamlText(text))
		}
	}
	line("like", yamlText(s.Like))
	if len(s.Target) > 0 {
		b.WriteString("target:\n")
		for _, t := range s.Target {
			fmt.Fprintf(&b, "  %s: %s\n", t.Property.Name(), t.text())
		}
	}
	writeRatios(&b, s.Ratios)
	if s.Reference != nil {
		b.WriteString(s.Reference.yaml())
	}
	return b.Bytes()
}

func writePours(b *bytes.Buffer, section string, pours []Pour) {
	if len(pours) == 0 {
		return
	}
	fmt.Fprintf(b, "%s:\n", section)
	for _, p := range pours {
		fmt.Fprintf(b, "  %s: %s\n", yamlText(p.Name), p.text())
	}
}

func writeRatios(b *bytes.Buffer, ratios []Ratio) {
	text := func(r Ratio) string {
		is := formatMagnitude(r.Low)
		if r.Low != r.High {
			is += ".." + formatMagnitude(r.High)
		}
		return fmt.Sprintf("{%s: %s, is: %s}", yamlText(r.Numerator), yamlText(r.Denominator), is)
	}
	if len(ratios) == 1 {
		fmt.Fprintf(b, "ratio: %s\n", text(ratios[0]))
		return
	}
	for i, r := range ratios {
		if i == 0 {
			b.WriteString("ratio:\n")
		}
		fmt.Fprintf(b, "  - %s\n", text(r))
	}
}

// text is the pour without its name; parsePour reads it.
func (p Pour) text() string {
	word, bounds := "", ""
	switch {
	case p.Low.Value != 0 && p.High.Value != 0:
		bounds = rangeText(p.Low, p.High)
	case p.Low.Value != 0:
		bounds = "at least " + p.Low.String()
	case p.High.Value != 0:
		bounds = "at most " + p.High.String()
	}
	switch p.Kind {
	case Fixed:
		bounds = p.Low.String()
	case Open:
		word = "open "
		if bounds != "" && (p.Low.Value == 0 || p.High.Value == 0) {
			word = ""
		}
	case Optional:
		word = "optional "
	}
	text := strings.TrimSpace(word + bounds)
	if p.At != nil {
		text += " at " + celsiusText(*p.At)
	}
	return text
}

func celsiusText(t profile.Celsius) string { return formatMagnitude(float64(t)) + " °C" }

// text is the target without its property; parseTarget reads it.
func (t Target) text() string {
	var parts []string
	if t.Aimed {
		aim := targetText(t.Low, t.Property)
		if t.Low != t.High {
			aim = formatMagnitude(t.Low) + ".." + targetText(t.High, t.Property)
		}
		if t.Tolerance != 0 {
			aim += " ± " + formatMagnitude(t.Tolerance)
		}
		parts = append(parts, aim)
	}
	if t.AtLeast != nil {
		parts = append(parts, "at least "+targetText(*t.AtLeast, t.Property))
	}
	if t.AtMost != nil {
		parts = append(parts, "at most "+targetText(*t.AtMost, t.Property))
	}
	if t.Aimed && t.Weight != 0 && t.Weight != 1 {
		parts = append(parts, "weight "+formatMagnitude(t.Weight))
	}
	return strings.Join(parts, ", ")
}

func iceText(ice profile.Ice) string {
	amount := ""
	switch {
	case ice.WaterFixed:
		amount = formatMagnitude(ice.WaterPercent) + " % water"
	case ice.TemperatureFixed:
		amount = "to " + celsiusText(ice.Temperature)
	case ice.Mass != 0:
		amount = Amount{float64(ice.Mass), Grams}.String()
	}
	switch {
	case amount == "" && ice.At == 0:
		return ice.Method.Name()
	case amount == "":
		return ice.Method.Name() + " at " + celsiusText(ice.At)
	case ice.At == 0:
		return fmt.Sprintf("{%s: %s}", ice.Method.Name(), amount)
	default:
		return fmt.Sprintf("{%s: %s, at: %s}", ice.Method.Name(), amount, celsiusText(ice.At))
	}
}

var (
	// plainText needs no quotes: it starts with a letter, or with a number and a
	// word, and holds nothing that YAML could take for its own.
	plainText = regexp.MustCompile(`^(?:\pL|\d+(?:\.\d+)? +\pL)[\pL\pN _/().&+'’°%;½¼¾-]*$`)
	// yamlWords mean something else than themselves to some reader of YAML.
	yamlWords = regexp.MustCompile(`(?i)^(?:y|n|yes|no|on|off|true|false|null|nan|inf)$`)
)

// yamlText writes text so that it is read back as itself, in quotes where YAML
// needs them; empty text gives nothing.
func yamlText(text string) string {
	if text == "" || plainText.MatchString(text) && !yamlWords.MatchString(text) && strings.TrimSpace(text) == text {
		return text
	}
	return "'" + strings.ReplaceAll(text, "'", "''") + "'"
}

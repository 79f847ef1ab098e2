package main

import (
	"fmt"
	"io"
	"math"
	"strings"

	"minim/pantry"
	"minim/profile"
	"minim/solver"
)

// lineWidth is what a terminal table may take.
const lineWidth = 80

// writeAnswer prints a drink: what to pour, how far it is from its target, the
// rest of its profile, and what holds it back.
func writeAnswer(w io.Writer, a *solver.Answer, unit liquidUnit) error {
	var b strings.Builder
	writeTitle(&b, a, unit)
	if err := writePours(&b, a.Pours, unit); err != nil {
		return err
	}
	writeService(&b, a, unit)
	if a.Prep != nil {
		if err := writeMakes(&b, a.Prep, unit); err != nil {
			return err
		}
	}
	if err := writeMisses(&b, a, unit); err != nil {
		return err
	}
	if len(a.Alternatives) > 0 {
		if err := writeAlternatives(&b, a, unit); err != nil {
			return err
		}
	}
	if err := writeProfile(&b, a, unit); err != nil {
		return err
	}
	if len(a.Glass) > 0 {
		if err := writeGlass(&b, a.Glass); err != nil {
			return err
		}
	}
	for i := range a.SolvedPreps {
		if err := writeSolvedPrep(&b, &a.SolvedPreps[i], unit); err != nil {
			return err
		}
	}
	if line := doseLine(a); line != "" && a.Prep == nil {
		b.WriteString("\n" + wrap(line, lineWidth) + "\n")
	}
	for _, s := range sentences(a, unit) {
		b.WriteString("\n" + wrap(s, lineWidth) + "\n")
	}
	writeCautions(&b, a.Cautions)
	_, err := io.WriteString(w, trimLines(b.String()))
	return err
}

// trimLines drops the spaces at the ends of lines that tables leave.
func trimLines(text string) string {
	lines := strings.Split(text, "\n")
	for i := range lines {
		lines[i] = strings.TrimRight(lines[i], " ")
	}
	return strings.Join(lines, "\n")
}

func writeTitle(b *strings.Builder, a *solver.Answer, unit liquidUnit) {
	where := " in the glass"
	if a.Prep != nil {
		where = " of it"
	}
	b.WriteString(wrap(drinkName(a)+", "+unit.volume(a.Profile[profile.Volume].Value)+where, lineWidth) + "\n\n")
}

// writePours prints the pours in the order of building.
func writePours(b *strings.Builder, pours []solver.PouredAmount, unit liquidUnit) error {
	var rows [][]string
	var volumes []string
	for i := range pours {
		p := &pours[i]
		poured, measure := "", ""
		switch {
		case p.Ingredient.Solid:
			measure = p.Amount.String()
		default:
			poured = unit.number(p.Base)
		}
		if counted(p.Amount.Unit) {
			measure = p.Amount.String()
		}
		volumes = append(volumes, poured)
		when := ""
		if p.Stage == solver.OnTop {
			when = "top"
		}
		rows = append(rows, []string{"", measure, p.Name, when})
	}
	if !unit.isOunce() {
		alignPoints(volumes)
	}
	for i := range rows {
		rows[i][0] = volumes[i]
	}
	return writeTable(b, []tableColumn{
		{heading: unit.heading(), right: true, optional: true},
		{heading: "measure", right: true, optional: true},
		{heading: "ingredient"},
		{optional: true},
	}, rows)
}

// counted tells whether a unit is one that the bar counts rather than reads off
// a jigger.
func counted(u pantry.Unit) bool {
	switch u {
	case pantry.Dashes, pantry.Drops, pantry.Barspoons, pantry.Teaspoons, pantry.Pinches, pantry.Pieces:
		return true
	}
	return false
}

// writeService says what ice does and how the drink is finished.
func writeService(b *strings.Builder, a *solver.Answer, unit liquidUnit) {
	ice := a.Spec.Ice
	if ice.Method != profile.NoIce {
		chosen := ""
		if a.IceChosen {
			chosen = " (chosen for you; --ice says otherwise)"
		}
		b.WriteString("\n" + wrap(fmt.Sprintf("ice: %s, %s of melt, served at %s °C%s",
			ice.Method.Name(), unit.volume(float64(a.WaterMillilitres)), fixed(float64(a.Temperature), 0), chosen), lineWidth) + "\n")
	}
	if line := prepsLine(a); line != "" {
		b.WriteString("\n" + wrap(line, lineWidth) + "\n")
	}
	if len(a.Spec.Finish) > 0 {
		b.WriteString(wrap("finish: "+strings.Join(a.Spec.Finish, ", "), lineWidth) + "\n")
	}
}

// writeMisses compares the drink with its targets.
func writeMisses(b *strings.Builder, a *solver.Answer, unit liquidUnit) error {
	if len(a.Misses) == 0 {
		return nil
	}
	var rows [][]string
	for i := range a.Misses {
		m := &a.Misses[i]
		shown, known, named, places := *m, a.Profile[m.Property], m.Property.Unit(), decimals[m.Property]
		if m.Property == profile.Volume {
			known, named, places = unit.volumeValue(&known), unit.heading(), unit.places(places)
			shown.Low, shown.High, shown.Got, shown.Off = unit.amount(m.Low), unit.amount(m.High), unit.amount(m.Got), unit.amount(m.Off)
		}
		target := trimmed(shown.Low, places)
		if m.High != m.Low {
			target += ".." + trimmed(shown.High, places)
		}
		jnd := ""
		if m.HasJND {
			jnd = fixed(math.Abs(m.JND), 1)
		}
		rows = append(rows, []string{
			m.Property.Name(), named, target, fixed(shown.Got, places), knownTo(places, &known),
			signed(shown.Off, places), jnd, missWord(m),
		})
	}
	b.WriteString("\n")
	return writeTable(b, []tableColumn{
		{heading: "target"},
		{heading: "unit"},
		{heading: "wanted", right: true},
		{heading: "got", right: true},
		{heading: "known to", optional: true},
		{heading: "off by", right: true},
		{heading: "JND", right: true},
		{heading: "a taster"},
	}, rows)
}

// missWord says a miss as the bar would.
func missWord(m *solver.Miss) string {
	switch {
	case m.Property == profile.Volume && math.Abs(m.Off) <= fullWithin*m.Low:
		return "full"
	case m.Property == profile.Volume && m.Off < 0:
		return "short"
	case m.Property == profile.Volume:
		return "over"
	case !m.HasJND:
		return ""
	case m.Off == 0:
		return "on target"
	}
	return profile.Noticed(m.JND)
}

// fullWithin is how far a volume may be off, as a part, and be called full.
const fullWithin = 0.02

// writeProfile prints the properties that the table of misses leaves out.
func writeProfile(b *strings.Builder, a *solver.Answer, unit liquidUnit) error {
	aimed := map[profile.Property]bool{}
	for i := range a.Misses {
		aimed[a.Misses[i].Property] = true
	}
	var rows [][]string
	for p := profile.Property(0); p < profile.Property(profile.Properties); p++ {
		v := &a.Profile[p]
		if aimed[p] || p == profile.Dilution && a.Spec.Ice.Method == profile.NoIce {
			continue
		}
		named, places := p.Unit(), decimals[p]
		if p == profile.Volume {
			inUnit := unit.volumeValue(v)
			v, named, places = &inUnit, unit.heading(), unit.places(places)
		}
		value, about := withDoubt(p, v, knownDigits(places, v)), knownTo(places, v)
		if p == profile.CarbonDioxide && v.Value > 0 {
			about = strings.TrimSpace(about + " (" + fixed(profile.CarbonDioxideVolumes(profile.GramPerLitre(v.Value)), 1) + " volumes)")
		}
		if p == profile.Dilution {
			about = strings.TrimSpace(about + " (of the mix)")
		}
		if value == unknownValue {
			about = ""
		}
		rows = append(rows, []string{p.Name(), named, value, about})
	}
	b.WriteString("\n")
	heading := "profile"
	if len(aimed) > 0 {
		heading = "besides"
	}
	return writeTable(b, []tableColumn{
		{heading: heading}, {heading: "unit"}, {heading: "value", right: true}, {heading: "known to"},
	}, rows)
}

// unknownValue stands for a value of which nothing is known.
const unknownValue = "unknown"

// withDoubt says of a written value that it is known only in part.
func withDoubt(p profile.Property, v *solver.PropertyValue, text string) string {
	switch {
	case len(v.UnknownFrom) == 0:
		return text
	case p == profile.PH:
		return "about " + text
	case strings.Trim(text, "-0.") == "":
		return unknownValue
	}
	return "at least " + text
}

// knownDigits writes a value with the digits that its ± deserves, so many at
// most.
func knownDigits(most int, v *solver.PropertyValue) string {
	if plusMinus := v.PlusMinus(); plusMinus > 1e-9 {
		return fixed(v.Value, min(placesFor(plusMinus), most))
	}
	return fixed(v.Value, most)
}

// knownTo writes the range in which a value is known, to the same digits; empty
// where that is none to speak of.
func knownTo(most int, v *solver.PropertyValue) string {
	plusMinus := v.PlusMinus()
	if plusMinus <= 1e-9 {
		return ""
	}
	places := min(placesFor(plusMinus), most)
	if up, down := v.High-v.Value, v.Value-v.Low; math.Abs(up-down) > 0.2*plusMinus {
		return fixed(v.Low, places) + " to " + fixed(v.High, places)
	}
	known := fixed(plusMinus, places)
	if strings.Trim(known, "0.") == "" {
		return ""
	}
	return "± " + known
}

package pantry

import (
	"bytes"
	"encoding/binary"
	"errors"
	"math"
	"reflect"
	"regexp"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"minim/profile"
)

func written(s *Spec) (string, error) {
	var b strings.Builder
	err := s.Write(&b)
	return b.String(), err
}

func TestSpecIsWrittenAsAPersonWould(t *testing.T) {
	want := regexp.MustCompile(` +#.*`).ReplaceAllString(cooler, "")
	got, err := written(mustRead(t, cooler))
	if err != nil || got != want {
		t.Errorf("wrote\n%s%v\nwant\n%s", got, err, want)
	}
}

func TestNamesAreQuotedOnlyWhereYAMLNeedsIt(t *testing.T) {
	for name, want := range map[string]string{
		"saline 20%":      "saline 20%",
		"crème de pêche":  "crème de pêche",
		"7 year rum":      "7 year rum",
		"don's own":       "don's own",
		"rum & raisin":    "rum & raisin",
		"gin #2":          "'gin #2'",
		"yes":             "'yes'",
		"No":              "'No'",
		"null":            "'null'",
		"75":              "'75'",
		"1.5":             "'1.5'",
		"rum: old":        "'rum: old'",
		"*star*":          "'*star*'",
		"- dash":          "'- dash'",
		"'gold' rum":      "'''gold'' rum'",
		"[x]":             "'[x]'",
		"gin, dry":        "'gin, dry'",
		"@home":           "'@home'",
		"> 9":             "'> 9'",
		"don't: a #1 ' x": "'don''t: a #1 '' x'",
	} {
		s := &Spec{Mix: []Pour{FixedPour(name, ml(30))}, Name: name, Measure: DefaultMeasure, Finish: []string{name}}
		got, err := written(s)
		if err != nil || !strings.Contains(got, "\n  "+want+": 30 ml\n") || !strings.HasPrefix(got, "drink: "+want+"\n") || !strings.HasSuffix(got, "\n  - "+want+"\n") {
			t.Errorf("%q is written\n%s%v\nwant %s", name, got, err, want)
		}
	}
}

func TestWhatNoFileHoldsIsNotWritten(t *testing.T) {
	gin := []Pour{FixedPour("dry gin", ml(30))}
	nan := math.NaN()
	for name, s := range map[string]*Spec{
		"no pours":            {Name: "Air"},
		"a pour of nothing":   {Mix: []Pour{FixedPour("dry gin", ml(0))}},
		"a negative pour":     {Mix: []Pour{FixedPour("dry gin", ml(-1))}},
		"no number":           {Mix: []Pour{FixedPour("dry gin", ml(nan))}},
		"an infinite glass":   {Mix: gin, Glass: profile.Millilitre(math.Inf(1))},
		"a pour without name": {Mix: []Pour{FixedPour("", ml(30))}},
		"a line break":        {Mix: gin, Name: "Sour\nmix"},
		"spaces around":       {Mix: gin, Name: " Sour "},
		"an empty target":     {Mix: gin, Target: []Target{{Property: profile.Acid}}},
		"a broken target":     {Mix: gin, Target: []Target{{Property: profile.Acid, Aimed: true, Low: nan, High: nan}}},
		"warm ice":            {Mix: gin, Ice: profile.Ice{Method: profile.Shake, At: 4}},
		"a stranger's ratio":  {Mix: gin, Ratios: []Ratio{{Numerator: "dry gin", Denominator: "rum", Low: 1, High: 1}}},
		"the same pour twice": {Mix: []Pour{gin[0], gin[0]}},
	} {
		if got, err := written(s); err == nil || got != "" {
			t.Errorf("%s: wrote %q, %v; expected an error and nothing written", name, got, err)
		}
	}
}

type fullDisk struct{}

var errFull = errors.New("no space left")

func (fullDisk) Write([]byte) (int, error) { return 0, errFull }

func TestWriterThatFailsIsReported(t *testing.T) {
	if err := mustRead(t, cooler).Write(fullDisk{}); !errors.Is(err, errFull) {
		t.Errorf("%v; want %v", err, errFull)
	}
}

func TestSpecIsReadBackAsWritten(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		s := anySpec(rt)
		text, err := written(s)
		if err != nil {
			rt.Fatalf("%+v: %v", s, err)
		}
		back, err := ReadSpec(strings.NewReader(text), "back.yaml")
		if err != nil || !reflect.DeepEqual(bare(back), bare(s)) {
			rt.Fatalf("%s\nis read as %+v, %v\nfrom %+v", text, back, err, s)
		}
		if regexp.MustCompile(`(?m)[ \t]$`).MatchString(text) {
			rt.Fatalf("a line ends with a space:\n%s", text)
		}
	})
}

// anySpec draws a spec with anything in it that a file can say.
func anySpec(t *rapid.T) *Spec {
	s := &Spec{Measure: DefaultMeasure}
	names := rapid.SliceOfNDistinct(anyName(), 2, 8, Fold).Draw(t, "names")
	for i, name := range names {
		p := anyPour(t, name)
		if i%2 == 0 {
			s.Mix = append(s.Mix, p)
		} else {
			s.Top = append(s.Top, p)
		}
	}
	some := rapid.Bool()
	if some.Draw(t, "a prep") {
		s.Mix, s.Top = append(s.Mix, s.Top...), nil
		s.Makes, s.Steps = anyMakes(t), anySteps(t)
		for p := range profile.Property(profile.Properties) {
			if some.Draw(t, "targeted") {
				s.Target = append(s.Target, anyTarget(t, p))
			}
		}
		return s
	}
	if some.Draw(t, "named") {
		s.Name, s.Like = anyName().Draw(t, "drink"), anyName().Draw(t, "like")
		s.Finish = rapid.SliceOfN(anyName(), 1, 3).Draw(t, "finish")
	}
	if some.Draw(t, "glassed") {
		s.Glass = profile.Millilitre(numberFrom(1, 99_999).Draw(t, "glass"))
	}
	if some.Draw(t, "measured") {
		s.Measure, s.MeasureStated = Amount{numberFrom(0.01, 10).Draw(t, "measure"), USOunces}, true
	}
	if some.Draw(t, "iced") {
		s.Ice, s.IceStated = anyIce(t), true
	}
	for p := range profile.Property(profile.Properties) {
		if some.Draw(t, "targeted") {
			s.Target = append(s.Target, anyTarget(t, p))
		}
	}
	for range rapid.IntRange(0, 2).Draw(t, "ratios") {
		low := numberFrom(0.01, 100).Draw(t, "ratio")
		s.Ratios = append(s.Ratios, Ratio{Numerator: names[0], Denominator: names[1], Low: low, High: low * rapid.SampledFrom([]float64{1, 1.25}).Draw(t, "width")})
	}
	if some.Draw(t, "chosen") {
		s.Choose = anyChoose(t)
	}
	if some.Draw(t, "referred") {
		s.Reference = &Reference{Mix: []Pour{FixedPour(names[0], anyAmount(t, "before"))}, Target: slices.Clone(s.Target)}
	}
	return s
}

func anyChoose(t *rapid.T) *Choose {
	list := rapid.SliceOfN(anyName(), 1, 3)
	c := &Choose{AtMost: rapid.IntRange(4, MostChosen).Draw(t, "at most"), From: list.Draw(t, "from"), NoneOf: list.Draw(t, "none of")}
	if rapid.Bool().Draw(t, "bound") {
		c.Must = rapid.SliceOfN(anyName(), 1, 2).Draw(t, "must")
		c.OneOf = rapid.SliceOfN(list, 1, 2).Draw(t, "one of")
		c.MostCost = numberFrom(0.01, 1000).Draw(t, "cost")
	}
	return c
}

// anyName draws names with all that YAML could trip over.
func anyName() *rapid.Generator[string] {
	return rapid.Custom(func(t *rapid.T) string {
		hard := rapid.SampledFrom([]string{
			"gin #2", "yes", "~x", "null", "75", "1e3", "0x1F", "rum: old", "a:b", "- a", "? a", "*a", "&a", "!a", "@a", "`a`", "%a", "{a}", "[a]", "a, b",
			"'a'", "\"a\"", "a\\n", "<<", "=a", "> a", "| a", "at least a", "open", "IS", "2001-01-01", "é", "½ rum", "a #", "#a", "...a", "---a", "a'b", "ab\u00a0c", "x\ufe0f",
		})
		soft := rapid.StringMatching(`[a-zA-Zéß0-9][a-z #:'",%&*!|>{}\[\]?-]{0,12}[a-z]`)
		return strings.TrimSpace(rapid.OneOf(hard, soft).Filter(func(s string) bool { return Fold(s) != "" && s != ratioWord }).Draw(t, "name"))
	})
}

func anyPour(t *rapid.T, name string) Pour {
	low := anyAmount(t, "low")
	low.Value = min(low.Value, largestMagnitude/4)
	high := Amount{low.Value * rapid.SampledFrom([]float64{1, 1.5, 4}).Draw(t, "range"), low.Unit}
	p := Pour{Name: name, Kind: PourKind(rapid.IntRange(int(Fixed), int(Optional)).Draw(t, "kind"))}
	switch p.Kind {
	case Fixed:
		p.Low, p.High = low, low
	case Between:
		p.Low, p.High = low, high
	default:
		if rapid.Bool().Draw(t, "bounded below") {
			p.Low = low
		}
		if rapid.Bool().Draw(t, "bounded above") {
			p.High = high
		}
	}
	if rapid.Bool().Draw(t, "cold") {
		p.At = pointer(profile.Celsius(numberFrom(float64(coldestPour), float64(hottestPour)).Draw(t, "at")))
	}
	return p
}

func anyIce(t *rapid.T) profile.Ice {
	ice := profile.Ice{Method: profile.Method(rapid.IntRange(0, len(profile.MethodNames())-1).Draw(t, "method"))}
	if ice.Method == profile.NoIce {
		return ice
	}
	ice.At = profile.Celsius(numberFrom(float64(coldestIce), 0).Draw(t, "ice at"))
	switch rapid.IntRange(0, 3).Draw(t, "amount") {
	case 1:
		ice.Mass = profile.Gram(numberFrom(1, 1e5).Draw(t, "mass"))
	case 2:
		ice.WaterFixed, ice.WaterPercent = true, numberFrom(0, mostWaterPercent).Draw(t, "water")
	case 3:
		ice.TemperatureFixed, ice.Temperature = true, profile.Celsius(rapid.IntRange(-20, 20).Draw(t, "to"))
	}
	return ice
}

func anyTarget(t *rapid.T, p profile.Property) Target {
	least, most := 0.0, targetTable[p].most
	switch p {
	case profile.Volume:
		least = 1
	case profile.Temperature:
		least = float64(coldestPour)
	}
	value := numberFrom(least, most)
	low := value.Draw(t, "value")
	high := numberFrom(low, most).Draw(t, "high")
	target := Target{Property: p, Weight: 1}
	switch rapid.IntRange(0, 4).Draw(t, "form") {
	case 0:
		target.AtLeast = &low
	case 1:
		target.AtMost = &high
	case 2:
		target.AtLeast, target.AtMost = &low, &high
	case 3:
		target.Aimed, target.Low, target.High = true, low, low
	default:
		target.Aimed, target.Low, target.High, target.AtMost = true, low, high, &high
	}
	if _, has := p.JND(); target.Aimed && (!has || rapid.Bool().Draw(t, "tolerant")) {
		target.Tolerance = numberFrom(smallestMagnitude, most).Draw(t, "tolerance")
	}
	if target.Aimed && rapid.Bool().Draw(t, "weighted") {
		target.Weight = numberFrom(smallestMagnitude, 100).Draw(t, "weight")
	}
	return target
}

func FuzzReadSpec(f *testing.F) {
	for _, text := range []string{
		cooler, cordial, "mix: {gin: ¾ oz at 5 C, x: optional 0..20 ml}\nice: {stir: 25 % water, at: -10 °C}\nratio: {gin: x, is: 1..1.2}\n",
		"mix:\n  'gin #2': at least 1 dash\ntarget:\n  co2: 2.5 volumes, weight 2\n  acid: 6..7 g/L ± 0.3, at most 7 g/L\n",
		"mix:\n  gin #2: 30 ml\n", "target:\n  abv: >= 9 %\n", "\ufeffmix:\r\n\tgin: 1 ml", "mix: &a\n  gin: *a\n", "mix:\n  gin 1\n  a: b: c\n", "%YAML 1.1\n---\nmix: {a: 1 g}\n---\n",
		"mix:\n  ? [a]\n  : 1\n", "a: \"\\x00\"\nmix: 'a\n", "mix:\n  a: |\n   1 ml\n",
		inUTF16("mix:\r\n  gin: ¾ oz\r\n", binary.LittleEndian), inUTF16(cooler, binary.BigEndian), "\xff\xfem", "\xff\xfe\x00\xd8a\x00", "m\x00i\x00x\x00:\x00",
	} {
		f.Add([]byte(text))
	}
	f.Fuzz(func(t *testing.T, text []byte) {
		s, err := ReadSpec(bytes.NewReader(text), "fuzz.yaml")
		if err != nil {
			var wrong InputErrors
			if !errors.As(err, &wrong) || len(wrong) == 0 {
				t.Fatalf("%v is no InputErrors", err)
			}
			checkPlaces(t, wrong, strings.Count(string(text), "\n")+strings.Count(string(text), "\r")+1)
			return
		}
		first, err := written(s)
		if err != nil {
			t.Fatalf("read and not written: %v", err)
		}
		back, err := ReadSpec(strings.NewReader(first), "fuzz.yaml")
		if err != nil || !reflect.DeepEqual(bare(back), bare(s)) {
			t.Fatalf("%q is read as %+v\nwritten\n%s\nand read as %+v, %v", text, bare(s), first, back, err)
		}
	})
}

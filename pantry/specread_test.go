package pantry

import (
	"reflect"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"minim/profile"
)

const cooler = `drink: Glasshouse Cooler
glass: 240 ml                 # what it holds, ice aside
mix:
  dry gin: 30..45 ml          # between
  lemon juice: open           # to be solved
  rhubarb cordial: open       # this bar's own, from its CSV or a prep beside this file
  saline 20%: optional        # some or none
measure: 2.5 ml               # smallest liquid step here; an ingredient's own measure goes before it
ice: shake
top:
  soda water: open
finish:
  - cucumber ribbon           # any text; matched with the pantry for allergens and cost where it can be
target:
  volume: 180 ml
  abv: 9 %
  sugar: 65..70 g/L           # a band: no miss inside it
  acid: 6.5 g/L
  salt: 0.6 g/L
  bitter: at most 15 mg/L     # a limit: never beyond
`

func ml(value float64) Amount { return Amount{value, Millilitres} }

func pointer[T any](value T) *T { return &value }

// bare returns the spec without what no file holds: places, lines, file name.
func bare(s *Spec) *Spec {
	c := *s
	c.File, c.lines = "", nil
	c.Mix, c.Top, c.Target, c.Ratios = slices.Clone(s.Mix), slices.Clone(s.Top), slices.Clone(s.Target), slices.Clone(s.Ratios)
	for _, pours := range [][]Pour{c.Mix, c.Top} {
		for i := range pours {
			pours[i].Place = Place{}
		}
	}
	for i := range c.Target {
		c.Target[i].Place = Place{}
	}
	for i := range c.Ratios {
		c.Ratios[i].Place = Place{}
	}
	if c.Choose != nil {
		choose := *c.Choose
		choose.Place = Place{}
		c.Choose = &choose
	}
	if c.Reference != nil {
		inner := bare(&Spec{Mix: c.Reference.Mix, Top: c.Reference.Top, Target: c.Reference.Target})
		c.Reference = &Reference{Mix: inner.Mix, Top: inner.Top, Target: inner.Target}
	}
	if c.Makes != nil {
		makes := *c.Makes
		makes.Place = Place{}
		c.Makes = &makes
	}
	c.Steps = slices.Clone(s.Steps)
	for i := range c.Steps {
		c.Steps[i].Place = Place{}
	}
	return &c
}

func mustRead(t *testing.T, text string) *Spec {
	t.Helper()
	s, err := ReadSpec(strings.NewReader(text), "ask.yaml")
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func TestSpecIsReadInTheOrderOfBuilding(t *testing.T) {
	s := mustRead(t, cooler)
	want := &Spec{
		Name:  "Glasshouse Cooler",
		Glass: 240,
		Mix: []Pour{
			{Name: "dry gin", Kind: Between, Low: ml(30), High: ml(45)},
			{Name: "lemon juice", Kind: Open},
			{Name: "rhubarb cordial", Kind: Open},
			{Name: "saline 20%", Kind: Optional},
		},
		Measure: ml(2.5), MeasureStated: true,
		Ice: profile.Ice{Method: profile.Shake}, IceStated: true,
		Top:    []Pour{{Name: "soda water", Kind: Open}},
		Finish: []string{"cucumber ribbon"},
		Target: []Target{
			{Property: profile.Volume, Aimed: true, Low: 180, High: 180, Weight: 1},
			{Property: profile.Strength, Aimed: true, Low: 9, High: 9, Weight: 1},
			{Property: profile.Sugar, Aimed: true, Low: 65, High: 70, Weight: 1},
			{Property: profile.Acid, Aimed: true, Low: 6.5, High: 6.5, Weight: 1},
			{Property: profile.Salt, Aimed: true, Low: 0.6, High: 0.6, Weight: 1},
			{Property: profile.Bitter, AtMost: pointer(15.0), Weight: 1},
		},
	}
	if !reflect.DeepEqual(bare(s), want) {
		t.Errorf("read\n%+v\nwant\n%+v", bare(s), want)
	}
	if got, want := s.Mix[1].Place, (Place{"ask.yaml", 5, 3}); got != want {
		t.Errorf("lemon juice is at %v; want %v", got, want)
	}
	if got, want := s.Target[5].Place, (Place{"ask.yaml", 20, 3}); got != want {
		t.Errorf("bitter is at %v; want %v", got, want)
	}
	later := s.ErrorAt(s.Mix[1].Place, "no ingredient", "nearest: lime juice")
	if !strings.Contains(later.Error(), "ask.yaml:5:3: no ingredient\n    lemon juice: open") {
		t.Errorf("an error found later reads\n%v", later)
	}
}

func TestPours(t *testing.T) {
	cold, hot := profile.Celsius(-5), profile.Celsius(80)
	five := profile.Celsius(5)
	for text, want := range map[string]Pour{
		"30 ml":                    {Kind: Fixed, Low: ml(30), High: ml(30)},
		"¾ oz":                     {Kind: Fixed, Low: Amount{0.75, USOunces}, High: Amount{0.75, USOunces}},
		"2 dashes at 5 C":          {Kind: Fixed, Low: Amount{2, Dashes}, High: Amount{2, Dashes}, At: &five},
		"30..45 ml":                {Kind: Between, Low: ml(30), High: ml(45)},
		"30 ml .. 45":              {Kind: Between, Low: ml(30), High: ml(45)},
		"½..1 ½ oz":                {Kind: Between, Low: Amount{0.5, USOunces}, High: Amount{1.5, USOunces}},
		"15 ml..1 oz at 5 °C":      {Kind: Between, Low: ml(15), High: Amount{1, USOunces}, At: &five},
		"1..3 dashes":              {Kind: Between, Low: Amount{1, Dashes}, High: Amount{3, Dashes}},
		"open":                     {Kind: Open},
		"Open at 80°C":             {Kind: Open, At: &hot},
		"open at least 10 ml":      {Kind: Open, Low: ml(10)},
		"at least 10 ml":           {Kind: Open, Low: ml(10)},
		"at most 45 ml at -5 °C":   {Kind: Open, High: ml(45), At: &cold},
		"open, at most 45 ml":      {Kind: Open, High: ml(45)},
		"open 10..30 ml":           {Kind: Open, Low: ml(10), High: ml(30)},
		"optional":                 {Kind: Optional},
		"optional 0..20 ml":        {Kind: Optional, High: ml(20)},
		"optional 10..20 ml":       {Kind: Optional, Low: ml(10), High: ml(20)},
		"optional at most 0.2 g":   {Kind: Optional, High: Amount{0.2, Grams}},
		"optional, at most 1 dash": {Kind: Optional, High: Amount{1, Dashes}},
	} {
		got, wrong := parsePour(text)
		if wrong != nil || !reflect.DeepEqual(got, want) {
			t.Errorf("parsePour(%q) = %+v, %v; want %+v", text, got, wrong, want)
			continue
		}
		if back, wrong := parsePour(got.text()); wrong != nil || !reflect.DeepEqual(back, want) {
			t.Errorf("parsePour(%q) is written %q and read %+v, %v", text, got.text(), back, wrong)
		}
	}
}

func TestTargets(t *testing.T) {
	aim := func(p profile.Property, low, high float64) Target {
		return Target{Property: p, Aimed: true, Low: low, High: high, Weight: 1}
	}
	with := func(t Target, change func(*Target)) Target { change(&t); return t }
	for _, c := range []struct {
		property profile.Property
		text     string
		want     Target
	}{
		{profile.Volume, "120 ml", aim(profile.Volume, 120, 120)},
		{profile.Volume, "4 oz", aim(profile.Volume, 4*29.5735295625, 4*29.5735295625)}, // US fluid ounce
		{profile.Volume, "1.5 l", aim(profile.Volume, 1500, 1500)},
		{profile.Strength, "18 % vol", aim(profile.Strength, 18, 18)},
		{profile.Strength, "18%", aim(profile.Strength, 18, 18)},
		{profile.Strength, "at least 9 %", Target{Property: profile.Strength, AtLeast: pointer(9.0), Weight: 1}},
		{profile.Strength, "at least 8 %, at most 12 %", Target{Property: profile.Strength, AtLeast: pointer(8.0), AtMost: pointer(12.0), Weight: 1}},
		{profile.Sugar, "65..70 g/L", aim(profile.Sugar, 65, 70)},
		{profile.Sugar, "65 g/l .. 70", aim(profile.Sugar, 65, 70)},
		{profile.Sugar, "700..900 mg/L", aim(profile.Sugar, 0.7, 0.9)},
		{profile.Sugar, "0 g/L", aim(profile.Sugar, 0, 0)},
		{profile.Acid, "6.5 g/L, weight 2", with(aim(profile.Acid, 6.5, 6.5), func(t *Target) { t.Weight = 2 })},
		{profile.Acid, "weight 2, 6.5 g/L", with(aim(profile.Acid, 6.5, 6.5), func(t *Target) { t.Weight = 2 })},
		{profile.Acid, "6.5 g/L ± 0.3", with(aim(profile.Acid, 6.5, 6.5), func(t *Target) { t.Tolerance = 0.3 })},
		{profile.Acid, "6.5 ± 0.3 g/L", with(aim(profile.Acid, 6.5, 6.5), func(t *Target) { t.Tolerance = 0.3 })},
		{profile.Acid, "6.5 g/L +- 300 mg/L", with(aim(profile.Acid, 6.5, 6.5), func(t *Target) { t.Tolerance = 0.3 })},
		{profile.Acid, "6..7 g/L +/- 0.5, at most 7 g/L", with(aim(profile.Acid, 6, 7), func(t *Target) { t.Tolerance, t.AtMost = 0.5, pointer(7.0) })},
		{profile.PH, "3.2 ± 0.1", with(aim(profile.PH, 3.2, 3.2), func(t *Target) { t.Tolerance = 0.1 })},
		{profile.PH, "3.2..3.4 ± 0.1, weight 2", with(aim(profile.PH, 3.2, 3.4), func(t *Target) { t.Tolerance, t.Weight = 0.1, 2 })},
		{profile.PH, "at most 4.2", Target{Property: profile.PH, AtMost: pointer(4.2), Weight: 1}},
		{profile.Bitter, "0.015 g/L", aim(profile.Bitter, 15, 15)},
		{profile.Temperature, "-2 °C", aim(profile.Temperature, -2, -2)},
		{profile.Temperature, "−5..−2 C", aim(profile.Temperature, -5, -2)},
		{profile.Dilution, "25 % ± 5", with(aim(profile.Dilution, 25, 25), func(t *Target) { t.Tolerance = 5 })},
		{profile.Dilution, "at most 30 %", Target{Property: profile.Dilution, AtMost: pointer(30.0), Weight: 1}},
		// 1.977 g/L: the density of the gas at 0 °C and 1 atm, NIST Chemistry WebBook, from memory.
		{profile.CarbonDioxide, "2 volumes", aim(profile.CarbonDioxide, 3.954, 3.954)},
		{profile.CarbonDioxide, "4 g/L", aim(profile.CarbonDioxide, 4, 4)},
		{profile.Ethanol, "at most 10 g", Target{Property: profile.Ethanol, AtMost: pointer(10.0), Weight: 1}},
		{profile.Energy, "at most 150 kcal", Target{Property: profile.Energy, AtMost: pointer(150.0), Weight: 1}},
		{profile.Caffeine, "at most 40 mg", Target{Property: profile.Caffeine, AtMost: pointer(40.0), Weight: 1}},
	} {
		got, wrong := parseTarget(c.text, c.property)
		if wrong != nil || !reflect.DeepEqual(got, c.want) {
			t.Errorf("%s: %s is read as %+v, %v; want %+v", c.property.Name(), c.text, got, wrong, c.want)
		}
	}
}

func TestIce(t *testing.T) {
	for text, want := range map[string]profile.Ice{
		"shake":                               {Method: profile.Shake},
		"none":                                {},
		"shake at -10 °C":                     {Method: profile.Shake, At: -10},
		"{shake: 130 g, at: -10 °C}":          {Method: profile.Shake, Mass: 130, At: -10},
		"{at: -10 C, stir: 0.2 kg}":           {Method: profile.Stir, Mass: 200, At: -10},
		"{stir: 25 % water}":                  {Method: profile.Stir, WaterFixed: true, WaterPercent: 25},
		"{stir: 25% water, at: -5 °C}":        {Method: profile.Stir, WaterFixed: true, WaterPercent: 25, At: -5},
		"{stir: to -5 °C}":                    {Method: profile.Stir, TemperatureFixed: true, Temperature: -5},
		"{build: 0 % water}":                  {Method: profile.Build, WaterFixed: true},
		"\n  blend: 200 g\n  at: -18 °C\n#\n": {Method: profile.Blend, Mass: 200, At: -18},
	} {
		s := mustRead(t, "mix:\n  dry gin: 30 ml\nice: "+text+"\n")
		if s.Ice != want || !s.IceStated {
			t.Errorf("ice: %s is read as %+v; want %+v", text, s.Ice, want)
		}
	}
	if s := mustRead(t, "mix:\n  dry gin: 30 ml\n"); s.IceStated || s.Ice != (profile.Ice{}) || s.MeasureStated || s.Measure != DefaultMeasure {
		t.Errorf("without ice and measure: %+v", s)
	}
}

func TestRatiosNamePoursWhereverTheyStand(t *testing.T) {
	s := mustRead(t, "ratio:\n  - {Lemon Juices: rich syrup, is: 1..1.2}\n  - {is: 3/2, soda: rich syrup}\nmix:\n  lemon juice: open\n  rich syrup: open\ntop:\n  soda: open\n")
	want := []Ratio{{Numerator: "lemon juice", Denominator: "rich syrup", Low: 1, High: 1.2}, {Numerator: "soda", Denominator: "rich syrup", Low: 1.5, High: 1.5}}
	if got := bare(s).Ratios; !reflect.DeepEqual(got, want) {
		t.Errorf("read %+v; want %+v", got, want)
	}
}

func TestTextMayLookLikeOtherThings(t *testing.T) {
	s := mustRead(t, "drink: yes\nlike: 75.yaml\nmix:\n  'gin #2': 30 ml\n  no: 1 ml\n  2: 2 ml\n  ' rum: old ': 3 ml\n  don's own: 4 ml # the last\nfinish: 2001-01-01\n")
	var names []string
	for _, p := range s.Mix {
		names = append(names, p.Name)
	}
	if want := []string{"gin #2", "no", "2", "rum: old", "don's own"}; !slices.Equal(names, want) {
		t.Errorf("read %q; want %q", names, want)
	}
	if s.Name != "yes" || s.Like != "75.yaml" || !slices.Equal(s.Finish, []string{"2001-01-01"}) {
		t.Errorf("read %q, %q, %q", s.Name, s.Like, s.Finish)
	}
}

func TestSameIngredientInMixAndTop(t *testing.T) {
	s := mustRead(t, "mix:\n  soda: 20 ml\ntop:\n  soda: open\n")
	if len(s.Pours()) != 2 {
		t.Errorf("read %+v", s.Pours())
	}
}

func TestLineEndsAndMarksOfAnySystem(t *testing.T) {
	want := bare(mustRead(t, cooler))
	for name, text := range map[string]string{
		"Windows":         strings.ReplaceAll(cooler, "\n", "\r\n"),
		"old Mac":         strings.ReplaceAll(cooler, "\n", "\r"),
		"byte order mark": "\uFEFF" + cooler,
		"document start":  "---\n" + cooler,
		"document end":    cooler + "...\n",
		"no last newline": strings.TrimSuffix(cooler, "\n"),
	} {
		if got := bare(mustRead(t, text)); !reflect.DeepEqual(got, want) {
			t.Errorf("%s: read %+v", name, got)
		}
	}
	_, err := ReadSpec(strings.NewReader("\uFEFFmix:\r\n  dry gin: 2,5 ml\r\n"), "ask.yaml")
	if err == nil || !strings.HasPrefix(err.Error(), "ask.yaml:2:12: ") {
		t.Errorf("%v; expected the place in a file from Windows", err)
	}
}

func TestOrderOfSectionsDoesNotMatter(t *testing.T) {
	sections := []string{
		"drink: Sour\n", "glass: 200 ml\n", "mix:\n  dry gin: 30..45 ml\n  lemon juice: open\n", "measure: ¼ oz\n", "ice: stir\n",
		"top:\n  soda: open\n", "finish: [mint, lemon peel]\n", "like: house sour.yaml\n", "target:\n  abv: 9 %\n", "ratio: {dry gin: lemon juice, is: 2}\n",
	}
	want := bare(mustRead(t, strings.Join(sections, "")))
	rapid.Check(t, func(rt *rapid.T) {
		text := strings.Join(rapid.Permutation(sections).Draw(rt, "sections"), "")
		s, err := ReadSpec(strings.NewReader(text), "ask.yaml")
		if err != nil || !reflect.DeepEqual(bare(s), want) {
			rt.Fatalf("%s\nis read as %+v, %v", text, s, err)
		}
	})
}

func TestOrderOfPoursIsKept(t *testing.T) {
	lines := []string{"dry gin: 30 ml", "lemon juice: open", "rich syrup: optional", "bitters: 2 dashes", "egg white: 1 piece"}
	rapid.Check(t, func(rt *rapid.T) {
		order := rapid.Permutation(lines).Draw(rt, "pours")
		s, err := ReadSpec(strings.NewReader("mix:\n  "+strings.Join(order, "\n  ")+"\n"), "ask.yaml")
		if err != nil {
			rt.Fatal(err)
		}
		for i, p := range s.Mix {
			if p.Name+": "+p.text() != order[i] {
				rt.Fatalf("pour %d is %s: %s; want %s", i, p.Name, p.text(), order[i])
			}
		}
	})
}

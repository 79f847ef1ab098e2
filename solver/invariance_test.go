package solver

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"minim/pantry"
	"minim/profile"
)

// line is a pour of a drawn question: a range in ml, or none where it is open or
// optional as a whole.
type line struct {
	name      string
	optional  bool
	low, high float64
}

// drawn is a question that can be written in several ways.
type drawn struct {
	ice    string
	lines  []line
	target map[profile.Property]float64
}

// writing is a way to write a question.
type writing struct {
	order  []int
	ounces bool // of the amounts; the measure stays
	milli  bool // mg in a litre, and g of what is else in mg
	twice  int  // the line that is written once more as optional, or -1
}

// drawQuestion draws three to five pours, and the profile of a drink made of
// them, moved a little, for the target.
func drawQuestion(t *testing.T, r *rand.Rand) drawn {
	t.Helper()
	groups := [][]string{
		{"dry gin", "white rum", "vodka"},
		{"lemon juice", "lime juice", "verjus"},
		{"rich syrup", "simple syrup", "orange curacao"},
		{"light amaro", "sweet vermouth"},
		{"tomato juice", "tomato water"},
		{"water", "fino sherry", "green tea"},
	}
	r.Shuffle(len(groups), func(i, j int) { groups[i], groups[j] = groups[j], groups[i] })
	q := drawn{ice: []string{"shake", "stir", "build", "none"}[r.IntN(4)], target: map[profile.Property]float64{}}
	amounts := make([]string, 0, 5)
	for i, group := range groups[:3+r.IntN(3)] {
		one := line{name: group[r.IntN(len(group))], optional: r.IntN(3) == 0 && i > 0}
		if r.IntN(3) == 0 {
			one.low = 2.5 * float64(1+r.IntN(8))
			one.high = one.low + 2.5*float64(4+r.IntN(10))
		}
		q.lines = append(q.lines, one)
		amount := one.low
		if amount == 0 {
			amount = 5
		}
		amounts = append(amounts, fmt.Sprintf("  %s: %g ml\n", one.name, amount+r.Float64()*20))
	}
	a, err := Report(Question{Spec: readSpec(t, "ice: "+q.ice+"\nmix:\n"+strings.Join(amounts, "")), Shelf: pantry.Embedded()})
	if err != nil {
		t.Fatal(err)
	}
	for _, p := range []profile.Property{profile.Volume, profile.Strength, profile.Sugar, profile.Acid, profile.Salt, profile.Bitter} {
		v := a.Profile[p].Value * (1 + 0.1*r.NormFloat64())
		if j, ok := p.JND(); ok && v < j.Threshold {
			continue
		}
		// Few digits, so that each unit can say exactly the same.
		q.target[p] = math.Max(1, math.Round(v*100)/100)
	}
	return q
}

// write writes the question.
func (q *drawn) write(how writing) string {
	amount := func(ml float64) string {
		if how.ounces {
			return fmt.Sprintf("%.12f oz", ml/float64(profile.USFluidOunce))
		}
		return fmt.Sprintf("%g ml", ml)
	}
	text := "ice: " + q.ice + "\nmeasure: 2.5 ml\nmix:\n"
	for _, i := range how.order {
		one := q.lines[i]
		word := "open"
		if one.optional {
			word = "optional"
		}
		if one.low > 0 {
			word += " " + amount(one.low) + ".." + amount(one.high)
		}
		text += "  " + one.name + ": " + word + "\n"
		if i == how.twice {
			text += "  " + twin + ": optional\n"
		}
	}
	text += "target:\n"
	for p := profile.Property(0); p < profile.Property(profile.Properties); p++ {
		v, ok := q.target[p]
		switch {
		case !ok:
		case p == profile.Volume && how.ounces:
			text += fmt.Sprintf("  volume: %.12f oz\n", v/float64(profile.USFluidOunce))
		case how.milli && p.Unit() == "g/L":
			text += fmt.Sprintf("  %s: %.0f mg/L\n", p.Name(), 1000*v)
		case how.milli && p.Unit() == "mg/L":
			text += fmt.Sprintf("  %s: %.5f g/L\n", p.Name(), v/1000)
		default:
			text += fmt.Sprintf("  %s: %g %s\n", p.Name(), v, p.Unit())
		}
	}
	return text
}

// The profile of the answer hangs neither on the order of the pours, nor on the
// unit that amounts or targets are written in, nor on an ingredient that is
// offered once more.
func TestAnswerDoesNotHangOnTheWriting(t *testing.T) {
	const questions, parts = 20, 4
	for part := range uint64(parts) {
		t.Run(fmt.Sprintf("part %d", part+1), func(t *testing.T) {
			t.Parallel()
			for seed := part; seed < questions; seed += parts {
				r := rand.New(rand.NewPCG(seed, 29))
				q := drawQuestion(t, r)
				plain := make([]int, len(q.lines))
				for i := range plain {
					plain[i] = i
				}
				twice := slices.IndexFunc(q.lines, func(one line) bool { return one.low == 0 })
				shelf := withTwin(t, q.lines[max(twice, 0)].name)
				want := designed(t, shelf, q.write(writing{order: plain, twice: -1}))
				for name, how := range map[string]writing{
					"in another order":                         {order: r.Perm(len(plain)), twice: -1},
					"in ounces":                                {order: plain, ounces: true, twice: -1},
					"with other units of the targets":          {order: plain, milli: true, twice: -1},
					"with an ingredient offered a second time": {order: plain, twice: twice},
				} {
					text := q.write(how)
					got := designed(t, shelf, text)
					for p := range got.Profile {
						a, b := got.Profile[p].Value, want.Profile[p].Value
						if math.Abs(a-b) > 1e-6*(1+math.Abs(b)) {
							t.Errorf("seed %d %s: %s is %v, want %v\n%s\n%s", seed, name, profile.Property(p).Name(), a, b, text, poursOf(want)+poursOf(got))
							break
						}
					}
				}
			}
		})
	}
}

// twin is the name of an ingredient that is another in all but name.
const twin = "twin bottle"

// withTwin is the embedded pantry and the named ingredient once more.
func withTwin(t *testing.T, name string) *pantry.Shelf {
	t.Helper()
	shelf := pantry.Embedded()
	found, err := shelf.Find(name)
	if err != nil {
		t.Fatal(err)
	}
	other := *found
	other.ID, other.Name, other.Aliases = "twin_bottle", twin, nil
	var csv strings.Builder
	if err := pantry.WriteCSV(&csv, []*pantry.Ingredient{&other}); err != nil {
		t.Fatal(err)
	}
	if shelf, err = shelf.Overlay(strings.NewReader(csv.String()), "twin.csv"); err != nil {
		t.Fatal(err)
	}
	return shelf
}

func designed(t *testing.T, shelf *pantry.Shelf, text string) *Answer {
	t.Helper()
	a, err := Design(Question{Spec: readSpec(t, text), Shelf: shelf})
	if err != nil {
		t.Fatalf("%v\n%s", err, text)
	}
	if !a.Solution.PreferenceProven {
		t.Errorf("not proven:\n%s", text)
	}
	return a
}

// poursOf writes an answer's pours in one line.
func poursOf(a *Answer) string {
	var list []string
	for i := range a.Pours {
		list = append(list, a.Pours[i].Name+" "+a.Pours[i].Amount.String())
	}
	return fmt.Sprintf("%s: F %.10g of %.10g\n", strings.Join(list, ", "), a.Solution.Objective, a.Solution.Least)
}

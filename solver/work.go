package solver

import (
	"math"
	"slices"
	"strings"

	"minim/pantry"
	"minim/profile"
	"minim/solver/leastsquares"
)

// work is a question on its way to an answer.
type work struct {
	question   Question
	pours      []pour // as written, fixed and open
	problem    *problem
	volume     float64 // about what the drink will come to
	budget     int
	ice        profile.Ice
	continuous *leastsquares.NonlinearSolution
	chosen     *preferred
	others     []Alternative
	choice     *Chosen
	making     bool                 // one making of a prep, not a drink in a glass
	gone       []*pantry.Ingredient // what nobody has any more
	notes      []string             // found on the way to the answer
	notOffered []NotOffered
	targets    []pantry.Target // those of the spec it is like included
	// upsetting is the chosen ingredient of which what is unknown moves a target the
	// most, where all of it moves one too far.
	upsetting *pantry.Ingredient
}

// newWork takes up a question on a drink whose preps are all made.
func newWork(q Question) (*work, error) {
	if makes := q.Spec.Makes; makes != nil {
		return nil, pantry.InputErrors{q.Spec.ErrorAt(makes.Place, "a prep, which makes an ingredient; expected a drink", "name a drink that pours it")}
	}
	if err := refuseOpenPreps(q); err != nil {
		return nil, err
	}
	return newOpenWork(q)
}

// newOpenWork takes up a question on a drink, some preps of which may be open: these
// then stand as guessed.
func newOpenWork(q Question) (*work, error) {
	w := &work{question: q, budget: q.Budget}
	spec := q.Spec
	if len(spec.Mix)+len(spec.Top) == 0 && spec.Choose == nil {
		return nil, ErrNoPours
	}
	w.targets = spec.Target
	if q.Like != nil {
		var err error
		if w.targets, err = targetsLike(q, spec.Target); err != nil {
			return nil, err
		}
	}
	aims, limits := aimsAndLimits(w.targets, spec.Glass)
	w.volume = expectedVolume(aims, limits)
	var err error
	if w.pours, err = resolvePours(spec, q.Shelf, w.volume); err != nil {
		return nil, err
	}
	if spec.Choose != nil {
		offered, err := w.offers(spec.Choose)
		if err != nil {
			return nil, err
		}
		w.pours = append(w.pours, offered...)
	}
	if !slices.ContainsFunc(w.pours, func(p pour) bool { return p.unit[profile.WaterGrams]+p.unit[profile.EthanolGrams] > 0 }) {
		return nil, ErrNoLiquid
	}
	w.ice = spec.Ice
	w.problem = newProblem(w.ice, w.pours, aims, limits)
	if w.budget == 0 {
		w.budget = boxesFor(len(w.problem.open))
	}
	return w, w.readRatios()
}

// expectedVolume is the most that an open pour is given: the target volume, else
// the glass, else 240 ml.
func expectedVolume(aims []aim, limits []limit) float64 {
	for i := range aims {
		if aims[i].property == profile.Volume {
			return aims[i].high
		}
	}
	for i := range limits {
		if limits[i].property == profile.Volume && !math.IsInf(limits[i].high, 1) {
			return limits[i].high
		}
	}
	return longest
}

// likeProperties are what one drink takes from another that it should be like.
var likeProperties = []profile.Property{
	profile.Volume, profile.Strength, profile.Sugar, profile.Acid, profile.Salt, profile.Bitter, profile.Umami,
}

// targetsLike are the profile of q.Like, with what the spec itself targets in
// the place of the same property.
func targetsLike(q Question, own []pantry.Target) ([]pantry.Target, error) {
	like := *q.Like
	like.Target = nil
	answer, err := Report(Question{Spec: &like, Shelf: q.Shelf})
	if err != nil {
		return nil, err
	}
	var out []pantry.Target
	for _, p := range likeProperties {
		overridden := false
		for _, t := range own {
			overridden = overridden || t.Property == p
		}
		if !overridden {
			v := answer.Profile[p].Value
			out = append(out, pantry.Target{Property: p, Aimed: true, Low: v, High: v, Weight: 1})
		}
	}
	return append(out, own...), nil
}

// readRatios turns the spec's ratios into rows over the pours.
func (w *work) readRatios() error {
	var wrong pantry.InputErrors
	for _, r := range w.question.Spec.Ratios {
		row := ratio{
			numerator: make([]float64, len(w.problem.open)), denominator: make([]float64, len(w.problem.open)),
			low: r.Low, high: r.High,
			written: r.Numerator + " to " + r.Denominator,
		}
		for _, part := range []struct {
			name  string
			steps []float64
			fixed *float64
		}{{r.Numerator, row.numerator, &row.numeratorFixed}, {r.Denominator, row.denominator, &row.denominatorFixed}} {
			ingredient, err := w.question.Shelf.Find(part.name)
			if err != nil {
				wrong = append(wrong, w.question.Spec.ErrorAt(r.Place, err.Error(), ""))
				continue
			}
			w.countPours(ingredient, part.steps, part.fixed)
		}
		w.problem.ratios = append(w.problem.ratios, row)
	}
	if len(wrong) > 0 {
		return wrong
	}
	return nil
}

// countPours adds up the pours of one ingredient: those that are fixed, and what
// a step of each open one adds.
func (w *work) countPours(i *pantry.Ingredient, steps []float64, fixed *float64) {
	open := 0
	for n := range w.pours {
		p := &w.pours[n]
		same := p.ingredient == i
		if p.fixed {
			if same {
				*fixed += p.amount
			}
			continue
		}
		if same {
			steps[open] = p.step
		}
		open++
	}
}

// errToChoose refuses a spec whose ingredients are still open.
func errToChoose(q Question) error {
	return pantry.InputErrors{q.Spec.ErrorAt(q.Spec.Choose.Place, "the ingredients are still to be chosen; expected pours", "have them chosen first: "+pouredFirst(q.Spec.File, q.Shelf))}
}

// pouredFirst is how the open pours of a file are filled in before a command that
// wants them all written.
func pouredFirst(file string, shelf *pantry.Shelf) string {
	poured := "poured.yaml"
	if file == "" || file == "-" {
		file = "-"
	} else {
		poured = quoted(strings.TrimSuffix(strings.TrimSuffix(file, ".yaml"), ".yml") + "-" + poured)
	}
	return "`minim design " + quoted(file) + ownFiles(shelf) + " --spec > " + poured + "`, then the same command on " + poured
}

// ownFiles are the words that put the bar's own files on the shelf of another
// command; empty, or with a space before them.
func ownFiles(shelf *pantry.Shelf) string {
	text := ""
	overlays, lots := shelf.Files()
	for _, file := range overlays {
		text += " --pantry " + quoted(file)
	}
	if lots != "" {
		text += " --lots " + quoted(lots)
	}
	return text
}

// Report returns the profile of a spec whose pours are all fixed, and how far it
// is from its targets. Open pours, in the spec or in a prep on the shelf, are
// pantry.InputErrors. Of a prep it is what one making comes to.
func Report(q Question) (*Answer, error) {
	if q.Spec.Choose != nil {
		return nil, errToChoose(q)
	}
	var wrong pantry.InputErrors
	for _, p := range q.Spec.Pours() {
		if p.Kind != pantry.Fixed {
			hint := ""
			if len(wrong) == 0 {
				hint = "write an amount, such as 30 ml, or have it found first: " + pouredFirst(q.Spec.File, q.Shelf)
			}
			wrong = append(wrong, q.Spec.ErrorAt(p.Place, p.Name+" is still open; expected an amount", hint))
		}
	}
	if len(wrong) > 0 {
		return nil, wrong
	}
	if err := refuseOpenPreps(q); err != nil {
		return nil, err
	}
	if q.Spec.Makes != nil {
		return reportPrep(q)
	}
	w, err := newWork(q)
	if err != nil {
		return nil, err
	}
	return w.answer(w.problem, nil, Solution{Proven: true, PreferenceProven: true})
}

// ChooseIce returns the usual method for a drink of these ingredients: shaken
// where juice, egg or dairy is offered, else stirred; common practice, no
// source.
func ChooseIce(ingredients []*pantry.Ingredient) profile.Method {
	for _, i := range ingredients {
		category := strings.ToLower(i.Category)
		if strings.Contains(category, "juice") || strings.Contains(category, "egg") || strings.Contains(category, "dairy") {
			return profile.Shake
		}
	}
	return profile.Stir
}

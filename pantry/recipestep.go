package pantry

import (
	"regexp"
	"slices"
	"strings"

	"minim/profile"
)

// recipeSteps is what the sentences of a recipe say.
type recipeSteps struct {
	// making are those that neither top nor finish the drink.
	making []string
	finish []string
	// onTop tells for each pour whether it goes on top.
	onTop []bool
	notes []string
}

var sentenceEnd = regexp.MustCompile(`[.!;]\s+`)

// readRecipeSteps sorts the sentences of a recipe. A line as BuildingSteps writes
// it is taken whole, since a name may hold a full stop; any other is taken apart
// into sentences.
func readRecipeSteps(lines []string, pours []Pour, shelf *Shelf) *recipeSteps {
	s := &recipeSteps{onTop: make([]bool, len(pours))}
	for _, line := range lines {
		if text, ok := strings.CutPrefix(line, finishWords); ok {
			s.finish = append(s.finish, text)
			continue
		}
		if name, ok := strings.CutPrefix(line, topWords); ok && s.putOnTop(strings.TrimSuffix(name, "."), pours) {
			continue
		}
		for _, sentence := range sentenceEnd.Split(line, -1) {
			s.sentence(strings.TrimRight(strings.TrimSpace(sentence), "."), pours, shelf)
		}
	}
	return s
}

// putOnTop marks the last pour of that name that is not on top yet.
func (s *recipeSteps) putOnTop(name string, pours []Pour) bool {
	for i, p := range slices.Backward(pours) {
		if !s.onTop[i] && Fold(p.Name) == Fold(name) {
			s.onTop[i] = true
			return true
		}
	}
	return false
}

var (
	finishBegins   = regexp.MustCompile(`(?i)(?:\s*[,;]\s*(?:and\s+|then\s+)*|\s+and\s+(?:then\s+)?|\s+then\s+)((?:garnish|finish|decorate)\b\s*(?:it\s+|the drink\s+)?(?:with\b|:)\s*\S.*)$`)
	finishSentence = regexp.MustCompile(`(?i)^(?:and\s+|then\s+)*(?:garnish|finish|decorate)\b\s*(?:it\s+|the drink\s+)?(?:with\b)?:?\s*(.*)$`)
	topPhrases     = []string{"top", "top up", "topped", "topping"}
)

// sentence sorts one sentence in anybody's words. A garnish may be its last part:
// "strain and garnish with a lemon twist".
func (s *recipeSteps) sentence(text string, pours []Pour, shelf *Shelf) {
	if last := finishBegins.FindStringSubmatchIndex(text); last != nil {
		s.sentence(text[:last[0]], pours, shelf)
		text = text[last[2]:]
	}
	text = strings.TrimSpace(text)
	switch found := finishSentence.FindStringSubmatch(text); {
	case text == "":
	case found != nil:
		if found[1] != "" {
			s.finish = append(s.finish, found[1])
		}
	case holdsPhrase(text, topPhrases):
		s.topSentence(text, pours, shelf)
	default:
		s.making = append(s.making, text)
	}
}

// topSentence puts on top what a sentence names, the longest names first, so that
// soda water is no water; where it names none, what bubbles.
func (s *recipeSteps) topSentence(text string, pours []Pour, shelf *Shelf) {
	var names []string
	for _, p := range pours {
		names = append(names, Fold(p.Name))
	}
	slices.SortStableFunc(names, func(a, b string) int { return len(b) - len(a) })
	folded, marked := " "+strings.Map(noMarks, Fold(text))+" ", false
	for _, name := range slices.Compact(names) {
		if strings.Contains(folded, " "+name+" ") {
			folded = strings.Replace(folded, " "+name+" ", " ", 1)
			marked = s.putOnTop(name, pours) || marked
		}
	}
	if marked {
		return
	}
	for i, p := range pours {
		if ingredient, err := shelf.Find(p.Name); err == nil && ingredient.Bubbles() {
			s.onTop[i], marked = true, true
		}
	}
	if marked {
		s.notes = append(s.notes, "what bubbles was put on top; the step that tops the drink up names no line")
	} else {
		s.notes = append(s.notes, "nothing was put on top; the step that tops the drink up names no line")
	}
}

// methodWords are the words of each method, the one that chills most first.
var methodWords = []struct {
	method  profile.Method
	phrases []string
}{
	{profile.Shake, []string{"shake", "shaken", "shaking", "shaker"}},
	{profile.Blend, []string{"blend", "blended", "blender"}},
	{profile.Stir, []string{"stir", "stirred", "stirring"}},
	{profile.Build, []string{"build", "built", "over ice"}},
}

var (
	iceMass        = regexp.MustCompile(`(\d+(?:\.\d+)?) g of ice`)
	iceTemperature = regexp.MustCompile(`\bice at (-?\d+(?:\.\d+)?) °C`)
	iceWater       = regexp.MustCompile(`until (\d+(?:\.\d+)?) % water has melted in`)
	iceUntil       = regexp.MustCompile(`until it is at (-?\d+(?:\.\d+)?) °C`)
)

// readIceSteps says what ice does to the mix by the words of the steps.
func readIceSteps(steps []string) (ice profile.Ice, note string) {
	for _, text := range steps {
		if text+"." == withoutIce {
			return profile.Ice{}, ""
		}
	}
	var methods []string
	for _, m := range methodWords {
		for _, text := range steps {
			if !holdsPhrase(text, m.phrases) || slices.Contains(methods, m.method.Name()) {
				continue
			}
			methods = append(methods, m.method.Name())
			if ice.Method == profile.NoIce {
				ice = iceOf(strings.Join(steps, ". "))
				ice.Method = m.method
			}
		}
	}
	switch len(methods) {
	case 0:
		return ice, "no step says what ice does: shake, stir, build or blend; none was taken"
	case 1:
		return ice, ""
	}
	return ice, "the steps say " + strings.Join(methods, " and ") + "; " + ice.Method.Name() + " was taken"
}

// iceOf reads how much ice, how cold and how far, in the words of BuildingSteps;
// what a spec could not hold is left out.
func iceOf(text string) profile.Ice {
	var ice profile.Ice
	if found := iceMass.FindStringSubmatch(text); found != nil {
		if amount, wrong := parseIceAmount(found[1] + " g"); wrong == nil {
			ice = amount
		}
	}
	if found := iceWater.FindStringSubmatch(text); found != nil {
		if amount, wrong := parseIceAmount(found[1] + " % water"); wrong == nil {
			ice = amount
		}
	}
	if found := iceUntil.FindStringSubmatch(text); found != nil {
		if amount, wrong := parseIceAmount("to " + found[1] + " °C"); wrong == nil {
			ice = amount
		}
	}
	if found := iceTemperature.FindStringSubmatch(text); found != nil {
		if t, wrong := parseIceTemperature(found[1] + " °C"); wrong == nil {
			ice.At = t
		}
	}
	return ice
}

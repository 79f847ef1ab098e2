package pantry

import (
	"fmt"
	"slices"
	"strings"
)

// mostAmountWords is how many words an amount may take: 1 1/2 imperial fl oz.
const mostAmountWords = 5

// longestRecipeLine is more than any name of an ingredient takes.
const longestRecipeLine = 200

// readRecipeLine reads a line such as "45 ml dry gin" as a fixed pour. What
// stands behind a comma or in brackets is left out where the name without it is
// on the shelf; a note says so.
func readRecipeLine(line string, shelf *Shelf) (pour Pour, note string, wrong *mistake) {
	words := strings.Fields(line)
	switch {
	case len(words) == 0:
		return pour, "", &mistake{message: "a line that is no text; expected an amount and a name such as \"45 ml dry gin\""}
	case len(line) > longestRecipeLine:
		return pour, "", &mistake{message: fmt.Sprintf("a line of more than %d letters; expected an amount and a name such as \"45 ml dry gin\"", longestRecipeLine)}
	}
	if _, unit := unitsByWord[foldUnit(words[min(1, len(words)-1)])]; unit && slices.Contains(oneInWords, strings.ToLower(words[0])) {
		words[0] = "1"
	}
	var best *mistake
	found := false
	for k := min(mostAmountWords, len(words)-1); k >= 1; k-- {
		amount, mistaken := parsePositiveAmount(strings.Join(words[:k], " "))
		if mistaken != nil {
			best = mistaken
			continue
		}
		candidate, remark := namedPour(amount, strings.Join(words[k:], " "), shelf)
		if _, err := shelf.Find(candidate.Name); err != nil && found {
			continue
		} else if err == nil {
			pour, note, found = candidate, remark, true
			break
		}
		pour, note, found = candidate, remark, true
	}
	if !found {
		if pour, note, found = countedPour(words, shelf); !found {
			wrong := unreadLine(line, best)
			if number, _ := splitNumber(words[0]); number == words[0] && wrong.hint != "" && len(words) > 1 && best.part == number {
				wrong.hint = unitlessHint(number, strings.Join(words[1:], " "), shelf)
			}
			return pour, "", wrong
		}
	}
	if mistaken := pourable(pour); mistaken != nil {
		return pour, "", mistaken
	}
	if _, err := shelf.Find(pour.Name); err != nil && note == "" {
		note = err.Error()
	}
	return pour, note, nil
}

// oneInWords are the words for a single one of a unit.
var oneInWords = []string{"a", "an", "one"}

// unreadLine says what a line lacks.
func unreadLine(line string, amount *mistake) *mistake {
	wrong := &mistake{message: fmt.Sprintf("%q is no amount and name; expected a line such as \"45 ml dry gin\"", clip(line))}
	if amount != nil {
		wrong.hint = amount.hint
	}
	return wrong
}

// countedPour reads a count without a unit, "1 egg white", as pieces, where the
// shelf has the name.
func countedPour(words []string, shelf *Shelf) (pour Pour, note string, ok bool) {
	if len(words) < 2 {
		return pour, "", false
	}
	count, wrong := parseMagnitude(words[0])
	if wrong != nil || count == 0 {
		return pour, "", false
	}
	pour, note = namedPour(Amount{count, Pieces}, strings.Join(words[1:], " "), shelf)
	i, err := shelf.Find(pour.Name)
	return pour, note, err == nil && i.Piece > 0
}

// namedPour makes a pour of an amount and what stands behind it.
func namedPour(amount Amount, rest string, shelf *Shelf) (pour Pour, note string) {
	if closing := strings.Index(rest, ")"); strings.HasPrefix(rest, "(") && closing > 0 {
		if _, wrong := parseAmount(rest[1:closing]); wrong == nil {
			rest = strings.TrimSpace(rest[closing+1:])
		}
	}
	name, at, wrong := splitTemperature(rest)
	if wrong != nil {
		name, at = rest, nil
	}
	if _, err := shelf.Find(name); err == nil {
		pour = FixedPour(name, amount)
		pour.At = at
		return pour, ""
	}
	shorter := strings.TrimPrefix(name, "of ")
	if _, err := shelf.Find(shorter); err == nil {
		pour = FixedPour(shorter, amount)
		pour.At = at
		return pour, ""
	}
	if cut := strings.IndexAny(shorter, ",("); cut > 0 {
		shorter = strings.TrimSpace(shorter[:cut])
	}
	if i, err := shelf.Find(shorter); err == nil && shorter != name {
		note = fmt.Sprintf("%q was taken for %s", clip(name), i.Name)
		name = shorter
	}
	pour = FixedPour(name, amount)
	pour.At = at
	return pour, note
}

// pourable tells why no spec can hold a pour; nil where one can.
func pourable(p Pour) *mistake {
	var text strings.Builder
	if err := (&Spec{Mix: []Pour{p}}).Write(&text); err != nil {
		return &mistake{message: fmt.Sprintf("%q is no name that a spec can hold; expected that of an ingredient", clip(p.Name))}
	}
	return nil
}

package main

import (
	"fmt"
	"math"
	"strings"

	"minim/profile"
	"minim/solver"
)

// sentences say in plain words how near the drink is, what holds it back and
// what to do about it.
func sentences(a *solver.Answer, unit liquidUnit) []string {
	var out []string
	for _, b := range a.Broken {
		if len(a.Continuous.Pours) > 0 {
			out = append(out, fmt.Sprintf("The limit %q cannot be kept: the nearest comes to %s.", b.Written, unit.reached(&b)))
		} else {
			out = append(out, fmt.Sprintf("The limit %q is broken: it comes to %s.", b.Written, unit.reached(&b)))
		}
	}
	if len(a.Misses) == 0 && a.Conflict == nil {
		return out
	}
	if len(a.Continuous.Pours) > 0 {
		if a.Chosen == nil || a.TotalJND >= profile.Perceptible {
			out = append(out, nearness(a))
		}
		if a.Chosen != nil {
			out = append(out, choiceSentence(a))
		}
	} else if a.TotalJND >= profile.Perceptible {
		out = append(out, fmt.Sprintf("In all %s JND from the target, on the properties computed.", fixed(a.TotalJND, 1)))
	}
	if len(a.SolvedPreps) > 0 || a.Prep != nil && !a.Solution.Proven {
		out = append(out, prepFound)
	}
	if a.Conflict != nil {
		out = append(out, apart(a.Conflict, bottles(a), " within the limits")...)
	}
	if a.Conflict != nil && !a.Conflict.Coarse && len(a.Limits) > 0 {
		out = append(out, back(a.Limits[0]))
	}
	if a.Tolerance != nil {
		out = append(out, serveToServe(a.Tolerance))
	}
	return out
}

// nearness is the proof in words.
func nearness(a *solver.Answer) string {
	measure := a.Spec.Measure
	steps := "in " + measure.String() + " steps"
	if a.TotalJND >= profile.Perceptible {
		worst := 0.0
		for i := range a.Misses {
			worst = math.Max(worst, math.Abs(a.Misses[i].JND))
		}
		text := fmt.Sprintf("All misses together make %s JND, on the properties computed", fixed(a.TotalJND, 1))
		if worst < profile.Perceptible {
			text += ": each alone would not be noticed, together they may be"
		}
		if a.Solution.Proven {
			return text + ". No closer answer " + steps + " with these bottles."
		}
		return text + ". This is the best drink found " + steps + "; a closer one is not ruled out."
	}
	if a.Solution.Proven && a.Solution.Objective <= a.Solution.Least*(1+1e-9)+1e-12 {
		return "No closer answer " + steps + " with these bottles."
	}
	if a.Solution.Proven {
		return "On the properties asked for, nobody could tell it from the closest answer " + steps + " with these bottles."
	}
	return "This is the best drink found " + steps + "; a closer one is not ruled out."
}

// bottles are those that a sentence on what is out of reach speaks of: of a choice
// only those that were chosen, which says nothing about the others.
func bottles(a *solver.Answer) string {
	switch {
	case a.Chosen == nil:
		return "these bottles"
	case len(a.Pours) == 1:
		return "the one bottle chosen"
	default:
		return fmt.Sprintf("the %d bottles chosen", len(a.Pours))
	}
}

// apart names the targets that pull against each other with those bottles; within
// says what keeps one out of reach.
func apart(c *solver.Conflict, bottles, within string) []string {
	if c.Coarse {
		return []string{fmt.Sprintf("With %s the target could be hit, but not in these measures: a finer measure comes closer.", bottles)}
	}
	var out, wanted, alone []string
	met := true
	for _, t := range c.Targets {
		places := decimals[t.Property]
		want := trimmed(t.Low, places)
		if t.High != t.Low {
			want += ".." + trimmed(t.High, places)
		}
		met = met && fixed(t.Alone, places) == fixed(min(max(t.Alone, t.Low), t.High), places)
		name := strings.TrimSpace(fmt.Sprintf("%s %s %s", t.Property.Name(), want, t.Property.Unit()))
		wanted = append(wanted, name)
		alone = append(alone, strings.TrimSpace(fmt.Sprintf("%s to %s %s", t.Property.Name(), fixed(t.Alone, decimals[t.Property]), t.Property.Unit())))
	}
	if len(c.Limits) > 1 {
		out = append(out, fmt.Sprintf("These limits cannot be kept together with %s: %s.", bottles, list(c.Limits)))
	}
	if len(wanted) == 1 {
		out = append(out, fmt.Sprintf("With %s, %s is out of reach%s: alone it comes to %s.", bottles, wanted[0], within, strings.SplitN(alone[0], " to ", 2)[1]))
	} else if len(wanted) > 1 && met {
		out = append(out, fmt.Sprintf("%s pull apart: with %s each can be met by itself, but not all of them.", list(wanted), bottles))
	} else if len(wanted) > 1 {
		out = append(out, fmt.Sprintf("%s pull apart: with %s they cannot all be met. Each by itself comes this near: %s.", list(wanted), bottles, list(alone)))
	}
	if h := c.Help; h != nil && h.Ingredient != nil {
		out = append(out, fmt.Sprintf("What would help most is one more ingredient, %s: the misses could come down to %s JND in all.", h.Ingredient.Name, fixed(h.TotalJND, 1)))
	} else if h != nil {
		out = append(out, fmt.Sprintf("What would help most is another way with the ice, %s: the misses could come down to %s JND in all.", h.Method.Name(), fixed(h.TotalJND, 1)))
	}
	return out
}

// back says what the dearest bound is worth.
func back(h solver.HeldBack) string {
	unit := h.Unit
	switch h.Kind {
	case "least":
		return fmt.Sprintf("The least allowed of %s holds it back: each %s less is worth %s JND.", h.Name, unit, fixed(h.Price, 2))
	case "most":
		return fmt.Sprintf("The most allowed of %s holds it back: each %s more is worth %s JND.", h.Name, unit, fixed(h.Price, 2))
	default:
		return fmt.Sprintf("The limit %q holds it back: each %s of room is worth %s JND.", h.Name, unit, fixed(h.Price, 2))
	}
}

// list joins words with commas and a last "and".
func list(words []string) string {
	if len(words) < 2 {
		return strings.Join(words, "")
	}
	return strings.Join(words[:len(words)-1], ", ") + " and " + words[len(words)-1]
}

// wrap breaks a sentence into lines of at most width characters.
func wrap(text string, width int) string {
	var b strings.Builder
	column := 0
	for i, word := range strings.Fields(text) {
		length := len([]rune(word))
		switch {
		case i == 0:
		case column+1+length > width:
			b.WriteString("\n")
			column = 0
		default:
			b.WriteString(" ")
			column++
		}
		b.WriteString(word)
		column += length
	}
	return b.String()
}

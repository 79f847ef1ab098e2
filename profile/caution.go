package profile

import (
	"fmt"
	"strings"
)

// Caution is something about a drink that calls for care.
type Caution struct {
	// Key is a stable word for other programs.
	Key string
	// Ingredients is what it comes from, as a spec calls it; empty: the drink as a
	// whole.
	Ingredients []string
	// Title is a word or two for it.
	Title string
	// Text goes on after the title: what to know or to do.
	Text string
	// Keeps is how long the ingredient is said to keep; empty where nothing is said
	// or that is beside the point.
	Keeps string
	// Rule is where it stands, "common practice" where no source was found.
	Rule string
}

// LocalRules is said once with every list of cautions.
const LocalRules = "Your local law and licensed practice go before all of this."

// commonPractice is the rule of a caution that no published limit stands behind.
const commonPractice = "common practice"

// Limits of a finished drink. A caution is given at the value on the wrong side
// of the limit, never at the limit itself.
const (
	// alcoholFreeMost is the widest of the strengths that countries allow under
	// words like alcohol-free: 0.0, 0.05 and 0.5 % vol. From memory.
	alcoholFreeMost = 0.5
	// ingredientListMost: above it a drink sold packed needs neither a list of
	// ingredients nor a nutrition declaration.
	// Source: Regulation (EU) 1169/2011, Article 16(4).
	ingredientListMost = 1.2
	// caffeineLabelMost, in mg/L, is the most without the words "high caffeine
	// content". Source: Regulation (EU) 1169/2011, Annex III.
	caffeineLabelMost = 150
	// caffeineServeMost, in mg, is a single dose without concern for adults; the
	// same a day in pregnancy. Source: EFSA (2015), as authorities quote it.
	caffeineServeMost = 200
	// quinineMost, in mg of quinine in a kilogram, is the lowest of the limits
	// that were found. Source: 21 CFR 172.575 (United States, carbonated drinks);
	// the European Union has 100 for drinks without alcohol.
	quinineMost = 83
)

// QuininePerHydrochloride is the quinine in a gram of its hydrochloride, the
// dihydrate: 324.42 over 396.91 g/mol.
//
// Source: molar masses; the European Pharmacopoeia measures bitterness in the
// dihydrate.
const QuininePerHydrochloride = 324.42 / 396.91

// Cautions returns what the composition of a finished serve calls for, in a
// fixed order:
//
//	alcohol-words    0 < strength ≤ 0.5 % vol
//	strength-label   0 < strength ≤ 1.2 % vol
//	caffeine-label   caffeine > 150 mg/L
//	caffeine-serve   caffeine > 200 mg
//
// An empty glass has none.
func (f *Finished) Cautions() []Caution {
	var all []Caution
	strength := f.Values[Strength]
	if strength > 0 && strength <= alcoholFreeMost {
		all = append(all, Caution{
			Key: "alcohol-words", Title: "Not free of alcohol",
			Text: fmt.Sprintf("it holds %s. Words such as alcohol-free stand for at most 0.0, 0.05 or 0.5 %% vol, by country: check your own country's.", strengthText(strength)),
			Rule: "limits of labelling, from memory",
		})
	}
	if strength > 0 && strength <= ingredientListMost {
		all = append(all, Caution{
			Key: "strength-label", Title: "Low strength",
			Text: fmt.Sprintf("at 1.2 %% vol or less (%s) a drink sold packed needs its ingredients and nutrition on the label in the European Union; check your own country's rule.", strengthText(strength)),
			Rule: "Regulation (EU) 1169/2011, Article 16(4)",
		})
	}
	caffeine := f.State[CaffeineMilligrams]
	if volume := f.Values[Volume]; volume > 0 && 1000*caffeine/volume > caffeineLabelMost {
		all = append(all, Caution{
			Key: "caffeine-label", Title: "Caffeine",
			Text: fmt.Sprintf("more than 150 mg a litre (%.0f): sold packed in the European Union it says \"high caffeine content\", with the mg in 100 ml, unless its name says coffee or tea.",
				1000*caffeine/volume),
			Rule: "Regulation (EU) 1169/2011, Annex III",
		})
	}
	if caffeine > caffeineServeMost {
		all = append(all, Caution{
			Key: "caffeine-serve", Title: "Much caffeine",
			Text: fmt.Sprintf("more than 200 mg in one serve (%.0f): that is what an adult may take at once without concern, and the whole day's in pregnancy.", caffeine),
			Rule: "EFSA (2015)",
		})
	}
	return all
}

// strengthText writes a low strength; what would round to nothing is said so.
func strengthText(strength float64) string {
	if strength < 0.005 {
		return "less than 0.01 % vol"
	}
	return fmt.Sprintf("%.2f %% vol", strength)
}

// QuinineCautions returns the cautions of a serve that holds at most so much
// quinine, counted as the base and known from ingredients that are made with
// it: that it must be named, and where it is more than 83 mg/kg, that it is.
// The bitterness of a drink alone says nothing of quinine.
func QuinineCautions(serve *State, most Milligram) []Caution {
	all := []Caution{{
		Key: "quinine", Title: "Quinine",
		Text: "its presence is named on labels and menus.",
		Rule: "21 CFR 172.575 (United States)",
	}}
	if kilograms := float64(serve.Mass()) / 1000; kilograms > 0 && float64(most)/kilograms > quinineMost {
		all = append(all, Caution{
			Key: "quinine-limit", Title: "Much quinine",
			Text: fmt.Sprintf("if all their bitterness is quinine, the drink holds %.0f mg of it in a kilogram. The United States allow 83 in carbonated drinks, the European Union 100 mg/L in drinks without alcohol (second-hand).", float64(most)/kilograms),
			Rule: "21 CFR 172.575 (United States)",
		})
	}
	return all
}

// String returns the caution on one line: its title, what it comes from, what to
// do and the rule behind it.
func (c *Caution) String() string {
	from := ""
	if len(c.Ingredients) > 0 && c.Key != AllergensKey {
		from = " (" + strings.Join(c.Ingredients, ", ") + ")"
	}
	return c.Title + from + ": " + c.Text + " Rule: " + c.Rule + "."
}

// AllergensKey is the caution whose text names the ingredients itself.
const AllergensKey = "allergens"

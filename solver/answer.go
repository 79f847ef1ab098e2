package solver

import (
	"minim/pantry"
	"minim/profile"
)

// Answer is a drink that answers a spec, and how well it does.
type Answer struct {
	// Spec is the spec with every open pour filled in.
	Spec *pantry.Spec
	// Pours are in the order of building; those of nothing are left out.
	Pours []PouredAmount
	// IceChosen says that the ice method was picked for the asker.
	IceChosen bool
	// WaterMillilitres is the melted ice at 20 °C, Temperature that of the drink.
	WaterMillilitres profile.Millilitre
	Temperature      profile.Celsius
	// Profile has one value for each property.
	Profile [profile.Properties]PropertyValue
	// Misses are in the order of the targets.
	Misses []Miss
	// TotalJND is the root of the summed squares of the misses in JND.
	TotalJND float64
	// Tolerance is how far serves of the drink come apart; nil where nothing that
	// is aimed at has a JND.
	Tolerance *Tolerance
	Solution  Solution
	// Continuous is the best drink in amounts that nobody can measure.
	Continuous ContinuousAnswer
	// Limits are what holds the drink back, the dearest first.
	Limits []HeldBack
	// Broken are the hard limits that the drink breaks; an answer without any
	// keeps them all.
	Broken []BrokenLimit
	// Conflict explains a miss that can be tasted; nil where there is none.
	Conflict *Conflict
	// Alternatives are other sets of ingredients, the nearest to the target first;
	// each differs from the drink and from those before it by at least one
	// ingredient exchanged for another, or two added or left out.
	Alternatives []Alternative
	// Chosen says how the ingredients were chosen; nil where none were.
	Chosen *Chosen
	// Lots are the measurements of the shelf that went into the drink, in the
	// order of the pours.
	Lots  []*pantry.AppliedLot
	Notes []string
	// Cautions are what the drink calls for; see profile.LocalRules.
	Cautions []profile.Caution
	// Dose is what one drink holds that counts for a guest.
	Dose profile.Dose
	// Glass is the drink over time in the glass, where that was asked for.
	Glass []profile.Sip

	// Prep is what the answer is about where the spec is a prep; nil for a drink.
	Prep *pantry.Prep
	// Preps are those that went into the drink, each after those it pours itself.
	Preps []*pantry.Prep
	// SolvedPreps are those of them whose open pours were found for this answer.
	SolvedPreps []SolvedPrep

	finished profile.Finished
}

// InGlass follows the drink in the glass over ice, or without any, at the given
// minutes after pouring, rising from 0.
func (a *Answer) InGlass(rocks profile.Rocks, minutes []float64) []profile.Sip {
	return a.finished.OnTheRocks(rocks, minutes)
}

// LeftOnIce is the ice that a drink which was built in its glass still stands on,
// at 0 °C: that of the spec, else profile.IceRatio times the mix, less what has
// melted; 0 grams of any other drink.
func (a *Answer) LeftOnIce(room profile.Celsius) profile.Rocks {
	left := profile.Rocks{Drained: true, Room: room}
	ice := a.Spec.Ice
	if ice.Method != profile.Build {
		return left
	}
	left.Mass = ice.Mass
	if left.Mass == 0 {
		for i := range a.Pours {
			if a.Pours[i].Stage == InMix {
				left.Mass += profile.IceRatio * a.Pours[i].Grams
			}
		}
	}
	left.Mass = max(0, left.Mass-a.finished.Water)
	return left
}

// Alternative is another drink for the same target.
type Alternative struct {
	Pours []PouredAmount
	// TotalJND is as in Answer.
	TotalJND float64
}

// PouredAmount is one pour of an answer.
type PouredAmount struct {
	Ingredient *pantry.Ingredient
	// Name is the ingredient as the spec calls it.
	Name  string
	Stage Stage
	// Amount is in the unit that the bar measures.
	Amount pantry.Amount
	// Base is in ml of a liquid or grams of a solid.
	Base float64
	// Grams is its mass.
	Grams profile.Gram
	// Solved says that the spec left the amount open.
	Solved bool
}

// PropertyValue is a computed property and how well it is known.
type PropertyValue struct {
	Value float64
	// Low and High are one standard deviation of all inputs away, by first
	// order.
	Low, High float64
	// UnknownFrom names ingredients whose figures for it are unknown: the value
	// is at least what is printed.
	UnknownFrom []string
	// refused says that what is unknown could be tasted: the property is not to
	// be aimed at.
	refused bool
}

// Miss is how far a property is from its target.
type Miss struct {
	Property profile.Property
	// Low and High are the target: equal for an aim, apart for a band.
	Low, High float64
	Got       float64
	// Off is got minus the nearest of the target, in the property's unit.
	Off float64
	// JND is J(got) - J(target); HasJND is false where the property has none.
	JND    float64
	HasJND bool
}

// Perceptible tells whether a taster may notice the miss.
func (m *Miss) Perceptible() bool {
	return m.HasJND && (m.JND >= profile.Perceptible || m.JND <= -profile.Perceptible)
}

// Tolerance is how far one serve of a drink is from the next.
type Tolerance struct {
	// ByHand counts what pouring and chilling are off by; Overall, besides, the ±
	// of every figure of every ingredient. Bitterness that is known only to a
	// factor adds nothing: that is not knowing, the same in every serve.
	ByHand, Overall Variation
}

// Variation is what some causes of difference do to a drink, against the drink
// meant: not against its target, which that may miss.
type Variation struct {
	// Properties are those aimed at that have a JND, in the order of the targets.
	Properties []PropertySpread
	// Chance is the probability that a serve is noticeably off: 0.5 JND or more
	// in any of the properties or, which includes that, in the root of their
	// summed squares. StandardError is that of drawing it.
	Chance, StandardError float64
	// Worst is the property that varies most, Pour the one that makes most of its
	// variance, "ice" where melt or chill do, and Share its part of it. Without
	// any variance Pour is empty.
	Worst profile.Property
	Pour  string
	Share float64
}

// PropertySpread is one standard deviation of a property from serve to serve, by
// first order.
type PropertySpread struct {
	Property profile.Property
	JND      float64
}

// Solution says how an answer was reached.
type Solution struct {
	// Objective is F of the answer, Least that of the best drink on the
	// measures; the answer may differ from the best by what nobody can taste.
	Objective, Least float64
	// Bound is proven: no drink on the measures has a smaller F.
	Bound float64
	// Proven says that Least is the least F on the measures; PreferenceProven
	// that among the drinks that taste alike this is the preferred one.
	Proven, PreferenceProven bool
	// KKT is the residual of the optimality conditions of the continuous answer.
	KKT   float64
	Nodes int
}

// ContinuousAnswer is the optimum over real amounts.
type ContinuousAnswer struct {
	Pours     []PouredAmount
	Objective float64
}

// HeldBack is a bound that holds the drink back.
type HeldBack struct {
	// Name is the pour, limit or ratio; Kind is "least", "most" or "limit".
	Name, Kind string
	// Price is by how many JND the total miss falls for one unit more room: a
	// ml, a gram, or the unit of the property.
	Price float64
	Unit  string
}

// BrokenLimit is a hard limit that could not be kept.
type BrokenLimit struct {
	Written string
	Got     float64
	Unit    string
}

// Conflict is why no closer drink was found.
type Conflict struct {
	// Targets cannot be met together, while all but any one of them can.
	Targets []TargetReach
	// Limits are those of the asker that cannot all be kept, while without any
	// one of them the others can; Targets is then empty.
	Limits []string
	// Coarse says that amounts without measures would meet all targets.
	Coarse bool
	// Help is the one change that would close most of the gap; nil: none helps.
	Help *Help
}

// TargetReach is the nearest that one target of a conflict gets by itself.
type TargetReach struct {
	Property profile.Property
	Low      float64
	High     float64
	Alone    float64
}

// Help is one more ingredient, or another way with the ice where Ingredient is
// nil, and the total miss that would be left, in JND as far as these have one.
type Help struct {
	Ingredient *pantry.Ingredient
	Method     profile.Method
	TotalJND   float64
}

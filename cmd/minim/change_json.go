package main

import (
	"minim/solver"
)

// The JSON of a changed drink: the keys of an answer, and these.
type (
	jsonChanged struct {
		*jsonAnswer
		Changes      []jsonChange         `json:"changes"`
		Properties   []jsonPropertyChange `json:"properties"`
		Moved        int                  `json:"moved"`
		Size         float64              `json:"size"`
		Unknown      []jsonUnknown        `json:"unknown"`
		Taste        []string             `json:"taste"`
		BrokenBefore []string             `json:"broken_before"`
		Jug          *jsonJug             `json:"jug"`
		Far          []jsonFar            `json:"another_drink"`
		Within       jsonConfines         `json:"within"`
		Remedy       *jsonRemedy          `json:"remedy"`
		Thinner      *jsonThinner         `json:"thinner"`
	}
	jsonConfines struct {
		HalfToDouble bool `json:"half_to_double"`
		AsItWas      bool `json:"as_it_was"`
		Limits       bool `json:"limits"`
	}
	// jsonFar is a pour that makes another drink of it.
	jsonFar struct {
		Ingredient string  `json:"ingredient"`
		InPlaceOf  *string `json:"in_place_of"`
		Before     float64 `json:"before"`
		BeforeUnit string  `json:"before_unit"`
		After      float64 `json:"after"`
		AfterUnit  string  `json:"after_unit"`
	}
	jsonRemedy struct {
		Ingredient string  `json:"ingredient"`
		TotalJND   float64 `json:"total_jnd"`
		Unnoticed  bool    `json:"unnoticed"`
	}
	jsonThinner struct {
		Without          *string  `json:"without"`
		ViscosityWithout *float64 `json:"viscosity_without"`
		Water            *float64 `json:"water_ml"`
		VolumeWithWater  *float64 `json:"volume_with_water_ml"`
	}
	jsonChange struct {
		Ingredient string      `json:"ingredient"`
		ID         string      `json:"id"`
		Stage      string      `json:"stage"`
		Before     *jsonAmount `json:"before"`
		After      *jsonAmount `json:"after"`
		Moved      bool        `json:"moved"`
	}
	jsonAmount struct {
		Amount float64 `json:"amount"`
		Unit   string  `json:"unit"`
		Base   float64 `json:"ml_or_g"`
	}
	jsonPropertyChange struct {
		Property string   `json:"property"`
		Unit     string   `json:"unit"`
		Before   float64  `json:"before"`
		Wanted   float64  `json:"wanted"`
		Held     bool     `json:"held"`
		Alone    float64  `json:"alone"`
		After    float64  `json:"after"`
		AloneJND *float64 `json:"alone_jnd"`
		AfterJND *float64 `json:"after_jnd"`
	}
	jsonUnknown struct {
		Property string   `json:"property"`
		From     []string `json:"unknown_from"`
	}
	jsonJug struct {
		Volume      float64              `json:"ml"`
		VolumeAfter float64              `json:"ml_after"`
		Serves      float64              `json:"serves"`
		ServesAfter float64              `json:"serves_after"`
		ServeBefore float64              `json:"serve_ml_before"`
		ServeAfter  float64              `json:"serve_ml_after"`
		Reached     bool                 `json:"reached"`
		Proven      bool                 `json:"proven"`
		Additions   []jsonAddition       `json:"additions"`
		Properties  []jsonPropertyChange `json:"properties"`
	}
	jsonAddition struct {
		Ingredient string  `json:"ingredient"`
		ID         string  `json:"id"`
		Amount     float64 `json:"amount"`
		Unit       string  `json:"unit"`
	}
)

func changedJSON(c *solver.Changed, jug *solver.Jug) *jsonChanged {
	out := &jsonChanged{
		jsonAnswer: answerJSON(c.Answer), Changes: []jsonChange{}, Properties: propertyChangesJSON(c.Properties),
		Moved: c.Moved, Size: digits(c.Size), Unknown: []jsonUnknown{}, Taste: []string{}, Far: farJSON(c.Far), Within: jsonConfines(c.Within),
		BrokenBefore: append([]string{}, c.BrokenBefore...),
	}
	if r := c.Remedy; r != nil {
		out.Remedy = &jsonRemedy{r.Name, digits(r.TotalJND), r.Unnoticed}
	}
	out.Thinner = thinnerJSON(c.Thinner)
	for i := range c.Pours {
		p := &c.Pours[i]
		one := jsonChange{Ingredient: p.Name, ID: p.Ingredient.ID, Stage: p.Stage.String(), Moved: p.Moved()}
		if p.Before != nil {
			one.Before = &jsonAmount{digits(p.Before.Value), p.Before.Unit.String(), digits(p.BeforeBase)}
		}
		if p.After != nil {
			one.After = &jsonAmount{digits(p.After.Value), p.After.Unit.String(), digits(p.AfterBase)}
		}
		out.Changes = append(out.Changes, one)
	}
	for _, u := range c.Unknown {
		out.Unknown = append(out.Unknown, jsonUnknown{u.Property.Name(), append([]string{}, u.Names...)})
	}
	for _, s := range c.NotComputed {
		out.Taste = append(out.Taste, s.Out+"="+s.In)
	}
	if jug != nil {
		out.Jug = &jsonJug{
			Volume: digits(float64(jug.Volume)), VolumeAfter: digits(float64(jug.VolumeAfter)), Serves: digits(jug.Serves), ServesAfter: digits(jug.ServesAfter),
			ServeBefore: digits(float64(jug.ServeBefore)), ServeAfter: digits(float64(jug.ServeAfter)),
			Reached: jug.Reached(), Proven: jug.Proven, Additions: []jsonAddition{}, Properties: propertyChangesJSON(jug.Properties),
		}
		for _, a := range jug.Additions {
			out.Jug.Additions = append(out.Jug.Additions, jsonAddition{a.Name, a.Ingredient.ID, digits(a.Amount.Value), a.Amount.Unit.String()})
		}
	}
	return out
}

func propertyChangesJSON(list []solver.PropertyChange) []jsonPropertyChange {
	out := []jsonPropertyChange{}
	for i := range list {
		p := &list[i]
		one := jsonPropertyChange{
			Property: p.Property.Name(), Unit: p.Property.Unit(), Before: digits(p.Before), Wanted: digits(p.Wanted), Held: p.Held,
			Alone: digits(p.Alone), After: digits(p.After),
		}
		if p.HasJND {
			alone, after := digits(p.AloneJND), digits(p.AfterJND)
			one.AloneJND, one.AfterJND = &alone, &after
		}
		out = append(out, one)
	}
	return out
}

func thinnerJSON(t *solver.Thinner) *jsonThinner {
	if t == nil {
		return nil
	}
	out := &jsonThinner{}
	if t.Thickest != nil {
		without := digits(t.Without)
		out.Without, out.ViscosityWithout = &t.Thickest.Name, &without
	}
	if t.Water > 0 {
		water, volume := digits(t.Water), digits(t.Volume)
		out.Water, out.VolumeWithWater = &water, &volume
	}
	return out
}

func farJSON(far []solver.FarPour) []jsonFar {
	out := []jsonFar{}
	for i := range far {
		p := &far[i]
		one := jsonFar{p.Name, nil, digits(p.Before.Value), p.Before.Unit.String(), digits(p.After.Value), p.After.Unit.String()}
		if p.InPlaceOf != "" {
			one.InPlaceOf = &p.InPlaceOf
		}
		out = append(out, one)
	}
	return out
}

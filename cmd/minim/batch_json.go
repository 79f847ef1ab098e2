package main

import (
	"io"
	"slices"

	"minim/solver"
)

// The JSON of a batch: the keys of the serve as an answer, and batch.
type (
	jsonBatchAnswer struct {
		*jsonAnswer
		Batch jsonBatch `json:"batch"`
		Cost  *jsonCost `json:"cost"`
	}
	jsonBatch struct {
		Serves          float64        `json:"serves"`
		Rows            []jsonBatchRow `json:"rows"`
		Weighing        []string       `json:"weighing"`
		AtService       []jsonService  `json:"at_service"`
		Dilution        jsonDiluting   `json:"dilution"`
		Volume          float64        `json:"volume_ml"`
		Mass            float64        `json:"g"`
		Strength        float64        `json:"abv"`
		Filling         *jsonFilling   `json:"filling"`
		JND             float64        `json:"jnd"`
		ScaledJND       float64        `json:"scaled_jnd"`
		Misses          []jsonMiss     `json:"misses"`
		Objective       float64        `json:"objective"`
		ScaledObjective float64        `json:"scaled_objective"`
		Readings        jsonReadings   `json:"readings"`
		Holding         jsonHolding    `json:"holding"`
		Label           string         `json:"label"`
		Buy             []jsonPurchase `json:"buy"`
		Make            []jsonPurchase `json:"make"`
		Ice             float64        `json:"ice_g"`
	}
	jsonBatchRow struct {
		Ingredient string   `json:"ingredient"`
		ID         string   `json:"id"`
		Grams      float64  `json:"g"`
		Running    float64  `json:"running_g"`
		Step       float64  `json:"step_g"`
		ML         *float64 `json:"ml"`
		PerServe   float64  `json:"per_serve"`
		Unit       string   `json:"per_serve_unit"`
	}
	jsonService struct {
		jsonPour
		Why   string  `json:"why"`
		Total float64 `json:"total"`
	}
	jsonDiluting struct {
		Way      string  `json:"way"`
		Why      string  `json:"why"`
		PerServe float64 `json:"water_g_per_serve"`
	}
	jsonFilling struct {
		Containers int     `json:"containers"`
		Each       float64 `json:"each_ml"`
		EachGrams  float64 `json:"each_g"`
		Last       float64 `json:"last_ml"`
		Serves     float64 `json:"serves_each"`
		Empty      float64 `json:"head_space_ml"`
	}
	jsonReading struct {
		Value    float64  `json:"value"`
		Unit     string   `json:"unit"`
		Within   *float64 `json:"within"`
		Property string   `json:"speaks_for"`
	}
	jsonReadings struct {
		Brix    jsonReading `json:"refractometer"`
		Density jsonReading `json:"hydrometer"`
		PH      jsonReading `json:"ph_meter"`
		Unsure  []string    `json:"unknown_from"`
	}
	jsonHolding struct {
		FreezingPoint float64  `json:"freezing_point_c"`
		Freezer       float64  `json:"freezer_c"`
		Frozen        float64  `json:"frozen_part"`
		PH            float64  `json:"ph"`
		Strength      float64  `json:"abv"`
		Sugar         float64  `json:"sugar_percent_by_weight"`
		Days          *float64 `json:"keeps_days"`
		KeptShort     string   `json:"keeps_shortest"`
		UseWithin     float64  `json:"use_within_days"`
		Allergens     []string `json:"allergens"`
		AtService     []string `json:"allergens_at_service"`
		Advice        []string `json:"advice"`
	}
	jsonPurchase struct {
		Ingredient string   `json:"ingredient"`
		ID         string   `json:"id"`
		Need       float64  `json:"need"`
		Unit       string   `json:"unit"`
		Packs      int      `json:"packs"`
		Pack       string   `json:"pack"`
		Left       float64  `json:"left"`
		Price      *float64 `json:"price"`
		Currency   string   `json:"currency"`
	}
)

// dilutingNames are the words of --dilute.
var dilutingNames = map[solver.Diluting]string{
	solver.Undiluted: "none", solver.FullyDiluted: "full", solver.DilutedForTheFridge: "fridge",
}

// writeBatchJSON prints everything that is known of a batch.
func writeBatchJSON(w io.Writer, b *solver.Batch, cost *pricing) error {
	out := answerJSON(b.Serve)
	out.Cautions = cautionsJSON(b.Cautions)
	return writeValue(w, &jsonBatchAnswer{out, batchJSON(b), costJSON(cost)})
}

func batchJSON(b *solver.Batch) jsonBatch {
	out := jsonBatch{
		Serves: digits(b.Serves), Rows: batchRowsJSON(b.Rows), Weighing: thoseSaid(orderSentence(b), coarseSentence(b.Rows, "single serves")), AtService: []jsonService{},
		Dilution: jsonDiluting{dilutingNames[b.Dilution.Way], b.Dilution.Why, digits(float64(b.Dilution.PerServe))},
		Volume:   digits(float64(b.Volume)), Mass: digits(float64(b.Mass)), Strength: digits(float64(b.Strength)),
		JND: digits(b.JND), ScaledJND: digits(b.ScaledJND), Misses: missesJSON(b.Misses), Objective: digits(b.Objective), ScaledObjective: digits(b.ScaledObjective),
		Readings: readingsJSON(&b.Readings),
		Holding:  holdingJSON(b), Label: labelText(b, millilitres), Buy: purchasesJSON(b.Buy), Make: purchasesJSON(b.Make),
		Ice: digits(float64(b.Ice)), Filling: fillingJSON(b.Filling),
	}
	for i := range b.AtService {
		s := &b.AtService[i]
		out.AtService = append(out.AtService, jsonService{poursJSON([]solver.PouredAmount{s.PouredAmount})[0], s.Why, digits(s.Total)})
	}
	return out
}

// thoseSaid are those texts that say something.
func thoseSaid(all ...string) []string {
	return slices.DeleteFunc(all, func(text string) bool { return text == "" })
}

func batchRowsJSON(rows []solver.BatchRow) []jsonBatchRow {
	out := []jsonBatchRow{}
	for i := range rows {
		r := &rows[i]
		row := jsonBatchRow{
			Ingredient: r.Name, Grams: digits(float64(r.Grams)), Running: digits(float64(r.Running)), Step: digits(float64(r.Step)),
			PerServe: digits(r.PerServe), Unit: "ml",
		}
		if r.Ingredient != nil {
			row.ID = r.Ingredient.ID
		}
		if r.Millilitres > 0 {
			ml := digits(float64(r.Millilitres))
			row.ML = &ml
		} else {
			row.Unit = "g"
		}
		out = append(out, row)
	}
	return out
}

// fillingJSON is nil where no container was named.
func fillingJSON(f *solver.Filling) *jsonFilling {
	if f == nil {
		return nil
	}
	return &jsonFilling{
		f.Containers, digits(float64(f.Each)), digits(float64(f.Weight)), digits(float64(f.Last)), digits(f.Serves), digits(float64(f.Empty)),
	}
}

func readingsJSON(r *solver.Readings) jsonReadings {
	return jsonReadings{readingJSON(r.Brix, "°Bx"), readingJSON(r.Density, "g/ml"), readingJSON(r.PH, ""), append([]string{}, r.Unsure...)}
}

func readingJSON(r solver.Reading, unit string) jsonReading {
	out := jsonReading{Value: digits(r.Value), Unit: unit}
	if r.Within > 0 {
		within := digits(r.Within)
		out.Within, out.Property = &within, r.Property.Name()
	}
	return out
}

func holdingJSON(b *solver.Batch) jsonHolding {
	h := &b.Holding
	out := jsonHolding{
		FreezingPoint: digits(float64(h.FreezingPoint)), Freezer: float64(solver.Freezer), Frozen: digits(h.FrozenInFreezer),
		PH: digits(h.PH), Strength: digits(float64(h.Strength)), Sugar: digits(h.Sugar), KeptShort: h.KeptShort, UseWithin: digits(h.UseWithin()),
		Allergens: append([]string{}, h.Allergens...), AtService: append([]string{}, h.AtService...), Advice: holdingSentences(b),
	}
	if h.Days > 0 {
		keeps := digits(h.Days)
		out.Days = &keeps
	}
	return out
}

func purchasesJSON(list []solver.Purchase) []jsonPurchase {
	out := []jsonPurchase{}
	for i := range list {
		p := &list[i]
		one := jsonPurchase{
			Ingredient: p.Ingredient.Name, ID: p.Ingredient.ID, Need: digits(p.Need), Unit: "ml", Packs: p.Packs, Left: digits(p.Left),
			Currency: p.Ingredient.Currency,
		}
		if p.Ingredient.Solid {
			one.Unit = "g"
		}
		if p.Packs > 0 {
			one.Pack = p.Ingredient.Pack.String()
		}
		if p.Priced {
			price := digits(p.Price)
			one.Price = &price
		}
		out = append(out, one)
	}
	return out
}

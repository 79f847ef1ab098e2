package main

import (
	"encoding/json"
	"io"
)

// The JSON of a card: the answer with what the card adds.
type (
	jsonCard struct {
		*jsonAnswer
		File    string      `json:"file"`
		Cost    *jsonCost   `json:"cost,omitempty"`
		Batches []jsonTimes `json:"batches"`
	}
	jsonTimes struct {
		Serves int        `json:"serves"`
		Pours  []jsonPour `json:"pours"`
	}
	jsonBook struct {
		Title string     `json:"title"`
		Cards []jsonCard `json:"cards"`
	}
)

// writeCardJSON prints the drink, or all drinks of a book.
func writeCardJSON(w io.Writer, book *cardBook) error {
	encoder := json.NewEncoder(w)
	encoder.SetIndent("", "  ")
	encoder.SetEscapeHTML(false)
	all := jsonBook{Title: book.Title}
	for n, c := range book.Cards {
		all.Cards = append(all.Cards, cardJSON(c, book.files[n]))
	}
	if !book.Book {
		return encoder.Encode(all.Cards[0])
	}
	return encoder.Encode(all)
}

func cardJSON(c *card, file string) jsonCard {
	out := jsonCard{jsonAnswer: answerJSON(c.answer), File: file, Cost: costJSON(c.cost)}
	for _, n := range cardServes {
		batch := jsonTimes{Serves: n, Pours: poursJSON(c.answer.Pours)}
		for i := range batch.Pours {
			p := &batch.Pours[i]
			p.Amount, p.Grams = digits(float64(n)*p.Amount), digits(float64(n)*p.Grams)
			if p.ML != nil {
				ml := digits(float64(n) * *p.ML)
				p.ML = &ml
			}
		}
		out.Batches = append(out.Batches, batch)
	}
	return out
}

package pantry

import (
	"bytes"
	_ "embed"
	"sync"
)

// The embedded pantry. Composition from the tables named in its source column:
// the Standard Tables of Food Composition in Japan (Ministry of Education,
// Culture, Sports, Science and Technology), Ciqual (Anses), USDA SR28, the
// Swiss food composition database and the Indian Food Composition Tables (IFCT);
// UCI is the wine survey of Cortez et al. (2009), nskkk the Journal of the
// Japanese Society for Food Science and Technology, LGL the Bavarian food
// authority, and OIML R22 the alcoholometric tables.
//
// Potassium and other solids are from those tables by memory. Prices stand in no
// row: they are the bar's. Allergens are those of Regulation (EU) 1169/2011,
// Annex II; vegan is empty where makers differ, and the note says in what; how
// long a thing keeps is common practice, no source.
//
// The ± of a strength is the tolerance that Regulation (EU) 1169/2011, Annex
// XII, allows a label (from memory: 0.3 % vol, 0.5 for beer and still wine, 1
// for cider and sparkling wine, 1.5 where plants were steeped), over √3.
//
//go:embed ingredients.csv
var embeddedCSV []byte

// embeddedFile is what places in the embedded pantry call it.
const embeddedFile = "built-in pantry"

var embedded = sync.OnceValue(func() *Shelf {
	shelf, err := (&Shelf{}).Overlay(bytes.NewReader(embeddedCSV), embeddedFile)
	if err != nil {
		panic("pantry: " + err.Error())
	}
	shelf.overlays = nil
	return shelf
})

// Embedded returns the pantry that is part of the program. It is parsed once.
func Embedded() *Shelf { return embedded() }

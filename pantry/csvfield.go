package pantry

import (
	"fmt"
	"slices"
	"strings"
	"unicode"
)

// field is one column of the file: how its cell is read into an ingredient,
// written from one, and laid over one.
type field struct {
	heading string
	// read takes the cleaned text of a cell that is not empty.
	read func(i *Ingredient, text string) wrongCell
	// write returns the cell; empty where there is nothing to say.
	write func(i *Ingredient) string
	// lay copies what was read from an upper ingredient onto a lower one.
	lay func(on, from *Ingredient)
	// number is true where an apostrophe never guards the cell.
	number bool
	// amount is true where the cell holds a number and a unit.
	amount bool
	// besides is true of the ± and source columns, written only where filled.
	besides bool
}

// Endings of the columns that go with a composition column.
const (
	spreadEnding = "_pm"
	sourceEnding = "_source"
)

// measureHeading is read last of all, when the size of a dash or piece is known.
const measureHeading = "measure"

// fields are all columns in the order in which they are written.
var fields = buildFields()

func buildFields() []field {
	all := []field{
		textField("id", func(i *Ingredient) *string { return &i.ID }),
		textField("name", func(i *Ingredient) *string { return &i.Name }),
		textField("category", func(i *Ingredient) *string { return &i.Category }),
		choiceField("state", func(i *Ingredient) *bool { return &i.Solid }, "liquid", "solid"),
		choiceField("basis", func(i *Ingredient) *bool { return &i.PerKilogram }, "per_l", "per_kg"),
	}
	for c := range Column(Columns) {
		switch c {
		case CarbonDioxidePerLitre:
			all = append(all, textField("tannin_note", func(i *Ingredient) *string { return &i.Tannin }))
		case SuccinicPerLitre:
			all = append(all, rowFields()...)
		}
		all = append(all, figureField(c))
	}
	all = append(all,
		listField("aliases", func(i *Ingredient) *[]string { return &i.Aliases }),
		field{
			heading: measureHeading,
			amount:  true,
			read:    func(*Ingredient, string) wrongCell { return wrongCell{} },
			write:   (*Ingredient).stepText,
			lay:     func(on, from *Ingredient) { on.Step = from.Step },
		},
		numberField("kept_at_c", -30, 100, func(i *Ingredient) *float64 { return (*float64)(&i.KeptAt) }, float64(roomTemperature)),
		numberField("piece", 0, 1e4, func(i *Ingredient) *float64 { return &i.Piece }, 0),
		numberField("bulk_density_g_per_ml", 0, 3, func(i *Ingredient) *float64 { return &i.BulkGramsPerMillilitre }, 0),
		numberField("solubility_g_per_l", 0, 1e4, func(i *Ingredient) *float64 { return &i.SolubleGramsPerLitre }, 0),
		textField("solubility_g_per_l_source", func(i *Ingredient) *string { return &i.SolubilitySource }),
		numberField("dash_ml", 0, 10, func(i *Ingredient) *float64 { return &i.DashMillilitres }, 0),
	)
	all = append(all, tradeFields()...)
	for c := range Column(Columns) {
		all = append(all, spreadField(c), sourceField(c))
	}
	return all
}

// rowFields are the columns that speak for the whole row.
func rowFields() []field {
	confidence := textField("confidence", func(i *Ingredient) *string { return (*string)(&i.Confidence) })
	confidence.read = func(i *Ingredient, text string) wrongCell {
		if !slices.Contains(confidences, Confidence(text)) {
			return wrongCell{"is no degree of confidence; expected seen, memory, estimate or computed", ""}
		}
		i.Confidence = Confidence(text)
		return wrongCell{}
	}
	return []field{
		listField("allergens", func(i *Ingredient) *[]string { return &i.Allergens }),
		numberField("typical_spread_percent", 0, 1000, func(i *Ingredient) *float64 { return &i.SpreadPercent }, 0),
		textField("source", func(i *Ingredient) *string { return &i.Source }),
		confidence,
		textField("note", func(i *Ingredient) *string { return &i.Note }),
	}
}

func textField(heading string, of func(*Ingredient) *string) field {
	return field{
		heading: heading,
		read:    func(i *Ingredient, text string) wrongCell { *of(i) = text; return wrongCell{} },
		write:   func(i *Ingredient) string { return *of(i) },
		lay:     func(on, from *Ingredient) { *of(on) = *of(from) },
	}
}

// choiceField holds one of two words; the second is true.
func choiceField(heading string, of func(*Ingredient) *bool, no, yes string) field {
	return field{
		heading: heading,
		read: func(i *Ingredient, text string) wrongCell {
			if text != no && text != yes {
				return wrongCell{"is neither; expected " + no + " or " + yes, ""}
			}
			*of(i) = text == yes
			return wrongCell{}
		},
		write: func(i *Ingredient) string {
			if *of(i) {
				return yes
			}
			return no
		},
		lay: func(on, from *Ingredient) { *of(on) = *of(from) },
	}
}

// listField holds words parted by semicolons; "none" says that there are none.
func listField(heading string, of func(*Ingredient) *[]string) field {
	return field{
		heading: heading,
		read: func(i *Ingredient, text string) wrongCell {
			var words []string
			for word := range strings.SplitSeq(text, ";") {
				if word = strings.TrimSpace(word); word != "" && word != "none" {
					words = append(words, word)
				}
			}
			*of(i) = words
			return wrongCell{}
		},
		write: func(i *Ingredient) string { return strings.Join(*of(i), "; ") },
		lay:   func(on, from *Ingredient) { *of(on) = *of(from) },
	}
}

// numberField holds a number from low to high that is no figure of the
// composition; usual stands for an empty cell.
func numberField(heading string, low, high float64, of func(*Ingredient) *float64, usual float64) field {
	return field{
		heading: heading,
		number:  true,
		read: func(i *Ingredient, text string) wrongCell {
			v, wrong := parseWithin(text, low, high)
			*of(i) = v
			return wrong
		},
		write: func(i *Ingredient) string {
			if *of(i) == usual {
				return ""
			}
			return formatNumber(*of(i))
		},
		lay: func(on, from *Ingredient) { *of(on) = *of(from) },
	}
}

func figureField(c Column) field {
	return field{
		heading: c.Name(),
		number:  true,
		read: func(i *Ingredient, text string) wrongCell {
			v, wrong := parseWithin(text, columns[c].low, columns[c].high)
			if wrong.message == "" {
				i.Figures[c].Value, i.Figures[c].Known = v, true
			}
			return wrong
		},
		write: func(i *Ingredient) string {
			if !i.Figures[c].Known {
				return ""
			}
			return formatNumber(i.Figures[c].Value)
		},
		lay: func(on, from *Ingredient) {
			on.Figures[c].Value, on.Figures[c].Known = from.Figures[c].Value, true
			layOrigin(on, from, c)
		},
	}
}

func spreadField(c Column) field {
	return field{
		heading: c.Name() + spreadEnding,
		number:  true,
		besides: true,
		read: func(i *Ingredient, text string) wrongCell {
			v, wrong := parseWithin(text, 0, max(columns[c].high, -columns[c].low))
			i.Figures[c].Spread, i.Figures[c].OwnSpread = v, wrong.message == ""
			return wrong
		},
		write: func(i *Ingredient) string {
			if !i.Figures[c].OwnSpread {
				return ""
			}
			return formatNumber(i.Figures[c].Spread)
		},
		lay: func(on, from *Ingredient) {
			on.Figures[c].Spread, on.Figures[c].OwnSpread = from.Figures[c].Spread, true
		},
	}
}

func sourceField(c Column) field {
	return field{
		heading: c.Name() + sourceEnding,
		besides: true,
		read: func(i *Ingredient, text string) wrongCell {
			i.Figures[c].Source, i.Figures[c].Confidence = parseCellSource(text)
			return wrongCell{}
		},
		write: func(i *Ingredient) string {
			if !i.Figures[c].Known {
				return ""
			}
			return i.cellSource(i.Figures[c])
		},
		lay: func(on, from *Ingredient) { layOrigin(on, from, c) },
	}
}

// layOrigin lays the source and confidence of a figure over another's. A figure
// without a source comes from the file it stands in.
func layOrigin(on, from *Ingredient, c Column) {
	to, by := &on.Figures[c], from.Figures[c]
	to.Source, to.Confidence = by.Source, by.Confidence
	if to.Source == "" && to.Confidence.fromSource() {
		to.Source = from.Place.File
	}
}

// parseWithin reads a bare number from low to high.
func parseWithin(text string, low, high float64) (float64, wrongCell) {
	v, wrong := parseNumber(text)
	switch {
	case wrong.message != "":
		return 0, wrong
	case v < 0 && low >= 0:
		return 0, wrongCell{"is negative; expected 0 or more", ""}
	case v < low || v > high:
		return 0, wrongCell{fmt.Sprintf("is out of range; expected %s to %s", formatNumber(low), formatNumber(high)), ""}
	}
	return v, wrongCell{}
}

// fieldNamed returns the index of the field of a heading, whatever its case.
func fieldNamed(heading string) (int, bool) {
	n, ok := fieldIndex[strings.ToLower(heading)]
	return n, ok
}

// fieldIndex finds fields by their heading in small letters.
var fieldIndex = func() map[string]int {
	index := make(map[string]int, len(fields))
	for n := range fields {
		index[strings.ToLower(fields[n].heading)] = n
	}
	return index
}()

// The fields that more than their own cell depends on.
var (
	nameField, stateField    = fieldOf("name"), fieldOf("state")
	basisField, measureField = fieldOf("basis"), fieldOf(measureHeading)
	idField, aliasesField    = fieldOf("id"), fieldOf("aliases")
	sourceOfRowField         = fieldOf("source")
	allergensField           = fieldOf("allergens")
	priceField, packField    = fieldOf("price"), fieldOf("pack")
	currencyField            = fieldOf("currency")
	veganField               = fieldOf("vegan")

	// figureFields are those of the composition columns.
	figureFields = func() (all [Columns]int) {
		for c := range all {
			all[c] = fieldOf(columns[c].heading)
		}
		return all
	}()
	// cellSourceFields are those of the sources of the single figures.
	cellSourceFields = func() (all [Columns]int) {
		for c := range all {
			all[c] = fieldOf(columns[c].heading + sourceEnding)
		}
		return all
	}()
)

func fieldOf(heading string) int {
	n, ok := fieldNamed(heading)
	if !ok {
		panic("pantry: no column " + heading)
	}
	return n
}

// cleanText strips control characters and doubled spaces from a cell.
func cleanText(text string) string {
	if isClean(text) {
		return text
	}
	text = strings.Map(func(r rune) rune {
		switch {
		case unicode.IsSpace(r):
			return ' '
		case isControl(r):
			return -1
		default:
			return r
		}
	}, text)
	return strings.Join(strings.Fields(text), " ")
}

// isClean tells of most texts in plain letters that cleanText has nothing to do.
func isClean(text string) bool {
	last := byte(' ')
	for n := range len(text) {
		c := text[n]
		if c < ' ' || c > '~' || c == ' ' && last == ' ' {
			return false
		}
		last = c
	}
	return text == "" || last != ' '
}

// A spreadsheet takes a cell that starts with one of these for a formula.
const formulaStarts = "=+-@"

// guard puts an apostrophe before text that a spreadsheet would take for a
// formula, and before text that unguard would cut.
func guard(text string) string {
	if startsFormula(strings.TrimLeft(text, "'")) {
		return "'" + text
	}
	return text
}

// unguard undoes guard.
func unguard(text string) string {
	if rest, guarded := strings.CutPrefix(text, "'"); guarded && startsFormula(strings.TrimLeft(rest, "'")) {
		return rest
	}
	return text
}

func startsFormula(text string) bool {
	return text != "" && strings.ContainsRune(formulaStarts, rune(text[0]))
}

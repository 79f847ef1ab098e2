package main

import (
	"encoding/csv"
	"encoding/json"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"
)

// cardOf is the page of a drink.
func cardOf(t *testing.T, input string, args ...string) string {
	t.Helper()
	code, page, errs := minim(t, input, append([]string{"card"}, args...)...)
	if code != exitAnswered && code != exitLimitBroke {
		t.Fatalf("minim card %q: exit code %d\n%s", args, code, errs)
	}
	return page
}

// everything is a drink with all that a card can show.
const everything = `drink: NAME
glass: 300 ml
mix:
  gin: 45 ml at -18 °C
  lemon juice: 20 ml
  sugar: 1.5 g
  aromatic bitters: 2 dashes
  egg white: 1 piece
ice: shake
top:
  tonic water: 90 ml
finish:
  - NAME
target:
  volume: 240 ml
  abv: 9..11 %
  acid: 5 g/L
  bitter: at most 1 mg/L
  ethanol: at most 40 g
  ph: 3 ± 0.2
`

// named is that drink by a name.
func everythingNamed(name string) string {
	return strings.ReplaceAll(everything, "NAME", strconv.Quote(name))
}

// What is not void is closed, so the page is XML too, and any reader of that
// counts its elements.
func TestCardIsWellFormed(t *testing.T) {
	for _, question := range finishedDrinks(t) {
		page := cardOf(t, question, "-", "--pantry", filepath.Join(examples(t), "weir-lantern.csv"))
		counted, _ := elements(t, page)
		for element, want := range map[string]int{"html": 1, "body": 1, "main": 1, "h1": 1, "h3": 0, "article": 1, "svg": 3, "script": 1, "link": 0, "img": 0, "iframe": 0, "form": 0} {
			if got := counted[element]; got != want {
				t.Errorf("%d of %s, expected %d:\n%s", got, element, want, question)
			}
		}
		if !strings.HasPrefix(page, "<!DOCTYPE html>\n<html lang=\"en-GB\">\n") {
			t.Errorf("the page begins with %.60q", page)
		}
		if n, all := strings.Count(page, `<th scope="`), counted["th"]; n != all {
			t.Errorf("%d of %d headings of tables say what they head", n, all)
		}
	}
}

var addresses = regexp.MustCompile(`[a-zA-Z]+://[^"\s<]*`)

// A card stands by itself: nothing in it is fetched. The only addresses are the
// names of SVG (W3C) and of the vocabulary of recipes (schema.org).
func TestCardLoadsNothing(t *testing.T) {
	page := cardOf(t, everythingNamed("Slack Water"), "-")
	for _, found := range addresses.FindAllString(page, -1) {
		if found != "http://www.w3.org/2000/svg" && !strings.HasPrefix(found, "https://schema.org") {
			t.Errorf("the page names %s", found)
		}
	}
	for _, word := range []string{"src=", "@import", "url(", "<link", "<script>", "javascript", "@font-face"} {
		if strings.Contains(page, word) {
			t.Errorf("the page holds %q", word)
		}
	}
	if !strings.Contains(page, `content="default-src &#39;none&#39;`) && !strings.Contains(page, `content="default-src 'none'`) {
		t.Error("the page does not forbid loading")
	}
}

// Names are text wherever they stand: the same elements, and the same attributes,
// as with a plain name.
func TestHostileNamesAreInertOnACard(t *testing.T) {
	attributes := regexp.MustCompile(`\son[a-z]+\s*=\s*["']|href="[^#]`)
	plain, _ := elements(t, cardOf(t, everythingNamed("name"), "-"))
	for _, hostile := range []string{
		"<script>alert(1)</script>", "</script><script>alert(1)</script>", "</style><img src=x onerror=alert(1)>", `" onmouseover="alert(1)`,
		"' onfocus='alert(1)", "javascript:alert(1)", "</title></head><body onload=alert(1)>", "<!-- ", "-->", "]]>", "{{.Title}}", "&lt;script&gt;",
		"</svg><svg onload=alert(1)>", "</dd></dl></article></main>", "\\u003cscript\\u003e", "expression(alert(1))", strings.Repeat("long ", 35),
	} {
		page := cardOf(t, everythingNamed(hostile), "-")
		counted, words := elements(t, page)
		for element, n := range counted {
			if plain[element] != n {
				t.Errorf("%q: %d of %s, but %d with a plain name", hostile, n, element, plain[element])
			}
		}
		markup := regexp.MustCompile(`>[^<]*<`).ReplaceAllString(page, "><")
		if found := attributes.FindString(strings.ReplaceAll(markup, "&#34;", "")); found != "" {
			t.Errorf("%q: attribute %q", hostile, found)
		}
		if !strings.Contains(strings.Join(strings.Fields(words), " "), strings.Join(strings.Fields(hostile), " ")) {
			t.Errorf("%q is not to be read", hostile)
		}
		heading := regexp.MustCompile(`(?s)<h1 class="name">(.*?)</h1>`).FindStringSubmatch(page)
		if heading == nil || strings.TrimSpace(heading[1]) == "" {
			t.Errorf("%q: the page has no heading", hostile)
		}
	}
}

// An ingredient of somebody's CSV is text too.
func TestHostileIngredientIsInertOnACard(t *testing.T) {
	const bottle = `<b onclick="alert(1)">gin</b>`
	file := filepath.Join(t.TempDir(), "bar.csv")
	var rows strings.Builder
	w := csv.NewWriter(&rows)
	w.WriteAll([][]string{{"name", "category", "abv_percent", "allergens", "price", "pack", "currency"}, {bottle, "spirit", "40", "", "20", "700 ml", "EUR"}})
	if err := os.WriteFile(file, []byte(rows.String()), 0o644); err != nil {
		t.Fatal(err)
	}
	page := cardOf(t, "mix:\n  '"+bottle+"': 40 ml\n", "-", "--pantry", file, "--cost")
	if strings.Contains(page, "<b onclick") {
		t.Error("a name became markup")
	}
	if _, words := elements(t, page); !strings.Contains(words, bottle) {
		t.Error("the name is not to be read")
	}
}

// The recipe within the page is JSON and names the drink.
func TestRecipeWithinACardCanBeRead(t *testing.T) {
	for _, name := range []string{"Slack Water", "</script><script>alert(1)</script>", `quoted "so"`} {
		page := cardOf(t, everythingNamed(name), "-")
		found := regexp.MustCompile(`(?s)<script type="application/ld\+json">(.*?)</script>`).FindStringSubmatch(page)
		var recipe struct {
			Context string `json:"@context"`
			Type    string `json:"@type"`
			Name    string `json:"name"`
		}
		if found == nil {
			t.Fatalf("no recipe in the card of %q", name)
		}
		if err := json.Unmarshal([]byte(found[1]), &recipe); err != nil || recipe.Name != name || recipe.Type != "Recipe" {
			t.Errorf("%q: %v, %+v", name, err, recipe)
		}
	}
}

func TestCardsAreTheSameBytesTwice(t *testing.T) {
	house := filepath.Join(examples(t), "weir-lantern.csv")
	args := []string{"card", examples(t), "--pantry", house}
	first := process(t, nil, args...)
	if again := process(t, nil, args...); again != first {
		t.Error("a book written twice differs")
	}
	if elsewhere := process(t, foreign, args...); elsewhere != first {
		t.Error("a book written elsewhere differs")
	}
}

var (
	pourLines = regexp.MustCompile(`(?s)<li><span class="place">(\d+)</span><b class="amount">(.*?)</b> <span class="unit">(.*?)</span> <span class="what">(.*?)</span></li>`)
	tags      = regexp.MustCompile(`<[^>]*>`)
)

// Every pour of the answer stands on the card, in its order, as design prints it
// for other programs.
func TestEveryAmountOfTheAnswerIsOnTheCard(t *testing.T) {
	house := filepath.Join(examples(t), "weir-lantern.csv")
	for _, question := range questions(t)[:5] {
		_, out, _ := minim(t, "", append([]string{"design", "--pantry", house, "--spec"}, question...)...)
		report := decoded(t, out, exitAnswered, "profile", "-", "--pantry", house, "--json")
		lines := pourLines.FindAllStringSubmatch(cardOf(t, "", append([]string{"--pantry", house}, question...)...), -1)
		pours := report["pours"].([]any)
		if len(lines) != len(pours) {
			t.Fatalf("%q: %d pours on the card, expected %d", question, len(lines), len(pours))
		}
		for i, line := range lines {
			pour := pours[i].(map[string]any)
			amount, err := strconv.ParseFloat(strings.TrimSpace(strings.Trim(line[2], "\u2007\u2008")), 64)
			if err != nil || amount != pour["amount"].(float64) || strings.TrimSuffix(strings.TrimSuffix(line[3], "es"), "s") != strings.TrimSuffix(pour["unit"].(string), "es") {
				t.Errorf("%q: %q on the card, expected %v %v", question, line[0], pour["amount"], pour["unit"])
			}
			if !strings.HasPrefix(tags.ReplaceAllString(line[4], ""), pour["ingredient"].(string)) {
				t.Errorf("%q: %q on the card, expected %v", question, line[4], pour["ingredient"])
			}
		}
	}
}

// A book has each spec of the folder in the order of the files, and its index
// leads to each.
func TestIndexOfABookLeadsToEveryDrink(t *testing.T) {
	folder := examples(t)
	page := cardOf(t, "", folder, "--pantry", filepath.Join(folder, "weir-lantern.csv"), "--name", "The list")
	files, err := filepath.Glob(filepath.Join(folder, "*.yaml"))
	if err != nil {
		t.Fatal(err)
	}
	links := regexp.MustCompile(`<a href="#([^"]+)">([^<]+)</a>`).FindAllStringSubmatch(page, -1)
	ids := map[string]int{}
	for _, found := range regexp.MustCompile(` id="([^"]+)"`).FindAllStringSubmatch(page, -1) {
		ids[found[1]]++
	}
	at := 0
	for _, link := range links {
		if ids[link[1]] != 1 {
			t.Errorf("%s leads to %d places", link[0], ids[link[1]])
		}
		if link[2] == "All drinks" {
			continue
		}
		spec, err := os.ReadFile(files[at])
		if err != nil {
			t.Fatal(err)
		}
		if !strings.Contains(string(spec), "drink: "+link[2]+"\n") {
			t.Errorf("the index names %s, expected that of %s", link[2], files[at])
		}
		at++
	}
	if cards := strings.Count(page, "<article "); at != len(files) || cards != len(files) || strings.Count(page, "<h1 ") != 1 || !strings.Contains(page, ">The list</h1>") {
		t.Errorf("%d drinks in the index and %d cards of %d files", at, cards, len(files))
	}
}

// Names and files alike tell the drinks of a book apart.
func TestBookTellsDrinksOfOneNameApart(t *testing.T) {
	folder := t.TempDir()
	for n := range 2 {
		if err := os.WriteFile(filepath.Join(folder, fmt.Sprintf("%d.yaml", n)), []byte("drink: Same\nmix:\n  gin: 50 ml\n"), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	page := cardOf(t, "", folder)
	for n := range 2 {
		if !strings.Contains(page, fmt.Sprintf("%c%d.yaml</a>", filepath.Separator, n)) {
			t.Errorf("drink %d is not told apart", n)
		}
	}
}

// By hand: 42.5, 20 and 12.5 ml times 10 and 40; two fluid ounces of 29.5735 ml
// times 20 are 40.
func TestBatchTableIsTheServeTimesSoMany(t *testing.T) {
	page := cardOf(t, "mix:\n  gin: 42.5 ml\n  lemon juice: 20 ml\n  sugar: 1.5 g\n", "-")
	for name, want := range map[string][]string{
		"gin": {"42.5", "425", "850", "1700"}, "lemon juice": {"20", "200", "400", "800"}, "sugar": {"1.5 g", "15.0 g", "30.0 g", "60.0 g"},
	} {
		rowHas(t, page, name, want)
	}
	rowHas(t, cardOf(t, "mix:\n  gin: 2 oz\n", "-", "--units", "oz"), "gin", []string{"2", "20", "40", "80"})
}

// What is written in the spec weighs the same on the card as on the batch sheet, to
// the step of the sheet's scale and half of the card's last digit.
func TestCardAndBatchSheetAgree(t *testing.T) {
	const spec = "mix:\n  gin: 42.5 ml\n  simple syrup: 17.5 ml\n  sugar: 1.5 g\n"
	page := cardOf(t, spec, "-")
	for n, serves := range []string{"1", "10", "20", "40"} {
		_, out, _ := minim(t, spec, "batch", "-", "--serves", serves, "--json")
		var sheet struct{ Batch jsonBatch }
		if err := json.Unmarshal([]byte(out), &sheet); err != nil {
			t.Fatal(err)
		}
		for _, line := range sheet.Batch.Rows {
			_, row, _ := strings.Cut(page, `<tr><th scope="row">`+line.Ingredient)
			row, _, _ = strings.Cut(row, "</tr>")
			cells := regexp.MustCompile(`<small>([0-9.]+) g</small>`).FindAllStringSubmatch(row, -1)
			if len(cells) != 4 {
				t.Fatalf("the row of %s is %q", line.Ingredient, row)
			}
			grams, err := strconv.ParseFloat(cells[n][1], 64)
			if err != nil || math.Abs(grams-line.Grams) > line.Step+0.5 {
				t.Errorf("%s serves of %s: %s g on the card, %g g on the sheet", serves, line.Ingredient, cells[n][1], line.Grams)
			}
		}
	}
}

func rowHas(t *testing.T, page, name string, want []string) {
	t.Helper()
	_, row, found := strings.Cut(page, `<tr><th scope="row">`+name)
	row, _, _ = strings.Cut(row, "</tr>")
	cells := regexp.MustCompile(`<td>(?:<span>|<small>)([^<]*)<`).FindAllStringSubmatch(row, -1)
	if !found || len(cells) != len(want) {
		t.Fatalf("the row of %s is %q", name, row)
	}
	for i := range want {
		if cells[i][1] != want[i] {
			t.Errorf("%s: %s, expected %s", name, cells[i][1], want[i])
		}
	}
}

// By hand: 60 ml of 700 ml at 28.00 is 2.40, 20 ml of a litre at 6.00 is 0.12.
func TestCostOfACard(t *testing.T) {
	file := filepath.Join(t.TempDir(), "prices.csv")
	write := func(currency string) {
		rows := "name,price,pack,currency\nBourbon,28,700 ml,EUR\nLemon juice,6,1000 ml," + currency + "\n"
		if err := os.WriteFile(file, []byte(rows), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	const sour = "mix:\n  bourbon: 60 ml\n  lemon juice: 20 ml\n"
	for _, one := range []struct{ currency, drink, says string }{
		{"EUR", sour, "A serve costs 2.52 EUR; the bourbon makes 95 % of it."},
		{"EUR", sour + "  rich syrup: 10 ml\n", "A serve costs at least 2.52 EUR; the bourbon makes 95 % of it. No price or no pack is known of rich syrup."},
	} {
		write(one.currency)
		if page := cardOf(t, one.drink, "-", "--cost", "--pantry", file); !strings.Contains(page, "<dt>Cost</dt><dd>"+one.says) {
			t.Errorf("the card of\n%s does not say %q", one.drink, one.says)
		}
		if page := cardOf(t, one.drink, "-", "--pantry", file); strings.Contains(page, "Cost") {
			t.Error("a cost that nobody asked for")
		}
	}
}

// Strength is in whole or half percent, acid in g/L and the percent of the trade.
func TestFactsOfACard(t *testing.T) {
	page := cardOf(t, "mix:\n  vodka: 60 ml\n  water: 30 ml\n", "-")
	// 26.71 % vol by OIML R 22 (1975) at 20 °C, masses adding.
	if !strings.Contains(page, "<dt>strength</dt><dd>26.5 % vol</dd>") {
		t.Error("two of vodka and one of water is not 26.5 % vol on the card")
	}
	page = cardOf(t, "mix:\n  acid bottle: 100 ml\n", "-", "--pantry", acidBottle(t))
	if !strings.Contains(page, "<dt>acid</dt><dd>60.0 g/L (6.0 %)</dd>") {
		t.Error("60 g/L is not 6 % on the card")
	}
	if !strings.Contains(page, "<dt>strength</dt><dd>unknown</dd>") {
		t.Error("a strength that is unknown is not said to be")
	}
}

// acidBottle is a CSV with a solution of 60 g/L of citric acid.
func acidBottle(t *testing.T) string {
	t.Helper()
	file := filepath.Join(t.TempDir(), "acid.csv")
	if err := os.WriteFile(file, []byte("name,citric_g_per_l,titratable_acidity_g_per_l_as_citric,density_g_per_ml\nAcid bottle,60,60,1.02\n"), 0o644); err != nil {
		t.Fatal(err)
	}
	return file
}

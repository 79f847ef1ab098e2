package pantry

import (
	"fmt"
	"strings"
	"testing"
)

// longPantry is a bar's file of that many rows, as a spreadsheet would hold it.
func longPantry(rows int) string {
	var b strings.Builder
	b.WriteString("name,category,abv_percent,sucrose_g_per_l,citric_g_per_l,aliases,price,pack,currency,source\n")
	for n := range rows {
		fmt.Fprintf(&b, "Bottle no. %d,liqueur,%d,%d,1,bottle %dth; the %dth,%d.50,700 ml,EUR,the label\n", n, n%40, n%300, n, n, 10+n%30)
	}
	return b.String()
}

func BenchmarkOverlayTenThousandRows(b *testing.B) {
	text := longPantry(10_000)
	below := Embedded()
	b.SetBytes(int64(len(text)))
	for b.Loop() {
		if _, err := below.Overlay(strings.NewReader(text), "bar.csv"); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkFind(b *testing.B) {
	for _, rows := range []int{100, 10_000} {
		shelf, err := Embedded().Overlay(strings.NewReader(longPantry(rows)), "bar.csv")
		if err != nil {
			b.Fatal(err)
		}
		b.Run(fmt.Sprintf("%d rows", rows), func(b *testing.B) {
			for b.Loop() {
				for _, name := range []string{"bottle no. 7", "The 99th", "lime juice", "gin", "Bottle no. 50", "rich syrup", "saline 20 %", "water"} {
					if _, err := shelf.Find(name); err != nil {
						b.Fatal(err)
					}
				}
			}
		})
	}
}

func BenchmarkCheckTenThousandRows(b *testing.B) {
	text := longPantry(10_000)
	for b.Loop() {
		Check(strings.NewReader(text), "bar.csv", Embedded())
	}
}

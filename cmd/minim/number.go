package main

import (
	"math"
	"strconv"
	"strings"

	"minim/profile"
)

// decimals is how many decimals a property is compared with in a table of
// misses.
var decimals = map[profile.Property]int{
	profile.Volume: 1, profile.Strength: 1, profile.Sugar: 1, profile.Sweetness: 1, profile.Acid: 2, profile.PH: 2,
	profile.Salt: 2, profile.Bitter: 1, profile.Umami: 2, profile.Temperature: 1, profile.Dilution: 1,
	profile.CarbonDioxide: 1, profile.Viscosity: 1, profile.Ethanol: 1, profile.Energy: 0, profile.Caffeine: 0,
}

// fixed writes v with so many decimals, and no minus before a zero.
func fixed(v float64, places int) string {
	text := strconv.FormatFloat(v, 'f', places, 64)
	if strings.Trim(text, "-0.") == "" {
		text = strings.TrimPrefix(text, "-")
	}
	return text
}

// signed writes v with its sign, nothing before a zero.
func signed(v float64, places int) string {
	text := fixed(v, places)
	if v > 0 && strings.Trim(text, "0.") != "" {
		text = "+" + text
	}
	return text
}

// placesFor is how many decimals a value known to ± deserves: those that make
// the ± one digit, two where it begins with a 1 or a 2.
func placesFor(plusMinus float64) int {
	return max(0, -int(math.Floor(math.Log10(plusMinus/3))))
}

// alignPoints pads numbers with spaces so that their decimal points stand below
// one another in a column set to the right.
func alignPoints(cells []string) {
	longest := 0
	tail := func(s string) int {
		if i := strings.IndexByte(s, '.'); i >= 0 {
			return len(s) - i
		}
		return 0
	}
	for _, s := range cells {
		longest = max(longest, tail(s))
	}
	for i, s := range cells {
		if s != "" {
			cells[i] = s + strings.Repeat(" ", longest-tail(s))
		}
	}
}

// trimmed writes v with as few decimals as it has, so many at most.
func trimmed(v float64, places int) string {
	text := fixed(v, places)
	if !strings.Contains(text, ".") {
		return text
	}
	return strings.TrimSuffix(strings.TrimRight(text, "0"), ".")
}

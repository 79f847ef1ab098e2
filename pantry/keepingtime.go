package pantry

import (
	"regexp"
	"strconv"
	"strings"
)

// keepingDays are the days in a word for a time; "the same day" is one.
var keepingDays = map[string]float64{"hour": 1.0 / 24, "day": 1, "week": 7, "month": 30, "year": 365}

var keepingTime = regexp.MustCompile(`\b(\d+(?:\.\d+)?|an?|one|the same) (hour|day|week|month|year)s?\b`)

// KeepingDays reads how many days it keeps out of the words in Keeps: the
// longest time named there, so 3 of "best within a day, 3 days cold". A month
// counts 30 days. Of what a prep makes it is what its spec states. ok is false where
// no time is named.
func (i *Ingredient) KeepingDays() (days float64, ok bool) {
	if i.made != nil {
		return float64(i.made.keeps.Hours()) / 24, i.made.keeps.Count > 0
	}
	for _, found := range keepingTime.FindAllStringSubmatch(strings.ToLower(i.Keeps), -1) {
		count, err := strconv.ParseFloat(found[1], 64)
		if err != nil {
			count = 1
		}
		days, ok = max(days, count*keepingDays[found[2]]), true
	}
	return days, ok
}

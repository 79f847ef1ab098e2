package solver

import "testing"

// 30 ml of a bitter aperitif of 25 % vol, 30 ml of vermouth of 16 % and 40 ml of
// water are 12.3 % vol. The vermouth alone keeps 4 weeks, juice 3 days; the bounds
// of a batch are common practice, no source. Gin alone is said to keep for no time,
// dry madeira for 6 months, 30 days each: 60 ml of 40 % and 30 ml of 19 % are 33 % vol.
// Rich syrup, two parts of sugar in three, 67 % by weight, keeps 2 months.
func TestABatchIsNotKeptAsLongAsItsLongestPart(t *testing.T) {
	for _, c := range []struct {
		mix               string
		freshIn           bool
		says, within, cap float64
	}{
		{"  bitter aperitif: 30 ml\n  blanc vermouth: 30 ml\n  water: 40 ml\n", false, 28, 7, 7},
		{"  gin: 30 ml\n  water: 70 ml\n", false, 0, 7, 7},
		{"  gin: 30 ml\n  grapefruit juice: 70 ml\n", true, 2, 2, 3},
		{"  gin: 30 ml\n  cranberry juice: 70 ml\n", true, 7, 3, 3},
		{"  gin: 60 ml\n  blanc vermouth: 30 ml\n", false, 28, 28, 56},
		{"  gin: 60 ml\n  dry madeira: 30 ml\n", false, 180, 56, 56},
		{"  gin: 60 ml\n", false, 0, 56, 56},
		{"  rich syrup: 60 ml\n", false, 60, 56, 56},
		{"  gin: 80 ml\n  cranberry juice: 20 ml\n", true, 7, 3, 3},
	} {
		h := makeBatch(t, "mix:\n"+c.mix, BatchSize{Serves: 10}, func(q *BatchQuestion) { q.FreshIn = c.freshIn }).Holding
		if h.Days != c.says || h.UseWithin() != c.within || h.MostDays != c.cap {
			t.Errorf("%skeeps %g days, use within %g, at most %g", c.mix, h.Days, h.UseWithin(), h.MostDays)
		}
	}
}

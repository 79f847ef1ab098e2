package profile

import "testing"

// tenPours are pours like those of a long recipe, one in each line.
func tenPours() (pours [10]State) {
	pours[0] = ethanolWater(45, 40)
	pours[1] = ethanolWater(15, 24)
	pours[2] = ethanolWater(15, 17)
	pours[3] = solution("sucrose", 50).Scale(0.2)
	pours[4] = solution("fructose", 40).Scale(0.1)
	pours[5] = solution("citric_acid", 6).Scale(0.25)
	pours[6] = solution("citric_acid", 1).Scale(0.3)
	pours[7] = solution("sodium_chloride", 20).Scale(0.01)
	pours[8] = ethanolWater(1, 44.7)
	pours[9] = water(10)
	for i := range pours {
		pours[i] = at(pours[i], 20)
	}
	return pours
}

// mixed is the drink of amounts of the pours, shaken.
func mixed(pours *[10]State, amounts *[10]float64) Drink {
	d := Drink{Ice: Ice{Method: Shake}}
	for i := range pours {
		for c, perUnit := range pours[i] {
			d.Mix[c] += amounts[i] * perUnit
		}
	}
	return d
}

var onePart = [10]float64{1, 1, 1, 1, 1, 1, 1, 1, 1, 1}

func BenchmarkEvaluateValues(b *testing.B) {
	pours, amounts := tenPours(), onePart
	var values Values
	b.ReportAllocs()
	for b.Loop() {
		d := mixed(&pours, &amounts)
		d.Evaluate(AllProperties, &values, nil, nil)
	}
}

func BenchmarkEvaluateWithDerivatives(b *testing.B) {
	pours, amounts := tenPours(), onePart
	var values Values
	var mix, top Gradients
	b.ReportAllocs()
	for b.Loop() {
		d := mixed(&pours, &amounts)
		d.Evaluate(AllProperties, &values, &mix, &top)
	}
}

func TestEvaluateAllocatesNothing(t *testing.T) {
	pours, amounts := tenPours(), onePart
	var values Values
	var mix, top Gradients
	for name, evaluate := range map[string]func(){
		"values":           func() { d := mixed(&pours, &amounts); d.Evaluate(AllProperties, &values, nil, nil) },
		"with derivatives": func() { d := mixed(&pours, &amounts); d.Evaluate(AllProperties, &values, &mix, &top) },
	} {
		if allocations := testing.AllocsPerRun(100, evaluate); allocations != 0 {
			t.Errorf("%s: %g allocations", name, allocations)
		}
	}
}

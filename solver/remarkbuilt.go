package solver

import (
	"fmt"

	"minim/profile"
)

// remarkBuilt says of a topped drink that was built in its glass that its
// temperature and melt are those of the moment when the top is poured: the ice
// which stays in the glass has not yet met the top. Below half a gram there is no
// ice left to speak of.
func (a *Answer) remarkBuilt() {
	topped := false
	for i := range a.Pours {
		topped = topped || a.Pours[i].Stage == OnTop && a.Pours[i].Grams > 0
	}
	left := a.LeftOnIce(0).Mass
	if !topped || left < 0.5 {
		return
	}
	a.Notes = append(a.Notes, fmt.Sprintf("%s is that of the drink as the top is poured: the %.0f g of ice left in the glass chill it further, and melt into it", profile.Temperature.Name(), float64(left)))
}

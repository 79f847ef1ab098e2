package solver

import (
	"errors"
	"fmt"
	"math"

	"minim/profile"
)

// BatchSize says how much of a drink is made, in one of four ways: Serves;
// Volume; Bottle, with Bottles or Serves or as one bottle; or Keg. What is
// measured is what is mixed beforehand: what is added at service does not count.
type BatchSize struct {
	// Serves is how many drinks; 0: as many as the volume gives.
	Serves int
	// Volume is how much is mixed, at 20 °C.
	Volume profile.Millilitre
	// Bottle is what one bottle is filled with, Bottles how many; Bottles 0: as
	// many as Serves take, else one.
	Bottle  profile.Millilitre
	Bottles int
	// Keg is what a keg holds, and HeadSpace the percentage of it that stays
	// empty, from 0 to below 100.
	Keg       profile.Millilitre
	HeadSpace float64
}

// DefaultHeadSpace is the part of a keg in percent that stays empty where
// nothing else is said, for gas and for the liquid to swell in; common practice,
// no source.
const DefaultHeadSpace = 10

// The most that a batch may come to; beyond it lies a slip of the keyboard.
// Common practice, no source.
const (
	mostServes                         = 10_000
	mostBottles                        = 10_000
	mostBatched     profile.Millilitre = 1_000_000
	leastContainer  profile.Millilitre = 10
	litresOfBatch                      = 1000
	wordsForAnySize                    = "a number of serves, a volume, a bottle or a keg"
)

// Check says what is wrong with a size: none or two of the four ways, or numbers
// out of range, such as 0, a negative one, or more than 1000 litres.
func (b *BatchSize) Check() error {
	ways := 0
	for _, given := range []bool{b.Serves != 0 && b.Bottle == 0, b.Volume != 0, b.Bottle != 0, b.Keg != 0} {
		if given {
			ways++
		}
	}
	volume := func(name string, v profile.Millilitre) error {
		if v == 0 || v >= leastContainer && v <= mostBatched {
			return nil
		}
		return fmt.Errorf("%s of %s ml; expected from %g ml to %g litres", name, significant(float64(v)), leastContainer, mostBatched/litresOfBatch)
	}
	switch {
	case b.Bottles != 0 && b.Bottle == 0:
		return errors.New("a number of bottles without what a bottle holds; expected both")
	case ways == 0:
		return errors.New("no size of batch; expected " + wordsForAnySize)
	case ways > 1:
		return errors.New("a batch of two sizes; expected one of " + wordsForAnySize)
	case b.Serves < 0 || b.Serves > mostServes:
		return fmt.Errorf("%d serves; expected from 1 to %d", b.Serves, mostServes)
	case b.Bottles < 0 || b.Bottles > mostBottles:
		return fmt.Errorf("%d bottles; expected from 1 to %d", b.Bottles, mostBottles)
	case b.Bottles != 0 && b.Serves != 0:
		return errors.New("a number of bottles and one of serves; expected the one or the other")
	case !(b.HeadSpace >= 0 && b.HeadSpace < 100):
		return fmt.Errorf("head space of %s %%; expected from 0 to less than 100", significant(b.HeadSpace))
	}
	return errors.Join(volume("a batch", b.Volume), volume("a bottle", b.Bottle), volume("a keg", b.Keg))
}

// total is the volume that is to be mixed; 0 where serves say how much.
func (b *BatchSize) total() profile.Millilitre {
	switch {
	case b.Volume > 0:
		return b.Volume
	case b.Keg > 0:
		return b.Keg * profile.Millilitre(1-b.HeadSpace/100)
	case b.Bottle > 0 && b.Serves == 0:
		return b.Bottle * profile.Millilitre(max(b.Bottles, 1))
	}
	return 0
}

// serves is how many drinks of so much batch each the size is, 1 at least and
// not always whole.
func (b *BatchSize) serves(each profile.Millilitre) (float64, error) {
	volume, n := b.total(), float64(b.Serves)
	if volume > 0 {
		n = float64(volume / each)
	}
	volume = each * profile.Millilitre(n)
	switch {
	case volume > mostBatched*(1+roundOff):
		return 0, fmt.Errorf("a batch of %.0f litres; expected %g at most", float64(volume)/litresOfBatch, mostBatched/litresOfBatch)
	case n < 1-roundOff:
		return 0, fmt.Errorf("a batch of %s ml is less than one serve, which takes %s ml; expected more", significant(float64(volume)), significant(float64(each)))
	}
	return n, nil
}

// Filling is how a batch goes into its containers.
type Filling struct {
	// Containers are how many bottles or kegs, the last one included.
	Containers int
	// Each is what goes into every container but the last, at 20 °C, Weight what
	// that weighs.
	Each   profile.Millilitre
	Weight profile.Gram
	// Last goes into the last one: less than Each where it is not filled, and
	// more or less by what the scale rounds where it is.
	Last profile.Millilitre
	// Serves is how many drinks a full container makes.
	Serves float64
	// Empty is the head space of each.
	Empty profile.Millilitre
}

// roundedBottle is what a last bottle would have to hold at least, as a part of
// one: less is what the scale rounds, and goes into the others.
const roundedBottle = 0.005

// filling distributes a batch of a volume and mass; nil where no container was
// named.
func (b *BatchSize) filling(volume profile.Millilitre, mass profile.Gram, serves float64) *Filling {
	f := &Filling{}
	switch {
	case b.Keg > 0:
		f.Containers, f.Each = 1, b.Keg*profile.Millilitre(1-b.HeadSpace/100)
		f.Empty = b.Keg - volume
	case b.Bottle > 0 && b.Serves > 0:
		f.Containers, f.Each = max(1, int(math.Ceil(float64(volume/b.Bottle)-roundedBottle))), b.Bottle
	case b.Bottle > 0:
		f.Containers, f.Each = max(b.Bottles, 1), b.Bottle
	default:
		return nil
	}
	f.Last = volume - f.Each*profile.Millilitre(f.Containers-1)
	f.Weight = mass * profile.Gram(f.Each/volume)
	f.Serves = serves * float64(f.Each/volume)
	return f
}

package solver

// Work that each phase of a choice may do, in pairs of ingredients tried, of about
// 4 ns each on one core: some ten seconds on two cores for all of them together,
// however hard the question is. Work is counted, not timed, so that the same
// question has the same answer on every machine.
const (
	quietWork       = 200_000_000
	nearestWork     = 1_200_000_000
	fewestWork      = 500_000_000
	alternativeWork = 300_000_000
)

// allWork asks for as much work as the phase has left.
const allWork = 1 << 40

// A quick search does an eighth of what is left to its phase, so that a hard one
// leaves work for those after it, and always enough to look around one set.
const (
	quickPart  = 8
	leastQuick = 2_000_000
)

// quickShare is the work of one quick search.
func (c *choice) quickShare() int { return max(c.left/quickPart, leastQuick) }

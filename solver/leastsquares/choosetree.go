package leastsquares

import "math/bits"

// columnSet is a set of columns.
type columnSet [(mostChoiceColumns + 63) / 64]uint64

func (c *columnSet) add(j int) { c[j/64] |= 1 << (j % 64) }

// difference is the size of the symmetric difference.
func (c *columnSet) difference(d *columnSet) int {
	sum := 0
	for i, word := range c {
		sum += bits.OnesCount64(word ^ d[i])
	}
	return sum
}

// choiceNode is a set of supports: all that hold the path, no other columns
// but candidates, and at most left of those.
type choiceNode struct {
	path, candidates []int
	left             int
	covered          uint64 // needs that the path meets
	used             uint64 // groups that the path has a column of
}

// choose adds column j to the path.
func (n *choiceNode) choose(s *chooser, j int) {
	n.path = append(n.path, j)
	n.covered |= s.covers[j]
	n.used |= s.group[j]
}

// roots returns a node for each subset of the uncounted columns that may come
// or go; none where the columns that must be used exclude each other.
func (s *chooser) roots() []choiceNode {
	var base choiceNode
	base.left = s.p.Most
	var free, offered []int
	for j := range s.n {
		switch {
		case s.must[j]:
			if s.upper[j] < s.least[j] || s.group[j]&base.used != 0 {
				return nil
			}
			base.choose(s, j)
			if s.counted[j] {
				base.left--
			}
		case s.upper[j] < s.least[j]:
		case s.counted[j]:
			offered = append(offered, j)
		default:
			free = append(free, j)
		}
	}
	if base.left < 0 {
		return nil
	}
	var nodes []choiceNode
	for subset := range 1 << len(free) {
		node := base
		node.path = append([]int(nil), base.path...)
		allowed := true
		for i, j := range free {
			if subset>>i&1 == 1 {
				allowed = allowed && s.group[j]&node.used == 0
				node.choose(s, j)
			}
		}
		if !allowed {
			continue
		}
		for _, j := range offered {
			if s.group[j]&node.used == 0 {
				node.candidates = append(node.candidates, j)
			}
		}
		nodes = append(nodes, node)
	}
	return nodes
}

// branches returns the columns one of which a support of the node has to hold
// beyond the path, and whether the path alone is one as well. Those are the
// carriers of the unmet need that has fewest, or else all candidates.
func (s *chooser) branches(n *choiceNode, required uint64, list []int) (columns []int, alone bool) {
	uncovered := required &^ n.covered
	if uncovered == 0 {
		return append(list[:0], n.candidates...), true
	}
	need := s.rarest(n.candidates, uncovered)
	list = list[:0]
	for _, j := range n.candidates {
		if s.covers[j]&need != 0 {
			list = append(list, j)
		}
	}
	return list, false
}

// rarest returns the bit of uncovered that fewest candidates carry.
func (s *chooser) rarest(candidates []int, uncovered uint64) uint64 {
	chosen, fewest := uint64(0), len(candidates)+1
	for rest := uncovered; rest != 0; rest &= rest - 1 {
		bit := rest & -rest
		count := 0
		for _, j := range candidates {
			if s.covers[j]&bit != 0 {
				count++
			}
		}
		if count < fewest {
			chosen, fewest = bit, count
		}
	}
	return chosen
}

// child fills c with the supports of n that hold columns[i] but none of those
// before it, which other children have.
func (s *chooser) child(n *choiceNode, columns []int, i int, c *choiceNode) {
	c.path = append(c.path[:0], n.path...)
	c.covered, c.used, c.left = n.covered, n.used, n.left-1
	c.choose(s, columns[i])
	c.candidates = c.candidates[:0]
	// columns is a subsequence of the candidates.
	t := 0
	for _, j := range n.candidates {
		if t <= i && columns[t] == j {
			t++
			continue
		}
		if s.group[j]&s.group[columns[i]] == 0 {
			c.candidates = append(c.candidates, j)
		}
	}
}

// pairsOf estimates from above how many pairs the node takes.
func (n *choiceNode) pairsOf() float64 {
	total, term := 1.0, 1.0
	for k := range min(n.left, len(n.candidates)) {
		term *= float64(len(n.candidates)-k) / float64(k+1)
		total += term
	}
	return total
}

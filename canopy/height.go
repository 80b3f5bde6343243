package canopy

import (
	"math"

	"gonum.org/v1/gonum/floats"
)

// tally sums the live leaves of each draw, oldest first.
func (s *Stand) tally() {
	clear(s.totalG)
	for j := s.leaves.oldest; j < s.leaves.next; j++ {
		floats.Add(s.totalG, s.row(s.massG, j))
	}
	s.measured = false
}

// measure takes the height, where it is not known, from the three largest live
// leaves: each reaches the square root of its mass over the largest leaf the
// plant ever had, and a missing leaf counts 0.
func (s *Stand) measure() {
	if s.measured {
		return
	}
	s.measured = true
	leaves := s.standing[:0]
	for j := s.leaves.oldest; j < s.leaves.next; j++ {
		leaves = append(leaves, s.row(s.massG, j))
	}
	for d, largest := range s.largestG {
		var first, second, third float64
		for _, leaf := range leaves {
			switch mass := leaf[d]; {
			case mass <= third:
			case mass <= second:
				third = mass
			case mass <= first:
				second, third = mass, second
			default:
				first, second, third = mass, first, second
			}
		}
		s.height[d] = (math.Sqrt(first) + math.Sqrt(second) + math.Sqrt(third)) / (3 * math.Sqrt(largest))
	}
}

// RelativeHeight fills dst (length N, nil allocates) with the height of the
// top relative to its top length, 0 without a live leaf. The height in cm is
// this times the top length.
func (s *Stand) RelativeHeight(dst []float64) []float64 {
	dst = s.into(dst)
	s.measure()
	copy(dst, s.height)
	return dst
}

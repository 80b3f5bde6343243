package canopy

import "math"

// tally sums the live leaves of each draw, oldest first, and takes the height
// from the three largest: each reaches the square root of its mass over the
// largest leaf the plant ever had, and a missing leaf counts 0.
func (s *Stand) tally() {
	leaves := s.standing[:0]
	for j := s.leaves.oldest; j < s.leaves.next; j++ {
		leaves = append(leaves, s.row(s.massG, j))
	}
	for d := range s.totalG {
		var total, first, second, third float64
		for _, leaf := range leaves {
			mass := leaf[d]
			total += mass
			switch {
			case mass <= third:
			case mass <= second:
				third = mass
			case mass <= first:
				second, third = mass, second
			default:
				first, second, third = mass, first, second
			}
		}
		s.totalG[d] = total
		if first > s.largestG[d] {
			s.largestG[d] = first
		}
		s.height[d] = (math.Sqrt(first) + math.Sqrt(second) + math.Sqrt(third)) / (3 * math.Sqrt(s.largestG[d]))
	}
}

// RelativeHeight fills dst (length N, nil allocates) with the height of the
// top relative to its top length, 0 without a live leaf. The height in cm is
// this times the top length.
func (s *Stand) RelativeHeight(dst []float64) []float64 {
	dst = s.into(dst)
	copy(dst, s.height)
	return dst
}

package forecast

// held gives how much of what came true lies in the middle share of a forecast
// in which below of the weight lies under it and upTo at or under it: 0 or 1,
// but where it falls on an end of the interval, as counts often do, the part of
// its own weight that lies inside (the PIT of counts, not randomized: Czado,
// Gneiting & Held 2009, Biometrics 65:1254). Counting an end as wholly inside
// or outside would make coverage turn on how coarse the counts are.
func held(below, upTo, share float64) float64 {
	low, high := (1-share)/2, (1+share)/2
	if upTo <= below {
		if low <= below && below <= high {
			return 1
		}
		return 0
	}
	return max(0, min(upTo, high)-max(below, low)) / (upTo - below)
}

// standing gives the weight of some values below y and at or below it.
func standing(x, weight []float64, y float64) (below, upTo float64) {
	for i, w := range weight {
		if x[i] < y {
			below += w
		}
		if x[i] <= y {
			upTo += w
		}
	}
	return below, upTo
}

// standingAmong gives the same for equally likely members and y as one more of
// them: of n that are no other than y, each place in their order is as likely,
// so that few members do not make the interval too narrow.
func standingAmong(members []float64, y float64) (below, upTo float64) {
	n := float64(len(members) + 1)
	upTo = 1
	for _, x := range members {
		if x < y {
			below++
		}
		if x <= y {
			upTo++
		}
	}
	return below / n, upTo / n
}

package forecast

// scales keeps the model's answers as they stand on the scales of readings, so
// that readings alike share them.
type scales map[onScale][2][]float64

// onScale names an answer of the model and, of a count, the plants tried.
type onScale struct {
	answer *float64
	tried  int
}

// of gives an answer on the scale of a reading, and, of a height, by node at the
// three lengths of a parabola.
func (s scales) of(r reading, answer []float64) (all, three []float64) {
	if !r.group.byCell() {
		return answer, nil
	}
	key := onScale{answer: &answer[0]}
	if r.group == liftGroup {
		key.tried = r.note.Plants
	}
	if known, ok := s[key]; ok {
		return known[0], known[1]
	}
	all = answer
	if r.group == liftGroup {
		all = make([]float64, len(answer))
		for i, share := range answer {
			all[i] = empiricalLogit(share, float64(r.note.Plants))
		}
	}
	if r.group == heightGroup {
		three = threeOf(all)
		straight(three)
	}
	s[key] = [2][]float64{all, three}
	return all, three
}

package forecast

// scales keeps the model's shares as they stand on the scales of counts, so that
// readings alike have them in common.
type scales map[onScale][]float64

// onScale names an answer of the model and the plants tried.
type onScale struct {
	answer *float64
	tried  int
}

// of gives an answer on the scale of a reading.
func (s scales) of(r reading, answer []float64) []float64 {
	if r.group != liftGroup {
		return answer
	}
	key := onScale{&answer[0], r.note.Plants}
	if known := s[key]; known != nil {
		return known
	}
	logits := make([]float64, len(answer))
	for i, share := range answer {
		logits[i] = empiricalLogit(share, float64(r.note.Plants))
	}
	s[key] = logits
	return logits
}

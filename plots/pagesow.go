package plots

import (
	"fmt"

	"wintertop/forecast"
)

// sowSection is the page's sowing plan.
type sowSection struct {
	Words   []string
	Picture twinChart
}

func sowSectionOf(p *forecast.SowPlan) (sowSection, error) {
	var s sowSection
	for _, r := range p.Rows {
		s.Words = append(s.Words, plain(p.Says(r)))
	}
	for _, words := range p.GroundWords() {
		s.Words = append(s.Words, plain(words))
	}
	foot := fmt.Sprintf("For the winter %s, from %d past winters played from sowing on. Each area is set apart for one week. All weeks are in sow-weeks.csv.", p.Winter, len(p.Played))
	var err error
	s.Picture, err = twinOf("", foot, Sowing(p), phoneSowing(p), "sowing")
	return s, err
}

package forecast

import (
	"context"
	"fmt"
	"math/rand/v2"
	"testing"
)

// Five winters, two plots, eight notes a plot and winter. The canopy runs once
// per winter however many lines there are; what grows with them is the weighing.
func BenchmarkLearn(b *testing.B) {
	for _, lines := range []int{60, 120} {
		b.Run(fmt.Sprintf("%d lines", lines), func(b *testing.B) {
			m := usualTrial(lines, 5)
			rng := rand.New(rand.NewPCG(11, 5))
			trial, _ := m.build(rng, inventedWeather(rng, 2001, 5), 2001)
			for b.Loop() {
				if _, _, err := Learn(context.Background(), trial); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

package plots

import (
	"io"
	"testing"
)

// BenchmarkChartsAndPage draws all charts and the page of eight lines.
func BenchmarkChartsAndPage(b *testing.B) {
	s, k := season(8, november), picks(8, november)
	for b.Loop() {
		calendar, err := Calendar(k)
		if err != nil {
			b.Fatal(err)
		}
		for _, c := range []Chart{LeafMass(s), Shade(s), calendar, Events(frosts(35, november)), Traits(learned(8)), Reliability(verification())} {
			if err := c.SVG(io.Discard); err != nil {
				b.Fatal(err)
			}
		}
		if err := page(8, november, false).HTML(io.Discard); err != nil {
			b.Fatal(err)
		}
	}
}

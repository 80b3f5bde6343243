package plots

import (
	"flag"
	"os"
	"path/filepath"
	"testing"

	"gonum.org/v1/plot/cmpimg"

	"wintertop/weather"
)

var update = flag.Bool("update", false, "write the golden pictures anew")

func TestGoldenPictures(t *testing.T) {
	calendar, err := Calendar(picks(6, november))
	if err != nil {
		t.Fatal(err)
	}
	order, err := Order(orderOf(picks(6, november)))
	if err != nil {
		t.Fatal(err)
	}
	for name, c := range map[string]Chart{
		"leaf-mass": LeafMass(season(3, november)), "leaf-mass-panels": LeafMass(season(5, november)), "leaf-mass-rows": LeafMass(season(16, november)),
		"shade": Shade(season(3, november)), "shade-panels": Shade(season(5, november)),
		"calendar": calendar, "order": order, "cross": Cross(crosses(8)), "traits": Traits(learned(8)), "events": Events(frosts(12, weather.NewDate(2013, 1, 20))),
		"reliability": Reliability(verification()), "reliability-events": Reliability(eventsOnly()),
	} {
		got, err := c.raster(50)
		if err != nil {
			t.Fatal(err)
		}
		file := filepath.Join("testdata", name+".png")
		if *update {
			if err := os.WriteFile(file, got, 0o644); err != nil {
				t.Fatal(err)
			}
			continue
		}
		want, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		const delta = 0.1 // of the greatest colour difference: edges shift between processors
		same, err := cmpimg.EqualApprox("png", got, want, delta)
		if err != nil || !same {
			t.Errorf("%s differs (%v); look at it, then go test ./plots -update", file, err)
		}
	}
}

package canopy

import (
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"wintertop/weather"
)

// quantities of a stand by the names of its methods.
func quantities(s *Stand) map[string][]float64 {
	return map[string][]float64{
		"LeafG": s.LeafG(nil), "RelativeHeight": s.RelativeHeight(nil), "LiveLeaves": s.LiveLeaves(nil),
		"LeafAreaIndex": s.LeafAreaIndex(nil), "GroundLight": s.GroundLight(nil), "WeedCover": s.WeedCover(nil), "LT50C": s.LT50C(nil),
	}
}

func TestInvariants(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w := anyWinter(t)
		p := Standard()
		p.InjuryMemory = rapid.SampledFrom([]float64{0, 5}).Draw(t, "injury memory")
		planting := made
		planting.PlantsPerM2 = rapid.Float64Range(5, 300).Draw(t, "plants per m2")
		s := Sow(planting, []Traits{anyTraits(t, "line")}, p)
		last := 0.0
		s.Grow(w, 0, len(w.Days)-1, func(day int, s *Stand) {
			for name, x := range quantities(s) {
				high := map[string]float64{"RelativeHeight": 1 + 1e-12, "GroundLight": 1, "WeedCover": 1}[name]
				if math.IsNaN(x[0]) || math.IsInf(x[0], 0) || name != "LT50C" && x[0] < 0 || high > 0 && x[0] > high {
					t.Fatalf("day %d: %s %v", day, name, x[0])
				}
			}
			outerAlive := 0.0
			for j := s.leaves.oldest; j < s.leaves.next; j++ {
				mass, best, alive := s.row(s.massG, j)[0], s.row(s.bestG, j)[0], s.row(s.alive, j)[0]
				age := s.leaves.age(j, s.degreeDays-p.EmergenceDegreeDays)
				switch {
				case mass < 0 || mass > best || alive < 0 || alive > 1:
					t.Fatalf("day %d: a leaf of %v, best %v, %v alive", day, mass, best, alive)
				case age > p.FallDegreeDays && mass < p.FallShare*best && alive > 0:
					t.Fatalf("day %d: a leaf of %v, best %v, has not fallen", day, mass, best)
				case alive > 0 && alive < outerAlive-1e-12:
					t.Fatalf("day %d: %v of a leaf is alive, %v of one outside it", day, alive, outerAlive)
				}
				outerAlive = max(outerAlive, alive)
			}
			if w.Closing[day] >= 0 && weather.DegreeDays(w.MinC[day], w.MaxC[day], p.BaseC, p.UpperC) == 0 && s.totalG[0] > last {
				t.Fatalf("day %d: a frost added leaf, %v to %v", day, last, s.totalG[0])
			}
			if (s.totalG[0] > 0) != (s.height[0] > 0) {
				t.Fatalf("day %d: leaf %v, height %v", day, s.totalG[0], s.height[0])
			}
			last = s.totalG[0]
		})
	})
}

func TestAloneAsAmongThousands(t *testing.T) {
	w := madeWinter(t, 3, 10)
	var many []Traits
	for i := range 2000 {
		many = append(many, Traits{0.3 + float64(i%41)/20, -5 - float64(i%37)/4})
	}
	p := Standard()
	p.InjuryMemory = 2
	together := quantities(grown(w, made, p, many...))
	for _, d := range []int{0, 1, 999, 1999} {
		for name, x := range quantities(grown(w, made, p, many[d])) {
			if math.Float64bits(x[0]) != math.Float64bits(together[name][d]) {
				t.Errorf("draw %d: %s %v alone, %v together", d, name, x[0], together[name][d])
			}
		}
	}
}

func TestCloneAnyDay(t *testing.T) {
	other := madeWinter(t, 5, 8)
	rapid.Check(t, func(t *rapid.T) {
		w := anyWinter(t)
		traits := []Traits{anyTraits(t, "one"), anyTraits(t, "two")}
		cut := rapid.IntRange(0, len(w.Days)-2).Draw(t, "day")
		s := Sow(made, traits, Standard())
		s.Grow(w, 0, cut, nil)
		c, elsewhere := s.Clone(), s.Clone()
		elsewhere.Grow(other, cut+1, len(w.Days)-1, nil)
		c.Grow(w, cut+1, len(w.Days)-1, nil)
		s.Grow(w, cut+1, len(w.Days)-1, nil)
		whole := quantities(grown(w, made, Standard(), traits...))
		for name, x := range quantities(s) {
			if !slices.Equal(x, whole[name]) || !slices.Equal(quantities(c)[name], whole[name]) {
				t.Fatalf("%s differs", name)
			}
		}
	})
}

func TestNothingAllocatedPerDay(t *testing.T) {
	w := madeWinter(t, 4, 10)
	s := Sow(made, slices.Repeat([]Traits{{1, -9.5}}, 2000), Standard())
	mass := make([]float64, s.N())
	see := func(_ int, s *Stand) { s.LeafG(mass); s.WeedCover(mass); s.RelativeHeight(mass) }
	s.Grow(w, 0, 19, see)
	// A mean over several runs, rounded down: what the runtime allocates for itself
	// now and then does not count, what each day allocated would.
	const runs = 9
	from, part := 20, (len(w.Days)-20)/(runs+1)
	if n := testing.AllocsPerRun(runs, func() { s.Grow(w, from, from+part-1, see); from += part }); n != 0 {
		t.Errorf("%v allocations in %d days", n, part)
	}
	if s.totalG[0] == 0 || len(w.Events) < 5 {
		t.Errorf("nothing was tried: %v g, %d events", s.totalG[0], len(w.Events))
	}
}

func TestNeverEmerged(t *testing.T) {
	w := madeWinter(t, 1, -20)
	s := grown(w, made, Standard(), Traits{1, -9.5})
	if _, up := s.EmergedOn(); up || s.Emerged() {
		t.Fatal("emerged")
	}
	weeds := 0.0
	madeMild := madeWinter(t, 1, 9)
	bare := grown(madeMild, made, bareRow(), Traits{1, -9.5})
	for name, x := range quantities(bare) {
		if name == "WeedCover" {
			weeds = x[0]
			continue
		}
		if want := map[string]float64{"GroundLight": 1}[name]; x[0] != want {
			t.Errorf("%s %v", name, x[0])
		}
	}
	if weeds < 0.5 {
		t.Errorf("weeds cover %v of a row without a crop", weeds)
	}
}

func TestEmergence(t *testing.T) {
	w := madeWinter(t, 1, 12)
	s := Sow(made, []Traits{{1, -9.5}}, Standard())
	sum := 0.0
	s.Grow(w, 0, 60, func(day int, s *Stand) {
		if day > 0 {
			sum += weather.DegreeDays(w.MinC[day], w.MaxC[day], 1.5, 25)
		}
		if s.Emerged() != (sum >= 150) {
			t.Errorf("day %d, %.1f °C d: emerged %v", day, sum, s.Emerged())
		}
	})
	on, _ := s.EmergedOn()
	if on <= sown || on > sown+20 {
		t.Error(on)
	}
}

func TestGrowPanics(t *testing.T) {
	w := madeWinter(t, 1, 12)
	for name, wrong := range map[string]func(){
		"gap":      func() { s := Sow(made, nil, Standard()); s.Grow(w, 0, 5, nil); s.Grow(w, 7, 9, nil) },
		"again":    func() { s := Sow(made, nil, Standard()); s.Grow(w, 0, 5, nil); s.Grow(w, 5, 9, nil) },
		"late":     func() { Sow(made, nil, Standard()).Grow(w, 2, 9, nil) },
		"plants":   func() { Sow(Planting{Sown: sown}, nil, Standard()) },
		"top size": func() { Sow(made, []Traits{{0, -9}}, Standard()) },
		"dst":      func() { Sow(made, nil, Standard()).LeafG(make([]float64, 1)) },
	} {
		func() {
			defer func() {
				if recover() == nil {
					t.Errorf("%s: no panic", name)
				}
			}()
			wrong()
		}()
	}
	Sow(made, nil, Standard()).Grow(w, 1, 3, nil) // from the day after sowing
}

func BenchmarkGrow(b *testing.B) {
	var traits []Traits
	for i := range 13 {
		for j := range 45 {
			traits = append(traits, Traits{0.35 + float64(i)*0.15, -4.7 - float64(j)*0.22})
		}
	}
	w := madeWinter(b, 6, 11)
	height := make([]float64, len(traits))
	for b.Loop() {
		s := Sow(made, traits, Standard())
		s.Grow(w, 0, len(w.Days)-1, func(_ int, s *Stand) { s.RelativeHeight(height) })
	}
	b.ReportMetric(float64(len(traits)*len(w.Days)*b.N)/b.Elapsed().Seconds()/1e6, "Mtraitdays/s")
}

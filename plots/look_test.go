package plots

import (
	"fmt"
	"os"
	"path/filepath"
	"testing"

	"wintertop/weather"
)

func TestLook(t *testing.T) {
	dir := os.Getenv("LOOK")
	if dir == "" {
		t.Skip("LOOK names a folder to draw into")
	}
	nov := weather.NewDate(2012, 11, 15)
	for _, n := range []int{0, 1, 2, 4, 5, 8, 20, 60} {
		s, p := season(n, nov), picks(n, nov)
		if n == 20 || n == 2 {
			rename(s, p)
		}
		for name, f := range map[string]func() (Chart, error){"leaf": func() (Chart, error) { return LeafMass(s) }, "cal": func() (Chart, error) { return Calendar(p) }} {
			c, err := f()
			if err != nil {
				t.Fatal(err)
			}
			w, _ := os.Create(filepath.Join(dir, fmt.Sprintf("%s-%d.svg", name, n)))
			c.SVG(w)
			w.Close()
		}
	}
	for name, d := range map[string]weather.Date{"july": weather.NewDate(2012, 7, 20), "all": weather.NewDate(2013, 6, 30), "feb": weather.NewDate(2013, 2, 10)} {
		c, _ := LeafMass(season(3, d))
		w, _ := os.Create(filepath.Join(dir, "leaf-"+name+".svg"))
		c.SVG(w)
		w.Close()
	}
	for _, n := range []int{1, 8, 60} {
		w, _ := os.Create(filepath.Join(dir, fmt.Sprintf("page-%d.html", n)))
		if err := page(n, nov, n == 8).HTML(w); err != nil {
			t.Fatal(err)
		}
		w.Close()
	}
	for name, d := range map[string]weather.Date{"july": weather.NewDate(2012, 7, 20), "window": weather.NewDate(2013, 2, 10), "end": weather.NewDate(2013, 3, 15), "jan": weather.NewDate(2013, 1, 30)} {
		c, _ := Calendar(picks(5, d))
		w, _ := os.Create(filepath.Join(dir, "cal-"+name+".svg"))
		c.SVG(w)
		w.Close()
		w, _ = os.Create(filepath.Join(dir, "caln-"+name+".svg"))
		phoneCalendar(picks(5, d)).SVG(w)
		w.Close()
	}
}
